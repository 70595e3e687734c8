"""The travel over which a disc spring's load follows its formula: outside of it nothing is worked out from a load.

References
----------
1. DIN EN 16984:2017: above three quarters of its cone height the load is higher than calculated.
"""

from ..request.errors import BadInput
from ..request.rounded import fixed
from ..request.units import say
from ..unit.spring import cone_height
from ..unit.spring_warnings import LEAST_TRAVEL, USUAL_TRAVEL
from .facts import Facts

GAP_INSTEAD = "Measure the gap under the loose cover instead."


def is_usual(each: float, cone: float) -> bool:
    """Whether a disc of a cone height, squeezed by `each`, both mm, follows its formula."""
    return LEAST_TRAVEL * cone <= each <= USUAL_TRAVEL * cone


def outside(each: float, cone: float) -> str:
    """What is said of a deflection outside, mm: its share of the cone height, and what would be usual.

    >>> outside(1.0, 1.25)
    '80 % of the cone height: only from 15 to 75 % does a spring follow its formula'
    """
    usual = f"from {fixed(100 * LEAST_TRAVEL, 0)} to {fixed(100 * USUAL_TRAVEL, 0)} %"
    return f"{fixed(100 * each / cone, 0)} % of the cone height: only {usual} does a spring follow its formula"


def refuse_unusual(each: float, facts: Facts, field: str, mm: str) -> None:
    """Refuse a deflection of each disc, mm, at which its load does not follow the formula."""
    cone = cone_height(facts.springs.disc)
    if not is_usual(each, cone):
        crush = say(facts.springs.nests * each, "mm", mm)
        raise BadInput(field, f"This is a crush of {crush}, {outside(each, cone)}. {GAP_INSTEAD}")
