"""The curve that a plan is drawn on: torque against the thickness that is added to the stack, with its danger zones."""

from typing import Any

from ..unit.as_built import longest_crush, preload
from ..unit.spring_warnings import LEAST_TRAVEL, USUAL_TRAVEL
from .target import Aim

POINTS = 41


def seen_curve(curve: list[dict[str, float]], now: int) -> dict[str, Any]:
    """The same from what builds have shown, their curve: over the thickness that was built, without danger zones."""
    points = [{"added_mm": row["thickness_mm"] - now / 1000.0, "torque_nm": row["torque_nm"]} for row in curve]
    return {"curve": points, "zones": []}


def plan_curve(aim: Aim, now: int) -> dict[str, Any]:
    """Torque against added thickness, from a loose stack to a flat spring.

    Parameters
    ----------
    aim : Aim
        What is planned for.
    now : int
        Thickness of the stack as it is fitted, without its springs, micrometres.

    Returns
    -------
    dict
        curve, points of added_mm and torque_nm; zones, stretches of added_mm with a name, where the spring is hardly
        squeezed or is past three quarters of its travel.
    """
    flat, loose = longest_crush(aim.built), -aim.crush_at(now)
    crushes = [flat * place / (POINTS - 1) for place in range(POINTS)]
    return {
        "curve": [{"added_mm": loose + crush, "torque_nm": aim.each * preload(aim.built, crush)} for crush in crushes],
        "zones": [
            {"from_mm": loose, "to_mm": loose + LEAST_TRAVEL * flat, "name": "loose"},
            {"from_mm": loose + USUAL_TRAVEL * flat, "to_mm": loose + flat, "name": "too far"},
        ],
    }
