"""Labels with a code: what there is to label, and the labels as a PDF to be printed."""

from datetime import date
from typing import Any

from flask import Response, jsonify
from marshmallow import Schema, fields

from ..engine.request.units import unit_labels
from ..office.label_paper import SHEETS, in_words, paper_of
from ..office.label_pdf import write_labels
from ..office.labels import FORM, GROUPS, Label, chosen, labels_of
from ..office.sheet_pdf import MEDIA_TYPE, NoLibrary
from .current import current_log
from .forms import schema_of
from .gate import own_addresses
from .problems import problem
from .query import one_of
from .strict import Subject

subject = Subject("labels", __name__, url_prefix="/api/labels", description="Labels of units, plate bags and tools.")

LabelsFormSchema = schema_of(FORM, "LabelsRequest")
LabelsQuerySchema = Schema.from_dict(
    {"lengths": one_of(unit_labels("mm"), "mm", "Unit of their lengths.")}, name="LabelsQuerySchema"
)


class LabelSchema(Schema):
    """Something that may get a label."""

    key = fields.String(required=True, metadata={"description": "By which it is chosen."})
    title = fields.String(required=True)
    lines = fields.List(fields.String(), required=True, metadata={"description": "What stands below the title."})


class GroupSchema(Schema):
    """Labels of one group."""

    name = fields.String(required=True)
    words = fields.String(required=True)
    labels = fields.List(fields.Nested(LabelSchema), required=True)


class SheetSchema(Schema):
    """A known sheet of labels."""

    name = fields.String(required=True)
    words = fields.String(required=True, metadata={"description": "Its measures."})


class LabelsSchema(Schema):
    """What there is to label, and on which sheets."""

    groups = fields.List(fields.Nested(GroupSchema), required=True)
    sheets = fields.List(fields.Nested(SheetSchema), required=True)


def all_labels(lengths: str) -> list[Label]:
    """Every label that there can be now."""
    log = current_log()
    units = {unit: log.of_unit(unit) for unit in log.units()}
    return labels_of(units, log.of_unit(""), date.today().isoformat(), lengths)


@subject.route("", methods=["GET"])
@subject.arguments(LabelsQuerySchema, location="query")
@subject.response(200, LabelsSchema, description="Units by name, bags in the order of the shelf, tools by name.")
def labels(query: dict[str, Any]) -> Response:
    """What there is to label."""
    found = all_labels(query["lengths"])
    groups = [
        {
            "name": name,
            "words": words,
            "labels": [
                {"key": label.key, "title": label.title, "lines": [line for line in label.lines if line]}
                for label in found
                if label.group == name
            ],
        }
        for name, words in GROUPS.items()
    ]
    return jsonify({"groups": groups, "sheets": [{"name": name, "words": in_words(name)} for name in SHEETS]})


@subject.route("", methods=["POST"])
@subject.arguments(LabelsFormSchema, description="Which labels, and on which sheet.")
@subject.response(
    200, {"type": "string", "format": "binary"}, content_type=MEDIA_TYPE, description="As many pages as they take."
)
def print_labels(body: dict[str, Any]) -> Response:
    """Labels as a PDF."""
    settings: dict[str, Any] = FORM.read(body, "")
    paper = paper_of(settings["sheet"], settings["custom"])
    found = chosen(all_labels(settings["lengths"]), settings["labels"])
    address = own_addresses()[0].rstrip("/")
    try:
        data = write_labels(found, paper, settings["start"], address, settings["outline"] == "yes")
    except NoLibrary as lacking:
        return problem(501, str(lacking))
    answer = Response(data, content_type=MEDIA_TYPE)
    answer.headers["Content-Disposition"] = 'attachment; filename="labels.pdf"'
    return answer


@subject.route("/look", methods=["POST"])
@subject.arguments(LabelsFormSchema, description="The same as for the labels themselves.")
@subject.response(204, None, description="Labels could be printed so.")
def look(body: dict[str, Any]) -> Response:
    """Whether labels could be printed so: what is wrong is said before anything is drawn."""
    settings: dict[str, Any] = FORM.read(body, "")
    paper_of(settings["sheet"], settings["custom"])
    return Response(status=204)
