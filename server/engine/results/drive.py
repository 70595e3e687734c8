"""Results of a unit on the car: lock of the ramps, and traction."""

from ..drive.traction import FITTED
from ..request.fields import Choice, Listing, YesNo
from .fields import Figure, Maybe, Result, Sometimes, Words
from .shared import TEXT, concerns

LOCKING = "difference over sum of the two output torques"
BIAS = "ratio of the two output torques; empty where it locks solid"

DOUBT = Result(
    {
        "name": Words("short name of what may be off"),
        "meaning": Words("what it is"),
        "share": Figure("", "its share of the variance", 0, 1),
    },
    "one part of the doubt",
)


def doubt_of(what: str) -> Listing:
    """What a doubt is made of, largest first."""
    return Listing(DOUBT, 0, 20, f"what the range of {what} is made of, largest first")


LOCK_POINT = Result(
    {
        "torque_nm": Figure("nm", "torque into the case", 0),
        "lock_nm": Figure("nm", "difference of the output torques that the packs hold, most likely", 0),
        "low_nm": Figure("nm", "the least that it may be, 95 %", 0),
        "high_nm": Figure("nm", "the most that it may be, 95 %", 0),
        "locking_value": Figure("", LOCKING, 0, 1),
        "bias_ratio": Maybe(Figure("", BIAS, 1)),
    },
    "one point",
)

LOCK = Result(
    {
        "angle_deg": Figure("deg", "ramp angle from the plane of rotation", 0, 90),
        "locking_value": Figure("", f"{LOCKING}, without the preload, most likely", 0),
        "locking_low": Figure("", "the least that it may be, 95 %", 0),
        "locking_high": Figure("", "the most that it may be, 95 %", 0),
        "locking": Words("the likely one in words, in percent"),
        "locking_range": Words("its range in words; blank where that is nothing"),
        "bias_ratio": Maybe(Figure("", BIAS, 1)),
        "bias_low": Maybe(Figure("", "the least that it may be, 95 %; empty where it locks solid", 1)),
        "bias_high": Maybe(Figure("", "the most that it may be, 95 %; empty where it locks solid", 1)),
        "bias": Words("the likely one in words"),
        "bias_range": Words("its range in words; blank where that is nothing"),
        "from_ramps": Figure("", "what the ramps do to the locking value", 0),
        "from_gears": Figure("", "what the thrust of the bevel gears adds", 0),
        "from_ears": Figure("", "what the ears' friction takes away, below 0", high=0),
        "pressed_by": Words("these in words; blank where the ramps alone press"),
        "doubt": doubt_of("the locking value"),
        "solid": YesNo("whether it locks solid without the preload"),
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
        "measured": YesNo("whether that follows from a measured torque"),
        "adds": YesNo("whether the spring sits between the rings, so that the ramps add to it from the start"),
        "preload_lock_nm": Figure("nm", "lock of both packs together from preload alone, most likely", 0),
        "preload_lock_low_nm": Figure("nm", "the least that it may be, 95 %", 0),
        "preload_lock_high_nm": Figure("nm", "the most that it may be, 95 %", 0),
        "preload_doubt": doubt_of("the lock from preload"),
        "warm": Maybe(
            Result(
                {
                    "preload_n": Figure("n", "preload", 0),
                    "preload_lock_nm": Figure("nm", "lock of both packs together from preload alone", 0),
                    "change_percent": Figure("percent", "change against the unit as it was built", -100),
                },
                "the unit once it has warmed through, by expansion alone; empty where that is not given",
            )
        ),
        "breakaway_nm": Figure("nm", "breakaway torque that it comes to, as the order states it", 0),
        "text": TEXT,
        "fittings": Listing(
            Result(
                {
                    "fitted": Choice(FITTED, "how the rings are fitted"),
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
        "unit_low_nm": Maybe(Figure("nm", "the least that it may be, 95 %; empty without a unit", 0)),
        "unit_high_nm": Maybe(Figure("nm", "the most that it may be, 95 %; empty without a unit", 0)),
        "preload_lock_nm": Figure("nm", "lock of both packs from preload alone that was counted on", 0),
        "locking_value": Figure("", "locking value without the preload that was counted on", 0),
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
        "turn_slip_each_percent": Sometimes(
            Figure("percent", "by how much each wheel of a solid axle slips on the ground in the turn", 0), TURN
        ),
        "turn_lock_nm": Sometimes(Figure("nm", "torque by which the unit resists the turn", 0), TURN),
    },
    "what an axle puts down",
)
