"""Results about marked parts: where each was in a unit, and its life through all units."""

from ..history.marked_parts import WHERE
from ..records.marked_exchange import EXCHANGED, OUT_TO
from ..request.fields import Choice, Group, Listing, YesNo
from ..unit.marked_parts import MARKED, MOST_MARKED
from .fields import Count, Figure, Maybe, Result, Typed, Words
from .shared import REASON, TEXT, VERDICT

ID = Words("the entry's own id")
AT = Words("when it was entered, by the device's clock")

assert isinstance(EXCHANGED.of, Group)
FOUND_FORM = EXCHANGED.of.fields["found"]
assert isinstance(FOUND_FORM, Listing)
BROUGHT = Listing(Typed(FOUND_FORM.of, "as a rebuild has it"), 0, FOUND_FORM.most, "what was found of it elsewhere")  # type: ignore[arg-type]

PART = Choice(MARKED, "what it is")
PLACE = Words("its place in the unit; blank where it has no name")
MARK = Words("the mark on it")
KEY = Words("the mark as it is compared")
NAME = Words("feature that was inspected; blank for a part of the stack")
FROM_AT = Maybe(Words("when it went in; empty where it was there when the unit was added"))
TO_AT = Maybe(Words("when it came out; empty while it is in the unit"))
TO = Maybe(Choice(OUT_TO, "where it went; empty where that was not said"))
OUTINGS = Maybe(Count("outings; empty where nothing tells of any"))
HOURS = Figure("", "hours that were logged", 0)
USES = Maybe(Count("how often screws were tightened; empty where that is not counted"))

FOUND = {
    "name": NAME,
    "verdict": Maybe(VERDICT),
    "reason": REASON,
    "at": AT,
    "id": ID,
}

STAY = Result(
    {
        "part": PART,
        "place": PLACE,
        "mark": MARK,
        "key": KEY,
        "from_at": FROM_AT,
        "from_s": Maybe(Figure("", "the same in seconds since 1970")),
        "from_id": Maybe(ID),
        "to_at": TO_AT,
        "to_s": Maybe(Figure("", "the same in seconds since 1970")),
        "to_id": Maybe(ID),
        "to": TO,
        "says": Words("that the log contradicts itself here; blank where it does not"),
        "outings": OUTINGS,
        "hours": HOURS,
        "untimed": Count("outings that are counted without their hours"),
        "untold": Count("builds that say nothing of outings"),
        "uses": USES,
        "uses_before": Count("how many of these were before it went in, as was typed"),
        "found": Listing(
            Result(
                {
                    **FOUND,
                    "at_s": Figure("", "the same in seconds since 1970"),
                    "stands": YesNo("whether it is what was found last"),
                },
                "what was found of it",
            ),
            0,
            100000,
            "what was found of it here, by time",
        ),
        "brought": BROUGHT,
    },
    "a marked part in a unit, from when to when",
)

MARKED_NOW = Result(
    {
        "stays": Listing(STAY, 0, 100000, "every stay of a marked part"),
        "brought": Listing(
            Result(
                {
                    "part": PART,
                    "place": PLACE,
                    "mark": MARK,
                    "name": NAME,
                    "verdict": VERDICT,
                    "reason": REASON,
                    "at": Maybe(AT),
                    "id": Maybe(ID),
                },
                "what was found of a part before it came into the unit",
            ),
            0,
            100000,
            "what was found elsewhere of parts that are in it, and not looked at here since",
        ),
    },
    "marked parts that are or were in the unit",
)

MARKED_PART = Result(
    {
        "part": PART,
        "mark": MARK,
        "key": KEY,
        "name": Words("what it is called"),
        "where": Choice(WHERE, "where it is"),
        "unit": Maybe(Words("id of the unit that it is in; empty outside one")),
        "unit_name": Words("what that is called"),
        "place": PLACE,
        "since": Maybe(Words("since when; empty where that is not known")),
        "text": TEXT,
        "outings": OUTINGS,
        "hours": HOURS,
        "exact": YesNo("whether nothing of these is missing"),
        "uses": USES,
        "used": Words("the same in words"),
        "verdict": Maybe(VERDICT),
        "reason": REASON,
        "found_in": Words("unit in which that was found; blank where nothing was judged"),
        "found_at": Maybe(AT),
        "says": Listing(TEXT, 0, 100000, "where the log contradicts itself"),
        "for_rebuild": Result(
            {"uses": USES, "found": BROUGHT},
            "what a rebuild that puts it in takes along",
        ),
        "stays": Listing(
            Result(
                {
                    "unit": Words("the unit's own id"),
                    "unit_name": Words("what it is called"),
                    "place": PLACE,
                    "from_at": FROM_AT,
                    "from_id": Maybe(ID),
                    "to_at": TO_AT,
                    "to_id": Maybe(ID),
                    "to": TO,
                    "text": TEXT,
                    "used": Words("what it ran there, in words"),
                    "found": Listing(
                        Result(FOUND, "what was found of it"), 0, 100000, "what was found of it there, the newest first"
                    ),
                },
                "a stay in a unit",
            ),
            1,
            100000,
            "where it was, the newest first",
        ),
    },
    "a marked part",
)

MARKED_PARTS = Result(
    {
        "parts": Listing(MARKED_PART, 0, 100000, "every marked part"),
        "asked": Listing(
            Result({"key": Maybe(KEY)}, "a mark that was looked up"),
            0,
            MOST_MARKED,
            "the part of each mark that was looked up, in order; empty where nobody has heard of it",
        ),
    },
    "the marked parts of all units",
)
