"""What a strip found: every place and every other part in the order in which they come out, and what is to be ordered.

A strip is an inspection: only what was looked at since it was begun counts here, whatever is known from before.
"""

from typing import Any

from ..doubt.verdict import GO, MEASURE_AGAIN, REPLACE, REWORK, worst
from ..records.guided_steps import ANSWERS
from ..records.marked_exchange import are_exchanged, rows_in
from ..request.fields import Group
from ..request.letters import trimmed
from ..request.sorting import in_order
from ..request.units import say
from ..request.written_in import with_written_in
from ..unit.features import FEATURE_PARTS
from ..unit.marked_parts import key_of, name_of
from ..unit.stack import FRICTION, RING, SEPARATOR, SHIM, SPRING
from .built_now import definition_of
from .due import left_open
from .gauged import has_other_spring, newest_rows
from .inspected import exchanged_in
from .job import INSPECT, PLATES, RINGS, SPRINGS
from .limits_today import entry_of, feature_today, plate_today, shown_row
from .standing import FORM as ENTRIES_FORM
from .timeline import by_device_time, live_entries, newest_of, of_kind, since

FORM = Group(
    with_written_in({"entries": ENTRIES_FORM.fields["entries"]}, "write_lengths_in"), "what a strip of one unit found"
)

UNSEEN, NOTED = "unseen", "noted"
STATES = {
    GO: "good",
    REPLACE: "worn: replace it",
    REWORK: "to be reworked",
    MEASURE_AGAIN: "measure it again",
    NOTED: "looked at; nothing limits it",
    UNSEEN: "not looked at yet",
}

# What is answered before the unit is closed on it.
BAD = (REPLACE, REWORK, MEASURE_AGAIN)

# The screws and the cover come off before the packs; what lies between and behind them comes after.
BEFORE_PACKS = ("screws", "cover")
AFTER_PACKS = ("rings", "cross_pins", "bevel_gears", "thrust_washers", "splines", "journals", "case", "other")

# The screen on which each kind of place is measured, and what it is called.
PLACES = {
    SPRING: (SPRINGS, "disc spring"),
    FRICTION: (PLATES, "friction plate"),
    SEPARATOR: (PLATES, "separator plate"),
    RING: (RINGS, "ramp ring"),
    SHIM: ("", "shim"),
}


def expected(defined: dict[str, Any] | None) -> list[dict[str, Any]]:
    """What there is to look at, in the order in which it comes out: name, what it is, and where it is measured."""
    chain, features = (defined or {}).get("chain") or [], (defined or {}).get("features") or []

    def of_parts(parts: tuple[str, ...]) -> list[dict[str, Any]]:
        return [
            {"name": item["name"], "part": part, "what": FEATURE_PARTS[part], "step": INSPECT, "new_mm": None}
            for part in parts
            for item in features
            if item["part"] == part
        ]

    places = []
    for item in chain:
        step, what = PLACES[item["part"]]
        if step:
            row = {"name": item["slot"], "part": item["part"], "what": what, "step": step}
            row["new_mm"] = item.get("new_mm")
            places.append(row)
    return of_parts(BEFORE_PACKS) + places + of_parts(AFTER_PACKS)


def by_todays_limits(
    found: dict[tuple[str, str], dict[str, Any]], live: list[dict[str, Any]], defined: dict[str, Any]
) -> None:
    """Hold what was measured against the limits of the definition today: see `limits_today`. Changes it in place."""
    checks, inspections = of_kind(live, "plate_check"), of_kind(live, "inspection")
    features = {feature["name"]: feature for feature in defined.get("features") or []}
    in_time = in_order(live, by_device_time)
    ids = [entry["id"] for entry in in_time]
    for step, name in found:
        row = found[(step, name)]
        if step == PLATES:
            rebuilds = of_kind(in_time[: ids.index(row["id"])], "rebuild")
            fitted = {part["slot"]: part for entry in rebuilds for part in entry["shown"].get("fitted") or []}
            found[(step, name)] = plate_today(row, checks, defined.get("chain") or [], fitted)
        elif step == INSPECT and name in features:
            check, full = entry_of(inspections, row), row.copy()
            full.update(shown_row(check, "features", "name", name))
            found[(step, name)] = feature_today(full, features[name], check)


