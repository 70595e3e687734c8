"""Results about a unit's definition: what it comes to, closing it, and its spring on its own."""

from ..request.fields import Listing, YesNo
from ..unit.definition import FORM
from .fields import Count, Figure, Maybe, Result, Words
from .from_forms import in_si
from .shared import concerns

TRAVEL = Figure("", "share of the way to flat", 0)

WARM = Maybe(
    Result(
        {
            "crush_mm": Figure("mm", "how far the closed cover squeezes the stack; below 0 it is loose"),
            "preload_n": Figure("n", "preload", 0),
            "change_percent": Maybe(Figure("percent", "change of preload and torque; empty without a preload", -100)),
        },
        "the unit once it has warmed through, by expansion alone; empty where that is not given",
    )
)

UNIT = Result(
    {
        "faces": Result(
            {"first": Count("in the first pack"), "second": Count("in the second pack")}, "sliding faces of each pack"
        ),
        "free_mm": Figure("mm", "height of the whole stack before the cover is closed", 0),
        "crush_mm": Figure("mm", "how far the closed cover squeezes the stack; below 0 it is loose"),
        "deflection_mm": Figure("mm", "how far each disc is squeezed", 0),
        "travel": TRAVEL,
        "preload_n": Figure("n", "preload", 0),
        "radius_mm": Figure("mm", "effective radius of the plates", 0),
        "pack_nm": Result(
            {"first": Figure("nm", "of the first pack", 0), "second": Figure("nm", "of the second pack", 0)},
            "torque of each pack",
        ),
        "breakaway_nm": Figure("nm", "breakaway torque, as order and limits are stated", 0),
        "warm": WARM,
        "warnings": concerns("what to know about the spring, and where order and limits contradict each other"),
        "checked": in_si(FORM, "the definition itself, in SI"),
    },
    "what a unit's definition comes to with every part new",
)

AT_STEPS = Listing(
    Result({"step": Words("name of the step"), "text": Words("one sentence")}, "a sentence at a step"),
    0,
    20,
    "sentences for one procedure",
)

CLOSING = Result(
    {
        "crush_mm": Figure("mm", "how far the closed cover squeezes the stack; below 0 it is loose"),
        "closes": YesNo("whether the cover can reach its seat"),
        "flush_n": Figure("n", "the spring's push at the closed cover", 0),
        "flush_kgf": Figure("kgf", "the same", 0),
        "closing_n": Maybe(
            Figure("n", "what a press pushes with to close it, against the discs' friction; empty where not given", 0)
        ),
        "opening_n": Maybe(Figure("n", "what comes back at the press when it is opened; empty where not given", 0)),
        "friction_text": Words("the same in words; blank where it is not given"),
        "start_mm": Figure("mm", "gap under the cover when the screws first catch", 0),
        "start_assumed": YesNo("whether that gap is only assumed, because the definition does not give it"),
        "start_text": Words("what the spring does then, and whether the gap is assumed"),
        "start_n": Figure("n", "the spring's push when the screws first catch", 0),
        "start_kgf": Figure("kgf", "the same", 0),
        "energy_j": Figure("j", "energy that the closed spring holds", 0),
        "vice_most_n": Figure("n", "largest push to expect on the way of a spring within its tolerance", 0),
        "vice_most_kgf": Figure("kgf", "the same", 0),
        "start_most_n": Figure("n", "largest push to expect when the screws first catch", 0),
        "energy_most_j": Figure("j", "largest energy to expect", 0),
        "rated_n": Figure("n", "what a vice or press for it is rated for", 0),
        "free_after_mm": Figure("mm", "opening of the vice after which even the tallest new spring is free", 0),
        "open_to_mm": Figure("mm", "opening at which the cover is tried by hand", 0),
        "lift_m": Figure("m", "how high the largest energy would throw a cover of 1 kg", 0),
        "per_screw_n": Figure("n", "the spring's push on each screw at the closed cover", 0),
        "screw_n": Figure("n", "clamp of one screw", 0),
        "clamp_left_n": Figure("n", "clamp of all screws less the spring's push"),
        "clamp_left_kn": Figure("kn", "the same"),
        "warnings": concerns("what to know about the spring and the screws"),
        "cautions": Listing(Words("one sentence"), 1, 20, "what to heed at this step"),
        "at_steps": Result(
            {"strip": AT_STEPS, "close": AT_STEPS}, "these figures as sentences, at the steps of strip and close"
        ),
    },
    "forces while a unit is closed or opened",
)

ZONE = Result(
    {
        "name": Words("short name"),
        "from_mm": Figure("mm", "travel at which it begins", 0),
        "to_mm": Figure("mm", "travel at which it ends", 0),
        "text": Words("what happens there"),
    },
    "a stretch of a spring's travel to stay out of",
)

AT = Result(
    {
        "deflection_mm": Figure("mm", "how far the whole column is squeezed", 0),
        "height_mm": Figure("mm", "height of the column", 0),
        "travel": TRAVEL,
        "load_n": Figure("n", "load of the column"),
        "rate_n_per_mm": Figure("n_per_mm", "rate of the column; below 0 past its peak"),
        "closing_n": Maybe(Figure("n", "load on the way down, with friction; empty where that is not given", 0)),
        "opening_n": Maybe(Figure("n", "load on the way up, with friction; empty where that is not given")),
        "energy_j": Figure("j", "energy that it holds", 0),
        "stress_nmm2": Result(
            {
                "om": Figure("nmm2", "in the middle of the section"),
                "i": Figure("nmm2", "at the inner edge, above"),
                "ii": Figure("nmm2", "at the inner edge, below"),
                "iii": Figure("nmm2", "at the outer edge, below"),
                "iv": Figure("nmm2", "at the outer edge, above"),
            },
            "stresses; below 0 is compression",
        ),
    },
    "a column of springs at one travel",
)

SPRING_ALONE = Result(
    {
        "free_mm": Figure("mm", "free height", 0),
        "flat_mm": Figure("mm", "travel until it is flat", 0),
        "most_n": Figure("n", "largest load on the rising branch", 0),
        "most_mm": Figure("mm", "travel at which it has that", 0),
        "flat_n": Figure("n", "load when it is flat"),
        "peak_mm": Maybe(Figure("mm", "travel at which its load peaks before flat", 0)),
        "flat_stress_nmm2": Figure("nmm2", "stress in the middle of the section when flat"),
        "curve": Listing(
            Result({"deflection_mm": Figure("mm", "travel", 0), "load_n": Figure("n", "load")}, "one point"),
            5,
            400,
            "load over travel",
        ),
        "zones": Listing(ZONE, 0, 3, "stretches to stay out of"),
        "at": Maybe(AT),
        "warnings": concerns("what to know about the spring"),
    },
    "a disc spring, or a column of equal ones, on its own",
)
