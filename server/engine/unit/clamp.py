"""What the screws' clamp has left on the car: the spring pushes the cover, and with torque at the case the ramps too.

References
----------
1. What the ramps push: `pressing`. A screw's clamp, T / (K d): common practice, no source.
"""

import math
from typing import Any

from ..request.rounded import fixed
from ..request.units import UNITS, say
from ..request.written_in import WrittenIn
from .pressing import pressed
from .ramp_lock import pressing_within
from .spring_warnings import concern
from .stack import BETWEEN_RINGS, layout_of

# How far off a nut factor may be, as a share of it: 0.15 oiled to 0.25 rough about 0.2; common practice, no source.
NUT_FACTOR_WITHIN = 0.25

FLANKS = ("drive", "coast")

N_IN_KN = 1000.0


def two_figures(value: float) -> str:
    """A figure of which no more than two digits are known.

    >>> two_figures(66.4), two_figures(-4.73), two_figures(128.0), two_figures(0.0)
    ('66', '-4.7', '130', '0')
    """
    if value == 0.0:
        return "0"
    places = 1 - math.floor(math.log10(abs(value)))
    if places >= 0:
        return fixed(value, places)
    size = 10**-places
    return str(int(fixed(value / size, 0)) * size)


def about(force: float, unit: str) -> str:
    """A force in two figures, in kN or in a unit of `UNITS["n"]`.

    >>> about(66400.0, "n"), about(66400.0, "kgf")
    ('66 kN', '6800 kgf')
    """
    if unit == "n":
        return f"{two_figures(force / N_IN_KN)} kN"
    sign, size = next((sign, size) for name, sign, size in UNITS["n"] if name == unit)
    return f"{two_figures(force / size)} {sign}"


def past_the_packs(ramps: dict[str, Any], angle: float) -> float:
    """The most that gears which bear on the case push the cover with, N for each N·m into it; 0 where they do not."""
    gears = ramps.get("gears")
    if gears is None or gears["on_packs"]:
        return 0.0
    bearing, other = gears.copy(), ramps.copy()
    bearing["on_packs"] = True
    other["gears"] = bearing
    thrust: float = pressing_within(other, angle, 1.0).gears
    return thrust


def push_on_cover(definition: dict[str, Any], flush: float, torque: float, angle: float) -> float:
    """The most that spring, ramps and bevel gears push the cover with at a torque into the case, N.

    Parameters
    ----------
    definition : dict
        The unit's, with its ramps.
    flush : float
        The spring's push with the cover closed, N.
    torque : float
        Into the case, N·m.
    angle : float
        The ramp in use, degrees.

    Notes
    -----
    Friction of ramps and ears at its least, thrust of the gears at its most. A spring between the rings pushes the
    cover through the packs as the ramps do, and both add. One in line with the packs is between them and the cover: it
    passes on what presses the packs, once that is more than its own push. Gears that bear on the case push it past
    spring and packs, so their thrust adds wherever the spring sits; the ears hold back the rings alone.
    """
    ramps = definition["ramps"]
    packs = pressed(pressing_within(ramps, angle, 1.0)) * torque
    adds = layout_of(definition["chain"], definition["layout"]) == BETWEEN_RINGS
    through = flush + packs if adds else max(flush, packs)
    return through + past_the_packs(ramps, angle) * torque


def clamp_on_the_car(
    definition: dict[str, Any], flush: list[float], clamp: float, written_in: WrittenIn, warnings: list[dict[str, Any]]
) -> dict[str, Any]:
    """What is left of the screws' clamp with the greatest torque at the case; adds to `warnings`.

    Parameters
    ----------
    definition : dict
        The unit's, with its cover.
    flush : list of float
        The spring's push with the cover closed, N, and the most that it may be where a figure was worked out.
    clamp : float
        Of all screws together, N.
    written_in : WrittenIn
        Units to write in.
    warnings : list of dict
        What is known of the screws already.

    Returns
    -------
    dict
        push_most_n, what pushes the cover at the greatest torque, by the worst flank of either fitting; left_n, clamp
        of all screws less that; left_low_n and left_high_n, with the nut factor at its ends; all None where torque or
        ramps are not given; clamp_text, the same in two figures.
    """
    torque, ramps = definition["cover"].get("case_nm"), definition.get("ramps")
    ends = (clamp / (1 + NUT_FACTOR_WITHIN), clamp / (1 - NUT_FACTOR_WITHIN))
    if torque is None or ramps is None:
        lacks = "the greatest torque at the case" if torque is None else "the ramps"
        rest = left_over(clamp - flush[0], [ends[0] - flush[1], ends[1] - flush[0]], written_in)
        text = (
            f"Clamp left: {rest}. That is more than the spring alone needs; on the drive the ramps push the cover as "
            f"well, by how much is shown once the definition gives {lacks}."
        )
        return {"push_most_n": None, "left_n": None, "left_low_n": None, "left_high_n": None, "clamp_text": text}
    # With the rings turned over, drive and coast change places: the worse of both counts whichever way they sit.
    likely, most = (
        max(push_on_cover(definition, push, torque, ramps[f"{flank}_deg"]) for flank in FLANKS) for push in flush
    )
    left, low, high = clamp - likely, ends[0] - most, ends[1] - likely
    at = say(torque, "nm", written_in.nm)
    text = (
        f"At {at} into the case spring and ramps push the cover with up to {about(most, written_in.n)}, drive or "
        f"coast, whichever way the rings are fitted. Clamp left: {left_over(left, [low, high], written_in)}."
    )
    warnings += concerns_on_the_car(left, low, at)
    return {"push_most_n": most, "left_n": left, "left_low_n": low, "left_high_n": high, "clamp_text": text}


def left_over(left: float, ends: list[float], written_in: WrittenIn) -> str:
    """What is left of a clamp, N, with both ends that the nut factor leaves open."""
    low, high = (about(end, written_in.n) for end in ends)
    return (
        f"about {about(left, written_in.n)}, from {low} to {high}, since a nut factor is known to a quarter either way "
        "(common practice, no source)"
    )


def concerns_on_the_car(left: float, low: float, at: str) -> list[dict[str, Any]]:
    """What to know where the cover is, or may be, pushed harder than the screws clamp at a torque, as it is written."""
    if left <= 0:
        text = (
            f"At {at} into the case the cover is pushed harder than the screws clamp: it lifts, and the screws break. "
            "Check the figures, and ask the maker before it runs."
        )
        return [concern("no_clamp_on_drive", text)]
    if low <= 0:
        text = (
            f"At {at} into the case the cover may be pushed harder than the screws clamp, if their nut factor is above "
            "what is taken: go by the maker's screws and torque, and look for fretting at the cover."
        )
        return [concern("little_clamp_on_drive", text)]
    return []
