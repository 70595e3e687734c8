"""A unit on the car as far as it is known: as built, with its measured torque, and how far off its lock may be."""

import math
from typing import Any, NamedTuple

from ..request.errors import BadInput, inside
from ..request.fields import Answered, Field, Group, Number
from ..request.rounded import fixed
from ..unit.as_built import (
    DEFINITION,
    built_fields,
    built_of,
    crush_of,
    friction_of,
    needs_preload,
    packs_of,
    preload,
    torque_per_newton,
    with_springs,
)
from ..unit.known import PRELOAD, missing, require
from ..unit.marks import doubt_of, even_within, height_within
from ..unit.pressing import (
    EARS_FRICTION_WITHIN,
    GEARS_WITHIN,
    PLATES_FRICTION_WITHIN,
    RAMP_FRICTION_WITHIN,
    Pressing,
    pressed,
    pressing_of,
)
from ..unit.spring import Column, cone_height, load, with_free_height
from ..unit.spring_friction import has_friction, load_factors
from ..unit.spring_tolerance import TEST_TRAVEL, height_tolerance, load_tolerance
from ..unit.stack import BETWEEN_RINGS, SPRING, layout_of
from ..unit.usual_limits import UNMEASURED_WITHIN_MM
from ..unit.warming import warm_crush
from .lock import Lock
from .lock_range import EVEN, NORMAL, TAPERED, Cause

# How far friction under load may be from what was measured on the bench, as a share of it: common practice, no source.
UNDER_LOAD_WITHIN = 0.1

# A stack that gave a torque to measure is not loose: at least this share of its preload is left.
LEAST_FORCE = 0.25

MEASURED = Answered(
    {
        "torque_nm": Number(0.5, 5000, "nm", "breakaway torque, as the order states it"),
        "expanded_nm": Number(0, 5000, "nm", "its expanded uncertainty, 95 %", default=0.0),
    },
    "the torque measured with this build",
    default=None,
)


def with_torque(fields: dict[str, Field]) -> dict[str, Field]:
    """The fields of a unit as built, and the torque that was measured with it."""
    fields["measured"] = MEASURED
    return fields


BUILT_NOW = Answered(
    with_torque(built_fields(DEFINITION)), "the unit as it is built now, whole, as `standing` answers it", default=None
)

# What a request may give instead of the unit as it is built: for requests of older versions, and to try figures out.
BY_HAND: dict[str, Field] = {
    "unit": Group(DEFINITION.fields, "the unit's definition, where it is not given as built", default=None),
    "crush_mm": Number(0, 100, "mm", "crush, where it is not that of the definition", default=None),
    "measured_nm": Number(
        0.5, 5000, "nm", "breakaway torque measured at this crush, as the order states it", default=None
    ),
}

Known = NamedTuple(
    "Known",
    [
        # The definition, checked, and where its ramps stand in the request.
        ("definition", Any),
        ("path", str),
        # `Built`, or `Packs` where the spring or the depth is not known and a torque was measured.
        ("built", Any),
        # Crush, mm, and preload, N, None where nobody knows them; friction of the packs.
        ("crush", Any),
        ("force", Any),
        ("mu", float),
        # Measured torque as the order states it, and its expanded uncertainty, N·m; None where nobody measured.
        ("measured", Any),
        ("expanded", float),
        # How far off crush may be by the plates, and the free height as it was gauged, mm; None where it was not.
        ("stack_within", float),
        ("height_within", Any),
    ],
)


def known_unit(request: dict[str, Any]) -> Known:
    """The unit of a request that has `BUILT_NOW` as built, or the fields of `BY_HAND`.

    Raises
    ------
    BadInput
        Neither of them, both, or a stack that is loose or flat; without a measured torque also a unit whose spring or
        depth is not known.
    """
    now = request["built"]
    if now is None:
        if request["unit"] is None:
            raise BadInput("built", "Give the unit, as it is built now.")
        now = {"unit": request["unit"], "places": [], "spring_within_mm": None, "measured": None}
        path = "unit"
    else:
        for name in ("unit", "crush_mm", "measured_nm"):
            if request[name] is not None:
                raise BadInput(name, "Leave this empty: it follows from the unit as it is built now.")
        path = "built.unit"
    definition, measured = now["unit"], now["measured"]
    if measured is not None and missing(definition, PRELOAD):
        packs = packs_of(definition, path)
        torque, expanded = measured["torque_nm"], measured["expanded_nm"]
        return Known(definition, path, packs, None, None, packs.mu, torque, expanded, 0.0, None)
    built = built_of(definition, path, "The lock")
    crush, field = request["crush_mm"], "crush_mm"
    if crush is None:
        crush, field = crush_of(built, built.solids), path + ".cavity_mm"
    force = needs_preload(built, crush, field)
    torque = request["measured_nm"] if measured is None else measured["torque_nm"]
    offs = [row["within_mm"] for row in now["places"]]
    if not offs:
        offs = [UNMEASURED_WITHIN_MM for item in definition["chain"] if item["part"] != SPRING]
    # The depth is measured about as well as one of the plates, unless it was worked out.
    offs.append(even_within(definition, "cavity_mm", UNMEASURED_WITHIN_MM))
    return Known(
        definition,
        path,
        built,
        crush,
        force,
        built.mu if torque is None else friction_of(built, torque, force),
        torque,
        0.0 if measured is None else measured["expanded_nm"],
        math.sqrt(sum(off * off for off in offs)),
        height_within(definition, now["spring_within_mm"]),
    )


