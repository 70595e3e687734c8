"""Results of a unit on the car: lock of the ramps, and traction."""

from ..request.fields import Choice, Listing, YesNo
from .fields import Figure, Maybe, Result, Sometimes, Words
from .shared import TEXT, concerns

LOCKING = "difference over sum of the two output torques"
BIAS = "ratio of the two output torques; empty where it locks solid"

LOCK_POINT = Result(
    {
        "torque_nm": Figure("nm", "torque into the case", 0),
        "lock_nm": Figure("nm", "difference of the output torques that the packs hold", 0),
        "locking_value": Figure("", LOCKING, 0, 1),
        "bias_ratio": Maybe(Figure("", BIAS, 1)),
    },
    "one point",
)

LOCK = Result(
    {
        "angle_deg": Figure("deg", "ramp angle from the plane of rotation", 0, 90),
        "locking_value": Figure("", f"{LOCKING}, of the ramps alone", 0),
        "bias_ratio": Maybe(Figure("", BIAS, 1)),
        "solid": YesNo("whether the ramps alone lock it solid"),
        "takes_over_nm": Maybe(Figure("nm", "torque into the case from which the ramps press harder", 0)),
        "takes_over": Words("the same in words: a torque, never, or that they add from the start"),
        "holds_to_nm": Maybe(Figure("nm", "torque into the case up to which it turns as one, whatever the grip", 0)),
        "curve": Listing(LOCK_POINT, 3, 201, "lock over torque"),
        "axial_n_per_nm": Figure("n_per_nm", "axial force on each pack for the torque into the case", 0),
    },
    "one direction of torque",
)

RAMPS = Result(
    {
        "crush_mm": Figure("mm", "how far the closed cover squeezes the stack", 0),
        "preload_n": Figure("n", "preload", 0),
        "mu": Figure("", "friction of the packs", 0),
        "preload_lock_nm": Figure("nm", "lock of both packs together from preload alone", 0),
        "breakaway_nm": Figure("nm", "breakaway torque that it comes to, as the order states it", 0),
        "text": TEXT,
        "fittings": Listing(
            Result(
                {
                    "fitted": Choice(
                        {"as_is": "as they are", "turned_over": "turned over, drive and coast changed"},
                        "how the rings are fitted",
                    ),
                    "drive": LOCK,
                    "coast": LOCK,
                },
                "one way of fitting the rings",
            ),
            2,
            2,
            "each way of fitting the rings",
        ),
        "warnings": concerns("what to know about friction and ramps"),
    },
    "lock on drive and on coast",
)

ASKED = "a torque into the case was given"
TURN = "a turn was given"

TRACTION = Result(
    {
        "left_nm": Figure("nm", "what the left wheel can put down", 0),
        "right_nm": Figure("nm", "what the right wheel can put down", 0),
        "open_nm": Figure("nm", "torque into the case that an open axle puts down", 0),
        "unit_nm": Figure("nm", "torque into the case put down with this unit", 0),
        "solid_nm": Figure("nm", "torque into the case that a solid axle puts down", 0),
        "push_n": Figure("n", "push of both wheels with this unit", 0),
        "gain": Maybe(Figure("", "share of what a solid axle would gain over an open one; empty if nothing", 0)),
        "text": TEXT,
        "put_down_nm": Sometimes(Figure("nm", "what is put down of the torque asked for", 0), ASKED),
        "spare_nm": Sometimes(Figure("nm", "what spins a wheel", 0), ASKED),
        "spins": Sometimes(
            Choice(
                {"none": "neither", "left": "the left one", "right": "the right one", "both": "both"},
                "which wheel spins",
            ),
            ASKED,
        ),
        "turn_slip_percent": Sometimes(
            Figure("percent", "by how much the wheels of a solid axle slip against each other", 0), TURN
        ),
        "turn_lock_nm": Sometimes(Figure("nm", "torque by which the unit resists the turn", 0), TURN),
    },
    "what an axle puts down",
)
