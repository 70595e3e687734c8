"""Units: what stands for each, worked out from its entries."""

from collections.abc import Callable
from datetime import date
from functools import partial
from typing import Any
from uuid import UUID

from flask import Response, current_app, jsonify
from marshmallow import Schema, fields

from ..engine import calc
from ..engine.history.customers import names_of, owner_of
from ..log import Log
from ..office.owners import customers_of
from .current import current_log, entries_of
from .entries import StoredSchema
from .results import refer_to_result
from .strict import Subject

subject = Subject("units", __name__, url_prefix="/api/units", description="Units and what stands for them.")

# How many units' summaries are kept; of all logs together.
MOST_KEPT = 50_000
SUMMARY_FIELDS = ("verdict", "reason", "looked_at", "due", "contested", "disagrees")


class SummarySchema(Schema):
    """What a list shows of each unit."""

    id = fields.UUID(required=True)
    name = fields.String(required=True, metadata={"description": "Empty until its definition has arrived."})
    owner = fields.String(required=True)
    customer_id = fields.String(required=True, metadata={"description": "Empty where the owner is a name alone."})
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
    """One unit: what stands, and the entries from which it was worked out."""

    standing = fields.Raw(required=True, metadata={"allOf": [refer_to_result("standing")]})
    entries = fields.List(fields.Nested(StoredSchema), required=True)


def work_out_standing(entries: list[dict[str, Any]]) -> dict[str, Any]:
    """What stands today for the unit with these entries."""
    return calc("standing", {"entries": entries, "today": date.today().isoformat()})


def kept_for(log: Log, unit: str, state: object, work_out: Callable[[], dict[str, Any]]) -> dict[str, Any]:
    """What was worked out for a unit of a log, or for its shop under ""; worked out anew once `state` is another."""
    kept: dict[tuple[str, str], tuple[object, dict[str, Any]]] = current_app.extensions["slipbook_summaries"]
    place = (log.identity.log_id, unit)
    if place not in kept or kept[place][0] != state:
        if len(kept) >= MOST_KEPT:
            kept.clear()
        kept[place] = (state, work_out())
    return kept[place][1]


def summarize(log: Log, unit: str) -> dict[str, Any]:
    """What a list shows of a unit, but for its owner's newest name."""
    standing = work_out_standing(log.of_unit(unit))
    definition = standing["unit"] or {}
    return {
        "id": unit,
        "name": definition.get("name", ""),
        "owner": definition.get("owner") or "",
        "customer_id": definition.get("customer_id") or "",
        **{name: standing[name] for name in SUMMARY_FIELDS},
        "value_nm": standing["torque"]["value_nm"] if standing["torque"] else None,
    }


def summaries_of(log: Log) -> dict[str, dict[str, Any]]:
    """What a list shows of each unit, by its id; worked out again only after a new entry or on a new day."""
    states, today = log.states(), date.today()

    def names() -> dict[str, Any]:
        return names_of(customers_of(log.of_unit("")))

    customers = kept_for(log, "", (states.get(""), log.erased), names)
    summaries = {
        unit: kept_for(log, unit, (state, log.erased, today), partial(summarize, log, unit))
        for unit, state in states.items()
        if unit
    }
    return {unit: {**summary, "owner": owner_of(summary, customers)} for unit, summary in summaries.items()}


@subject.route("", methods=["GET"])
@subject.response(200, UnitsSchema, description="Every unit, by name.")
def units() -> Response:
    """Every unit with its verdict."""
    summaries = summaries_of(current_log()).values()
    return jsonify({"units": sorted(summaries, key=lambda summary: (summary["name"].casefold(), summary["id"]))})


@subject.route("/<uuid:unit>", methods=["GET"])
@subject.response(200, UnitSchema, description="What stands, and every entry in the order of arrival.")
def unit(unit: UUID) -> Response:
    """One unit with its whole history."""
    entries = entries_of(unit)
    return jsonify({"standing": work_out_standing(entries), "entries": entries})
