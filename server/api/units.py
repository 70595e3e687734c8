"""Units: what stands for each, derived from its entries."""

from datetime import date
from typing import Any
from uuid import UUID

from flask import Response, current_app, jsonify
from marshmallow import Schema, fields

from ..engine import calc
from ..log import Log
from .current import current_log
from .entries import StoredSchema
from .problems import problem
from .results import reference
from .strict import Subject

subject = Subject("units", __name__, url_prefix="/api/units", description="Units and what stands for them.")

SUMMED_UP = ("verdict", "reason", "looked_at", "due", "contested", "disagrees")


class SummarySchema(Schema):
    """What a list of units shows of one."""

    id = fields.UUID(required=True)
    name = fields.String(required=True, metadata={"description": "Empty while its definition has not arrived."})
    owner = fields.String(required=True)
    verdict = fields.String(required=True, allow_none=True)
    reason = fields.String(required=True)
    looked_at = fields.String(required=True, allow_none=True)
    value_nm = fields.Float(required=True, allow_none=True)
    due = fields.List(fields.Dict(), required=True)
    contested = fields.List(fields.Raw(), required=True)
    disagrees = fields.List(fields.String(), required=True)


class UnitsSchema(Schema):
    """Every unit."""

    units = fields.List(fields.Nested(SummarySchema), required=True)


class UnitSchema(Schema):
    """One unit: what stands, and the entries that it follows from."""

    standing = fields.Raw(required=True, metadata={"allOf": [reference("standing")]})
    entries = fields.List(fields.Nested(StoredSchema), required=True)


def standing(log: Log, unit: str) -> dict[str, Any]:
    """What stands for a unit today."""
    return calc("standing", {"entries": log.of_unit(unit), "today": date.today().isoformat()})


def summary(log: Log, unit: str) -> dict[str, Any]:
    """What a list shows of a unit; worked out anew only after a new entry or on a new day."""
    known: dict[str, tuple[object, dict[str, Any]]] = current_app.extensions["slipbook_summaries"]
    state = (log.last_of(unit), date.today())
    if unit not in known or known[unit][0] != state:
        stands = standing(log, unit)
        body = stands["unit"] or {}
        answer = {"id": unit, "name": body.get("name", ""), "owner": body.get("owner") or ""}
        answer.update({name: stands[name] for name in SUMMED_UP})
        answer["value_nm"] = stands["torque"]["value_nm"] if stands["torque"] else None
        known[unit] = (state, answer)
    return known[unit][1]


@subject.route("", methods=["GET"])
@subject.response(200, UnitsSchema, description="Every unit, by name.")
def units() -> Response:
    """Every unit with its verdict."""
    log = current_log()
    found = [summary(log, unit) for unit in log.units()]
    return jsonify({"units": sorted(found, key=lambda one: (one["name"].casefold(), one["id"]))})


@subject.route("/<uuid:unit>", methods=["GET"])
@subject.response(200, UnitSchema, description="What stands, and every entry in the order of arrival.")
def unit(unit: UUID) -> Response:
    """One unit with its whole history."""
    log = current_log()
    entries = log.of_unit(str(unit))
    if not entries:
        return problem(404, f"There is no unit {unit} in this log. Choose one from the list of units.")
    return jsonify({"standing": standing(log, str(unit)), "entries": entries})
