"""Results of changes to try, and of what was felt of a unit."""

from ..history.trials import STATES
from ..records.outing import CONDITIONS, HELPED
from ..records.trial import LEVERS
from ..request.fields import Choice, Listing, YesNo
from .fields import Count, Figure, Maybe, Result, Words
from .shared import TEXT
from .used import COMPLAINT

ID = Words("the entry's own id")
AT = Words("when it was entered, by the device's clock")

TRIAL_NOW = Result(
    {
        "id": ID,
        "at": AT,
        "who": Words("who chose it"),
        "lever": Choice(LEVERS, "what is changed"),
        "pair": Words("name of the pair of ramps; blank for another change"),
        "torque_nm": Maybe(Figure("nm", "breakaway torque to order; empty for another change", 0)),
        "drive_deg": Maybe(Figure("deg", "drive ramp; empty for another change", 0, 90)),
        "coast_deg": Maybe(Figure("deg", "coast ramp; empty for another change", 0, 90)),
        "faces": Maybe(Count("sliding faces; empty for another change", 2)),
        "change": Words("the same in words"),
        "felt": Words("the complaint that it is for; blank for none"),
        "outing": Words("id of the outing at which that was felt; blank for none"),
        "reason": Words("why"),
        "state": Choice(STATES, "how it is about it"),
        "asks": YesNo("whether the next outing asks if it helped"),
        "made": Maybe(Result({"id": ID, "at": AT}, "the rebuild or service with which it was made; empty until then")),
        "outings": Count("outings since it was made"),
        "answers": Listing(
            Result({"id": ID, "at": AT, "answer": Choice(HELPED, "whether it helped"), "text": TEXT}, "an answer"),
            0,
            100000,
            "what was said of it, by outing",
        ),
        "stays": YesNo("whether it belongs on the unit's page"),
        "defined": YesNo("whether the unit's definition has it too"),
        "text": TEXT,
        "notes": Listing(TEXT, 0, 3, "what to know of it"),
    },
    "a change to try",
)

FELT_NOW = Result(
    {
        "id": ID,
        "at": AT,
        "felt": Listing(COMPLAINT, 1, 12, "what was felt"),
        "conditions": Maybe(Choice(CONDITIONS, "what it ran on; empty where that is not known")),
        "rebuilt": Maybe(Words("when the unit was rebuilt since; empty where it was not")),
    },
    "an outing at which something was felt",
)
