"""Results of a unit's ramps: lock on drive and on coast."""

from ..drive.candidates import FITTED, KINDS
from ..drive.workbench import TRADE
from ..request.fields import Choice, Listing, YesNo
from .fields import Figure, Maybe, Result, Words
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

# What only the ramps screen tells of a direction: its curve, and what presses beside the ramps.
OF_PRESSING = ("curve", "pressed_by", "axial_n_per_nm", "from_ramps", "from_gears", "from_ears")

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

OTHER_WAY = Result(
    {
        "angle_deg": Figure("deg", "ramp angle from the plane of rotation", 0, 90),
        "locking_value": Figure("", f"{LOCKING}, without the preload, most likely", 0),
        "locking": Words("the same in words, in percent"),
        "locking_range": Words("its range in words; blank where that is nothing"),
    },
    "one direction of torque with another pair of ramps",
)

RAMPS = Result(
    {
        "crush_mm": Maybe(Figure("mm", "how far the closed cover squeezes the stack; empty if not known", 0)),
        "preload_n": Maybe(Figure("n", "preload; empty if not known: then the measured torque serves", 0)),
        "mu": Figure("", "friction of the packs", 0),
        "measured": YesNo("whether that follows from a measured torque"),
        "basis": Words("what the lock was worked out from, in one sentence"),
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
        "others": Listing(
            Result(
                {"name": Words("what the pair is called"), "drive": OTHER_WAY, "coast": OTHER_WAY},
                "another pair of ramps",
            ),
            0,
            12,
            "each other pair of ramps that the unit has",
        ),
        "warnings": concerns("what to know about friction and ramps"),
    },
    "lock on drive and on coast",
)

WAY_TRIED = Result(
    {
        **{name: LOCK.fields[name] for name in LOCK.fields if name not in OF_PRESSING},
        "held_nm": Figure("nm", "difference of the output torques that the packs hold at the torque asked for", 0),
        "held_low_nm": Figure("nm", "the least that it may be, 95 %", 0),
        "held_high_nm": Figure("nm", "the most that it may be, 95 %", 0),
        "held": Words("the same in words, with its range"),
    },
    "one direction of torque of a candidate",
)

CANDIDATES = Result(
    {
        "candidates": Listing(
            Result(
                {
                    "kind": Choice(KINDS, "where it comes from"),
                    "name": Words("what it is called"),
                    "drive": WAY_TRIED,
                    "coast": WAY_TRIED,
                    "trade": Choice(TRADE, "what the trade calls it"),
                    "trade_text": Words("the same in words, with what it means"),
                    "breakaway_nm": Figure("nm", "breakaway torque that it comes to, as the order states it", 0),
                    "preload_lock_nm": Figure("nm", "lock of both packs together from preload alone", 0),
                    "preload_lock_low_nm": Figure("nm", "the least that it may be, 95 %", 0),
                    "preload_lock_high_nm": Figure("nm", "the most that it may be, 95 %", 0),
                    "warnings": concerns("what to know about its ramps"),
                },
                "a way to build the unit",
            ),
            1,
            40,
            "as built, turned over, its other pairs of ramps, and what was to be tried",
        ),
        "text": TEXT,
    },
    "ways to build a unit, side by side",
)
