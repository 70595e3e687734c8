"""The result of planning a rebuild."""

from ..part_checks.plates import PLATES
from ..plan.alternatives import TORQUE_AND_LOCK, TORQUE_ONLY
from ..plan.choices import KINDS
from ..plan.front import MOST_CHOICES
from ..plan.task import BY_BUILDS, BY_SPRING
from ..request.fields import Choice, Field, Listing, YesNo
from ..unit.stack import PARTS
from .experience import EXPERIENCE
from .fields import Cases, Count, Figure, Maybe, Result, Sometimes, Words
from .shared import concerns

NO_SPRING = "empty where the plan goes by builds"

PLANNED = Result(
    {
        "slot": Words("place in the stack", 20),
        "part": Choice(PARTS, "what sits there"),
        "was_mm": Figure("mm", "thickness as it is fitted now", 0),
        "action": Choice({"keep": "it stays", "fit": "another is fitted"}, "what to do"),
        "piece": Words("the piece from the shelf; blank where the part stays", 40),
        "mm": Figure("mm", "thickness as planned", 0),
        "within_mm": Figure("mm", "how far off that may be, either way", 0),
        "minimum_mm": Maybe(Figure("mm", "limit of the piece; empty where it has none, as a ring or a shim", 0)),
        "usual_minimum": YesNo("whether that limit is only common practice"),
    },
    "what to do at one place",
)

SPREAD = Result(
    {
        "plates_nm": Figure("nm", "from the fitted pieces' thickness, 95 %", 0),
        "places_nm": Figure("nm", "from the other places' thickness and the depth, 95 %", 0),
        "spring_above_nm": Figure("nm", "from the spring's height, and its load where none was measured, upward", 0),
        "spring_below_nm": Figure("nm", "the same, downward", 0),
        "reading_nm": Figure("nm", "from the torque that was measured, 95 %", 0),
        "friction_above_nm": Figure("nm", "from a friction that is assumed, 95 %, upward", 0),
        "friction_below_nm": Figure("nm", "the same, downward", 0),
        "low_nm": Figure("nm", "lowest to expect: 1 of 40 comes out below", 0),
        "high_nm": Figure("nm", "highest to expect: 1 of 40 comes out above", 0),
        "builds_nm": Sometimes(
            Figure("nm", "from what builds differ by, 95 %", 0), "the plan goes by builds in the log"
        ),
    },
    "how far off the torque may come out; the shares are each for itself and do not add up",
)

CHOSEN: dict[str, Field] = {
    "proven": YesNo("whether it is proven that no choice with as few changes is better by more than 2 in 100"),
    "changes": Count("how many plates are changed"),
    "torque_nm": Figure("nm", "breakaway torque that it gives", 0),
    "off_nm": Figure("nm", "that less what is wanted"),
    "chance": Figure("", "chance that the torque comes out within the order", 0, 1),
    "chance_text": Words("the same as a builder says it"),
    "above_chance": Figure("", "chance that it reads above the order before it has bedded in; 0 if not aimed so", 0, 1),
    "crush_mm": Maybe(Figure("mm", f"how far the closed cover squeezes the stack; {NO_SPRING}")),
    "preload_n": Maybe(Figure("n", f"preload; {NO_SPRING}", 0)),
    "apart_mm": Figure("mm", "first pack less second, less what that should be"),
    "solids_mm": Figure("mm", "plates and rings together", 0),
    "added_mm": Figure("mm", "plates and rings together, less those that are fitted"),
    "spread_nm": SPREAD,
    "stack": Listing(PLANNED, 1, 100, "every part, from cover to floor"),
}

CHOICE = Result(
    {
        "kind": Choice(KINDS, "what it is among the choices"),
        **CHOSEN,
        "text": Words("the choice in one line"),
        "at_most": Result(
            {
                "fewer": Maybe(
                    Figure("", "with fewer changes; empty where none of those is expected within the order", 0, 1)
                ),
                "as_many": Figure("", "with as many changes", 0, 1),
                "all": Figure("", "with any number of changes", 0, 1),
            },
            "chances to meet the order that are proven to be above those of all other choices",
        ),
        "proof": Words("what is proven about it"),
        "warnings": concerns("what to know about it"),
    },
    "one of the good choices",
)

