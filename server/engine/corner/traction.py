"""Traction, the straight-ahead case of a corner: how much torque two driven wheels put down.

Open, limited or solid, and which wheel spins the rest away.
"""

from typing import Any

from ..drive.candidates import FITTED
from ..drive.known_unit import BUILT_NOW
from ..drive.lock import Lock
from ..request.errors import BadInput
from ..request.fields import Choice, Field, Group, Number, YesNo
from ..request.units import GRAVITY, say
from ..request.written_in import with_written_in
from ..unit.pressing import RAMPS
from ..unit.sits import refuse_centre
from .axle import StandingWheel, standing_wheel, without_side_force
from .difference import Locks, clipped, held_at, solid_difference
from .limits import put_down
from .unit_locks import UnitLocks, range_on_drive, unit_locks

WHEEL: dict[str, Field] = {
    "load_kg": Number(1, 5000, "kg", "weight on this wheel"),
    "grip": Number(0, 3, "", "coefficient of friction of tyre on ground"),
}

FORM = Group(
    with_written_in(
        {
            "left": Group(WHEEL, "the left driven wheel"),
            "right": Group(WHEEL, "the right driven wheel"),
            "tyre_radius_mm": Number(100, 1500, "mm", "rolling radius of the driven wheels"),
            "built": BUILT_NOW,
            "ramps": Group(RAMPS.fields, "ramps to try in place of the unit's own", default=None),
            "fitted": Choice(FITTED, "how the rings are fitted", default="as_is"),
            "locking_value": Number(
                0,
                1e6,
                "",
                "without a unit: locking value of the ramps alone; from 1 up they lock solid",
                default=None,
            ),
            "preload_lock_nm": Number(
                0, 10000, "nm", "without a unit: lock of both packs together from preload alone", default=0.0
            ),
            "adds": YesNo("without a unit: whether the spring sits between the rings and adds", default=False),
            "input_nm": Number(0, 50000, "nm", "torque into the case that the engine asks for", default=None),
            "turn": Group(
                {
                    "radius_mm": Number(2000, 1e6, "mm", "radius of the turn, to the middle of the axle"),
                    "track_mm": Number(500, 3000, "mm", "from wheel to wheel on the driven axle"),
                },
                "a turn",
                default=None,
            ),
        },
        "write_in",
    ),
    "what an axle puts down",
)


def lock_in_use(request: dict[str, Any]) -> UnitLocks:
    """The lock of the unit as built, with what may be off of it; or the one that was given, as it is."""
    refuse_centre(request["built"])
    if request["built"] is None:
        value = request["locking_value"]
        if value is None:
            raise BadInput("locking_value", "Give the unit, as it is built now, or a locking value.")
        lock = Lock(request["preload_lock_nm"], value, request["adds"])
        return UnitLocks(Locks(lock, lock), [], [], [])
    if request["locking_value"] is not None:
        raise BadInput("locking_value", "Leave this empty: it follows from the unit as it is built now.")
    return unit_locks(request["built"], request["ramps"], request["fitted"])


def in_words(
    open_axle: float, solid: float, with_unit: float, ends: tuple[Any, Any], adds: bool, torque_unit: str
) -> str:
    """What an axle puts down, N·m, as a sentence in a unit of torque: with the unit, its range, open and solid."""
    between = ""
    if ends[0] is not None and ends[0] < ends[1]:
        between = f" ({say(ends[0], 'nm', torque_unit)} to {say(ends[1], 'nm', torque_unit)})"
    text = (
        f"It puts down {say(with_unit, 'nm', torque_unit)}{between}: an open axle {say(open_axle, 'nm', torque_unit)}, "
        f"a solid one {say(solid, 'nm', torque_unit)}."
    )
    if open_axle <= 0.0 and with_unit < solid:
        text += " A wheel without grip leaves the preload alone to drive with" + (
            ", and what the ramps add to it." if adds else "."
        )
    return text


