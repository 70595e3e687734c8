"""The unit as it is built now: what sits in each place, the spring as last measured, and what they come to."""

from typing import Any

from ..doubt.verdict import REPLACE
from ..part_checks.plates import PLATES
from ..part_checks.springs import HEIGHT_GAUGE_MM
from ..request.errors import BadInput
from ..request.fields import is_empty
from ..unit.definition import worked_out
from ..unit.form import FORM
from ..unit.marks import marked_figures
from ..unit.ramp_lock import build_of_unit
from ..unit.stack import SPRING
from ..unit.usual_limits import MEASURED_WITHIN_MM, UNMEASURED_WITHIN_MM, usual_minimum

# How a thickness is known.
MEASURED = "measured"
FITTED = "fitted"
NOMINAL = "nominal"

# Plates of one kind differ by less than this share of their thickness: common practice, no source.
SAME_KIND = 0.1

# Limits that differ by less, mm, are the same limit.
SAME_MM = 1e-6


def limit_of(item: dict[str, Any], new: float, row: dict[str, Any] | None) -> float | None:
    """Limit of a piece of `new` mm in a place, mm; None where none was given that belongs to this piece.

    A limit belongs to the plate and not to the place: the limit of a thinner or thicker kind says nothing about this
    plate. Where the definition has none, the limit that the plate itself was judged by counts.
    """
    given: float | None = item["minimum_mm"]
    is_same_kind = abs(new - item["new_mm"]) <= SAME_KIND * item["new_mm"]
    if given is not None and given < new and is_same_kind:
        return given
    judged_by: float | None = None if row is None else row["minimum_mm"]
    is_own = judged_by is not None and judged_by < new and abs(judged_by - usual_minimum(new)) > SAME_MM
    return judged_by if is_own else None


def place_of(item: dict[str, Any], row: dict[str, Any] | None, fitted: dict[str, Any] | None) -> dict[str, Any]:
    """What sits in one place of the stack.

    Parameters
    ----------
    item : dict
        The place in the definition, in SI.
    row : dict or None
        The newest measurement of the piece that is in it now.
    fitted : dict or None
        What the last rebuild fitted there: mm, and where the rebuild says so minimum_mm and within_mm.

    Returns
    -------
    dict
        slot; part; mm, mean thickness; lowest_mm, which the limit judges, None where it was not measured; known, how:
        measured, fitted or nominal; within_mm, how far off the mean may be, either way; at, when it was measured;
        new_mm, as it was fitted or when new; minimum_mm, its limit, and usual_minimum, whether that is only common
        practice; replace, whether it is a plate that was judged worn.
    """
    new = item["new_mm"] if fitted is None else fitted["mm"]
    known, mm = (NOMINAL, new) if fitted is None else (FITTED, new)
    within = None if fitted is None else fitted.get("within_mm")
    # A limit that was given with the piece stays with it.
    given = None if fitted is None else fitted.get("minimum_mm")
    if row is not None:
        # Entries of long ago have the lowest point alone.
        known, mm = MEASURED, row["lowest_mm"] if row["mean_mm"] is None else row["mean_mm"]
        # The guard band of one reading is about what an even doubt of it comes to.
        within = row["guard_mm"] if row["guard_mm"] else MEASURED_WITHIN_MM
    given = limit_of(item, new, row) if given is None else given
    return {
        "slot": item["slot"],
        "part": item["part"],
        "mm": mm,
        "lowest_mm": row["lowest_mm"] if row is not None else None,
        "known": known,
        "within_mm": UNMEASURED_WITHIN_MM if within is None else within,
        "at": row["at"] if row is not None else None,
        "new_mm": new,
        "minimum_mm": usual_minimum(new) if given is None else given,
        "usual_minimum": given is None,
        "replace": item["part"] in PLATES and row is not None and row["verdict"] == REPLACE,
    }


def with_thickness(definition: dict[str, Any], mm: dict[str, float], height: float | None) -> dict[str, Any]:
    """A definition with other thicknesses by slot and another free height of the spring, mm.

    Its limits are left out: a worn plate may lie below its own, which a definition would refuse.
    """
    changed = definition.copy()
    if definition["chain"] is not None:
        changed["chain"] = []
        for item in definition["chain"]:
            item = item.copy()
            if item["part"] != SPRING:
                item["new_mm"], item["minimum_mm"] = mm[item["slot"]], None
            changed["chain"].append(item)
    if height is not None and definition["spring"] is not None:
        changed["spring"] = definition["spring"].copy()
        changed["spring"]["l0_mm"] = height
        if definition.get("worked_out"):
            # Measured now, were it to the very figure that had been worked out.
            changed["worked_out"] = definition["worked_out"].copy()
            changed["worked_out"]["l0_mm"] = None
    return changed


def as_of_today(definition: dict[str, Any]) -> dict[str, Any]:
    """A definition with every field that forms have today; older ones had fewer."""
    try:
        return FORM.read(definition, "")
    except BadInput:
        # It was accepted then and would be refused today: it is used as it stands.
        return definition


