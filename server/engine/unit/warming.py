"""A case of another metal than the stack: how far the warm unit squeezes its spring.

References
----------
1. Expansion of aluminium alloys, about 23 millionths for each kelvin, and of steel, about 11.5: handbook values, from
   memory.
"""

from typing import Any

from ..request.fields import Group, Number
from .spring import Column, column_load, flat_at

ALUMINIUM_PPM = 23.0
STEEL_PPM = 11.5

WARMING = Group(
    {
        "warmer_k": Number(
            1, 200, "k", "how much warmer the unit runs than it was built", label="Runs warmer than it was built by, K"
        ),
        "case_ppm": Number(
            1,
            40,
            "",
            "expansion of the case, millionths of its length for each kelvin",
            default=ALUMINIUM_PPM,
            label="Case grows by, millionths for each K",
        ),
        "stack_ppm": Number(
            1,
            40,
            "",
            "expansion of plates, rings and spring, the same way",
            default=STEEL_PPM,
            label="Stack grows by, millionths for each K",
        ),
    },
    "a case that expands otherwise than what is in it",
    default=None,
)


def warm_crush(warming: dict[str, Any], cavity: float, crush: float) -> float:
    """Crush of a unit that has warmed through, mm.

    Parameters
    ----------
    warming : dict
        Checked by `WARMING`.
    cavity : float
        Depth from the cover's face to the floor as it was built, mm.
    crush : float
        Crush as it was built, mm; below 0 the stack is loose.

    Notes
    -----
    The free stack, cavity and crush long, grows by its own expansion and the cavity by the case's. The spring's steel
    is about 3 % softer for each 100 K, from memory, which is left out.

    Examples
    --------
    >>> aluminium = {"warmer_k": 60.0, "case_ppm": 23.0, "stack_ppm": 11.5}
    >>> round(warm_crush(aluminium, 62.9, 1.7), 4)
    1.6578
    """
    grown = warming["stack_ppm"] * (cavity + crush) - warming["case_ppm"] * cavity
    return float(crush + 1e-6 * warming["warmer_k"] * grown)


def warm_figures(warming: dict[str, Any] | None, cavity: float, crush: float, springs: Column) -> dict[str, Any] | None:
    """Crush, preload and change of the torque in percent once the unit is warm; None where `warming` is not given."""
    if warming is None:
        return None
    warm, flat = warm_crush(warming, cavity, crush), springs.nests * flat_at(springs.disc)
    cold_n, warm_n = (column_load(springs, max(0.0, min(squeeze, flat))) for squeeze in (crush, warm))
    change = 100.0 * (warm_n / cold_n - 1.0) if cold_n > 0.0 else None
    return {"crush_mm": warm, "preload_n": warm_n, "change_percent": change}
