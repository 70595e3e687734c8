"""The log as a table for a spreadsheet, of one unit or of what belongs to the shop."""

from typing import Any

from flask import Response
from marshmallow import Schema, fields, validate

from ..engine.request.units import UNITS
from ..log.figures import CHOICES, Chosen
from ..log.table import write_table
from .current import current_log
from .problems import problem
from .strict import Subject

subject = Subject("table", __name__, url_prefix="/api/table", description="The log as a table for a spreadsheet.")

CSV = "text/csv; charset=utf-8"


def choose_unit(name: str, si: str) -> fields.String:
    """The query parameter for the unit of one kind of figure."""
    units = [unit for unit, _, _ in UNITS[si]]
    return fields.String(
        load_default=si,
        validate=validate.OneOf(units, error=f"Choose one of: {', '.join(units)}."),
        metadata={"description": f"Unit of its {name}."},
    )


TableQuerySchema = Schema.from_dict(
    {
        "unit": fields.UUID(metadata={"description": "The unit; left out, what belongs to the shop: kit and shelf."}),
        **{name: choose_unit(name, si) for name, si in CHOICES.items()},
    },
    name="TableQuerySchema",
)


@subject.route("", methods=["GET"])
@subject.arguments(TableQuerySchema, location="query")
@subject.response(
    200,
    {"type": "string"},
    content_type=CSV,
    description="A row for each entry, and one for each part that an entry lists, as `slipbook export` writes it.",
)
def table(query: dict[str, Any]) -> Response:
    """The entries of one unit, or of the shop, as CSV."""
    unit = str(query["unit"]) if "unit" in query else ""
    entries = current_log().of_unit(unit)
    if unit and not entries:
        return problem(404, f"There is no unit {unit} in this log. Choose one from the list of units.")
    called = [str(entry["body"].get("name", "")) for entry in entries if entry["kind"] == "unit"]
    text = write_table(
        lambda: entries, {unit: called[-1]} if called else {}, Chosen({name: query[name] for name in CHOICES})
    )
    answer = Response(text, content_type=CSV)
    answer.headers["Content-Disposition"] = 'attachment; filename="slipbook.csv"'
    return answer
