"""Traction: how much torque two driven wheels put down, open, limited or solid, and which wheel spins the rest away."""

from typing import Any

from ..request.errors import BadInput
from ..request.fields import Choice, Field, Group, Number, YesNo
from ..request.units import GRAVITY, say
from ..request.written_in import with_words
from ..unit.pressing import RAMPS
from .known_unit import BUILT_NOW, BY_HAND, known_unit, lock_of, ramps_in_use
from .lock import Lock, lock_at
from .lock_range import Cause, ends_of

FITTED = {"as_is": "as they are", "turned_over": "turned over, drive and coast swapped"}

WHEEL: dict[str, Field] = {
    "load_kg": Number(1, 5000, "kg", "weight on this wheel"),
    "grip": Number(0, 3, "", "coefficient of friction of tyre on ground"),
}

FORM = Group(
    with_words(
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


def put_down(lock: Lock, weak: float, strong: float) -> float:
    """Largest torque into the case that both wheels put down, N·m.

    Parameters
    ----------
    lock : Lock
        The unit's lock.
    weak, strong : float
        Torque that each wheel can put down, N·m, weak <= strong.

    Returns
    -------
    float
        From 2 · weak, an open axle, to weak + strong, a solid one.

    Notes
    -----
    The weak wheel is at its limit and the other carries as much more as the packs hold: T = 2 weak + lock(T). In line,
    lock(T) = max(preload, S T), each of which gives its own T, and the larger counts; added, T = (2 weak + preload) /
    (1 - S). The strong wheel's own limit ends it.

    Examples
    --------
    >>> put_down(Lock(0.0, 0.5, False), 100.0, 900.0), put_down(Lock(0.0, 0.0, False), 100.0, 900.0)
    (400.0, 200.0)
    """
    solid = weak + strong
    if lock.ramp >= 1.0:
        # Locked by the ramps whatever the torque, once there is any.
        return solid if lock.preload > 0.0 or weak > 0.0 else 0.0
    if lock.adds:
        return min(solid, (2.0 * weak + lock.preload) / (1.0 - lock.ramp))
    return min(solid, max(2.0 * weak + lock.preload, 2.0 * weak / (1.0 - lock.ramp)))


def lock_in_use(request: dict[str, Any]) -> tuple[Lock, list[Cause]]:
    """The lock on drive of the unit as built, with what may be off of it; or the one that was given, as it is."""
    if request["built"] is None:
        value = request["locking_value"]
        if value is None:
            raise BadInput("locking_value", "Give the unit, as it is built now, or a locking value.")
        return Lock(request["preload_lock_nm"], value, request["adds"]), []
    if request["locking_value"] is not None:
        raise BadInput("locking_value", "Leave this empty: it follows from the unit as it is built now.")
    unit_alone = dict.fromkeys(BY_HAND)
    unit_alone["built"] = request["built"]
    known = known_unit(unit_alone)
    ramps, path = ramps_in_use(known, request["ramps"])
    way = "drive_deg" if request["fitted"] == "as_is" else "coast_deg"
    lock, _, causes = lock_of(known, ramps, 90.0 if ramps is None else ramps[way], path)
    return lock, causes


def in_words(
    open_axle: float, solid: float, with_unit: float, ends: tuple[float, float], adds: bool, torque_unit: str
) -> str:
    """What an axle puts down, N·m, as a sentence in a unit of torque: with the unit, its range, open and solid."""
    between = ""
    if ends[0] < ends[1]:
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
        used; text. With input_nm also put_down_nm, spare_nm (torque that spins a wheel) and spins (none, left, right or
        both). With a turn also turn_slip_percent, by which wheels on a solid axle have to slip against each other,
        turn_slip_each_percent, half of it, by which each of them slips on the ground, and turn_lock_nm, the torque by
        which the unit resists the turn.

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
    left, right = (wheel["load_kg"] * GRAVITY * wheel["grip"] * radius for wheel in (request["left"], request["right"]))
    torque_unit = request["write_in"]
    weak, strong = min(left, right), max(left, right)
    lock, causes = lock_in_use(request)
    open_axle, solid, with_unit = 2.0 * weak, weak + strong, put_down(lock, weak, strong)
    ends = ends_of(lambda possible: put_down(possible, weak, strong), lock, causes)
    # Nothing puts down less than an open axle or more than a solid one.
    low, high = max(open_axle, ends[0]), min(solid, ends[1])
    answer: dict[str, Any] = {
        "left_nm": left,
        "right_nm": right,
        "open_nm": open_axle,
        "unit_nm": with_unit,
        "unit_low_nm": low if causes else None,
        "unit_high_nm": high if causes else None,
        "solid_nm": solid,
        "preload_lock_nm": lock.preload,
        "locking_value": lock.ramp,
        "push_n": with_unit / radius,
        "gain": (with_unit - open_axle) / (solid - open_axle) if solid > open_axle else None,
        "text": in_words(open_axle, solid, with_unit, (low, high), lock.adds, torque_unit),
    }
    input_torque = request["input_nm"]
    if input_torque is not None:
        done = min(input_torque, with_unit)
        spins = "none"
        if input_torque > with_unit:
            spins = "both" if with_unit >= solid else "left" if left < right else "right"
        answer.update({"put_down_nm": done, "spare_nm": input_torque - done, "spins": spins})
    turn = request["turn"]
    if turn is not None:
        torque = with_unit if input_torque is None else min(input_torque, with_unit)
        answer["turn_slip_percent"] = 100.0 * turn["track_mm"] / turn["radius_mm"]
        # Half of the track over the radius: one wheel is dragged on, the other held back.
        answer["turn_slip_each_percent"] = 50.0 * turn["track_mm"] / turn["radius_mm"]
        answer["turn_lock_nm"] = lock_at(lock, torque)
    return answer
