"""The import of a history from a spreadsheet: looked at first, written only when that look is accepted."""

from datetime import datetime
from typing import Any

from flask import Response, jsonify
from marshmallow import Schema, fields

from ..engine.request.fields import Choice, Group
from ..office import history
from ..office.history_form import FORM, MEANINGS, read_request
from ..office.spreadsheet import as_text
from .current import current_log
from .forms import schema_of
from .gate import name_sender
from .strict import Subject

subject = Subject("history", __name__, url_prefix="/api/history", description="A history out of a spreadsheet.")

# Far more than anybody reads through.
MOST_LISTED = 2000

HistorySchema = schema_of(FORM, "History")


class RowsSchema(Schema):
    """Something about rows of the spreadsheet."""

    row = fields.Integer(required=True, metadata={"description": "As the spreadsheet numbers it."})
    reason = fields.String(metadata={"description": "What to do about it, or why it is left out."})
    column = fields.String(metadata={"description": "The heading of its column."})
    day = fields.String(metadata={"description": "The day of an entry."})
    name = fields.String(metadata={"description": "Its unit."})
    who = fields.String(metadata={"description": "Who did it."})
    there = fields.Boolean(metadata={"description": "Whether the log has this entry already."})
    says = fields.String(metadata={"description": "What the entry says."})


class ColumnSchema(Schema):
    """A column of the spreadsheet."""

    number = fields.Integer(required=True)
    heading = fields.String(required=True)
    means = fields.String(required=True, metadata={"description": "What is read from it; empty if nothing."})
    place = fields.String(required=True)
    samples = fields.List(fields.String(), required=True, metadata={"description": "Its first cells."})


class AskSchema(Schema):
    """What has to be answered before anything can be imported."""

    field = fields.String(required=True)
    reason = fields.String(required=True)


class LookSchema(Schema):
    """What a file holds; nothing of it was written."""

    preview = fields.String(required=True, metadata={"description": "To be sent as `accepted` with the import."})
    sheet = fields.String(required=True)
    sheets = fields.List(fields.String(), required=True)
    written_in = fields.String(required=True, metadata={"description": "What the file was taken for."})
    heading_row = fields.Integer(required=True)
    empty = fields.Integer(required=True, metadata={"description": "Rows that are empty."})
    columns = fields.List(fields.Nested(ColumnSchema), required=True)
    asks = fields.List(fields.Nested(AskSchema), required=True)
    unknown_units = fields.List(
        fields.String(), required=True, metadata={"description": "Names of units nobody knows."}
    )
    new = fields.Integer(required=True, metadata={"description": "How many entries would be added."})
    there = fields.Integer(required=True, metadata={"description": "How many entries the log has already."})
    entries = fields.List(fields.Nested(RowsSchema), required=True)
    mistakes = fields.List(fields.Nested(RowsSchema), required=True)
    left_out = fields.List(fields.Nested(RowsSchema), required=True)


class ImportedSchema(Schema):
    """What an import did."""

    stored = fields.Integer(required=True)
    there = fields.Integer(required=True)
    refused = fields.Integer(required=True)


class ChoicesSchema(Schema):
    """What may be chosen, in words."""

    choices = fields.Dict(
        keys=fields.String(), values=fields.Dict(keys=fields.String(), values=fields.String()), required=True
    )


def look(body: dict[str, Any]) -> history.Look:
    """What the file of a request holds."""
    request = read_request(FORM, body)
    return history.look(current_log(), request, history.unpack(request["data"]), datetime.now().astimezone())


@subject.route("", methods=["GET"])
@subject.response(200, ChoicesSchema, description="By field: what may be chosen, and what that is called.")
def choices() -> Response:
    """What may be chosen of an import."""
    fields = {**FORM.fields, **{"means": Choice(MEANINGS, "")}}
    wrench = FORM.fields["wrench"]
    assert isinstance(wrench, Group)
    fields["wrench_kind"] = wrench.fields["kind"]
    options_of = {name: dict(field.options) for name, field in fields.items() if isinstance(field, Choice)}
    return jsonify({"choices": options_of})


@subject.route("/look", methods=["POST"])
@subject.arguments(HistorySchema, description="The file, and how it is read.")
@subject.response(200, LookSchema, description="What it holds; nothing is written.")
def look_into(body: dict[str, Any]) -> Response:
    """Look into a history before it is imported."""
    return jsonify(as_answer(look(body)))


@subject.route("", methods=["POST"])
@subject.arguments(HistorySchema, description="The same as was looked at, with `accepted`.")
@subject.response(200, ImportedSchema, description="What was written.")
def import_history(body: dict[str, Any]) -> Response:
    """Write what was looked at and accepted."""
    looked = look(body)
    answers = history.write(current_log(), looked, body.get("accepted") or "", name_sender())
    there = sum(found.there for found in looked.found)
    return jsonify({**history.summary(answers), "there": there})


def as_answer(looked: history.Look) -> dict[str, Any]:
    """A look as it is answered."""
    chosen = {column["number"]: column for column in looked.columns}
    widest = max(len(looked.headings.cells), *chosen, 0)
    headings = [*looked.headings.cells, *[None] * (widest - len(looked.headings.cells))]
    columns = [
        {
            "number": number,
            "heading": as_text(heading)[:80],
            "means": chosen.get(number, {}).get("means", ""),
            "place": chosen.get(number, {}).get("place", ""),
            "samples": history.samples(looked, number - 1),
        }
        for number, heading in enumerate(headings, 1)
    ]
    entries = [
        {
            "row": found.row,
            "day": found.entry["at"][:10],
            "name": found.name,
            "who": found.entry["who"],
            "there": found.there,
            "says": found.says,
        }
        for found in looked.found
    ]
    return {
        "preview": looked.preview,
        "sheet": looked.sheet.name,
        "sheets": looked.sheet.names,
        "written_in": looked.sheet.written_in,
        "heading_row": looked.headings.number,
        "empty": looked.sheet.empty,
        "columns": columns,
        "asks": [{"field": name, "reason": history.ASKS[name]} for name in looked.asks],
        "unknown_units": looked.unknown,
        "new": len(looked.new),
        "there": len(entries) - len(looked.new),
        "entries": entries[:MOST_LISTED],
        "mistakes": [mistake._asdict() for mistake in looked.mistakes[:MOST_LISTED]],
        "left_out": [left._asdict() for left in looked.left_out[:MOST_LISTED]],
    }
