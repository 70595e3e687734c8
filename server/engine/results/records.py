"""Results of the small kinds of entry, and of what the engine says about itself."""

from ..part_checks.plates import PLATES
from ..plan.pieces import SHELF as STOCK
from ..records.came_out import CAME_OUT, KEEP, SCRAP
from ..records.guided_steps import CLOSE, STRIP, Step
from ..records.kinds import BENCH, EITHER, KINDS, SHOP, TRACKSIDE, UNIT
from ..records.pieces import MAY_BE_BLANK
from ..records.planned import PLANNED_FORM
from ..records.rebuild import FITTED as FITTED_PARTS
from ..records.rebuild import REBUILD_FORM
from ..records.shelf_count import COUNTED
from ..request.fields import Choice, Field, Listing, YesNo
from .fields import Count, Figure, Mapping, Maybe, Result, Sometimes, Words
from .from_forms import in_si
from .shared import NOT_JUDGED, VERDICT
from .used import MADE

ABOUT = Result(
    {
        "version": Words("version of the engine"),
        "kinds": Mapping(
            Result(
                {
                    "version": Count("version of the body's form", 1),
                    "meaning": Words("what it is, in the user's words"),
                    "calculation": Choice(
                        {kind.calculation: f"for {kind.meaning}" for kind in KINDS.values()},
                        "the calculation that checks and judges its body",
                    ),
                    "nouns": Words("what several are called in a sentence"),
                    "about": Choice(
                        {UNIT: "a unit", SHOP: "the shop", EITHER: "one or the other"}, "what an entry of it is about"
                    ),
                    "area": Words("what it belongs to, as a sentence names all kinds that do"),
                    "writers": Listing(
                        Choice({TRACKSIDE: "at the track", BENCH: "at the bench"}, "a role"), 1, 2, "who may write it"
                    ),
                    "is_look": YesNo("whether whoever wrote it looked at the unit itself"),
                    "tables": Listing(
                        Listing(Words("name in the result, then heading"), 2, 2, "a table"),
                        0,
                        20,
                        "tables of judged parts in its result",
                    ),
                    "corrected_on": Words("name of the screen on which it is corrected; blank for none"),
                    "can_undo": YesNo("whether saving one can be undone, by a note that replaces it"),
                    "is_dated": YesNo("whether its body may name an earlier day on which it was done"),
                },
                "a kind of entry",
            ),
            "the kind's own name",
            "the kinds of entry that the engine judges",
        ),
        "verdicts": Listing(VERDICT, 4, 4, "the verdicts, from best to worst"),
        "permitted_percent": Mapping(
            Figure("percent", "largest permitted deviation, in percent of the reading", 0),
            "kind of wrench or scale",
            "how good a tool is where nothing better is known",
        ),
    },
    "what the engine says about itself",
)

UNITS = Mapping(
    Listing(
        Result(
            {
                "unit": Words("its name in requests"),
                "label": Words("how it is written"),
                "factor": Figure("", "its size in SI", 0),
                "places": Count("places after the point that sentences give"),
            },
            "a unit that may be typed",
        ),
        2,
        20,
        "units for one quantity, the SI unit first",
    ),
    "name of the SI unit",
    "every unit that can be chosen",
)


FIELD_NAME = Result(
    {"name": Words("what stands beside it on the screens, with its row and its section")}, "a field as people call it"
)

IN_WORDS = Result({"text": Words("the figure with its unit")}, "a figure in the reader's unit")


def step_texts(procedure: list[Step]) -> dict[str, str]:
    """The text of each step of a procedure, by the step's name."""
    return {step.name: step.text for step in procedure}


def steps_form(procedure: list[Step], meaning: str) -> Listing:
    """The form of the steps of one procedure."""
    step = Result(
        {
            "name": Choice(step_texts(procedure), "the step"),
            "text": Words("what to do"),
            "how": Listing(Words("one sentence"), 0, 10, "how it is done"),
            "cautions": Listing(Words("one sentence"), 0, 10, "what can hurt somebody at this step"),
            "holds": YesNo("whether a vice alone holds the spring once it is done"),
        },
        "a step",
    )
    return Listing(step, len(procedure), len(procedure), meaning)


STEPS = Result(
    {
        "guide": Count("the list of steps that this is"),
        "strip": steps_form(STRIP, "stripping a unit"),
        "close": steps_form(CLOSE, "closing a unit"),
    },
    "the steps of both procedures, in order",
)


