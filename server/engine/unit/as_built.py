"""A unit as built: the figures of its definition that closing, planning, ramps and wear all work from."""

from typing import Any, NamedTuple

from ..request.errors import BadInput, inside
from ..request.fields import Answered, Field, Group, Listing, Number, Text
from ..request.units import say
from .definition import worked_out
from .form import FORM
from .friction import apparent_friction, pack_torque
from .held import packs_in_torque
from .known import PACKS, PRELOAD, TORQUE, require
from .spring import Column, column_load, disc_of, flat_at, free_height, rising_until
from .stack import SPRING

DEFINITION = Group(FORM.fields, "the unit's definition, as it stands in the log")


def nameless() -> Group:
    """A definition's own fields, of which not even the name has to be there yet."""
    fields = FORM.fields.copy()
    fields["name"] = Text(60, "name of the unit", default="")
    return Group(fields, "the unit's definition as far as it is typed")


NAMELESS = nameless()


def built_fields(unit: Group) -> dict[str, Field]:
    """What a request that takes a unit as `standing` has it built needs of it; `unit` is its definition."""
    return {
        "unit": unit,
        "places": Listing(
            Answered({"within_mm": Number(0, 50, "mm", "how far off its thickness may be, either way")}, "one place"),
            0,
            80,
            "every place but the spring's",
            default=[],
            nouns="places",
        ),
        "spring_within_mm": Number(
            0, 50, "mm", "how far off the free height may be; a new spring's tolerance if empty", default=None
        ),
    }


Stacked = NamedTuple(
    "Stacked",
    [
        ("springs", Column),
        # Depth from the cover's face to the floor, mm.
        ("cavity", float),
        # Everything in the stack but the springs, as the definition has it, mm.
        ("solids", float),
    ],
)

# The same with what makes a torque of it.
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

# What makes a torque of a force, where the spring or the depth is not known.
Packs = NamedTuple(
    "Packs",
    [
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
    """What `worked_out` answers for a definition inside another request; refusals name the path in that one."""
    try:
        return worked_out(definition)
    except BadInput as refusal:
        raise BadInput(inside(field, refusal.field), refusal.reason) from None


def stacked_of(definition: dict[str, Any], field: str = "unit", subject: str = "The force at the vice") -> Stacked:
    """A stack with its spring from a definition at `field`; refuses one that contradicts itself, or lacks a part of it.

    `subject` is what needs them, the beginning of a refusal's sentence.
    """
    require(definition, PRELOAD, subject, field)
    derive(definition, field)
    return Stacked(column_of(definition), definition["cavity_mm"], solids_of(definition))


def column_of(definition: dict[str, Any]) -> Column:
    """All springs of a stack, as a definition has them."""
    spring = definition["spring"]
    places = len([item for item in definition["chain"] if item["part"] == SPRING])
    return Column(disc_of(spring), spring["parallel"], spring["series"] * places)


def solids_of(definition: dict[str, Any]) -> float:
    """Everything in a stack but the springs, mm, as a definition has it."""
    solids: float = sum(item["new_mm"] for item in definition["chain"] if item["part"] != SPRING)
    return solids


def built_of(definition: dict[str, Any], field: str = "unit", subject: str = "The torque", ring: bool = True) -> Built:
    """The same with its friction.

    Parameters
    ----------
    definition : dict
        A unit's definition in SI.
    field : str
        Its path in the request, for refusals.
    subject : str
        What needs it, the beginning of a refusal's sentence.
    ring : bool
        Whether the rubbing ring has to be known. Beside a measured torque it need not be: friction and radius of the
        plates then only ever count as their product, which that torque gives. Without a ring they are 1 and 1 mm.
    """
    require(definition, TORQUE if ring else PRELOAD, subject, field)
    derived = derive(definition, field)
    known = definition["friction"] is not None
    return Built(
        column_of(definition),
        definition["cavity_mm"],
        solids_of(definition),
        derived["faces"]["first"] + derived["faces"]["second"],
        derived["radius_mm"] if known else 1.0,
        definition["friction"]["mu"] if known else 1.0,
        packs_in_torque(definition["stated_for"]),
    )


def packs_of(definition: dict[str, Any], field: str = "unit", subject: str = "The lock") -> Packs:
    """Faces, radius and friction of the packs, whatever presses them."""
    require(definition, PACKS, subject, field)
    derived = derive(definition, field)
    return Packs(
        derived["faces"]["first"] + derived["faces"]["second"],
        derived["radius_mm"],
        definition["friction"]["mu"],
        packs_in_torque(definition["stated_for"]),
    )


def with_springs(built: Built, springs: Column) -> Built:
    """The same unit with another column of springs."""
    return Built(springs, built.cavity, built.solids, built.faces, built.radius, built.mu, built.stated)


def crush_of(built: Stacked | Built, solids: float) -> float:
    """Crush, mm, with `solids` mm of plates and rings in the stack; below 0 the stack is loose."""
    return solids + free_height(built.springs) - built.cavity


def solids_at(built: Stacked | Built, crush: float) -> float:
    """Plates and rings, mm, that give this crush."""
    return crush + built.cavity - free_height(built.springs)


def longest_crush(built: Stacked | Built) -> float:
    """Crush at which the springs are flat, mm."""
    return built.springs.nests * flat_at(built.springs.disc)


def longest_rise(built: Stacked | Built) -> float:
    """Crush up to which a thicker stack gives more torque, mm: the peak, or flat."""
    return built.springs.nests * rising_until(built.springs.disc)


def preload(built: Stacked | Built, crush: float) -> float:
    """Axial force at a crush, N: 0 for a loose stack, and no more than that of the flat springs."""
    return column_load(built.springs, max(0.0, min(crush, longest_crush(built))))


def torque_per_newton(built: Built | Packs, mu: float) -> float:
    """Stated breakaway torque for each newton of preload, N·m."""
    return built.stated * pack_torque(built.faces, mu, built.radius, 1.0) / 2


def friction_of(built: Built, torque: float, force: float) -> float:
    """Friction of the packs that a stated torque, N·m, comes to at a preload, N: the inverse of `torque_per_newton`."""
    # The stated torque is one mean pack torque or two, hence half or all of the faces together.
    return apparent_friction(torque * 2 / built.stated, built.faces, built.radius, force)


def needs_preload(built: Stacked | Built, crush: float, field: str) -> float:
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