def looked_at(rows: list[dict[str, Any]]) -> dict[tuple[str, str], dict[str, Any]]:
    """The newest row of everything that was measured in some entries, by the step that measured it and its name."""
    found = {}
    for step, kind, table, key in (
        (PLATES, "plate_check", "plates", "slot"),
        (SPRINGS, "spring_check", "springs", "name"),
        (RINGS, "ring_check", "rings", "name"),
        (RINGS, "ring_check", "pins", "name"),
        (INSPECT, "inspection", "features", "name"),
    ):
        newest = newest_rows(of_kind(rows, kind), table, key)
        for name in newest:
            found[(step, name)] = newest[name]
    return found


def by_mark(entry: dict[str, Any], item: dict[str, Any], items: list[dict[str, Any]]) -> dict[str, Any] | None:
    """The row of a rebuild's marked parts that exchanged a part; None where none did."""
    if item["step"] == INSPECT:
        features = [{"name": other["name"], "part": other["part"]} for other in items if other["step"] == INSPECT]
        return exchanged_in(entry, features).get(item["name"])
    alone = len([other for other in items if other["part"] == item["part"]]) == 1
    for row in rows_in(entry["body"]):
        place = key_of(row["place"])
        if row["part"] == item["part"] and (place == key_of(item["name"]) or (alone and not place)):
            return row
    return None


def exchanged(rows: list[dict[str, Any]], item: dict[str, Any], items: list[dict[str, Any]], unit: str) -> str:
    """What a rebuild among some entries did about a part, one of the unit's; empty where none did."""
    for entry in reversed(of_kind(rows, "rebuild")):
        day = entry["at"][:10]
        marked = by_mark(entry, item, items)
        if marked is not None:
            went = name_of(marked["part"], marked["mark"]) if key_of(marked["mark"]) else "another one"
            return f"{went} fitted on {day}"
        for part in entry["shown"].get("fitted") or []:
            if part["slot"] == item["name"] and item["step"] != INSPECT:
                return f"exchanged on {day}, {say(part['mm'], 'mm', unit)} fitted"
        if item["step"] == SPRINGS and has_other_spring(entry["body"]) and not are_exchanged(entry["body"], SPRING):
            return f"another spring fitted on {day}"
        if item["step"] == INSPECT and item["name"] in (entry["body"].get("replaced") or []):
            return f"replaced on {day}"
    return ""


def closing_answer(rows: list[dict[str, Any]], name: str) -> str:
    """What a closing among some entries says of a part; empty where none does."""
    for entry in reversed(of_kind(rows, "close")):
        for row in entry["body"].get("answers") or []:
            if row["name"] == name and row["answer"] in ANSWERS:
                why = trimmed(str(row.get("why") or ""))
                return ANSWERS[row["answer"]] + (f": {why}" if why else "")
    return ""


def answer_to(
    seen: dict[str, Any], item: dict[str, Any], items: list[dict[str, Any]], rows: list[dict[str, Any]], unit: str
) -> str:
    """What was done about a part after it was found so: what was done before says nothing of what was found then."""
    done = since(rows, next(entry for entry in rows if entry["id"] == seen["id"]))
    return exchanged(done, item, items, unit) or closing_answer(done, item["name"])