def sign_off(procedure: list[Step], meaning: str) -> Result:
    """The result of one procedure's sign-off."""
    return Result(
        {
            "verdict": NOT_JUDGED,
            "complete": YesNo("whether every step was done"),
            "left": Listing(
                Choice(step_texts(procedure), "a step"), 0, len(procedure), "steps that were not done, in order"
            ),
            "held_by_vice": Sometimes(YesNo("whether a vice alone holds the spring"), "this engine judged it"),
            "signed": Words("who signed for it"),
        },
        meaning,
    )


STRIPPED = sign_off(STRIP, "a unit stripped")
CLOSED = sign_off(CLOSE, "a unit closed")

JUST_CHECKED = Result({"verdict": NOT_JUDGED}, "nothing beyond the request itself")


def as_given(form: Listing, meaning: str) -> Listing:
    """The form of checked rows without those of `MAY_BE_BLANK` that were left blank."""
    checked = in_si(form.of)
    assert isinstance(checked, Result)
    fields: dict[str, Field] = {
        name: Sometimes(field.of, "it was given") if name in MAY_BE_BLANK and isinstance(field, Maybe) else field
        for name, field in checked.in_order
    }
    return Listing(Result(fields, checked.meaning, checked.needed), form.least, form.most, meaning, nouns=form.nouns)


FITTED = as_given(FITTED_PARTS, FITTED_PARTS.meaning)
OUT = as_given(CAME_OUT, CAME_OUT.meaning)
FOR_SHELF = REBUILD_FORM.fields["shelf"]
assert isinstance(FOR_SHELF, Choice)
REBUILD = Result(
    {
        "verdict": NOT_JUDGED,
        "fitted": FITTED,
        "came_out": Sometimes(OUT, "something came out"),
        "trials": MADE,
        "shelf": Sometimes(Choice(FOR_SHELF.options, FOR_SHELF.meaning), "it was said"),
    },
    "what a rebuild fitted and what came out, in SI",
    needed=("fitted",),
)

CAME_OUT_STARTS = Result(
    {
        "plates": Listing(
            Result(
                {
                    "slot": Words("place that it comes out of"),
                    "part": Choice(PLATES, "what kind of plate"),
                    "start": Maybe(
                        Choice(
                            {KEEP: "its last check found it within its limit", SCRAP: "that found it worn"},
                            "where it may go; empty where the builder has to say",
                        )
                    ),
                    "why": Words("why, in words"),
                    "name": Words("a name for its bag that nothing on the shelf has"),
                    "mm": Maybe(Figure("mm", "its mean thickness; empty where it was not measured", 0)),
                    "lowest_mm": Maybe(Figure("mm", "its lowest point", 0)),
                    "within_mm": Maybe(Figure("mm", "how far off its thickness may be", 0)),
                    "minimum_mm": Maybe(Figure("mm", "its own limit; empty where that is its class's", 0)),
                    "new_mm": Figure("mm", "its thickness when new", 0),
                    "family": Maybe(Words("plate family")),
                },
                "a plate that comes out",
            ),
            0,
            100,
            "every plate whose place another part goes into",
        )
    },
    "where plates that come out may go",
)

PLANNED_PARTS = PLANNED_FORM.fields["fitted"]
assert isinstance(PLANNED_PARTS, Listing)
TO_FIT = as_given(PLANNED_PARTS, PLANNED_PARTS.meaning)
PLANNED_TAKEN = Result(
    {
        "verdict": NOT_JUDGED,
        "fitted": TO_FIT,
        "torque_nm": Maybe(Figure("nm", "breakaway torque that it gives", 0)),
        "wanted_nm": Maybe(Figure("nm", "breakaway torque that is wanted", 0)),
    },
    "a plan that was taken, in SI",
    needed=("fitted",),
)

PIECES = as_given(STOCK, STOCK.meaning)
SHELF_LESS = Result(
    {
        "taken": Count("how many pieces came off it"),
        "pieces": PIECES,
        "known": Listing(
            Result(
                {
                    "minimum_mm": Maybe(Figure("mm", "limit of the piece or its class; empty where it has none", 0)),
                    "within_mm": Maybe(Figure("mm", "how far off its thickness may be", 0)),
                    "family": Maybe(Words("its plate family")),
                },
                "what the shelf says about a piece; all empty for a piece that is not on it",
            ),
            0,
            80,
            "for every piece that was fitted, in order",
        ),
    },
    "a shelf without what was fitted",
)

COUNTED_PIECES = as_given(COUNTED, COUNTED.meaning)
SHELF = Result(
    {
        "verdict": NOT_JUDGED,
        "pieces": COUNTED_PIECES,
        "only_these": Sometimes(YesNo("whether only these rows were counted"), "that was said"),
    },
    "the shelf as it was counted, in SI",
    needed=("pieces",),
)
