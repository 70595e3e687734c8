"""Results about a unit's definition: what it comes to, closing it, and its spring on its own."""

from ..request.fields import Choice, Field, Group, Listing, Text, YesNo
from ..unit.features import FEATURE_PARTS, features_field
from ..unit.form import FORM
from ..unit.pattern import FORM as PATTERN_FORM
from ..unit.pattern import SHARED
from ..worked_out.form import FORM as WORK_OUT_FORM
from ..worked_out.form import FROM
from .fields import Cases, Count, Figure, Maybe, Result, Sometimes, Typed, Words
from .from_forms import in_si
from .shared import NOT_JUDGED, concerns

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

LACK = Result(
    {
        "name": Words("short name of what cannot be done"),
        "field": Words("field of the definition at which to go on"),
        "text": Words("what it needs, in one sentence"),
    },
    "what cannot be done with what is known of a unit",
)
LACKS = Listing(LACK, 0, 20, "what cannot be done yet")

OPENS = Listing(
    Result(
        {
            "name": Words("short name of the section"),
            "field": Words("the first of its fields in the definition"),
            "title": Words("what it is called"),
            "at_once": YesNo("whether it opens something without any other section"),
            "text": Words("what it opens"),
        },
        "a section of the definition that is not known yet",
    ),
    0,
    20,
    "what each section that is not known would open",
)

WORKED_OUT = Listing(
    Result(
        {
            "name": Words("short name of the figure"),
            "field": Words("its field in the definition"),
            "title": Words("what it is called"),
            "value": Words("the figure with its unit"),
            "within": Words("how far off it may be, 95 %"),
            "text": Words("what it was worked out from, in one sentence"),
            "basis": Words("what was measured for it, as it was written then", 200),
        },
        "a figure that was worked out, not measured",
    ),
    0,
    10,
    "figures that were worked out, not measured",
)

ROW: dict[str, Field] = {
    "value": Figure("", "the figure, in mm where it is a length", 0),
    "u": Figure("", "its standard uncertainty", 0),
    "low": Figure("", "19 of 20 lie above this and"),
    "high": Figure("", "below this"),
}

FROM_LOG = Result(
    {
        "figures": Listing(
            Result(
                {
                    "from": Choice(FROM, "what would be worked out, and from what"),
                    "field": Words("the figure's field in the definition"),
                    "text": Words("what comes of it, in a sentence"),
                    "basis": Words("what the log has for it, in words", 200),
                    "typed": Listing(
                        Result(
                            {"path": Words("field of the question"), "typed": Words("what the log has for it, in SI")},
                            "a figure",
                        ),
                        1,
                        10,
                        "the question's figures, as a form takes them",
                    ),
                    "request": Typed(WORK_OUT_FORM, "the question whole, for `work_out`"),
                },
                "a figure that the log can say",
            ),
            0,
            5,
            "what says most first",
        ),
    },
    "figures that nobody measured and the log can say",
)

WORK_OUT = Result(
    {
        "field": Words("the figure's field in the definition"),
        "mm": Maybe(Result(ROW, "a depth or a height, in mm; empty for a friction")),
        "mu": Maybe(Result(ROW, "a friction; empty for a length")),
        "fill": Result(
            {"typed": Words("the figure, rounded"), "unit": Words("its unit; blank where it has none")},
            "the figure as its field takes it",
        ),
        "mark": Result(
            {
                "from": Choice(FROM, "what it was worked out from"),
                "basis": Words("what was measured for it, in words", 200),
                "value_mm": Sometimes(Figure("mm", "the figure as its field has it", 0), "it is a length"),
                "u_mm": Sometimes(Figure("mm", "its standard uncertainty", 0), "it is a length"),
                "value": Sometimes(Figure("", "the figure as its field has it", 0), "it is a friction"),
                "u": Sometimes(Figure("", "its standard uncertainty", 0), "it is a friction"),
            },
            "what the definition keeps of it, beside the figure",
        ),
        "text": Words("the figure and its band in a sentence"),
        "doubt": Listing(
            Result(
                {
                    "name": Words("short name"),
                    "meaning": Words("what it is"),
                    "share": Figure("", "its share of the variance", 0, 1),
                },
                "a part of the doubt",
            ),
            0,
            20,
            "what the doubt is made of, largest first",
        ),
        "warnings": concerns("what to know about it"),
    },
    "a figure that cannot be measured, worked out",
)