def row_of(
    item: dict[str, Any],
    items: list[dict[str, Any]],
    rows: list[dict[str, Any]],
    found: dict[tuple[str, str], dict[str, Any]],
    unit: str,
) -> dict[str, Any]:
    """A part, one of the unit's, as the page of a strip shows it."""
    seen = found.get((item["step"], item["name"]))
    state = UNSEEN if seen is None else seen["verdict"] or NOTED
    answer = answer_to(seen, item, items, rows, unit) if seen is not None and state in BAD else ""
    return {
        "name": item["name"],
        "what": item["what"],
        "step": item["step"],
        "state": state,
        "text": STATES[UNSEEN] if seen is None else seen["reason"],
        "lowest_mm": None if seen is None else seen["lowest_mm"],
        "id": None if seen is None else seen["id"],
        "answer": answer,
        "asks": state in BAD and not answer,
    }


def to_order(items: list[dict[str, Any]], rows: list[dict[str, Any]], unit: str) -> list[dict[str, Any]]:
    """Parts that are worn and were not exchanged, alike ones together: what, how many, and where they sit."""
    wanted: dict[str, list[str]] = {}
    for item, row in zip(items, rows):
        if row["state"] == REPLACE and row["asks"]:
            new = item["new_mm"]
            size = f", {say(new, 'mm', unit)} when new" if new else ""
            what = f"{row['name']} ({row['what']})" if row["step"] == INSPECT else f"{row['what']}{size}"
            wanted.setdefault(what, []).append(row["name"])
    return [{"what": what, "count": len(wanted[what]), "names": wanted[what]} for what in wanted]


def in_words(rows: list[dict[str, Any]]) -> str:
    """How many are good, worn and so on, in one sentence."""
    looked = len([row for row in rows if row["state"] != UNSEEN])
    counts = []
    for state, word in ((GO, "good"), (REPLACE, "worn"), (REWORK, "to rework"), (MEASURE_AGAIN, "to measure again")):
        many = len([row for row in rows if row["state"] == state])
        counts += [f"{many} {word}"] if many else []
    end = f": {', '.join(counts)}." if counts else "."
    return f"{looked} of {len(rows)} looked at{end}"


def strip_found(request: dict[str, Any]) -> dict[str, Any]:
    """What the last strip of a unit found.

    Parameters
    ----------
    request : dict
        Checked by `FORM`; entries of one unit in any order.

    Returns
    -------
    dict
        stripped, when the last strip was signed, or None; open, whether the unit is still in parts; parts, in the order
        in which they come out: name, what, step (the screen that measures it), state (a key of `STATES`), text,
        lowest_mm, id of the entry, answer (what was done about it since it was found) and asks (whether it is bad and
        nobody answered); order, what to order: what, count, names; verdict, the worst of what was found, None as long
        as anything was not looked at and nothing is bad; text.
    """
    live = live_entries(request["entries"])
    opened = left_open(live)
    strip = opened or newest_of(live, "strip")
    unit = request["write_lengths_in"]
    defined = definition_of(newest_of(live, "unit"))
    items = expected(defined)
    later = [] if strip is None else since(in_order(live, by_device_time), strip)
    found = looked_at(later)
    by_todays_limits(found, live, defined or {})
    listed = {(item["step"], item["name"]) for item in items}
    # What was measured without being in the definition comes last: pins of a cross, or a place that it no longer has.
    for step, name in sorted(key for key in found if key not in listed):
        what = "cross pin" if step == RINGS else "also measured"
        part = "cross_pins" if step == RINGS else ""
        items.append({"name": name, "part": part, "what": what, "step": step, "new_mm": None})
    rows = [row_of(item, items, later, found, unit) for item in items]
    bad = [row["state"] for row in rows if row["state"] in BAD]
    seen = [row["state"] for row in rows if row["state"] not in (UNSEEN, NOTED)]
    whole = all(row["state"] != UNSEEN for row in rows)
    return {
        "stripped": None if strip is None else strip["at"],
        "open": opened is not None,
        "parts": rows,
        "order": to_order(items, rows, unit),
        "verdict": worst(seen) if seen and (bad or whole) else None,
        "text": in_words(rows) if rows else "Nothing is known of its parts yet: add what the unit has in it.",
    }
