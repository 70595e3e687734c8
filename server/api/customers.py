"""What the log adds up for one customer: hours and cost of parts of rebuilds, and days on which something is due."""

from datetime import date, datetime
from typing import Any
from uuid import UUID

from flask import Response, jsonify
from marshmallow import Schema, fields

from ..log import Log
from ..office.calendar import MEDIA_TYPE, dates_of, write_calendar
from ..office.costs import FIGURES, rebuilds_of, sum_of
from ..office.held import held_of
from ..office.owners import customers_of
from .current import current_log
from .entries import StoredSchema
from .problems import refuse
from .strict import Subject
from .units import summaries_of

subject = Subject("customers", __name__, url_prefix="/api/customers", description="Customers, added up.")


class DateSchema(Schema):
    """Something that is due."""

    unit = fields.String(required=True)
    day = fields.String(required=True, metadata={"description": "What is overdue is due today."})
    title = fields.String(required=True)
    text = fields.String(required=True)


class AccountSchema(Schema):
    """What rebuilds of a customer's units came to, and what is due of them."""

    name = fields.String(required=True)
    units = fields.List(fields.UUID(), required=True)
    rebuilds = fields.Integer(required=True)
    hours = fields.String(required=True, metadata={"description": "As finely as they were typed; empty if none were."})
    parts_cost = fields.String(required=True, metadata={"description": "In the workshop's own money."})
    without_hours = fields.Integer(required=True, metadata={"description": "Rebuilds that give no hours."})
    without_cost = fields.Integer(required=True, metadata={"description": "Rebuilds that give no cost."})
    dates = fields.List(fields.Nested(DateSchema), required=True)


class PlaceSchema(Schema):
    """An entry in which the customer's name still stands."""

    entry = fields.UUID(required=True)
    unit = fields.String(required=True)
    name = fields.String(required=True, metadata={"description": "What the unit is called."})
    kind = fields.String(required=True)
    at = fields.String(required=True)
    who = fields.String(required=True)
    texts = fields.List(fields.String(), required=True, metadata={"description": "The name, and what is around it."})
    cuts = fields.List(fields.Dict(), required=True, metadata={"description": "What an erasure names of it."})


class HeldSchema(Schema):
    """All that the log holds about a customer."""

    customer = fields.String(required=True)
    made = fields.String(required=True)
    in_words = fields.List(fields.String(), required=True, metadata={"description": "Lines to read."})
    places = fields.List(fields.Nested(PlaceSchema), required=True)
    entries = fields.List(fields.Nested(StoredSchema), required=True)


def customer_of(log: Log, record: UUID) -> dict[str, Any]:
    """The customer one of whose records has this id; where there is none, the request ends with that."""
    for customer in customers_of(log.of_unit("")):
        if str(record) in customer["ids"]:
            return customer
    refuse(404, f"There is no customer {record} in this log. Choose one from the list of customers.")


def unit_ids_of(log: Log, customer: dict[str, Any]) -> list[str]:
    """The units that are linked to a customer now."""
    return [unit for unit, summary in summaries_of(log).items() if summary["customer_id"] in customer["ids"]]


@subject.route("/<uuid:record>", methods=["GET"])
@subject.response(200, AccountSchema, description="Sums of rebuilds, and dates by day.")
def account(record: UUID) -> Response:
    """What a customer's units came to, and what is due of them."""
    log = current_log()
    customer = customer_of(log, record)
    entries = {unit: log.of_unit(unit) for unit in unit_ids_of(log, customer)}
    total = sum_of(customer["name"], "", [entry["body"] for rows in entries.values() for entry in rebuilds_of(rows)])
    dates = [
        {"unit": due.unit, "day": due.day.isoformat(), "title": due.title, "text": due.text}
        for due in dates_of(entries, date.today())
    ]
    sums = {name: getattr(total, name) for name in ("rebuilds", *FIGURES, "without_hours", "without_cost")}
    return jsonify({"name": customer["name"], "units": list(entries), **sums, "dates": dates})


@subject.route("/<uuid:record>/calendar", methods=["GET"])
@subject.response(200, {"type": "string"}, content_type=MEDIA_TYPE, description="An iCalendar file (RFC 5545).")
def calendar(record: UUID) -> Response:
    """What is due of a customer's own units, for the customer's calendar: it names nobody else's."""
    log = current_log()
    customer = customer_of(log, record)
    now = datetime.now().astimezone()
    dues = dates_of({unit: log.of_unit(unit) for unit in unit_ids_of(log, customer)}, now.date())
    answer = Response(write_calendar(dues, log.identity.name, log.identity.log_id, now), content_type=MEDIA_TYPE)
    answer.headers["Content-Disposition"] = 'attachment; filename="slipbook.ics"'
    return answer


@subject.route("/<uuid:record>/held", methods=["GET"])
@subject.response(200, HeldSchema, description="Lines to read, and every entry.")
def held(record: UUID) -> Response:
    """All that the log holds about a customer, to be handed out or looked at before it is erased."""
    log = current_log()
    customer = customer_of(log, record)
    entries = {unit: log.of_unit(unit) for unit in ("", *log.units())}
    names = {unit: summary["name"] for unit, summary in summaries_of(log).items()}
    return jsonify(held_of(customer, entries, names, datetime.now().astimezone()))
