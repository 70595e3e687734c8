"""Results of a car."""

from ..car.car import MEANINGS, SOURCES
from ..request.fields import Choice, Listing
from .fields import Count, Figure, Result, Words
from .shared import NOT_JUDGED, TEXT

CAR = Result(
    {
        "verdict": NOT_JUDGED,
        "figures": Listing(
            Result(
                {
                    "name": Choice(MEANINGS, "which figure, with its unit at the end"),
                    "meaning": Words("what it is"),
                    "value": Figure("", "most likely"),
                    "low": Figure("", "the least that it may be"),
                    "high": Figure("", "the most that it may be"),
                    "source": Choice(SOURCES, "where it comes from"),
                    "text": TEXT,
                    "from": Words("where it comes from, in words"),
                },
                "a figure of the car",
                needed=("name",),
            ),
            0,
            30,
            "every figure that a corner needs",
        ),
        "gears": Listing(
            Result(
                {
                    "gear": Count("which gear, from the lowest up", 1),
                    "torque_nm": Figure("nm", "torque at the driven axle at full throttle", 0),
                    "low_nm": Figure("nm", "the least that it may be", 0),
                    "high_nm": Figure("nm", "the most that it may be", 0),
                    "braking_nm": Figure("nm", "torque by which the engine brakes at the axle", 0),
                },
                "one gear",
                needed=("gear",),
            ),
            0,
            12,
            "each gear, where engine, gears and final drive are known",
        ),
        "usual": Count("how many of its measurable figures nobody measured"),
        "text": TEXT,
        "caution": Words("what to mind where an axle is lifted", 2000),
    },
    "a car as far as it is known",
)