SO_FAR = Result(
    {
        "sections": Listing(
            Result(
                {
                    "name": Words("short name of the section"),
                    "field": Words("the first of its fields in the definition"),
                    "title": Words("what it is called"),
                    "known": YesNo("whether it is filled in"),
                    "gives": Words("what it gives, with what is known beside it"),
                },
                "a section of the definition",
            ),
            1,
            20,
            "every section, in the order in which they are usually got to know",
        ),
        "lacks": LACKS,
        "figures": Listing(
            Result(
                {
                    "name": Words("short name of the figure"),
                    "title": Words("what it is"),
                    "text": Words("the figure with its unit and its range"),
                },
                "a figure",
            ),
            0,
            20,
            "what it comes to with every part new, as far as it is known",
        ),
    },
    "a unit that is being taken in",
)

UNIT = Result(
    {
        "faces": Maybe(
            Result(
                {"first": Count("in the first pack"), "second": Count("in the second pack")},
                "sliding faces of each pack; empty without the stack",
            )
        ),
        "free_mm": Maybe(Figure("mm", "height of the whole stack before the cover is closed", 0)),
        "crush_mm": Maybe(Figure("mm", "how far the closed cover squeezes the stack; below 0 it is loose")),
        "deflection_mm": Maybe(Figure("mm", "how far each disc is squeezed", 0)),
        "travel": Maybe(TRAVEL),
        "preload_n": Maybe(Figure("n", "preload; empty unless stack, spring and depth are known", 0)),
        "radius_mm": Maybe(Figure("mm", "effective radius of the plates", 0)),
        "pack_nm": Maybe(
            Result(
                {"first": Figure("nm", "of the first pack", 0), "second": Figure("nm", "of the second pack", 0)},
                "torque of each pack; empty unless preload and friction are known",
            )
        ),
        "breakaway_nm": Maybe(Figure("nm", "breakaway torque, as order and limits are stated", 0)),
        "warm": WARM,
        "warnings": concerns(
            "what to know about the spring, where order and limits contradict each other, and what was worked out"
        ),
        "worked_out": WORKED_OUT,
        "checked": in_si(FORM, "the definition itself, in SI"),
    },
    "what a unit's definition comes to with every part new, as far as it is known",
)

# A pattern is shown as a unit of it would be.
PATTERN_FIELDS: dict[str, Field] = {"verdict": NOT_JUDGED}
PATTERN_FIELDS.update(UNIT.fields)
PATTERN = Result(PATTERN_FIELDS, "what a pattern comes to with every part new, as far as it is known")

ALIKE = Group(SHARED.copy(), "what units of a pattern share, as it was typed")
LIKE_FIELDS: dict[str, Field] = SHARED.copy()
LIKE_FIELDS["pattern"] = FORM.fields["pattern"]
NEW_UNIT = Typed(Group(LIKE_FIELDS, "a unit without its name"), "what a new unit starts with, as it would be typed")

EITHER_FIELDS: dict[str, Field] = {"name": Text(60, "its name", default="")}
EITHER_FIELDS.update({name: PATTERN_FORM.fields[name] for name in ("id", "gone")})
EITHER_FIELDS.update({name: FORM.fields[name] for name in ("owner", "customer_id", "car_id")})
EITHER_FIELDS.update(LIKE_FIELDS)

ANOTHER = Result(
    {
        "for_pattern": Typed(ALIKE, "the definition without what is the unit's own, as it was typed"),
        "for_unit": NEW_UNIT,
    },
    "what others take over of a unit",
)

OFFER = Result(
    {
        "offers": Listing(
            Result(
                {
                    "name": Words("its name"),
                    "label": Words("what it is about"),
                    "now": Words("what the unit has, in words"),
                    "offered": Words("what the pattern has, in words"),
                },
                "a change to decide on",
            ),
            0,
            1000,
            "what the pattern changed, where the unit has something else",
        ),
        "text": Words("how many they are; blank where there are none"),
        "body": Typed(
            Group(EITHER_FIELDS, "a unit's definition, or a pattern"),
            "the definition with what was accepted, as it would be typed",
        ),
    },
    "what a pattern offers to a unit",
)

