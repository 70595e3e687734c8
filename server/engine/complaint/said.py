"""The sentences of a complaint's answer."""

from typing import Any

from ..corner.unit_locks import UnitLocks
from ..request.rounded import fixed
from ..request.units import say
from ..request.written_in import WrittenIn
from .figures import GAP, MOST, PUSH, ROUND, SCRUB, SLIP, STEADY, Figure, at_spot, held_by
from .places import FAST, SLOW, STRAIGHT, TIGHT
from .sought import MATCHES, MAY, NOT, Found

WHERE = {SLOW: "in slow corners", FAST: "in fast corners", STRAIGHT: "in a straight line", TIGHT: "in tight turns"}

TITLES = {
    PUSH: "nose pushed out on power",
    ROUND: "tail helped round on power",
    STEADY: "steadied on engine braking",
    SLIP: "not steadied further on engine braking",
    MOST: "put down before the inner wheel spins",
    GAP: "left when the inner wheel lets go",
    SCRUB: "preload against the tyres",
}

# Which way is worse where it is not what was wanted: +1 more of it, -1 less, 0 either.
WORSE = {PUSH: 1, ROUND: 0, MOST: -1, STEADY: 0, SCRUB: 1}

BY = {"preload": "The preload sets it", "ramps": "The ramps set it"}

# What is not computed, and where to look for it.
NOT_COMPUTED = {
    "judders": "Judder comes from plates that grip and slip in turn, by oil, wear or heat, and nothing here computes "
    "that: measure the plates, change the oil, and check the torque.",
    "bangs": "Bangs come from play: backlash, cross pins, joints and mounts. Nothing here computes them: look at these "
    "before it runs again.",
    "whines": "Whining comes from gears and bearings, and nothing here computes it: check oil, backlash and bearings "
    "before it runs again.",
    "pulls": "Pulling to one side comes from tyres, brakes or alignment, or from one pack that holds more than the "
    "other. Nothing here computes it: compare rolling radii and pressures first, then the torque of both sides.",
}
ELSE = (
    "Nothing that is computed here answers to it: look at tyres, dampers, springs, bars and brakes, and at what the "
    "driver does, before the differential."
)

CAUTION = (
    "Drivers and tracks differ, and what to try is common practice, no source. The makers of car and tyres and a "
    "qualified person come first. Change one thing at a time, and try it where there is room to go wrong. Springs "
    "are under load when a unit is opened, and a car has to stand on stands."
)


def amount(name: str, value: float, written: WrittenIn) -> str:
    """A figure in words."""
    if name == MOST:
        return say(value, "nm", written.nm)
    if name in (GAP, SCRUB):
        return f"{fixed(100.0 * value, 0)} %"
    return say(value, "n", written.n)


def with_range(name: str, figure: Figure, written: WrittenIn) -> str:
    """A figure with its range in words."""
    low, high = amount(name, figure.low, written), amount(name, figure.high, written)
    return f"{amount(name, figure.value, written)} ({low} to {high})"


def lead(there: Found, rear: bool) -> str:
    """What the figure says, without its size."""
    name, where = there.sought.name, WHERE[there.sought.place.name]
    other = "front" if rear else "rear"
    return {
        PUSH: f"On power {where} the difference pushes the nose out, at most as much as this force sideways at the "
        f"{other} axle would",
        ROUND: f"On power {where} the difference helps the tail round, at most as much as this force sideways at the "
        f"{other} axle would",
        STEADY: f"On engine braking {where} the difference pushes the nose out, as much as this force sideways at the "
        f"{other} axle would",
        SLIP: f"On engine braking {where} the plates slip: locked, the difference would steady the car by this much "
        f"more sideways at the {other} axle",
        MOST: f"On power {where} the inner wheel begins to spin at",
        GAP: f"On power {where}, when the inner wheel lets go, of what both could put down there is left",
        SCRUB: f"{where[0].upper()}{where[1:]} the lock from preload, as a share of what the tyres hold against it, is",
    }[name]


def held_against(there: Found, written: WrittenIn) -> str:
    """What the figure is held against, and what comes of it."""
    name, match, limit = there.sought.name, there.match, there.limit
    if name == MOST:
        if limit is None:
            if match == NOT:
                return "There both wheels let go together, so that neither spins alone."
            return "The engine of the car is not known, so nobody can tell whether full throttle is more than that."
        full = f"Full throttle is about {say(limit, 'nm', written.nm)}"
        if match == NOT:
            return f"{full}: that does not spin the inner wheel alone."
        return f"{full}: that is more." if match == MATCHES else f"{full}: that may be more."
    if name == GAP:
        if match == NOT:
            return "The inner wheel goes well before the outer one, which the driver feels coming."
        return "Below 2 % both let go at once" + ("." if match == MATCHES else ": they may.")
    if name == SCRUB:
        if there.figure.low >= 1.0:
            return "The tyres scrub before the plates slip: less preload frees the turn."
        if there.figure.high < 1.0:
            return (
                "The plates slip before the tyres scrub: what clicks are plates that stick and let go, so oil and "
                "plates come first, and preload would not free it."
            )
        return "Whether the plates slip or the tyres scrub is too close to tell."
    even = say(limit, "n", written.n)
    if match == NOT:
        return f"Below {even}, 1 % of the weight on the driven axle, nobody feels it."
    return f"That is {'more' if match == MATCHES else 'maybe more'} than the {even} from which it is felt."


def found_text(there: Found, unit: UnitLocks, rear: bool, written: WrittenIn) -> str:
    """A figure, what it is held against and what sets it, in sentences."""
    name = there.sought.name
    text = f"{lead(there, rear)}: {with_range(name, there.figure, written)}. {held_against(there, written)}"
    if name == MOST and at_spot(there.sought.place.likely).load_in <= 0.0:
        return f"{text} The inner wheel is in the air, and preload alone drives then" + (
            ", and what the ramps add to it." if unit.locks.drive.adds else "."
        )
    if there.match in (MATCHES, MAY) and name != SCRUB:
        text += f" {BY[held_by(name, there.sought.place, unit.locks)]} there."
    return text


def elsewhere_text(name: str, where: str, before: float, after: float, written: WrittenIn) -> str:
    """What a change does elsewhere, in words."""
    return f"{TITLES[name]}, {WHERE[where]}: {amount(name, before, written)} → {amount(name, after, written)}"


def is_worse(name: str, before: float, after: float) -> bool:
    """Whether a figure got worse where nobody wanted it changed."""
    return (after - before) * WORSE[name] > 0.0


def together_text(where: str, now: bool) -> str:
    """That both wheels let go together with a change, or no longer."""
    return f"{WHERE[where]} both wheels {'then let' if now else 'no longer let'} go together"


def conflict_text(first: Any, second: Any) -> str:
    """Two complaints that want the opposite of one lock: their words, what it is, and which way each wants it."""
    (words, side, want), (other, _, opposite) = first, second
    lock = {"drive": "lock on drive", "coast": "lock on coast", "preload": "preload"}[side]
    return (
        f"“{words}” asks for {want} {lock}, “{other}” for {opposite}: one change cannot do both. Take the one that "
        "costs more first, or look for the other at tyres, springs and bars."
    )
