"""The result of planning a rebuild."""

from ..plan.alternatives import TORQUE_AND_LOCK, TORQUE_ONLY
from ..request.fields import Choice, Field, Listing, YesNo
from ..unit.stack import PARTS
from .fields import Cases, Count, Figure, Maybe, Result, Words
from .shared import concerns

PLANNED = Result(
    {
        "slot": Words("place in the stack", 20),
        "part": Choice(PARTS, "what sits there"),
        "was_mm": Figure("mm", "thickness as it is fitted now", 0),
        "action": Choice({"keep": "it stays", "fit": "another is fitted"}, "what to do"),
        "piece": Words("the piece from the shelf; blank where the part stays", 40),
        "mm": Figure("mm", "thickness as planned", 0),
        "within_mm": Figure("mm", "how far off the piece may be", 0),
    },
    "what to do at one place",
)

CHOSEN: dict[str, Field] = {
    "proven": YesNo("whether it is proven that no choice with as few changes is better"),
    "changes": Count("how many plates are changed"),
    "torque_nm": Figure("nm", "breakaway torque that it gives", 0),
    "off_nm": Figure("nm", "that less what is wanted"),
    "crush_mm": Figure("mm", "how far the closed cover squeezes the stack"),
    "preload_n": Figure("n", "preload", 0),
    "apart_mm": Figure("mm", "first pack less second, less what that should be"),
    "solids_mm": Figure("mm", "plates and rings together", 0),
    "stack": Listing(PLANNED, 1, 100, "every part, from cover to floor"),
}

SPREAD = Result(
    {
        "plates_nm": Figure("nm", "from the pieces' thickness, 95 %"),
        "spring_above_nm": Figure("nm", "from the spring's tolerance, upward", 0),
        "spring_below_nm": Figure("nm", "from the spring's tolerance, downward", 0),
        "reading_nm": Figure("nm", "from the torque that was measured", 0),
        "low_nm": Figure("nm", "lowest to expect", 0),
        "high_nm": Figure("nm", "highest to expect", 0),
    },
    "how far off the torque may come out",
)

OTHER: dict[str, Field] = {
    "means": Choice(
        {"shim": "one more shim a pack", "spring": "another spring", "order": "another order of the plates"},
        "what else is tried",
    ),
    "about": Words("which spring, or which order"),
    "affects": Choice({TORQUE_ONLY: "not the lock", TORQUE_AND_LOCK: "both alike"}, "what it changes"),
}

ALTERNATIVE = Cases(
    "possible",
    "whether it reaches the torque",
    {
        True: Result({**OTHER, **CHOSEN}, "another way that reaches the torque"),
        False: Result(OTHER, "another way that does not"),
    },
    "another means to the same torque",
)

NEAREST = Result(
    {"torque_nm": Figure("nm", "breakaway torque", 0), "solids_mm": Figure("mm", "plates and rings together", 0)},
    "an arrangement that misses the torque",
)

ALWAYS: dict[str, Field] = {
    "wanted_nm": Result(
        {
            "torque_nm": Figure("nm", "breakaway torque", 0),
            "tolerance_nm": Figure("nm", "how far off it may be", 0),
            "low_nm": Figure("nm", "lowest torque that is as wanted"),
            "high_nm": Figure("nm", "highest torque that is as wanted", 0),
        },
        "what is wanted",
    ),
    "now": Result(
        {
            "torque_nm": Figure("nm", "breakaway torque", 0),
            "crush_mm": Figure("mm", "how far the closed cover squeezes the stack; below 0 it is loose"),
            "solids_mm": Figure("mm", "plates and rings together", 0),
        },
        "the unit with the plates as they are fitted",
    ),
    "mu": Figure("", "friction that is planned with", 0),
    "torque_per_n": Figure("per_n", "breakaway torque for each newton of preload", 0),
    "window_mm": Maybe(
        Result(
            {"low_mm": Figure("mm", "thinnest", 0), "high_mm": Figure("mm", "thickest", 0)},
            "plates and rings together that give what is wanted; empty where no thickness does",
        )
    ),
    "proof": Result(
        {
            "arrangements": Words("how many arrangements were covered, as text: it outgrows a number"),
            "thicknesses": Count("how many different thicknesses of the stack they have"),
            "text": Words("what that proves"),
        },
        "how much was covered",
    ),
    "warnings": concerns("what to know about the plan"),
    "curve": Listing(
        Result(
            {"added_mm": Figure("mm", "thickness added to the stack"), "torque_nm": Figure("nm", "torque", 0)},
            "one point",
        ),
        2,
        100,
        "torque over added thickness",
    ),
    "zones": Listing(
        Result(
            {
                "from_mm": Figure("mm", "added thickness at which it begins"),
                "to_mm": Figure("mm", "added thickness at which it ends"),
                "name": Words("what is wrong there"),
            },
            "a stretch to stay out of",
        ),
        0,
        10,
        "stretches to stay out of",
    ),
}

ALTERNATIVES = Listing(ALTERNATIVE, 0, 30, "other means to the same torque")

PLAN = Cases(
    "possible",
    "whether the shelf reaches the torque",
    {
        True: Result(
            {
                **CHOSEN,
                "added_mm": Figure("mm", "plates and rings together, less those that are fitted"),
                "spread_nm": SPREAD,
                **ALWAYS,
                "alternatives": Maybe(ALTERNATIVES),
            },
            "the best choice",
        ),
        False: Result(
            {
                **ALWAYS,
                "alternatives": ALTERNATIVES,
                "nearest": Result({"below": Maybe(NEAREST), "above": Maybe(NEAREST)}, "the nearest that there is"),
                "ways": Listing(Words("one sentence"), 0, 40, "what would make it possible"),
            },
            "why there is none",
        ),
    },
    "the plan of a rebuild",
)
