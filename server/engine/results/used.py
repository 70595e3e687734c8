"""Results of what a unit was used: outings, service, and what is due by them."""

from ..history.upkeep import DAYS, HOURS, OUTINGS, TASKS
from ..records.outing import CORNERS, FELT, FORM, HELPED, WHEN
from ..request.fields import Choice, Group, Listing, YesNo
from .fields import Count, Figure, Maybe, Result, Sometimes, Typed, Words
from .shared import NOT_JUDGED, TEXT

COMPLAINT = Result(
    {
        "what": Choice(FELT, "what was felt"),
        "when": Maybe(Choice(WHEN, "when; empty for at any time")),
        "corners": Maybe(Choice(CORNERS, "where; empty for everywhere")),
        "text": TEXT,
    },
    "a complaint",
)

OUTING = Result(
    {
        "verdict": NOT_JUDGED,
        "text": Words("the outing in one line; blank where only that it ran is known"),
        "felt": Listing(COMPLAINT, 0, 12, "what the driver felt"),
        "hours": Maybe(Figure("", "hours that it ran", 0)),
        "km": Maybe(Figure("", "kilometres that it ran", 0)),
        "helped": Sometimes(
            Listing(
                Result(
                    {"trial": Words("id of the change"), "answer": Choice(HELPED, "whether it helped")}, "an answer"
                ),
                1,
                12,
                "whether changes that were made helped",
            ),
            "it was answered",
        ),
    },
    "an outing",
    needed=("hours",),
)

MADE = Sometimes(Listing(Words("id of a change"), 1, 12, "changes to try that were made with it"), "it says so")

SERVICE = Result({"verdict": NOT_JUDGED, "text": Words("what was done, in one line"), "trials": MADE}, "service done")

USED = Result(
    {
        "outings": Maybe(Count("outings since the rebuild; empty where nothing tells")),
        "logged": Count("those that were logged"),
        "unlogged": Count("those that only torque checks tell of"),
        "hours": Figure("", "hours that were logged", 0),
        "km": Figure("", "kilometres that were logged", 0),
        "every_hour": YesNo("whether each outing that is counted says how long it was"),
        "text": Words("the same in words; blank where nothing was logged"),
        "contradictions": Listing(
            Result({"id": Words("the check's own id"), "text": TEXT}, "a check that says fewer outings"),
            0,
            100000,
            "checks that contradict what was logged",
        ),
    },
    "what it was used since the rebuild",
)

MEASURES = {OUTINGS: "outings", HOURS: "hours of running", DAYS: "days"}

UPKEEP = Listing(
    Result(
        {
            "name": Choice(TASKS, "what is to be done"),
            "since": Words("day on which it was done last"),
            "measures": Listing(
                Result(
                    {
                        "measure": Choice(MEASURES, "what is counted"),
                        "every": Figure("", "how many are allowed", 0),
                        "used": Figure("", "how many there were since"),
                        "left": Figure("", "how many are left; below 0 where it is over"),
                    },
                    "an interval",
                ),
                1,
                3,
                "the intervals that it has",
            ),
            "first": Choice(MEASURES, "the interval that is used up furthest"),
            "due": YesNo("whether it is due"),
            "due_on": Maybe(Words("last day by the calendar; empty where no days are given")),
            "text": TEXT,
        },
        "a task at intervals",
    ),
    0,
    len(TASKS),
    "what is done at intervals, as far as the unit's definition gives any",
)

LIKE = Group({name: FORM.fields[name] for name in ("where", "minutes", "km", "conditions")})

LAST_OUTING = Result(
    {
        "id": Words("the entry's own id"),
        "like": Typed(LIKE, "what another like it begins with, as it was typed"),
    },
    "the outing that was logged last",
)
