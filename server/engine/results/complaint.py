"""Results of a complaint: the figure behind it, and ways to change that."""

from ..complaint.figures import FIGURES
from ..complaint.places import PLACES
from ..complaint.sought import MATCH
from ..complaint.way_rows import HELPS, WORSENS
from ..drive.candidates import FITTED
from ..records.outing import CORNERS, FELT, WHEN
from ..records.trial import LEVERS
from ..request.fields import Choice, Listing, YesNo
from .fields import Count, Figure, Maybe, Result, Words
from .shared import NOT_JUDGED, TEXT

FIGURE = Choice(FIGURES, "which figure")
PLACE = Choice(PLACES, "where")

LOOKED_AT = Result(
    {
        "figure": FIGURE,
        "place": PLACE,
        "radius_m": Figure("m", "radius of the corner", 0),
        "value": Figure("", "the figure in its own unit, N, N·m or a share, most likely", 0),
        "low": Figure("", "the least that it may be", 0),
        "high": Figure("", "the most that it may be", 0),
        "limit": Maybe(Figure("", "what it is held against; empty where that is not known", 0)),
        "target": Maybe(Figure("", "what it should come to; empty where it is not there", 0)),
        "match": Choice(MATCH, "whether it is there"),
        "text": TEXT,
    },
    "a figure that was looked at",
)

WAY = Result(
    {
        "lever": Choice(LEVERS, "what is changed"),
        "name": Words("the change in a few words"),
        "pair": Words("the other pair of ramps; blank for none"),
        "fitted": Choice(FITTED, "how the rings are fitted"),
        "drive_deg": Maybe(Figure("deg", "drive ramp; empty where it stays", 0, 90)),
        "coast_deg": Maybe(Figure("deg", "coast ramp; empty where it stays", 0, 90)),
        "faces": Maybe(Count("sliding faces; empty where they stay", 2)),
        "torque_nm": Maybe(Figure("nm", "breakaway torque to order; empty where it stays", 0)),
        "breakaway_nm": Maybe(Figure("nm", "breakaway torque that it comes to; empty where nothing is computed", 0)),
        "value": Maybe(Figure("", "the figure with it, most likely", 0)),
        "low": Maybe(Figure("", "the least that it may be", 0)),
        "high": Maybe(Figure("", "the most that it may be", 0)),
        "reaches": YesNo("whether it is as far as the target"),
        "text": Words("the figure before and after"),
        "elsewhere": Listing(
            Result(
                {
                    "figure": FIGURE,
                    "place": PLACE,
                    "before": Figure("", "in its own unit", 0),
                    "after": Figure("", "in its own unit", 0),
                    "worse": YesNo("whether that is worse"),
                    "text": TEXT,
                },
                "a figure that changes besides",
            ),
            0,
            9,
            "what it costs elsewhere",
        ),
        "together": Listing(TEXT, 0, 2, "corners where both wheels let go together now, or no longer"),
        "others": Listing(
            Result(
                {
                    "felt": Words("the complaint"),
                    "effect": Choice({HELPS: "helps", WORSENS: "makes it worse"}, "what it does to it"),
                    "text": TEXT,
                },
                "another complaint",
            ),
            0,
            11,
            "other complaints that it changes",
        ),
        "warnings": Listing(TEXT, 0, 3, "what to mind"),
    },
    "a way to change it",
)

COMPLAINT = Result(
    {
        "complaints": Listing(
            Result(
                {
                    "what": Choice(FELT, "what was felt"),
                    "when": Maybe(Choice(WHEN, "when; empty for at any time")),
                    "corners": Maybe(Choice(CORNERS, "where; empty for everywhere")),
                    "felt": Words("the same in words"),
                    "match": Choice(MATCH, "whether something computed answers to it"),
                    "text": TEXT,
                    "figures": Listing(LOOKED_AT, 0, 4, "every figure that was looked at"),
                    "best": Maybe(Count("number of the figure that answers, from 0; empty where none does")),
                    "ways": Listing(WAY, 0, 40, "ways to change it, those that go far enough first"),
                },
                "a complaint",
            ),
            1,
            12,
            "each complaint that was given",
        ),
        "conflicts": Listing(TEXT, 0, 66, "complaints that want the opposite of one lock"),
        "lacks": Words("why nothing of the unit is worked out; blank where it is"),
        "rests_on": Words("what it rests on"),
        "caution": Words("what to mind"),
    },
    "from complaint to change",
)

TRIAL = Result(
    {
        "verdict": NOT_JUDGED,
        "change": Words("what is changed"),
        "felt": Words("what it is for; blank for no complaint"),
        "torque_nm": Maybe(Figure("nm", "breakaway torque that is to be ordered; empty for another change", 0)),
    },
    "a change to try",
)
