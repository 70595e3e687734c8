"""A unit as built: the figures of its definition that closing, planning, ramps and wear all work from."""

from typing import Any, NamedTuple

from ..request.errors import BadInput, inside
from ..request.fields import Group
from ..request.units import say
from .definition import FORM, unit
from .friction import apparent_friction, pack_torque
from .held import packs_in_torque
from .spring import Column, column_load, disc_of, flat_at, free_height, rising_until
from .stack import SPRING

DEFINITION = Group(FORM.fields, "the unit's definition, as it stands in the log")

Built = NamedTuple(
    "Built",
    [
        ("springs", Column),
        # Depth from the cover's face to the floor, mm.
        ("cavity", float),
        # Everything in the stack but the springs, as the definition has it, mm.
        ("solids", float),
        # Sliding faces of both packs together.
        ("faces", int),
        # Effective radius of the plates, mm, and their coefficient of friction.
        ("radius", float),
        ("mu", float),
        # How many mean pack torques the stated torque is: 1 or 2.
        ("stated", int),
    ],
)


def derive(definition: dict[str, Any], field: str) -> dict[str, Any]:
    """What `definition.unit` answers for a definition inside another request; refusals name the path in that one."""
    try:
        return unit(definition)
    except BadInput as refusal:
        raise BadInput(inside(field, refusal.field), refusal.reason) from None


def built_of(definition: dict[str, Any], field: str = "unit") -> Built:
    """A unit as built from its definition at `field`; refuses one that contradicts itself."""
    derived = derive(definition, field)
    spring, chain = definition["spring"], definition["chain"]
    places = len([item for item in chain if item["part"] == SPRING])
    return Built(
        Column(disc_of(spring), spring["parallel"], spring["series"] * places),
        definition["cavity_mm"],
        sum(item["new_mm"] for item in chain if item["part"] != SPRING),
        derived["faces"]["first"] + derived["faces"]["second"],
        derived["radius_mm"],
        definition["friction"]["mu"],
        packs_in_torque(definition["stated_for"]),
    )


def with_springs(built: Built, springs: Column) -> Built:
    """The same unit with another column of springs."""
    return Built(springs, built.cavity, built.solids, built.faces, built.radius, built.mu, built.stated)


def crush_of(built: Built, solids: float) -> float:
    """Crush, mm, with `solids` mm of plates and rings in the stack; below 0 the stack is loose."""
    return solids + free_height(built.springs) - built.cavity


def solids_at(built: Built, crush: float) -> float:
    """Plates and rings, mm, that give this crush."""
    return crush + built.cavity - free_height(built.springs)


def longest_crush(built: Built) -> float:
    """Crush at which the springs are flat, mm."""
    return built.springs.nests * flat_at(built.springs.disc)


def longest_rise(built: Built) -> float:
    """Crush up to which a thicker stack gives more torque, mm: the peak, or flat."""
    return built.springs.nests * rising_until(built.springs.disc)


def preload(built: Built, crush: float) -> float:
    """Axial force at a crush, N: 0 for a loose stack, and no more than that of the flat springs."""
    return column_load(built.springs, max(0.0, min(crush, longest_crush(built))))


def torque_per_newton(built: Built, mu: float) -> float:
    """Stated breakaway torque for each newton of preload, N·m."""
    return built.stated * pack_torque(built.faces, mu, built.radius, 1.0) / 2


def friction_of(built: Built, torque: float, force: float) -> float:
    """Friction of the packs that a stated torque, N·m, comes to at a preload, N: the inverse of `torque_per_newton`."""
    # The stated torque is one mean pack torque or two, hence half or all of the faces together.
    return apparent_friction(torque * 2 / built.stated, built.faces, built.radius, force)


def needs_preload(built: Built, crush: float, field: str) -> float:
    """Preload at a crush, N; refuses a crush at which the spring is loose or flat."""
    if crush <= 0:
        raise BadInput(
            field, f"With these parts the stack is {say(-crush, 'mm')} short of the cover: check the thicknesses."
        )
    if crush > longest_crush(built):
        raise BadInput(
            field,
            f"With these parts the spring would be squeezed by {say(crush, 'mm')}, but it is flat at "
            f"{say(longest_crush(built), 'mm')}: check the thicknesses.",
        )
    return preload(built, crush)
