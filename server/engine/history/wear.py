"""Wear over outings of a unit, from what its log and those of its pattern have shown since each rebuild."""

from typing import Any

from ..doubt.budget import TWO_SIDED_95
from ..experience.wear import plate_wear, torque_wear
from ..request.sorting import in_order
from ..request.written_in import WrittenIn
from ..unit.stack import FRICTION, SEPARATOR, SPRING
from .builds import has_faults, lives_of, sprung_at
from .built_now import definition_of, place_of
from .gauged import parts_now
from .life import SEASON
from .outings import is_fresh, outings_of
from .timeline import newest_of, of_kind

# Kinds of plate that wear.
KINDS = (FRICTION, SEPARATOR)


def chain_of(live: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """The places of a unit's stack, springs left out; none where they are not known."""
    definition = definition_of(newest_of(live, "unit")) or {}
    return [item for item in definition.get("chain") or [] if item["part"] != SPRING]


def settled_points(entries: list[dict[str, Any]]) -> list[tuple[float, float]]:
    """Outings and torque, N·m, of the checks of one life that say both, once bedded in, by outings."""
    points = []
    for check in of_kind(entries, "torque_check"):
        outings = outings_of(check)
        if outings is not None and not is_fresh(check) and not has_faults(check):
            points.append((float(outings), float(check["shown"]["value_nm"])))
    return in_order(points)


def torque_lives(live: list[dict[str, Any]]) -> list[list[tuple[float, float]]]:
    """The points of every life with the present spring, in order of time; the last is that since the last rebuild."""
    lives = lives_of(live)
    return [settled_points(between) for _, between in lives[sprung_at(lives) :]]


def losses(live: list[dict[str, Any]], chain: list[dict[str, Any]]) -> dict[str, list[tuple[float, float]]]:
    """By kind of plate: outings and mean loss, mm, of each measurement after a rebuild."""
    found: dict[str, list[tuple[float, float]]] = {part: [] for part in KINDS}
    kinds = {item["slot"]: item["part"] for item in chain}
    before: list[dict[str, Any]] = []
    for rebuild, between in lives_of(live):
        if rebuild is not None:
            before.append(rebuild)
            rows, _, fitted = parts_now(before, of_kind(before, "rebuild"))
            # How thick each plate was, and after how many outings of this life.
            starts = {slot: (part["mm"], 0.0) for slot, part in fitted.items()}
            starts.update({slot: (row["mean_mm"], 0.0) for slot, row in rows.items() if row["mean_mm"] is not None})
            for part, points in losses_of(between, starts, kinds).items():
                found[part] += points
        before = before + between
    return found


def use_after(use: float | None, entry: dict[str, Any]) -> float | None:
    """The outings of a life up to an entry, from those before it: a check may say them, and the log may count them."""
    if entry["kind"] != "torque_check" and "counted" not in entry:
        return use
    outings = outings_of(entry)
    return use if outings is None else max(use or 0.0, float(outings))


def losses_of(
    entries: list[dict[str, Any]], starts: dict[str, tuple[float, float]], kinds: dict[str, str]
) -> dict[str, list[tuple[float, float]]]:
    """The same of one life; `starts` says how thick its plates were, mm, and after how many outings."""
    found: dict[str, list[tuple[float, float]]] = {part: [] for part in KINDS}
    use: float | None = None
    for entry in entries:
        use = use_after(use, entry)
        if entry["kind"] != "plate_check":
            continue
        lost: dict[str, list[tuple[float, float]]] = {part: [] for part in KINDS}
        for row in entry["shown"].get("plates", []):
            mm, slot = row.get("mean_mm"), row["slot"]
            if mm is None or kinds.get(slot) not in lost:
                continue
            if not use:
                # Measured as it was built: this counts, and not what its box said.
                starts[slot] = (mm, 0.0)
            elif slot in starts and use > starts[slot][1]:
                lost[kinds[slot]].append((use - starts[slot][1], starts[slot][0] - mm))
        for part in KINDS:
            if lost[part]:
                many = len(lost[part])
                found[part].append((sum(row[0] for row in lost[part]) / many, sum(row[1] for row in lost[part]) / many))
    return found


def plates_now(live: list[dict[str, Any]], chain: list[dict[str, Any]]) -> dict[str, list[dict[str, Any]]]:
    """By kind the plates that are in the unit: mm, minimum_mm, and at, the outings it had when they were so thick."""
    rows, _, fitted = parts_now(live, of_kind(live, "rebuild"))
    at: dict[str, float] = {}
    use: float | None = None
    for entry in lives_of(live)[-1][1]:
        use = use_after(use, entry)
        if entry["kind"] == "plate_check":
            at.update({row["slot"]: use or 0.0 for row in entry["shown"].get("plates", [])})
    plates: dict[str, list[dict[str, Any]]] = {part: [] for part in KINDS}
    for item in chain:
        if item["part"] in plates:
            place = place_of(item, rows.get(item["slot"]), fitted.get(item["slot"]))
            mm = place["mm"] if place["lowest_mm"] is None else place["lowest_mm"]
            plates[item["part"]].append({"mm": mm, "minimum_mm": place["minimum_mm"], "at": at.get(item["slot"], 0.0)})
    return plates


def wear_of(
    live: list[dict[str, Any]],
    others: list[list[dict[str, Any]]],
    low: float | None,
    written_in: WrittenIn,
    logged: float,
) -> dict[str, Any]:
    """Wear of a unit's torque and plates, drawn towards what builds before it and its pattern have shown.

    Parameters
    ----------
    live : list of dict
        Entries of the unit that stand, in order of time.
    others : list of list of dict
        The same of other units of its pattern.
    low : float or None
        The lowest torque at which it may run, N·m.
    written_in : WrittenIn
        Units to write in.
    logged : float
        Outings since the rebuild so far where any were logged, else 0.

    Returns
    -------
    dict
        torque (see `torque_wear`), or None; plates, of each kind that was measured after use (see `plate_wear`).
    """
    lives = torque_lives(live)
    elsewhere = [life for other in others for life in torque_lives(other) if life]
    checks = [check["shown"] for check in of_kind(live, "torque_check") if not has_faults(check)]
    doubts = [(shown.get("expanded_nm") or 0.0) / TWO_SIDED_95 for shown in checks]
    reading = (sum(doubt * doubt for doubt in doubts) / len(doubts)) ** 0.5 if doubts else 0.0
    earlier = [life for life in lives[:-1] if life]
    chain = chain_of(live)
    own, fitted = losses(live, chain), plates_now(live, chain)
    theirs = [losses(other, chain_of(other)) for other in others]
    now = max([logged] + [use for use, _ in lives[-1]])
    plates = [
        plate_wear(
            part,
            own[part],
            [unit[part] for unit in theirs],
            fitted[part],
            now,
            written_in,
        )
        for part in KINDS
    ]
    torque = torque_wear(lives[-1], earlier, elsewhere, reading, low, written_in, now)
    if torque is not None:
        torque["text"] += " " + SEASON
    return {
        "torque": torque,
        "plates": [row for row in plates if row is not None],
    }
