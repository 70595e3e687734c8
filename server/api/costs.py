"""Hours and cost of parts of rebuilds, added up."""

from typing import Any

from flask import Response, jsonify
from marshmallow import Schema, fields

from ..office.costs import BY, UNIT, sums_of
from .current import current_log
from .query import in_words, one_of
from .strict import Subject
from .units import summaries_of

subject = Subject("costs", __name__, url_prefix="/api/costs", description="Hours and cost of parts of rebuilds.")

CostsQuerySchema = Schema.from_dict({"by": one_of(BY, UNIT, in_words(BY))}, name="CostsQuerySchema")


class SumSchema(Schema):
    """What some rebuilds came to."""

    name = fields.String(required=True, metadata={"description": "The unit, the owner or the year; may be empty."})
    unit = fields.String(required=True, metadata={"description": "Id of the unit; empty if it is no single one."})
    rebuilds = fields.Integer(required=True)
    hours = fields.String(required=True, metadata={"description": "As finely as they were typed; empty if none were."})
    parts_cost = fields.String(required=True, metadata={"description": "In the workshop's own money."})
    without_hours = fields.Integer(required=True, metadata={"description": "Rebuilds that give no hours."})
    without_cost = fields.Integer(required=True, metadata={"description": "Rebuilds that give no cost."})


class SumsSchema(Schema):
    """Sums of all rebuilds."""

    sums = fields.List(fields.Nested(SumSchema), required=True)


@subject.route("", methods=["GET"])
@subject.arguments(CostsQuerySchema, location="query")
@subject.response(200, SumsSchema, description="A row for each; seasons with the newest first.")
def costs(query: dict[str, Any]) -> Response:
    """What the rebuilds that stand came to."""
    log = current_log()
    entries = {unit: log.of_unit(unit) for unit in log.units()}
    return jsonify({"sums": [row._asdict() for row in sums_of(entries, summaries_of(log), query["by"])]})
