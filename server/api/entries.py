"""The log over HTTP: takes entries in, and hands out those that are new."""

from typing import Any, ClassVar
from uuid import UUID

from flask import Response, jsonify
from marshmallow import INCLUDE, Schema, fields, validate

from ..engine.request.fields import Field, Group, Listing
from ..log.entry import FORM, Id, Instant, Seconds
from ..log.erasing import ERASED
from ..log.intake import Sender, receive
from ..log.receipts import with_receipt
from .current import current_log
from .forms import FormSchema, schema_of
from .gate import find_barred_kinds, is_other_machine, name_sender
from .problems import FaultSchema
from .strict import Subject

MOST_IN = 100
MOST_OUT = 500

subject = Subject("log", __name__, url_prefix="/api/log", description="The log, which only grows.")

GIVE_LAST = "Give the number of the last entry you have, 0 or more."
GIVE_MOST = f"Ask for 1 to {MOST_OUT} entries at a time."

EntrySchema = schema_of(FORM, "Entry")


class Anything(Field):
    """A value that is checked later, on its own."""

    def read(self, value: object, path: str) -> object:  # noqa: D102
        return value


class BatchSchema(FormSchema):
    """Entries as devices made them."""

    form: ClassVar[Group] = Group(
        {
            "entries": Listing(Anything("an entry"), 0, MOST_IN, "entries to store", nouns="entries"),
            "sent": Instant("what the device's clock shows as it sends this", default=None),
            "device": Id("the device that sends this", default=None),
            "fell_s": Seconds("by how many seconds it has seen its clock fall, in all", default=None),
        },
        "entries to store",
    )
    entries = fields.List(fields.Nested(EntrySchema), required=True, validate=validate.Length(max=MOST_IN))
    sent = fields.DateTime(metadata={"description": "What the device's clock shows as it sends this."})
    device = fields.UUID(metadata={"description": "The device that sends this."})
    fell_s = fields.Float(metadata={"description": "By how many seconds it has seen its clock fall, in all."})


class AnswerSchema(Schema):
    """What the log did with one entry."""

    id = fields.String(required=True, allow_none=True)
    answer = fields.String(required=True, validate=validate.OneOf(["stored", "already_there", "refused"]))
    seq = fields.Integer(metadata={"description": "The entry's number in the log."})
    judged = fields.Dict(metadata={"description": "The server's own result, if it differs from what was shown."})
    agrees = fields.Boolean(metadata={"description": "Whether the server's result agrees with what was shown."})
    received = fields.DateTime(metadata={"description": "When the log received it."})
    clock_off_s = fields.Integer(metadata={"description": "How far the device's clock is off; above 0 if it is slow."})
    clock_checked = fields.Boolean(metadata={"description": "Whether that clock could be compared with the PC's."})
    clock_fell_s = fields.Integer(metadata={"description": "By how much the device saw it fall since the entry."})
    received_unsure = fields.Boolean(metadata={"description": "Whether the PC's clock could not be relied on."})
    receipt = fields.String(metadata={"description": "By it the log knows the entry again."})
    errors = fields.List(fields.Nested(FaultSchema), metadata={"description": "Why it was refused."})
    erased = fields.List(fields.String(), metadata={"description": "Erasures that took something out of the entry."})
    marks = fields.List(fields.Dict(), metadata={"description": "Of an erasure: by these a name is known again."})
    entry = fields.Dict(metadata={"description": "The entry as the log has it, where something was taken out of it."})


class AnswersSchema(Schema):
    """What the log did with each entry, in order."""

    answers = fields.List(fields.Nested(AnswerSchema), required=True)


class PageQuerySchema(Schema):
    """Which entries to hand out."""

    after = fields.Integer(
        load_default=0,
        validate=validate.Range(0, 10**12, error=GIVE_LAST),
        error_messages={"invalid": GIVE_LAST},
        metadata={"description": "Number of the last entry that the client has."},
    )
    most = fields.Integer(
        load_default=100,
        validate=validate.Range(1, MOST_OUT, error=GIVE_MOST),
        error_messages={"invalid": GIVE_MOST},
        metadata={"description": "How many entries at most."},
    )


class StoredSchema(Schema):
    """An entry as the log holds it: the fields that the device made, and those that the server added."""

    class Meta:
        """The device's other fields are described in Entry."""

        unknown = INCLUDE

    seq = fields.Integer(required=True)
    receipt = fields.String(metadata={"description": "By it the log knows the entry again."})
    received = fields.DateTime(required=True)
    judged = fields.Dict(metadata={"description": "The server's own result, if it does not agree with what was shown."})
    agrees = fields.Boolean(required=True)
    id = fields.UUID(required=True)
    unit = fields.String(required=True)
    kind = fields.String(required=True)
    body = fields.Dict(required=True)
    shown = fields.Dict(required=True)


class PageSchema(Schema):
    """A page of the log."""

    entries = fields.List(fields.Nested(StoredSchema), required=True)
    next = fields.Integer(required=True, metadata={"description": "The value of `after` for the next page."})
    more = fields.Boolean(required=True)
    log_id = fields.String(required=True, metadata={"description": "Which log this is a page of."})
    before = fields.String(
        required=True, metadata={"description": "Id of the entry with the number `after`; empty if there is none."}
    )


class ErasedSchema(Schema):
    """What an erasure changed."""

    entries = fields.List(fields.Nested(StoredSchema), required=True)


@subject.route("", methods=["POST"])
@subject.arguments(BatchSchema(), description=f"At most {MOST_IN} entries.")
@subject.response(200, AnswersSchema, description="What the log did with each entry, in order.")
def add(batch: dict[str, Any]) -> Response:
    """Store entries; each is answered on its own, and is durable once it is answered as stored."""
    sender = Sender(batch.get("sent"), batch.get("device"), batch.get("fell_s") or 0.0, is_other_machine())
    answers = receive(current_log(), batch["entries"], sender, find_barred_kinds(), name_sender())
    return jsonify({"answers": answers})


@subject.route("/erased/<uuid:record>", methods=["GET"])
@subject.response(200, ErasedSchema, description="Entries that an erasure took something out of, as they are now.")
def erased(record: UUID) -> Response:
    """What an erasure changed: devices keep these in place of their own."""
    log = current_log()
    name = str(record)
    units = ("", *log.units())
    entries = [entry for unit in units for entry in log.of_unit(unit) if name in (entry.get(ERASED) or [])]
    return jsonify({"entries": [with_receipt(log.identity, entry) for entry in entries]})


@subject.route("", methods=["GET"])
@subject.arguments(PageQuerySchema, location="query")
@subject.response(200, PageSchema, description="Entries in the order of arrival.")
def page(query: dict[str, int]) -> Response:
    """The entries that are newer than a given one."""
    log = current_log()
    entries, more = log.after(query["after"], query["most"])
    last = entries[-1]["seq"] if entries else query["after"]
    receipted = [with_receipt(log.identity, entry) for entry in entries]
    about = {"next": last, "more": more, "log_id": log.identity.log_id, "before": log.id_of(query["after"])}
    return jsonify({"entries": receipted, **about})
