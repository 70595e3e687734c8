"""Results about two torque checks, those to come and a strip: what changed, will be met, and was found."""

from ..history.job import STEPS
from ..history.since_rebuild import USES
from ..history.strip_found import STATES
from ..request.fields import Choice, Listing, YesNo
from .experience import WEAR
from .fields import Count, Figure, Maybe, Result, Words
from .history import AT, FRESH, ID
from .shared import TEXT, VERDICT
from .torque_check import COMPARE
from .wear import LIFE, LOSS

CHANGE = Result(
    {
        "checks": Listing(
            Result(
                {"id": ID, "at": AT, "value_nm": Figure("nm", "the torque that was shown")},
                "a torque check",
            ),
            0,
            100000,
            "every torque check that stands, by time",
        ),
        "comparable": YesNo("whether there are two checks or more"),
        "before": Maybe(Words("id of the earlier check that is compared")),
        "now": Maybe(Words("id of the later one")),
        "unmeasured": Listing(
            Choice({"plates": "the plates", "spring": "the spring"}, "a part"),
            0,
            2,
            "what was not measured between the two",
        ),
        "logged": Listing(
            Result(
                {"name": Choice({"oil": "oil filled in", "heat": "hot oil"}, "what it is about"), "text": TEXT},
                "a line",
            ),
            0,
            100000,
            "what changes friction and was logged between the two",
        ),
        "loss": Maybe(LOSS),
        "compared": Maybe(COMPARE),
        "fault": Words("why nothing is shared out; blank where it is"),
        "fault_field": Words("the field at fault; blank where there is none"),
    },
    "what changed between two torque checks",
)

STRIP_FOUND = Result(
    {
        "stripped": Maybe(Words("when the last strip was signed")),
        "open": YesNo("whether the unit is still in parts"),
        "parts": Listing(
            Result(
                {
                    "name": Words("place in the stack, or name of the part"),
                    "what": Words("what it is"),
                    "step": Choice(STEPS, "the step that measures it"),
                    "state": Choice(STATES, "how it was found"),
                    "text": TEXT,
                    "lowest_mm": Maybe(Figure("mm", "lowest of what was measured")),
                    "id": Maybe(ID),
                    "answer": Words("what was done about it; blank where nothing was"),
                    "asks": YesNo("whether it is bad and nobody said what becomes of it"),
                },
                "a part",
            ),
            0,
            1000,
            "every place and every other part, in the order in which they come out",
        ),
        "order": Listing(
            Result(
                {
                    "what": Words("the part"),
                    "count": Count("how many"),
                    "names": Listing(Words("where it sits"), 1, 1000, "places"),
                },
                "a part to order",
            ),
            0,
            1000,
            "worn parts that were not exchanged yet",
        ),
        "verdict": Maybe(VERDICT),
        "text": TEXT,
    },
    "what a strip found",
)

OUTLOOK = Result(
    {
        "life": Maybe(LIFE),
        "wear": WEAR,
        "why": Words("why there is no prediction; blank where there is"),
        "uses": Listing(Choice(USES, "what use is counted in"), 0, 2, "those that checks enough say"),
        "checks": Listing(
            Result(
                {
                    "use": Figure("", "outings or hours since the rebuild, as they were asked for", 0),
                    "value_nm": Figure("nm", "the torque that was shown"),
                    "guard_nm": Maybe(Figure("nm", "the guard band that was shown")),
                    "fresh": FRESH,
                    "counts": YesNo("whether the line goes by it"),
                },
                "a torque check",
            ),
            0,
            500,
            "the checks, by use; none where there is no prediction",
        ),
    },
    "when the torque will meet a limit",
)
