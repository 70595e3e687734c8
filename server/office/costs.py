"""Hours and cost of parts of rebuilds, added up for each unit, owner or season."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any, NamedTuple

from ..engine.history.timeline import live_entries
from ..engine.records.rebuild import REBUILD_FORM
from ..log.figures import as_digits

UNIT, OWNER, SEASON = "unit", "owner", "season"
BY = {UNIT: "for each unit", OWNER: "for each owner", SEASON: "for each season, which is a calendar year"}
FIGURES = ("hours", "parts_cost")


class Sum(NamedTuple):
    """What some rebuilds came to.

    Attributes
    ----------
    name : str
        The unit's name, the owner or the year; empty where nobody said it.
    unit : str
        Id of the unit, where there is a row for each; else empty.
    rebuilds : int
        How many there were.
    hours, parts_cost : str
        Their sums, in hours and in the workshop's own money, as finely as they were typed; empty if nobody gave any.
    without_hours, without_cost : int
        How many of them give no hours, and no cost: these are missing in the sums.
    """

    name: str
    unit: str
    rebuilds: int
    hours: str
    parts_cost: str
    without_hours: int
    without_cost: int


def sums_of(entries: Mapping[str, list[dict[str, Any]]], names: Mapping[str, dict[str, str]], by: str) -> list[Sum]:
    """Sums of all rebuilds that stand, by name; seasons with the newest first.

    Parameters
    ----------
    entries : mapping
        The entries of each unit by its id; those of the shop count for nothing.
    names : mapping
        By unit its "name" and "owner", as its definition has them.
    by : str
        One of `BY`.
    """
    groups: dict[tuple[str, str], list[dict[str, Any]]] = {}
    for unit, rows in entries.items():
        about = names.get(unit, {})
        for entry in rebuilds_of(rows):
            key = {
                UNIT: (about.get("name", ""), unit),
                OWNER: (" ".join(about.get("owner", "").split()), ""),
                SEASON: (entry["at"][:4], ""),
            }[by]
            groups.setdefault(key, []).append(entry["body"])
    keys = sorted(groups, key=lambda key: (key[0].casefold(), key), reverse=by == SEASON)
    return [sum_of(name, unit, groups[name, unit]) for name, unit in keys]


def rebuilds_of(entries: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """The rebuilds of a unit that stand."""
    return [entry for entry in live_entries(entries) if entry["kind"] == "rebuild"]


def sum_of(name: str, unit: str, bodies: list[dict[str, Any]]) -> Sum:
    """The sums of some rebuilds."""
    given = {figure: [amount for body in bodies if (amount := read(body, figure)) is not None] for figure in FIGURES}
    totals = {figure: f"{sum(amounts):f}" if amounts else "" for figure, amounts in given.items()}
    without = {figure: len(bodies) - len(amounts) for figure, amounts in given.items()}
    return Sum(name, unit, len(bodies), totals["hours"], totals["parts_cost"], without["hours"], without["parts_cost"])


def read(body: dict[str, Any], figure: str) -> Decimal | None:
    """A figure of a rebuild as it was typed; None where it was left empty.

    >>> read({"hours": {"typed": "2,50", "unit": ""}}, "hours"), read({}, "hours")
    (Decimal('2.50'), None)
    """
    checked = REBUILD_FORM.fields[figure]
    typed = body.get(figure)
    value = typed.get("typed") if isinstance(typed, dict) else typed
    if value is None or value == "":
        return None
    checked.read(typed, figure)
    return Decimal(as_digits(value))