def ramps_in_use(known: Known, tried: dict[str, Any] | None) -> tuple[dict[str, Any], str]:
    """The ramps that a request tries, or else the unit's own, and their path in the request; refuses a unit without."""
    if tried is not None:
        return tried, "ramps"
    require(known.definition, ("ramps",), "The lock", known.path)
    return known.definition["ramps"], known.path + ".ramps"


def adds_to_ramps(known: Known) -> bool:
    """Whether the spring sits between the rings, so that the ramps add to it; refuses a unit that does not tell."""
    try:
        return bool(layout_of(known.definition["chain"], known.definition["layout"]) == BETWEEN_RINGS)
    except BadInput as refusal:
        raise BadInput(inside(known.path, refusal.field), refusal.reason) from None


def preload_lock(known: Known) -> float:
    """Lock of both packs together from preload alone, N·m: by the force and friction, or as the wrench read it."""
    if known.force is None:
        return float(known.measured * 2 / known.built.stated)
    return float(lock_per_newton(known) * known.force)


def lock_per_newton(known: Known) -> float:
    """Lock of both packs together for each newton that presses them, N·m: the case held, the wrench feels just that."""
    return float(torque_per_newton(known.built, known.mu) * 2 / known.built.stated)


def force_with(known: Known, taller: float) -> float:
    """Preload, N, with each disc taller by so many mm."""
    disc, springs = known.built.springs.disc, known.built.springs
    other = with_springs(known.built, Column(with_free_height(disc, disc.l0 + taller), springs.parallel, springs.nests))
    return preload(other, known.crush + springs.nests * taller)


def new_force_with(known: Known, taller: float) -> float:
    """The same for a new spring, whose load at its test is that of its table whatever its height."""
    disc = known.built.springs.disc
    test, tall = TEST_TRAVEL * cone_height(disc), with_free_height(disc, disc.l0 + taller)
    return force_with(known, taller) * load(disc, test) / load(tall, test + taller)


def forces_of(known: Known) -> list[tuple[str, str, float, float, float]]:
    """What the preload is uncertain by: name, meaning, least and most preload by that alone, N, and the spread."""
    spring, force = known.definition["spring"], known.force
    above, below = load_tolerance(spring["t_mm"])
    more, less = load_factors(spring)
    high, low = height_tolerance(spring["t_mm"])
    within = known.height_within
    if within is None:
        height = ("height", "free height of a new spring, by its tolerance", -low, high)
        ends = [new_force_with(known, -low), new_force_with(known, high)]
    else:
        how = "as it was worked out" if doubt_of(known.definition, "l0_mm") else "as it was gauged"
        height = ("height", f"free height of the spring {how}", -within, within)
        ends = [force_with(known, -within), force_with(known, within)]
    off = known.stack_within
    forces = [
        (
            "load",
            f"load of a new spring, +{fixed(above, 0)} and -{below:g} %",
            force * (1 - below / 100),
            force * (1 + above / 100),
            EVEN,
        ),
        (height[0], height[1], ends[0], ends[1], EVEN),
        (
            "stack",
            "thickness of the plates and depth",
            preload(known.built, known.crush - off),
            preload(known.built, known.crush + off),
            EVEN,
        ),
    ]
    if has_friction(spring):
        forces.append(("discs", "friction of the discs, closing or letting go", force * less, force * more, EVEN))
    return forces


def warm_force(known: Known) -> float | None:
    """Preload once the unit has warmed through, N; None where its expansion is not given."""
    warming = known.definition["warming"]
    if warming is None or known.force is None:
        return None
    return preload(known.built, warm_crush(warming, known.built.cavity, known.crush))


def lock_of(known: Known, ramps: dict[str, Any], angle: float, path: str) -> tuple[Lock, Pressing, list[Cause]]:
    """The likely lock on a ramp, what presses the packs, and what may be off.

    Parameters
    ----------
    known : Known
        The unit.
    ramps : dict
        Its own ramps, or those to try.
    angle : float
        The ramp in use, degrees.
    path : str
        Path of the ramps, for refusals.
    """
    each, adds = lock_per_newton(known), adds_to_ramps(known)
    pressing = pressing_of(ramps, angle, path)
    likely = Lock(preload_lock(known), each * pressed(pressing), adds)
    causes = causes_of_packs(known, likely) + pressing_causes(ramps, angle, path, likely, each)
    return likely, pressing, causes


