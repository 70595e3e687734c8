"""Results of torque checks."""

from ..request.fields import Choice, Listing, YesNo
from ..request.units import unit_labels
from ..torque_check.form import FORWARD, REVERSE
from ..torque_check.lead import NEXT
from ..unit.held import CASE_HELD, ONE_OUTPUT_HELD
from .fields import Count, Figure, Maybe, Result, Sometimes, Words
from .shared import FINDINGS, REASON, TEXT, VERDICT, concerns

DIRECTION = Result(
    {
        "mean_nm": Figure("nm", "mean of this direction's readings"),
        "scatter_nm": Figure("nm", "standard deviation of a single reading", 0),
        "count": Count("how many readings", 2),
        "readings_nm": Listing(Figure("nm", "one reading"), 2, 50, "the readings as stated torque"),
    },
    "one direction of turning",
)

PART_OF_DOUBT = Result(
    {
        "name": Words("short name of what may be off"),
        "meaning": Words("what it is"),
        "u_nm": Figure("nm", "its standard uncertainty", 0),
        "share": Figure("", "its share of the variance", 0, 1),
    },
    "one part of the doubt",
)

HELP = Result(
    {
        "name": Words("short name of what would help"),
        "guard_nm": Figure("nm", "guard band that it would leave", 0),
        "decides": YesNo("whether that would decide at this value"),
        "text": Words("what to do, and what it would bring"),
    },
    "something that would make the reading better",
)

# Units that a torque or a force may be read in.
SCALES = unit_labels("nm") | unit_labels("n")

BREAKAWAY = Result(
    {
        "verdict": VERDICT,
        "next": Sometimes(
            Result({"name": Choice(NEXT, "what comes next"), "text": Words("as a key says it")}, "what comes next"),
            "this engine judged it",
        ),
        "perhaps_in": Sometimes(
            Maybe(Choice(SCALES, "unit that the figures were perhaps read in")), "this engine judged it"
        ),
        "reason": REASON,
        "why": Sometimes(Words("how the torque lies to its limits, with the guard band"), "this engine judged it"),
        "value_nm": Figure("nm", "mean of both directions, as the limits are stated"),
        "u_nm": Figure("nm", "its standard uncertainty", 0),
        "dof": Maybe(Figure("", "its effective degrees of freedom; empty where they are infinite", 1)),
        "expanded_nm": Figure("nm", "its expanded uncertainty, two-sided 95 %", 0),
        "guard_nm": Figure("nm", "guard band at the nearest limit, one-sided 95 %", 0),
        "low_nm": Maybe(Figure("nm", "lowest torque allowed", 0)),
        "high_nm": Maybe(Figure("nm", "highest torque allowed", 0)),
        "guard_low_nm": Maybe(Figure("nm", "guard band at the lowest torque allowed", 0)),
        "guard_high_nm": Maybe(Figure("nm", "guard band at the highest torque allowed", 0)),
        "directions": Result({FORWARD: DIRECTION, REVERSE: Maybe(DIRECTION)}, "each direction of turning on its own"),
        "felt": Result(
            {
                ONE_OUTPUT_HELD + "_nm": Figure("nm", "with one output held and the case free"),
                CASE_HELD + "_nm": Maybe(
                    Figure("nm", "with the case held and the other output free; empty where that is not known")
                ),
            },
            "what a wrench would feel either way",
        ),
        "budget": Listing(PART_OF_DOUBT, 1, 20, "what the doubt is made of, largest first"),
        "findings": FINDINGS,
        "marked": Listing(Words("field of a reading"), 0, 100, "readings that are in question"),
        "helps": Listing(HELP, 0, 20, "what would help a check that cannot say, best first"),
    },
    "a breakaway torque check as it was judged",
    needed=("verdict",),
)

COMPARE = Result(
    {
        "change_nm": Figure("nm", "later torque less the earlier one"),
        "change_percent": Figure("percent", "the same, of the earlier one", -100),
        "expanded_nm": Figure("nm", "expanded uncertainty of the change, 95 %", 0),
        "certain": YesNo("whether the change is more than its doubt"),
        "marks": concerns("in what the two checks were not alike"),
        "alike": YesNo("whether they were taken alike"),
        "same_tool": YesNo("whether they share their tool, so that what it may be off by cancels"),
        "text": TEXT,
    },
    "two torque checks side by side",
)
