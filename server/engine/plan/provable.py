"""Whether the tools of the kit could prove an order: what a check with each could say go to."""

from typing import Any

from ..doubt.finding import DOUBT
from ..request.errors import BadInput
from ..request.fields import Group, Listing
from ..request.units import say
from ..torque_check.breakaway import breakaway
from ..torque_check.chain import chain_of, reading_at, refuse_locked
from ..torque_check.form import DIRECTIONS, FORM
from ..torque_check.wrench import SCALE, WRENCH
from ..unit.as_built import derive
from ..unit.held import HELD
from ..unit.ramp_lock import build_of_unit

TOOLS = Listing(
    Group({"wrench": WRENCH, "scale": SCALE}, "a torque wrench, or a scale or weight"),
    0,
    60,
    "tools of the kit that the torque could be checked with",
    default=[],
    nouns="tools",
)

# Readings each way, all alike: the best that a check can be.
READINGS = 3

# A scale is taken to pull at a bar this long, mm: common practice, no source.
BAR_MM = 500.0

# Ways of holding a unit on the bench, the plainest first.
WAYS = ("bench_output_held", "bench_case_held")


def check_with(
    tool: dict[str, Any], held: str, definition: dict[str, Any], build: dict[str, Any], wanted: dict[str, Any]
) -> dict[str, Any]:
    """What a check says that reads just what is wanted, with one tool; raises BadInput where it cannot be read."""
    is_wrench = tool["wrench"] is not None
    torque, off = wanted["torque_nm"], wanted["tolerance_nm"]
    judged = ("steady_" if definition["judged_on"] == "steady" else "first_") + ("nm" if is_wrench else "n")
    request: dict[str, Any] = {
        "held": held,
        "wrench" if is_wrench else "scale": tool["wrench"] if is_wrench else tool["scale"],
        judged: {direction: [1.0, 1.0] for direction in DIRECTIONS},
        "judged_on": definition["judged_on"],
        "stated_for": definition["stated_for"],
        "build": build,
        "limits": {"low_nm": max(0.0, torque - off), "high_nm": torque + off},
    }
    if not is_wrench:
        request["bar"] = {"length_mm": BAR_MM}
    check: dict[str, Any] = FORM.read(request, "")
    refuse_locked(check, list(DIRECTIONS), judged)
    for direction in DIRECTIONS:
        check[judged][direction] = [reading_at(torque, chain_of(check, held, direction))] * READINGS
    return breakaway(check)


def provable(
    tools: list[dict[str, Any]], definition: dict[str, Any], wanted: dict[str, Any], unit: str
) -> dict[str, Any] | None:
    """Whether any tool of the kit could prove that a unit meets what is wanted.

    Parameters
    ----------
    tools : list of dict
        Checked by `TOOLS`.
    definition, wanted : dict
        The unit's definition, and torque_nm and tolerance_nm.
    unit : str
        Unit of torque to write in.

    Returns
    -------
    dict or None
        can_prove; tool, the best for it, and held, how the unit is held for it, or blank; go_low_nm and go_high_nm,
        between which a check with it says go, or None; guard_low_nm and guard_high_nm, its guard bands at both ends, or
        None; text. None without tools.
    """
    figures = derive(definition, "unit")
    build = build_of_unit(definition, figures["faces"], figures["radius_mm"])
    best: dict[str, Any] | None = None
    for tool, held in [(tool, held) for tool in tools for held in WAYS]:
        try:
            result = check_with(tool, held, definition, build, wanted)
        except BadInput:
            # Its scale does not reach, or it cannot read so what the order is judged on.
            continue
        if any(row["weight"] == DOUBT for row in result["findings"]):
            continue
        low, high = result["guard_low_nm"] or 0.0, result["guard_high_nm"]
        row = {
            "tool": (tool["wrench"] or tool["scale"])["name"],
            "held": held,
            "guard_low_nm": low,
            "guard_high_nm": high,
            "go_low_nm": max(0.0, wanted["torque_nm"] - wanted["tolerance_nm"]) + low,
            "go_high_nm": wanted["torque_nm"] + wanted["tolerance_nm"] - high,
        }
        if best is None or low + high < best["guard_low_nm"] + best["guard_high_nm"] - 1e-9:
            best = row
    if best is None:
        return said_of_none(wanted, unit) if tools else None
    order = f"{say(wanted['torque_nm'], 'nm', unit)}, give or take {say(wanted['tolerance_nm'], 'nm', unit)}"
    best["can_prove"] = best["go_low_nm"] <= best["go_high_nm"]
    if best["can_prove"]:
        best["text"] = (
            f"With {best['tool']}, {HELD[best['held']][1]}, a check says go from "
            f"{say(best['go_low_nm'], 'nm', unit)} to {say(best['go_high_nm'], 'nm', unit)}."
        )
    else:
        best["text"] = (
            f"No tool of the kit can prove this order of {order}: {best['tool']}, the best of them, leaves guard bands "
            f"of {say(best['guard_low_nm'], 'nm', unit)} and {say(best['guard_high_nm'], 'nm', unit)}, so every check "
            "will say measure again. Get a finer tool, or agree on a wider tolerance, before the unit is built."
        )
    return best


def said_of_none(wanted: dict[str, Any], unit: str) -> dict[str, Any]:
    """What is said where no tool of the kit can read the torque at all."""
    return {
        "can_prove": False,
        "tool": "",
        "held": "",
        "guard_low_nm": None,
        "guard_high_nm": None,
        "go_low_nm": None,
        "go_high_nm": None,
        "text": f"No tool of the kit reads {say(wanted['torque_nm'], 'nm', unit)} as the order is judged: "
        "get one before the unit is built.",
    }
