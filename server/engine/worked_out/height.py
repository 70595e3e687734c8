"""The free height of a disc spring from its height under a known load.

References
----------
1. DIN EN 16984:2017: a disc's load over its deflection, turned round.
"""

from typing import Any

from ..request.errors import BadInput
from ..request.rounded import fixed
from ..request.units import say
from ..request.written_in import WrittenIn
from ..unit.spring import Column, Disc, cone_height, disc_of, load, with_free_height
from ..unit.spring_tolerance import load_tolerance
from .form import given
from .spread import EVEN, Figure, Off, Untold, even, figure_of
from .usual import is_usual, outside

# A disc is no higher than five times its thickness, as `disc_of` has it.
MOST_HEIGHT = 5.0

HALVINGS = 60


def height_of(disc: Disc, force: float, least: float) -> float:
    """Free height of a disc, mm, that is `least` mm high under `force` N.

    Notes
    -----
    The higher it was, the further it is squeezed to the same height, and the more it gives: there is one answer.

    Raises
    ------
    Untold
        None is high enough, or it would be lower than flat.
    """

    def off(height: float) -> float:
        return load(with_free_height(disc, height), height - least) - force

    low, high = max(least, disc.reduced), MOST_HEIGHT * disc.t
    if least < disc.reduced or high <= low or off(high) < 0.0:
        raise Untold
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        low, high = (low, middle) if off(middle) > 0.0 else (middle, high)
    return 0.5 * (low + high)


def height_from_load(request: dict[str, Any], written_in: WrittenIn) -> tuple[Figure, str]:
    """The free height of one disc, and what it rests on in words."""
    sizes = given(request, "spring", "the spring's outside and inside diameter and thickness").copy()
    typed = given(request, "load", "the load, and the spring's height under it")
    # Any height will do to check the other sizes.
    sizes["l0_mm"] = 1.5 * sizes["t_mm"]
    column = Column(disc_of(sizes), sizes["parallel"], sizes["series"])
    force, height, mm = typed["load_n"], typed["height_mm"], written_in.mm

    def lowest(off: dict[str, float]) -> float:
        nest = (height + off.get("height", 0.0)) / column.nests
        return float(nest - (column.parallel - 1) * column.disc.reduced)

    def free(off: dict[str, float]) -> float:
        share = (1.0 + off.get("press", 0.0)) / (1.0 + off.get("load", 0.0))
        return height_of(column.disc, float(force * share / column.parallel), lowest(off))

    if lowest({}) <= column.disc.reduced:
        raise BadInput(
            "load.height_mm",
            "At this height the spring is solid, and any higher load would leave it there: take a smaller load.",
        )
    above, below = load_tolerance(column.disc.t)
    strength = f"load of the spring, +{fixed(above, 0)} and -{below:g} %"
    offs = [
        even("press", "the load as the press has it", typed["within_percent"] / 100.0),
        Off("load", strength, -below / 100.0, above / 100.0, EVEN),
        even("height", "the height under the load", typed["within_mm"]),
    ]
    try:
        figure = figure_of(free, offs)
    except Untold:
        raise BadInput(
            "load.load_n",
            "No free height of this spring fits that load and height, give or take their doubt: check both, and the "
            "spring's thickness and diameters.",
        ) from None
    cone = cone_height(with_free_height(column.disc, figure.value))
    squeezed = figure.value - lowest({})
    if not is_usual(squeezed, cone):
        raise BadInput("load.load_n", f"This would squeeze it by {outside(squeezed, cone)}. Take another load.")
    return figure, f"{say(force, 'n', written_in.n)} at a height of {say(height, 'mm', mm)}"
