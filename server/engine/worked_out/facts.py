"""What is known of the stack and its spring, each figure off by what a cause says."""

import math
from typing import Any

from ..doubt.budget import even as even_u
from ..request.errors import BadInput
from ..request.rounded import fixed
from ..unit.as_built import Built, column_of, derive, solids_of, torque_per_newton
from ..unit.held import packs_in_torque
from ..unit.known import require
from ..unit.marks import doubt_of
from ..unit.spring import Column, cone_height, flat_at, free_height, load, with_free_height
from ..unit.spring_tolerance import TEST_TRAVEL, height_tolerance, load_tolerance
from ..unit.stack import SPRING
from ..unit.usual_limits import UNMEASURED_WITHIN_MM
from .spread import EVEN, Off, even, normal

# The share of its travel that a spring has set by at most.
FLATTEST = 0.9


class Facts:
    """A unit as far as a figure is worked out from it.

    Parameters
    ----------
    request : dict
        Checked, with `unit` or `built`.
    needs : tuple of str
        Sections of the definition that it has to have.
    subject : str
        What needs them: the beginning of a refusal's sentence.

    Raises
    ------
    BadInput
        No unit, two of them, one that contradicts itself or lacks what is needed.
    """

    def __init__(self, request: dict[str, Any], needs: tuple[str, ...], subject: str) -> None:
        built = request["built"]
        if (built is None) == (request["unit"] is None):
            raise BadInput("unit", "Give the unit: either its definition, or as it is built now.")
        self.path = "unit" if built is None else "built.unit"
        definition = request["unit"] if built is None else built["unit"]
        require(definition, needs, subject, self.path)
        self.definition = definition
        if "cavity_mm" not in needs:
            # What was taken for the depth so far may be what is wrong.
            definition = definition.copy()
            definition["cavity_mm"] = None
        derived = derive(definition, self.path)
        self.springs, self.solids = column_of(definition), solids_of(definition)
        self.cavity = definition["cavity_mm"] or 0.0
        faces, ring = derived["faces"], definition["friction"]
        self.built = Built(
            self.springs,
            self.cavity,
            self.solids,
            faces["first"] + faces["second"],
            derived["radius_mm"] or 0.0,
            0.0 if ring is None else ring["mu"],
            packs_in_torque(definition["stated_for"]),
        )
        self.places = [] if built is None else built["places"]
        self.height_within = None if built is None else built["spring_within_mm"]

    def is_as_tabled(self) -> bool:
        """Whether nobody measured the spring's height: a new disc, whose load at its test is that of its table."""
        return self.height_within is None and doubt_of(self.definition, "l0_mm") == 0.0

    def plates_off(self) -> Off:
        """What plates and rings together may be off by."""
        rigid = [item for item in self.definition["chain"] if item["part"] != SPRING]
        offs = [place["within_mm"] for place in self.places] or [UNMEASURED_WITHIN_MM] * len(rigid)
        return normal("plates", "thickness of plates and rings", even_u(math.sqrt(sum(off * off for off in offs))))

    def height_off(self) -> Off:
        """What the free height of each disc may be off by."""
        u, disc = doubt_of(self.definition, "l0_mm"), self.springs.disc
        if self.height_within is not None:
            off = even("height", "free height of the spring as it was gauged", self.height_within)
        elif u > 0.0:
            off = normal("height", "free height of the spring, itself worked out", u)
        else:
            above, below = height_tolerance(disc.t)
            off = Off("height", "free height of a new spring, by its tolerance", -below, above, EVEN)
        # A disc is never lower than flat.
        return Off(off.name, off.meaning, max(off.low, -FLATTEST * flat_at(disc)), off.high, off.spread)

    def load_off(self) -> Off:
        """By what share the spring's load may be off."""
        above, below = load_tolerance(self.springs.disc.t)
        return Off(
            "load", f"load of the spring, +{fixed(above, 0)} and -{below:g} %", -below / 100.0, above / 100.0, EVEN
        )

    def column(self, errors: dict[str, float]) -> Column:
        """The springs, taller by what the height is off."""
        disc = self.springs.disc
        other = with_free_height(disc, disc.l0 + errors.get("height", 0.0))
        return Column(other, self.springs.parallel, self.springs.nests)

    def strength(self, errors: dict[str, float]) -> float:
        """The load of the springs over that of their formula."""
        share, taller, disc = 1.0 + errors.get("load", 0.0), errors.get("height", 0.0), self.springs.disc
        if taller == 0.0 or not self.is_as_tabled():
            return share
        test = TEST_TRAVEL * cone_height(disc)
        return share * load(disc, test) / load(with_free_height(disc, disc.l0 + taller), test + taller)

    def free(self, errors: dict[str, float]) -> float:
        """Height of the whole stack before the cover is closed, mm."""
        return self.solids + errors.get("plates", 0.0) + free_height(self.column(errors))

    def torque_per_newton(self, mu: float) -> float:
        """Stated torque for each newton of preload, N·m."""
        return torque_per_newton(self.built, mu)