def traction(request: dict[str, Any]) -> dict[str, Any]:
    """Torque that an axle puts down with this unit, against an open and a solid one, and the slip that remains.

    Parameters
    ----------
    request : dict
        Checked by `FORM`.

    Returns
    -------
    dict
        left_nm, right_nm, what each wheel can put down; open_nm, unit_nm, solid_nm, torque into the case put down;
        unit_low_nm and unit_high_nm, its range where the unit is given; gain, the share of what a solid axle would gain
        over an open one (None where both are alike); push_n of the unit; preload_lock_nm and locking_value that were
        used; text; warnings, what the unit's figures rest on. With input_nm also put_down_nm, spare_nm (torque that
        spins a wheel) and spins (none, left, right or both). With a turn also turn_slip_percent, by which wheels on a
        solid axle have to slip against each other, turn_slip_each_percent, half of it, by which each of them slips on
        the ground; turn_lock_nm, the torque by which the unit resists the turn, turn_helps_nm, that by which it helps
        it round, and turn_most_nm, as much as the plates could hold.

    Notes
    -----
    The straight-ahead case of `corner`: no side force takes of the grip. In the turn the wheels share the torque as
    they do there, with tyres of a usual stiffness.

    Examples
    --------
    One wheel on a third of the other's grip, locking value 0.4: a bias ratio of 2.333 lets the strong one carry as much
    more.

    >>> wheels = {"left": {"load_kg": 200, "grip": 0.3}, "right": {"load_kg": 200, "grip": 0.9}}
    >>> wheels.update({"tyre_radius_mm": 300, "locking_value": 0.4})
    >>> result = traction(FORM.read(wheels, ""))
    >>> round(result["unit_nm"] / result["left_nm"], 3), round(result["gain"], 3)
    (3.333, 0.667)
    """
    radius = request["tyre_radius_mm"] / 1000.0
    wheels = [
        standing_wheel(wheel["load_kg"] * GRAVITY, wheel["grip"], radius)
        for wheel in (request["left"], request["right"])
    ]
    left, right = wheels[0].full, wheels[1].full
    torque_unit = request["write_in"]
    weak, strong = min(left, right), max(left, right)
    unit = lock_in_use(request)
    lock = unit.locks.drive
    open_axle, solid, with_unit = 2.0 * weak, weak + strong, put_down(lock, weak, strong)
    ends = range_on_drive(lambda possible: put_down(possible, weak, strong), unit)
    if ends[0] is not None:
        # Nothing puts down less than an open axle or more than a solid one.
        ends = (max(open_axle, ends[0]), min(solid, ends[1]))
    answer: dict[str, Any] = {
        "left_nm": left,
        "right_nm": right,
        "open_nm": open_axle,
        "unit_nm": with_unit,
        "unit_low_nm": ends[0],
        "unit_high_nm": ends[1],
        "solid_nm": solid,
        "preload_lock_nm": lock.preload,
        "locking_value": lock.ramp,
        "push_n": with_unit / radius,
        "gain": (with_unit - open_axle) / (solid - open_axle) if solid > open_axle else None,
        "text": in_words(open_axle, solid, with_unit, ends, lock.adds, torque_unit),
        "warnings": unit.concerns,
    }
    input_torque = request["input_nm"]
    done = with_unit if input_torque is None else min(input_torque, with_unit)
    if input_torque is not None:
        spins = "none"
        if input_torque > with_unit:
            spins = "both" if with_unit >= solid else "left" if left < right else "right"
        answer.update({"put_down_nm": done, "spare_nm": input_torque - done, "spins": spins})
    if request["turn"] is not None:
        answer.update(in_turn(request["turn"], wheels, unit.locks, done))
    return answer


def in_turn(turn: dict[str, Any], wheels: list[StandingWheel], locks: Locks, torque: float) -> dict[str, Any]:
    """What the unit does in a turn at a torque, N·m; the inner wheel is the lighter one, since load goes outwards."""
    inner, outer = wheels if wheels[0].load <= wheels[1].load else (wheels[1], wheels[0])
    held = held_at(locks, torque)
    difference = clipped(
        solid_difference(without_side_force(inner, outer), turn["track_mm"] / 2.0 / turn["radius_mm"], torque), held
    )
    return {
        "turn_slip_percent": 100.0 * turn["track_mm"] / turn["radius_mm"],
        # Half of the track over the radius: one wheel is dragged on, the other held back.
        "turn_slip_each_percent": 50.0 * turn["track_mm"] / turn["radius_mm"],
        "turn_lock_nm": max(0.0, difference),
        "turn_helps_nm": max(0.0, -difference),
        "turn_most_nm": held,
    }