PROVABLE = Result(
    {
        "can_prove": YesNo("whether a check with that tool can say go at all"),
        "tool": Words("the best tool of the kit for it; blank where none reads it"),
        "held": Words("how the unit is held for it; blank where none reads it"),
        "guard_low_nm": Maybe(Figure("nm", "its guard band at the low end of the order", 0)),
        "guard_high_nm": Maybe(Figure("nm", "its guard band at the high end of the order", 0)),
        "go_low_nm": Maybe(Figure("nm", "lowest torque at which a check says go", 0)),
        "go_high_nm": Maybe(Figure("nm", "highest torque at which a check says go")),
        "text": Words("the same in words"),
    },
    "what the kit's tools can say of the order",
)

BUY = Result(
    {
        "pieces": Listing(
            Result(
                {
                    "name": Words("what the shelf calls the class, or the kind of plate where it has none so thick"),
                    "part": Choice(PLATES, "what kind of plate"),
                    "mm": Figure("mm", "thickness", 0),
                    "count": Count("how many are lacking", 1),
                },
                "a class that is lacking",
            ),
            1,
            80,
            "what to buy, in the shelf's classes",
        ),
        "fitted": Listing(
            Result(
                {
                    "slot": Words("place in the stack"),
                    "part": Choice(PLATES, "what kind of plate"),
                    "piece": Words("what it is called"),
                    "mm": Figure("mm", "thickness", 0),
                    "bought": YesNo("whether it has to be bought first"),
                },
                "a plate that is fitted then",
            ),
            0,
            80,
            "every plate that is fitted then",
        ),
        "changes": Count("how many plates are changed then"),
        "torque_nm": Figure("nm", "breakaway torque that it gives", 0),
        "chance": Figure("", "chance that the torque comes out within the order", 0, 1),
        "text": Words("the same in words"),
    },
    "what the shelf lacks for a better choice",
)

OTHER: dict[str, Field] = {
    "means": Choice(
        {
            "change": "a place may change by more",
            "apart": "the packs may differ by more",
            "shim": "one more shim a pack",
            "spring": "another spring",
            "order": "another order of the plates",
        },
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

BEDDING = Result(
    {
        "loss_nm": Figure("nm", "what bedding in takes", 0),
        "expanded_nm": Figure("nm", "its expanded uncertainty, 95 %", 0),
        "above_nm": Figure("nm", "how far above the order the plan aims for it", 0),
        "rebuilds": Count("how many rebuilds show it", 1),
        "aimed": YesNo("whether the plan aims above the order by it"),
        "text": Words("the same in words"),
    },
    "what the log shows of bedding in",
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
            "torque_nm": Maybe(Figure("nm", "breakaway torque; empty where no build was so thick", 0)),
            "crush_mm": Maybe(
                Figure("mm", f"how far the closed cover squeezes the stack; below 0 it is loose; {NO_SPRING}")
            ),
            "solids_mm": Figure("mm", "plates and rings together", 0),
        },
        "the unit with the plates as they are fitted",
    ),
    "mu": Maybe(Figure("", f"friction that is planned with; {NO_SPRING}", 0)),
    "torque_per_n": Maybe(Figure("per_n", f"breakaway torque for each newton of preload; {NO_SPRING}", 0)),
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
    "bedding": Maybe(BEDDING),
    "buy": Maybe(BUY),
    "provable": Maybe(PROVABLE),
    "warnings": concerns("what to know about the plan"),
    "by": Choice({BY_SPRING: "the spring's curve", BY_BUILDS: "builds in the log"}, "what it goes by"),
    "experience": Maybe(EXPERIENCE),
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
                "choices": Listing(CHOICE, 1, MOST_CHOICES, "from the most certain to the fewest plates"),
                **ALWAYS,
                "alternatives": Maybe(ALTERNATIVES),
            },
            "the good choices; the first one's own fields stand beside them, as when there was one alone",
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
