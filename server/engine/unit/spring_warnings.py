"""What to know about a disc spring at its travel in the unit: each a name and a sentence."""

from typing import Any

from ..request.rounded import fixed
from ..request.units import say
from .spring import Disc, cone_height, flat_at, peak, rising_until
from .spring_stress import SETTING_NMM2, flat_stress

# Above this share of its travel a disc rolls on to its edges and the real load climbs above the formula: DIN EN 16984.
USUAL_TRAVEL = 0.75

# Below this share the inner edge is hardly under pressure and cracks sooner: DIN EN 16984.
LEAST_TRAVEL = 0.15


def concern(name: str, text: str) -> dict[str, Any]:
    """A concern as results hold it."""
    return {"name": name, "text": text}


def warnings_for(squeeze: float, each: float, disc: Disc, unit: str = "mm") -> list[dict[str, Any]]:
    """What to know about a spring in a closed stack.

    Parameters
    ----------
    squeeze : float
        Crush of the whole stack, mm; below 0 it is loose.
    each : float
        Deflection of each disc, mm.
    disc : Disc
        One disc.
    unit : str
        Unit of length to write in.
    """
    if squeeze <= 0:
        short = say(abs(squeeze), "mm", unit)
        return [concern("loose", f"The stack is {short} short of the cover: there is no preload at all.")]
    return travel_concerns(each, disc, unit) + disc_concerns(disc, unit)


def travel_concerns(each: float, disc: Disc, unit: str = "mm") -> list[dict[str, Any]]:
    """What to know about one disc at deflection `each`, mm."""
    h0, flat = cone_height(disc), flat_at(disc)
    concerns = []
    if each >= flat:
        text = f"The spring would be flat at {say(flat, 'mm', unit)} and the cover could not close: take thickness out."
        concerns.append(concern("solid", text))
    elif each > USUAL_TRAVEL * h0:
        of = "travel" if flat == h0 else "cone height"
        text = f"The spring is past three quarters of its {of}: the real load is above this figure."
        concerns.append(concern("far", text))
    elif each < LEAST_TRAVEL * h0:
        text = "The spring is hardly squeezed: it may work loose and crack at its edge."
        concerns.append(concern("slight", text))
    if rising_until(disc) < each < flat:
        text = "The spring is past its peak: a thicker plate gives less torque, and wear raises it."
        concerns.append(concern("past_peak", text))
    return concerns


def disc_concerns(disc: Disc, unit: str = "mm") -> list[dict[str, Any]]:
    """What to know about a disc whatever its travel."""
    concerns = []
    top = peak(disc)
    if top is not None:
        text = f"This spring's load peaks at {say(top, 'mm', unit)}: beyond the peak a thicker plate gives less."
        concerns.append(concern("peak", text))
    if abs(flat_stress(disc)) > SETTING_NMM2:
        text = (
            f"Pressed flat, this spring would be stressed to {fixed(abs(flat_stress(disc)), 0)} N/mm² in its middle, "
            f"above {fixed(SETTING_NMM2, 0)}: it sets. Never press it flat, and measure its free height at every strip."
        )
        concerns.append(concern("sets", text))
    return concerns