def definition_of(unit: dict[str, Any] | None) -> dict[str, Any] | None:
    """A unit's definition in SI from its entry, with every field that forms have today; None where it has none in SI.

    Engines up to 1.4 wrote the usual gap at the first thread into it, as if somebody had measured that.
    """
    if unit is None or unit["shown"].get("checked") is None:
        return None
    definition, typed = as_of_today(unit["shown"]["checked"]), unit["body"].get("cover") or {}
    if definition.get("cover") and is_empty(typed.get("start_mm")):
        definition, cover = definition.copy(), definition["cover"].copy()
        cover["start_mm"], definition["cover"] = None, cover
    return definition


def figures_of(as_built: dict[str, Any], definition: dict[str, Any], crush: float | None, nm: str) -> dict[str, Any]:
    """Crush, preload and warnings, in `nm`, of a unit as built; `crush` is that of its definition with parts new."""
    try:
        derived = worked_out(as_built, nm)
        return {name: derived[name] for name in ("crush_mm", "preload_n", "worked_out", "warnings")}
    except BadInput as refusal:
        loose: dict[str, Any] = {"preload_n": None, "warnings": [{"name": "loose", "text": refusal.reason}]}
        loose["worked_out"] = marked_figures(as_built)
        loose["crush_mm"] = crush
        if crush is None:
            return loose
        # A stack that is worn loose has no preload, but how loose it is can still be worked out.
        worn = sum(
            before["new_mm"] - now["new_mm"]
            for before, now in zip(definition["chain"], as_built["chain"])
            if now["part"] != SPRING
        )
        springs, was = as_built["spring"], definition["spring"]
        nests = sum(item["part"] == SPRING for item in as_built["chain"]) * (springs.get("series") or 1)
        worn += nests * (was["l0_mm"] - springs["l0_mm"])
        loose["crush_mm"] = crush - worn
        return loose


def when_measured(places: list[dict[str, Any]]) -> str:
    """When the plates were measured, in a sentence; how many of them were not.

    >>> when_measured([{"part": "friction", "at": "2026-05-12T10:00:00Z"}, {"part": "separator", "at": None}])
    '1 of 2 plates measured, on 2026-05-12; the others are taken as fitted or new.'
    """
    plates = [place for place in places if place["part"] in PLATES]
    days = sorted(place["at"][:10] for place in plates if place["at"] is not None)
    if not plates:
        return ""
    if not days:
        return "Plates not measured since they were fitted: taken as fitted or new."
    span = f"on {days[0]}" if days[0] == days[-1] else f"between {days[0]} and {days[-1]}"
    if len(days) == len(plates):
        return f"Plates measured {span}."
    return f"{len(days)} of {len(plates)} plates measured, {span}; the others are taken as fitted or new."


def built_now(
    definition: dict[str, Any],
    nominal: dict[str, Any],
    rows: dict[str, Any],
    fitted: dict[str, dict[str, Any]],
    spring: dict[str, Any] | None,
    torque: dict[str, Any] | None,
    nm: str,
) -> dict[str, Any]:
    """The unit as it is built now.

    Parameters
    ----------
    definition : dict
        That stands, as `definition_of` gives it.
    nominal : dict
        What `unit` answered for it.
    rows : dict
        Newest measurement of each piece that is in the unit now, by slot.
    fitted : dict
        What the last rebuilds fitted, by slot: mm, and where they say so minimum_mm and within_mm.
    spring : dict or None
        The row of the spring, as it was measured since that spring was fitted.
    torque : dict or None
        The last torque check of this build.
    nm : str
        Unit of torque to write in.

    Returns
    -------
    dict
        places, from cover to floor, springs left out (see `place_of`); measured_text, when its plates were measured;
        unit, the definition as built, in SI; strongest,
        the strongest build that a vice has to hold: each plate as thick as it was fitted or has been measured since,
        whichever is more; spring_mm, the measured height, and spring_within_mm, how far off it may be, or None;
        measured, the torque of this build with its expanded uncertainty, or None; for_check, what a torque check has to
        know of it, as its `build`; crush_mm, preload_n (None where the stack is loose), worked_out (figures that were
        not measured, see `marked_figures`) and warnings of the unit as built.
    """
    height = None if spring is None else spring.get("mean_mm")
    chain, sizes = definition["chain"] or [], definition["spring"]
    places = [
        place_of(item, rows.get(item["slot"]), fitted.get(item["slot"])) for item in chain if item["part"] != SPRING
    ]
    as_built = with_thickness(definition, {place["slot"]: place["mm"] for place in places}, height)
    thickest = {place["slot"]: max(place["new_mm"], place["mm"]) for place in places}
    tallest = None if sizes is None or height is None else max(height, sizes["l0_mm"])
    as_it_stands = {
        "places": places,
        "measured_text": when_measured(places),
        "unit": as_built,
        "strongest": with_thickness(definition, thickest, tallest),
        "spring_mm": height,
        "spring_within_mm": None if height is None else (spring or {}).get("guard_mm") or HEIGHT_GAUGE_MM,
        "measured": None
        if torque is None
        else {"torque_nm": torque["value_nm"], "expanded_nm": torque["expanded_nm"] or 0.0},
        "for_check": build_of_unit(definition, nominal.get("faces"), nominal.get("radius_mm")),
    }
    as_it_stands.update(figures_of(as_built, definition, nominal.get("crush_mm"), nm))
    return as_it_stands
