"""The log as a table for a spreadsheet: of one unit, of what belongs to the shop, or of both and all."""

from collections.abc import Callable, Iterator
from typing import Any

from flask import Response
from marshmallow import Schema, fields

from ..engine.request.units import UNITS
from ..log import Log
from ..log.figures import UNIT_CHOICES, ChosenUnits
from ..log.table import PARTS, ROWS, Table, make_table, write_csv
from ..office.workbook import MEDIA_TYPE, write_workbook
from .current import current_log
from .problems import problem
from .query import in_words, one_of
from .strict import Subject

subject = Subject("table", __name__, url_prefix="/api/table", description="The log as a table for a spreadsheet.")

CSV = "text/csv; charset=utf-8"
PAGE = 500


TableQuerySchema = Schema.from_dict(
    {
        "unit": fields.UUID(metadata={"description": "The unit; left out, what belongs to the shop: kit and shelf."}),
        "all": fields.Boolean(load_default=False, metadata={"description": "Whether of every unit and of the shop."}),
        "rows": one_of(ROWS, PARTS, in_words(ROWS)),
        **{
            name: one_of([unit for unit, _, _ in UNITS[si]], si, f"Unit of its {name}.")
            for name, si in UNIT_CHOICES.items()
        },
    },
    name="TableQuerySchema",
)


def all_entries(log: Log) -> Iterator[dict[str, Any]]:
    """Every entry of the log in order, a page at a time."""
    after, more = 0, True
    while more:
        entries, more = log.after(after, PAGE)
        yield from entries
        after = entries[-1]["seq"] if entries else after


def make(query: dict[str, Any]) -> Table | None:
    """The table that a query asks for; None if it names a unit that is not there."""
    log = current_log()
    unit = str(query["unit"]) if "unit" in query else ""
    entries = [] if query["all"] else log.of_unit(unit)
    if unit and not entries and not query["all"]:
        return None

    def chosen_entries() -> Iterator[dict[str, Any]]:
        return all_entries(log) if query["all"] else iter(entries)

    names = {entry["unit"]: str(entry["body"].get("name", "")) for entry in chosen_entries() if entry["kind"] == "unit"}
    return make_table(chosen_entries, names, ChosenUnits({name: query[name] for name in UNIT_CHOICES}), query["rows"])


def answer_table(
    query: dict[str, Any], write: Callable[[Table], str | bytes], media_type: str, ending: str
) -> Response:
    """A table as a file with this ending."""
    rows = make(query)
    if rows is None:
        return problem(404, f"There is no unit {query['unit']} in this log. Choose one from the list of units.")
    answer = Response(write(rows), content_type=media_type)
    answer.headers["Content-Disposition"] = f'attachment; filename="slipbook.{ending}"'
    return answer


@subject.route("", methods=["GET"])
@subject.arguments(TableQuerySchema, location="query")
@subject.response(
    200,
    {"type": "string"},
    content_type=CSV,
    description="As `slipbook export --format csv` writes it, without a mark.",
)
def table(query: dict[str, Any]) -> Response:
    """The entries of one unit, of the shop or of both and all, as CSV."""
    return answer_table(query, write_csv, CSV, "csv")


@subject.route("/workbook", methods=["GET"])
@subject.arguments(TableQuerySchema, location="query")
@subject.response(
    200,
    {"type": "string", "format": "binary"},
    content_type=MEDIA_TYPE,
    description="A workbook of ISO/IEC 29500, as `slipbook export --format xlsx` writes it.",
)
def workbook(query: dict[str, Any]) -> Response:
    """The same as a workbook, in which numbers are numbers and days are days."""
    return answer_table(query, write_workbook, MEDIA_TYPE, "xlsx")
