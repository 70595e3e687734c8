"""What a figure is worked out from, as a request says it."""

from typing import Any

from ..doubt.budget import TWO_SIDED_95
from ..request.errors import BadInput, inside
from ..request.fields import Answered, Choice, Day, Field, Group, Number
from ..request.written_in import with_written_in
from ..unit.as_built import NAMELESS, built_fields
from ..unit.marks import DEPTH_FROM, FRICTION_FROM, HEIGHT_FROM
from ..unit.spring import FIELDS
from ..unit.usual_limits import UNMEASURED_WITHIN_MM

# How far off what was measured may be, either way, where nobody says: a gap by feeler gauges at three places, a height
# in a press, and its load; the torque of a check that is not in the log. Common practice, no source.
GAP_WITHIN_MM = 0.05
PRESSED_WITHIN_MM = 0.05
PRESS_WITHIN_PERCENT = 2.0
READING_WITHIN = 0.05
MOST_READING = 0.5

FROM = {}
for _choices in (DEPTH_FROM, HEIGHT_FROM, FRICTION_FROM):
    FROM.update(_choices)


def torque_fields(name: str, expanded: str, which: str) -> dict[str, Field]:
    """A torque and how far off it may be, under their names."""
    return {
        name: Number(0.5, 5000, "nm", f"breakaway torque{which}, as the order states it"),
        expanded: Number(0.001, 2500, "nm", "its expanded uncertainty, 95 %; 5 % of it if empty", default=None),
    }


def spring_without_height() -> Group:
    """The sizes of a spring whose free height is not known."""
    fields = {name: field for name, field in FIELDS.fields.items() if name != "l0_mm"}
    return Group(fields, "the spring whose free height is wanted", default=None)


def builds() -> Group:
    """Two builds of one unit, with the same plates' friction and the same spring."""
    fields: dict[str, Field] = {
        "solids_mm": Number(
            1, 500, "mm", "plates and rings of the first build together; as the definition has them if empty", None
        )
    }
    fields.update(torque_fields("torque_nm", "expanded_nm", " of the first build"))
    fields.update(
        {
            "thicker_mm": Number(-20, 20, "mm", "by how much the second build was thicker; below 0 it was thinner"),
            "thicker_within_mm": Number(
                0, 5, "mm", "how far off that may be, either way", default=UNMEASURED_WITHIN_MM
            ),
        }
    )
    fields.update(torque_fields("second_nm", "second_expanded_nm", " of the second build"))
    return Group(fields, "two builds of the unit", default=None)


BUILT = Answered(built_fields(NAMELESS), "the unit as it is built now, as `standing` answers it", default=None)

FORM = Group(
    with_written_in(
        {
            "from": Choice(FROM, "what is worked out, and from what"),
            "unit": Group(NAMELESS.fields, "what is known of the unit, where it is not given as built", default=None),
            "built": BUILT,
            "gap": Group(
                {
                    "gap_mm": Number(0.01, 100, "mm", "gap under the cover while it lies loose on the stack"),
                    "within_mm": Number(0, 10, "mm", "how far off it may be, either way", default=GAP_WITHIN_MM),
                },
                "the gap under the loose cover",
                default=None,
            ),
            "torque": Group(torque_fields("torque_nm", "expanded_nm", ""), "a torque that was measured", default=None),
            "friction": Group(
                {
                    "mu": Number(0.02, 0.5, "", "friction of the plates; the unit's own if empty", default=None),
                    "within": Number(
                        0, 0.5, "", "how far off it may be, either way; a fifth of it if empty", default=None
                    ),
                },
                "the friction, where it is known otherwise than by the definition",
                default=None,
            ),
            "builds": builds(),
            "spring": spring_without_height(),
            "load": Group(
                {
                    "load_n": Number(1, 1e6, "n", "load of the whole column"),
                    "within_percent": Number(
                        0, 50, "percent", "how far off it may be, either way", default=PRESS_WITHIN_PERCENT
                    ),
                    "height_mm": Number(0.1, 500, "mm", "height of the whole column under that load"),
                    "within_mm": Number(0, 10, "mm", "how far off it may be, either way", default=PRESSED_WITHIN_MM),
                },
                "the spring in a press",
                default=None,
            ),
            "day": Day("when it was measured", default=None),
        },
        "write_in",
        "write_lengths_in",
        "write_forces_in",
    ),
    "what cannot be measured, and what it is worked out from",
)


def given(request: dict[str, Any], name: str, what: str) -> dict[str, Any]:
    """A group of a checked request that a way of working out needs; refuses one without, naming `what` to give."""
    group: dict[str, Any] | None = request[name]
    if group is None:
        raise BadInput(name, f"Give {what}.")
    return group


def reading(typed: dict[str, Any], path: str, names: tuple[str, str] = ("torque_nm", "expanded_nm")) -> float:
    """Standard uncertainty of a torque, N·m, as it was given or the usual share of it; refuses a hopeless one.

    `names` are those of the torque and of its expanded uncertainty in the group `typed`, which stands at `path`.
    """
    torque, expanded = typed[names[0]], typed[names[1]]
    if expanded is None:
        expanded = READING_WITHIN * torque
    if expanded >= MOST_READING * torque:
        raise BadInput(inside(path, names[1]), "This must be less than half of the torque: else it says nothing.")
    return float(expanded / TWO_SIDED_95)
