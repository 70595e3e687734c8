"""A unit's sheet as a PDF, to be mailed or put away by a script."""

from datetime import date
from typing import Any
from uuid import UUID

from flask import Response
from marshmallow import Schema

from ..engine import calc
from ..engine.history.sheet import CUSTOMER, TEMPLATES
from ..engine.request.units import unit_labels
from ..office.sheet_pdf import MEDIA_TYPE, PAPERS, NoLibrary, letterhead_of, write_sheet
from .current import current_log, entries_of
from .gate import own_addresses
from .problems import problem
from .query import in_words, one_of
from .strict import Subject

subject = Subject("sheets", __name__, url_prefix="/api/units", description="Sheets of units.")


SheetQuerySchema = Schema.from_dict(
    {
        "template": one_of(TEMPLATES, CUSTOMER, in_words(TEMPLATES)),
        "paper": one_of(PAPERS, "a4", in_words(PAPERS)),
        "torque": one_of(unit_labels("nm"), "nm", "Unit of its torques."),
        "lengths": one_of(unit_labels("mm"), "mm", "Unit of its lengths."),
    },
    name="SheetQuerySchema",
)


@subject.route("/<uuid:unit>/sheet.pdf", methods=["GET"])
@subject.arguments(SheetQuerySchema, location="query")
@subject.response(
    200, {"type": "string", "format": "binary"}, content_type=MEDIA_TYPE, description="One page; its text is text."
)
def sheet(query: dict[str, Any], unit: UUID) -> Response:
    """A unit's sheet."""
    entries, shop = entries_of(unit), current_log().of_unit("")
    settings = {"today": date.today().isoformat(), "template": query["template"]}
    settings |= {"write_in": query["torque"], "write_lengths_in": query["lengths"]}
    contents = calc("sheet", {"entries": entries, "shop": shop, **settings})["sheet"]
    if contents is None:
        return problem(404, "The definition of this unit has not arrived yet: there is nothing to put on a sheet.")
    address = own_addresses()[0].rstrip("/")
    try:
        data = write_sheet(contents, query["paper"], f"{address}/#/unit/{unit}", letterhead_of(shop))
    except NoLibrary as lacking:
        return problem(501, str(lacking))
    answer = Response(data, content_type=MEDIA_TYPE)
    answer.headers["Content-Disposition"] = f'inline; filename="sheet-{query["template"]}.pdf"'
    return answer