AT_STEPS = Listing(
    Result({"step": Words("name of the step"), "text": Words("one sentence")}, "a sentence at a step"),
    0,
    20,
    "sentences for one procedure",
)

OF_ANY_UNIT: dict[str, Field] = {
    "lack": Maybe(LACK),
    "cautions": Listing(Words("one sentence"), 1, 20, "what to heed at this step"),
    "at_steps": Result(
        {"strip": AT_STEPS, "close": AT_STEPS}, "these figures as sentences, at the steps of strip and close"
    ),
}

CLOSING = Cases(
    "known",
    "whether the spring's force can be worked out",
    {
        True: Result(
            {
                "crush_mm": Figure("mm", "how far the closed cover squeezes the stack; below 0 it is loose"),
                "closes": YesNo("whether the cover can reach its seat"),
                "flush_n": Figure("n", "the spring's push at the closed cover", 0),
                "flush_kgf": Figure("kgf", "the same", 0),
                "closing_n": Maybe(
                    Figure(
                        "n",
                        "what a press pushes with to close it, against the discs' friction; empty where not given",
                        0,
                    )
                ),
                "opening_n": Maybe(
                    Figure("n", "what comes back at the press when it is opened; empty where not given", 0)
                ),
                "friction_text": Words("the same in words; blank where it is not given"),
                "start_mm": Maybe(Figure("mm", "gap under the cover when the screws first catch", 0)),
                "start_assumed": Maybe(
                    YesNo("whether that gap is only assumed, because the definition does not give it")
                ),
                "start_text": Maybe(Words("what the spring does then, and whether the gap is assumed")),
                "start_n": Maybe(Figure("n", "the spring's push when the screws first catch", 0)),
                "start_kgf": Maybe(Figure("kgf", "the same", 0)),
                "energy_j": Figure("j", "energy that the closed spring holds", 0),
                "vice_most_n": Figure("n", "largest push to expect on the way of a spring within its tolerance", 0),
                "vice_most_kgf": Figure("kgf", "the same", 0),
                "start_most_n": Maybe(Figure("n", "largest push to expect when the screws first catch", 0)),
                "energy_most_j": Figure("j", "largest energy to expect", 0),
                "rated_n": Figure("n", "what a vice or press for it is rated for", 0),
                "free_after_mm": Figure("mm", "opening of the vice after which even the tallest new spring is free", 0),
                "open_to_mm": Figure("mm", "opening at which the cover is tried by hand", 0),
                "lift_m": Figure("m", "how high the largest energy would throw a cover of 1 kg", 0),
                "per_screw_n": Maybe(Figure("n", "the spring's push on each screw at the closed cover", 0)),
                "screw_n": Maybe(Figure("n", "clamp of one screw", 0)),
                "clamp_left_n": Maybe(Figure("n", "clamp of all screws less the spring's push")),
                "clamp_left_kn": Maybe(Figure("kn", "the same")),
                "push_most_n": Maybe(
                    Figure("n", "the most that pushes the cover at the greatest torque; empty where not known", 0)
                ),
                "left_n": Maybe(Figure("n", "clamp of all screws less that; empty where it is not known")),
                "left_low_n": Maybe(Figure("n", "the same with the largest nut factor to expect")),
                "left_high_n": Maybe(Figure("n", "the same with the smallest nut factor to expect")),
                "clamp_text": Maybe(Words("what is left of the clamp, in two figures, and what it counts")),
                "warnings": concerns("what to know about the spring and the screws"),
                **OF_ANY_UNIT,
            },
            "forces; those at the cover are empty where its screws are not known",
        ),
        False: Result(OF_ANY_UNIT, "a unit whose spring, stack or depth is not known"),
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

USUAL_FEATURES = Result(
    {
        "parts": Listing(
            Result(
                {
                    "part": Choice(FEATURE_PARTS, "the part"),
                    "title": Words("what it is called"),
                    "features": in_si(features_field(), "its features, as a definition holds them"),
                },
                "what is usually inspected on a part",
            ),
            1,
            20,
            "parts, in the order in which a unit comes apart",
        )
    },
    "ready-made lists of features",
)
