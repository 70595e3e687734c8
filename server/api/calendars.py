"""What is due as a calendar: a file, and addresses that calendar programs subscribe to."""

from datetime import datetime
from typing import Any
from uuid import UUID

from flask import Response, jsonify
from marshmallow import Schema, fields

from ..engine.request.fields import Group, Text
from ..lan.register import Feed
from ..office.calendar import MEDIA_TYPE, Due, dates_of, write_calendar
from .current import current_log
from .forms import schema_of
from .gate import current_register, names_feed, own_addresses
from .problems import problem
from .strict import Subject

subject = Subject("calendar", __name__, url_prefix="/api/calendar", description="What is due, as a calendar.")
feeds_subject = Subject("feeds", __name__, url_prefix="/api/feeds", description="Calendars that read what is due.")

FEED_FORM = Group({"name": Text(60, "whose calendar it is for")}, "a calendar that is to read what is due")
FeedRequestSchema = schema_of(FEED_FORM, "FeedRequest")


class DueSchema(Schema):
    """Something to be done on a day."""

    day = fields.Date(required=True)
    title = fields.String(required=True)
    text = fields.String(required=True)
    unit = fields.String(required=True, metadata={"description": "The unit; empty if it is about a tool."})


class DuesSchema(Schema):
    """What is due, by day."""

    due = fields.List(fields.Nested(DueSchema), required=True)


class FeedSchema(Schema):
    """A calendar that reads what is due."""

    id = fields.String(required=True)
    name = fields.String(required=True)
    made = fields.DateTime(required=True)
    seen = fields.DateTime(required=True, allow_none=True, metadata={"description": "When it last read, roughly."})


class NewFeedSchema(FeedSchema):
    """The same with its address, which is given out only this once."""

    address = fields.String(required=True)


class FeedsSchema(Schema):
    """Every calendar that reads what is due."""

    feeds = fields.List(fields.Nested(FeedSchema), required=True)


def due_now() -> list[Due]:
    """What is due today and later."""
    log = current_log()
    return dates_of({unit: log.of_unit(unit) for unit in [*log.units(), ""]}, datetime.now().date())


def answer_calendar() -> Response:
    """What is due, as a calendar."""
    log = current_log()
    now = datetime.now().astimezone()
    data = write_calendar(due_now(), log.identity.name, log.identity.log_id, now, own_addresses()[0])
    answer = Response(data, content_type=MEDIA_TYPE)
    answer.headers["Content-Disposition"] = 'attachment; filename="slipbook.ics"'
    return answer


@subject.route("", methods=["GET"])
@subject.response(200, DuesSchema, description="What is due of every unit and tool, by day.")
def dues() -> Response:
    """What is due."""
    rows = [{"day": row.day.isoformat(), "title": row.title, "text": row.text, "unit": row.unit} for row in due_now()]
    return jsonify({"due": rows})


@subject.route("/file", methods=["GET"])
@subject.response(200, {"type": "string"}, content_type=MEDIA_TYPE, description="An iCalendar file (RFC 5545).")
def file() -> Response:
    """The same as a file for a calendar program."""
    return answer_calendar()


@subject.route("/feed/<token>", methods=["GET"])
@subject.response(200, {"type": "string"}, content_type=MEDIA_TYPE, description="An iCalendar file (RFC 5545).")
def feed(token: str) -> Response:
    """The same for a calendar program that knows a secret address."""
    if not names_feed():
        return problem(404, "This address was withdrawn, or never given out: have a new one made at the workshop's PC.")
    return answer_calendar()


def as_answer(feed: Feed) -> dict[str, Any]:
    """An address as answers show it, without anything that is secret."""
    return {"id": feed.id, "name": feed.name, "made": feed.made, "seen": feed.seen or None}


@feeds_subject.route("", methods=["GET"])
@feeds_subject.response(200, FeedsSchema, description="Those that were not withdrawn, the newest first.")
def feeds() -> Response:
    """Every calendar that reads what is due."""
    return jsonify({"feeds": [as_answer(feed) for feed in current_register().feeds.all()]})


@feeds_subject.route("", methods=["POST"])
@feeds_subject.arguments(FeedRequestSchema, description="Whose calendar it is for.")
@feeds_subject.response(200, NewFeedSchema, description="Its address, which is given out only this once.")
def make_feed(body: dict[str, Any]) -> Response:
    """Make a secret address for one calendar."""
    feed, token = current_register().feeds.add(body["name"].strip())
    address = f"{own_addresses()[0].rstrip('/')}/api/calendar/feed/{token}.ics"
    return jsonify({**as_answer(feed), "address": address})


@feeds_subject.route("/<uuid:feed>", methods=["DELETE"])
@feeds_subject.response(200, FeedSchema, description="The calendar, which can no longer read anything.")
def withdraw(feed: UUID) -> Response:
    """Withdraw an address."""
    withdrawn = current_register().feeds.withdraw(str(feed))
    if withdrawn is None:
        return problem(404, "There is no such calendar: choose one from the list.")
    return jsonify(as_answer(withdrawn))
