"""Where a complaint shows: a slow and a fast corner, a straight line and a tight turn, with what may be off of each."""

from typing import Any, NamedTuple

from ..car.usual import BRAKING, BRAKING_DECELERATION, Range
from ..corner.balanced import Corner
from ..corner.corner_map import EVEN_SHARE, MOVING, USUAL_CAR, corner_with, limit_of, read_car
from ..request.units import GRAVITY

SLOW = "slow"
FAST = "fast"
STRAIGHT = "straight"
TIGHT = "tight"

PLACES = {
    SLOW: "slow corners",
    FAST: "fast corners",
    STRAIGHT: "a straight line",
    TIGHT: "tight turns at walking pace",
}

# How hard a corner is taken where something is felt, as a share of what the tyres hold: our own choice.
HARD = Range(0.8, 0.65, 0.95)
# Radius of a tight turn, m, as in a paddock; and one that is as good as straight.
TIGHT_M, STRAIGHT_M = 6.0, 1e6

# Figures of a car that are followed to both ends.
FOLLOWED = MOVING + ("stiffness", "wheelbase_mm")

Spot = NamedTuple(
    "Spot",
    [
        ("corner", Corner),
        # Torque at the axle at full throttle, N·m, None where the engine is not known; that of engine braking, above 0.
        ("power", Any),
        ("braking", float),
    ],
)

Place = NamedTuple(
    "Place",
    [
        # A key of `PLACES`, and the radius of its corner, m.
        ("name", str),
        ("radius", float),
        # With everything as it is most likely, and with each thing at its one end and at its other.
        ("likely", Spot),
        ("others", "list[tuple[Spot, Spot]]"),
        # Range of the torque at full throttle, N·m; None where the engine is not known.
        ("powers", Any),
        # A side force at the other axle that is too small to feel, N.
        ("even", float),
    ],
)


def hard_of(name: str) -> Range:
    """How hard a place is taken: none but corners are."""
    return HARD if name in (SLOW, FAST) else Range(0.0, 0.0, 0.0)


class Ground:
    """A car on what it ran on: its figures, likely and at their ends, and the torque of its engine in each gear."""

    def __init__(self, car: dict[str, Any] | None, conditions: str | None) -> None:
        used = USUAL_CAR if car is None else car
        if conditions not in (None, "dry"):
            used = used.copy()
            used["tyres"], used["grip"] = conditions, None
        self.rear = used["axle"] == "rear"
        rows, self.gears = read_car(used)
        self.ranges = {row["name"]: Range(row["value"], row["low"], row["high"]) for row in rows}
        # What nobody measured, in words.
        self.usual = [row["meaning"] for row in rows if row["source"] == "usual"]

    def figures(self, other: str = "", end: float = 0.0) -> dict[str, float]:
        """Every figure as it is most likely, but for one at an end of it."""
        values = {name: self.ranges[name].value for name in self.ranges}
        if other:
            values[other] = min(end, 1.0 / 3.0) if other == "sensitivity" else end
        return values

    def corner(self, values: dict[str, float], hard: float, radius: float) -> Corner:
        """A corner taken at a share of its limit."""
        axle = corner_with(self.rear, values, 0.0, radius).axle
        return corner_with(self.rear, values, hard * limit_of(axle) if hard > 0.0 else 0.0, radius)

    def power(self, gear: int) -> Range | None:
        """Torque at the axle at full throttle, N·m, in a gear or in the highest one below it."""
        if not self.gears:
            return None
        row = self.gears[min(gear, len(self.gears)) - 1]
        return Range(row["torque_nm"], row["low_nm"], row["high_nm"])

    def braking(self, gear: int, values: dict[str, float]) -> Range:
        """Torque of engine braking at the axle, N·m, by the engine or else by the weight and tyres of `values`."""
        if self.gears:
            torque = self.gears[min(gear, len(self.gears)) - 1]["braking_nm"]
            return Range(torque, torque * BRAKING.low / BRAKING.value, torque * BRAKING.high / BRAKING.value)
        each = values["mass_kg"] * GRAVITY * values["tyre_mm"] / 1000.0
        return Range(*[share * each for share in BRAKING_DECELERATION])

    def place(self, name: str, radius: float, gear: int) -> Place:
        """A place with all that may be off of it."""
        hard, power, braking = hard_of(name), self.power(gear), self.braking(gear, self.figures())
        full = None if power is None else power.value

        def with_figures(values: dict[str, float]) -> Spot:
            return Spot(self.corner(values, hard.value, radius), full, self.braking(gear, values).value)

        likely = with_figures(self.figures())
        others = []
        for figure in FOLLOWED:
            ends = [
                with_figures(self.figures(figure, end)) for end in (self.ranges[figure].low, self.ranges[figure].high)
            ]
            others.append((ends[0], ends[1]))
        if hard.value > 0.0:
            ends = [
                Spot(self.corner(self.figures(), end, radius), full, braking.value) for end in (hard.low, hard.high)
            ]
            others.append((ends[0], ends[1]))
        if power is not None:
            ends = [Spot(likely.corner, end, braking.value) for end in (power.low, power.high)]
            others.append((ends[0], ends[1]))
        ends = [Spot(likely.corner, full, end) for end in (braking.low, braking.high)]
        others.append((ends[0], ends[1]))
        values = self.figures()
        even = EVEN_SHARE * values["weight_share"] * values["mass_kg"] * GRAVITY
        return Place(name, radius, likely, others, power, even)