def causes_of_packs(known: Known, likely: Lock) -> list[Cause]:
    """What may be off about the packs and their preload."""

    def scaled(preload_by: float, ramp_by: float) -> Lock:
        return Lock(likely.preload * preload_by, likely.ramp * ramp_by, likely.adds)

    causes = []
    came = doubt_of(known.definition, "mu") / known.mu
    if known.force is None:
        return causes_by_torque(known, came, scaled)
    if known.measured is None and came == 0.0:
        off = PLATES_FRICTION_WITHIN
        meaning = f"friction of the plates, {fixed(100 * off, 0)} % either way"
        causes.append(Cause("plates", meaning, scaled(1 - off, 1 - off), scaled(1 + off, 1 + off), TAPERED))
    elif known.measured is None:
        off = min(0.9, NORMAL * came)
        meaning = "friction of the plates as it was worked out"
        causes.append(Cause("plates", meaning, scaled(1 - off, 1 - off), scaled(1 + off, 1 + off), NORMAL))
        causes.append(under_load(scaled))
    else:
        off = known.expanded / known.measured
        causes.append(
            Cause("reading", "the measured torque", scaled(1 - off, 1 - off), scaled(1 + off, 1 + off), NORMAL)
        )
        causes.append(under_load(scaled))
    for name, meaning, least, most, spread in forces_of(known):
        if known.measured is None:
            ends = [scaled(force / known.force, 1) for force in (least, most)]
        else:
            # A measured torque stays as it was read whatever the preload is: less preload then means more friction.
            ends = [scaled(1, known.force / max(force, LEAST_FORCE * known.force)) for force in (least, most)]
        causes.append(Cause(name, meaning, ends[0], ends[1], spread))
    warm = warm_force(known)
    if warm is not None:
        causes.append(Cause("warm", "the case as it warms", scaled(warm / known.force, 1), likely, EVEN))
    return causes


def causes_by_torque(known: Known, came: float, scaled: Any) -> list[Cause]:
    """The same where the spring or the depth is not known: what was read holds whatever presses the packs, and how hard
    the ramps do is known by the friction of the plates alone. `came` is the relative doubt of one that was worked out.
    """
    off = known.expanded / known.measured
    reading = Cause("reading", "the measured torque", scaled(1 - off, 1), scaled(1 + off, 1), NORMAL)
    if came > 0.0:
        off = min(0.9, NORMAL * came)
        meaning = "friction of the plates as it was worked out"
        return [reading, Cause("plates", meaning, scaled(1, 1 - off), scaled(1, 1 + off), NORMAL), under_load(scaled)]
    off = PLATES_FRICTION_WITHIN
    meaning = f"friction of the plates, {fixed(100 * off, 0)} % either way"
    return [reading, Cause("plates", meaning, scaled(1, 1 - off), scaled(1, 1 + off), TAPERED)]


def under_load(scaled: Any) -> Cause:
    """What friction under load may be off from what it was on the bench; `scaled` gives the lock by two factors."""
    off = UNDER_LOAD_WITHIN
    meaning = f"friction under load against that on the bench, {fixed(100 * off, 0)} % either way"
    return Cause("under_load", meaning, scaled(1, 1 - off), scaled(1, 1 + off), TAPERED)


def pressing_causes(ramps: dict[str, Any], angle: float, path: str, likely: Lock, each: float) -> list[Cause]:
    """What may be off about the ramps, the ears and the gears."""

    def with_axial(pressing: Pressing) -> Lock:
        return Lock(likely.preload, each * pressed(pressing), likely.adds)

    def rubbing(group: dict[str, Any], off: float) -> dict[str, Any]:
        other = group.copy()
        other["mu"] = max(0.0, group["mu"] + off)
        return other

    off = RAMP_FRICTION_WITHIN
    ends = [with_axial(pressing_of(rubbing(ramps, by), angle, path)) for by in (off, -off)]
    causes = [Cause("ramps", f"friction of pin on ramp, {off:g} either way", ends[0], ends[1], TAPERED)]
    middle = pressing_of(ramps, angle, path)
    if ramps["ears"] is not None:
        off, ends = EARS_FRICTION_WITHIN, []
        for by in (off, -off):
            other = ramps.copy()
            other["ears"] = rubbing(ramps["ears"], by)
            ends.append(with_axial(pressing_of(other, angle, path)))
        causes.append(Cause("ears", f"friction of the ears, {off:g} either way", ends[0], ends[1], TAPERED))
    if middle.gears > 0.0:
        off = GEARS_WITHIN
        ends = [with_axial(Pressing(middle.ramps, middle.gears * (1 + by), middle.ears)) for by in (-off, off)]
        meaning = f"thrust of the bevel gears, {fixed(100 * off, 0)} % either way"
        causes.append(Cause("gears", meaning, ends[0], ends[1], TAPERED))
    return causes
