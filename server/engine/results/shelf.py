"""Results about the shelf: counts and moves as the history tells them, and what they come to."""

from ..history.shelf_words import STEPS
from ..part_checks.plates import PLATES
from ..plan.pieces import SHELF as STOCK
from ..request.fields import Choice, Field, Listing, YesNo
from .fields import Count, Figure, Maybe, Result, Words
from .from_forms import as_stored
from .records import COUNTED_PIECES, OUT, TO_FIT, as_given

ID = Words("the entry's own id")
NAME = Words("what the piece or the class is called", 80)
PART = Choice(PLATES, "what kind of plate")

MOMENT: dict[str, Field] = {
    "id": ID,
    "first": Words("id of the entry that it corrects, or its own"),
    "at": Words("when it was entered, by the device's clock put right"),
    "who": Words("who entered it"),
    "at_s": Figure("", "when it was most likely made, seconds since 1970"),
    "first_s": Maybe(Figure("", "the earliest that it can have been made; empty where nobody knows")),
    "last_s": Maybe(Figure("", "the latest that it can have been made; empty where nobody knows")),
    "old": YesNo("whether an older Slipbook wrote it"),
    "knew": Listing(ID, 0, 100000, "entries that it knew, as far as they concern the shelf"),
    "elsewhere": Listing(ID, 0, 100000, "those that it names itself and that are not of its own unit, or of the shop"),
}

COUNT = Result(
    {
        **MOMENT,
        "pieces": as_stored(COUNTED_PIECES),
        "only_these": YesNo("whether the other rows are as they were"),
    },
    "a count of the shelf that stands",
)

MOVE = Result(
    {
        **MOMENT,
        "taken": Listing(
            Result(
                {
                    "name": NAME,
                    "slot": Words("place that it was fitted in"),
                    "part": Maybe(Choice({**PLATES, "ring": "a ramp ring"}, "what sits in that place")),
                    "mm": Figure("mm", "its thickness", 0),
                },
                "a plate that came off the shelf",
            ),
            0,
            80,
            "what came off the shelf",
        ),
        "kept": as_stored(as_given(OUT, "what went onto the shelf")),
    },
    "what a rebuild means for the shelf",
)

PLAN_TAKEN = Result({**MOMENT, "fitted": as_stored(TO_FIT)}, "a plan that was taken, and not rebuilt since")

FOR_SHELF = Result(
    {
        "moves": Listing(MOVE, 0, 100000, "what its rebuilds took from the shelf and put onto it, by time"),
        "plan": Maybe(PLAN_TAKEN),
    },
    "what the unit means for the shelf",
)

SAYS = Words("one sentence")

ROW = Result(
    {
        "name": NAME,
        "part": Maybe(PART),
        "mm": Figure("mm", "thickness", 0),
        "count": Count("how many there are now"),
        "wanted": Count("how many of it plans that were taken mean to fit"),
        "free": Count("how many those leave"),
        "to_buy": Count("how many have to be bought for the plans and the lowest stock; 0 for a piece that has run"),
        "lowest_stock": Maybe(Count("lowest stock that somebody set")),
        "short": Count("how many more were fitted than there were: the shelf disagrees"),
        "is_low": YesNo("whether fewer are there than plans and the lowest stock ask for"),
        "used": YesNo("whether it is a piece that has run"),
        "within_mm": Maybe(Figure("mm", "how far off one may be", 0)),
        "minimum_mm": Figure("mm", "limit: its own, its class's, or that of common practice", 0),
        "usual_minimum": YesNo("whether that limit is only common practice"),
        "lowest_mm": Maybe(Figure("mm", "its lowest point, which its limit judges", 0)),
        "new_mm": Maybe(Figure("mm", "thickness when new, of a piece that has run", 0)),
        "family": Maybe(Words("plate family")),
        "counted_at": Maybe(Words("when it was counted last; empty where it never was")),
        "counted_by": Words("who counted it"),
        "counted_in": Maybe(Words("id of that count; empty where it has no row for it")),
        "wanted_by": Listing(
            Result(
                {
                    "unit": Words("the unit's own id"),
                    "name": Words("what the unit is called"),
                    "count": Count("how many", 1),
                },
                "a unit whose plan wants it",
            ),
            0,
            100000,
            "which plans want it",
        ),
        "says": Listing(SAYS, 0, 20, "where the number disagrees or is in doubt, and what is lacking"),
        "trail": Listing(
            Result(
                {
                    "at": Words("when"),
                    "who": Words("who entered it"),
                    "id": ID,
                    "unit": Words("the unit's own id; blank for a count"),
                    "step": Choice(STEPS, "what it was"),
                    "change": Maybe(Figure("", "how many plates it put or took; empty for a count")),
                    "left": Maybe(
                        Figure("", "how many there were then; below 0 where more were fitted than there were")
                    ),
                    "text": Words("the same in words"),
                },
                "where a number comes from",
            ),
            0,
            100,
            "where the number comes from, the newest first",
        ),
    },
    "a class or a piece on the shelf",
)

SHELF_NOW = Result(
    {
        "rows": Listing(ROW, 0, 100000, "every class and piece, by kind of plate, classes before pieces that have run"),
        "count": Count("how many plates and shims there are in all"),
        "reserved": Count("how many of them plans want"),
        "to_buy": Listing(
            Result(
                {
                    "name": NAME,
                    "part": Maybe(PART),
                    "mm": Figure("mm", "thickness", 0),
                    "count": Count("how many", 1),
                    "text": Words("the same in words, with what they are for"),
                },
                "a class to buy",
            ),
            0,
            100000,
            "the buying list of all plans and lowest stocks",
        ),
        "says": Listing(SAYS, 0, 100000, "what to know of the shelf as a whole"),
        "disagrees": YesNo("whether any number cannot be, or nobody can tell it"),
        "pieces": as_given(STOCK, "what a plan for that unit may use"),
        "pieces_text": Words("what of the shelf is not among it; blank where all is"),
        "entry": Maybe(Words("id of the count of the whole shelf that stands")),
        "knows": Result(
            {
                "counts": Listing(ID, 0, 50, "counts that a rebuild or a plan names as known"),
                "moves": Listing(ID, 0, 50, "rebuilds that a count names as known"),
            },
            "what an entry that is written now names of the other book",
        ),
    },
    "the shelf that stands",
)
