"""Results from a unit's entries and readings: what stands, where the preload went, and when wear meets a limit."""

from ..history.loss import FRICTION, PLATES, SPRING
from ..records.kit import KIT_FORM, TOOLS
from ..request.fields import Choice, Field, Listing, YesNo
from ..unit.definition import FORM
from .fields import Cases, Count, Either, Figure, Mapping, Maybe, Result, Sometimes, Typed, Words
from .from_forms import as_stored
from .records import PIECES
from .shared import FINDING, REASON, TEXT, VERDICT, concerns
from .unit import TRAVEL, UNIT

CAUSE = Choice(
    {PLATES: "plates and rings", SPRING: "the spring has set, or is another", FRICTION: "friction of the plates"},
    "what changes the torque",
)

SHARE = Result(
    {
        "cause": CAUSE,
        "share_log": Figure("", "its part of the change, on the natural logarithm"),
        "u_log": Figure("", "standard uncertainty of that", 0),
        "share": Maybe(Figure("", "its part of the change; empty where there is no change")),
        "percent": Figure("percent", "what it does to the torque on its own", -100),
        "certain": YesNo("whether it is more than its doubt"),
        "text": TEXT,
    },
    "what one cause does",
)

STATE = Result(
    {
        "torque_nm": Figure("nm", "breakaway torque", 0),
        "crush_mm": Figure("mm", "how far the closed cover squeezes the stack", 0),
        "travel": TRAVEL,
        "preload_n": Figure("n", "preload", 0),
        "mu": Figure("", "friction that the torque comes to", 0),
    },
    "the unit at one time",
)

LOSS = Result(
    {
        "change_percent": Figure("percent", "change of the torque", -100),
        "change_log": Figure("", "the same on the natural logarithm"),
        "u_log": Figure("", "standard uncertainty of that", 0),
        "certain": YesNo("whether it is more than its doubt"),
        "shares": Listing(SHARE, 3, 3, "what each cause does"),
        "cause": Maybe(CAUSE),
        "text": TEXT,
        "before": STATE,
        "now": STATE,
        "warnings": concerns("what to know about friction"),
    },
    "where the preload went",
)

MEETS = Result(
    {
        "limit": Choice(
            {
                "low_nm": "lowest torque allowed",
                "high_nm": "highest torque allowed",
                "minimum_mm": "thickness at which a plate has to be replaced",
            },
            "which limit",
        ),
        "at": Figure("", "the limit as it was given, N·m or mm", 0),
        "value": Figure("", "the limit in the unit of the readings", 0),
        "likely_use": Maybe(Figure("", "use at which the line meets it; empty where that is out of sight", 0)),
        "earliest_use": Maybe(Figure("", "use from which a reading past it has a chance of 5 % or more", 0)),
    },
    "when one limit is met",
)

COUNT: Field = Count("how many readings there are")

LIFE = Cases(
    "enough",
    "whether there are readings enough for a trend",
    {
        True: Result(
            {
                "count": COUNT,
                "slope": Figure("", "change for each use, in the unit of the readings"),
                "slope_sd": Figure("", "its standard deviation", 0),
                "scatter": Figure("", "scatter of single readings about the line", 0),
                "certain": YesNo("whether the trend is more than chance"),
                "meets": Listing(MEETS, 1, 2, "each limit that counts"),
                "due_use": Maybe(Figure("", "the first use at which a limit may be met", 0)),
                "left_use": Maybe(Figure("", "how much use is left until then", 0)),
                "torque_now_nm": Maybe(Figure("nm", "torque that a whole stack comes to now", 0)),
                "curve": Listing(
                    Result(
                        {
                            "use": Figure("", "use", 0),
                            "value": Figure("", "the line, in the unit of the readings"),
                            "low": Figure("", "lower edge of its band, 95 %"),
                            "high": Figure("", "upper edge of its band, 95 %"),
                            "torque_nm": Sometimes(
                                Figure("nm", "torque that it comes to", 0), "readings are of a whole stack"
                            ),
                        },
                        "one point",
                    ),
                    2,
                    100,
                    "the line over use",
                ),
                "text": TEXT,
            },
            "a trend",
        ),
        False: Result({"count": COUNT, "text": TEXT}, "no trend yet"),
    },
    "when wear will meet a limit",
)

ID = Words("the entry's own id")
AT = Words("when it was entered, by the device's clock")

JUDGED = Result(
    {
        "id": ID,
        "at": AT,
        "who": Words("who entered it"),
        "verdict": Maybe(VERDICT),
        "reason": REASON,
        "value_nm": Maybe(Figure("nm", "the torque that was shown")),
        "guard_nm": Maybe(Figure("nm", "the guard band that was shown")),
        "low_nm": Maybe(Figure("nm", "lowest torque allowed then")),
        "high_nm": Maybe(Figure("nm", "highest torque allowed then")),
        "findings": Listing(as_stored(FINDING), 0, 200, "what was found then"),
        "agrees": Maybe(YesNo("whether the workshop judged it alike; empty until it has")),
    },
    "an entry that was judged as a whole",
)

MEASURED = Result(
    {
        "slot": Words("place in the stack, or name of the part"),
        "verdict": VERDICT,
        "reason": REASON,
        "lowest_mm": Maybe(Figure("mm", "lowest of what was measured")),
        "minimum_mm": Maybe(Figure("mm", "its limit, for a plate")),
        "at": AT,
        "moment": Words("the same in UTC, mended where the device's clock was off"),
        "id": ID,
    },
    "the last measurement of one part",
)

TREND_POINT = Result(
    {name: JUDGED.fields[name] for name in ("id", "at", "value_nm", "guard_nm", "verdict")},
    "one torque check",
)

STANDING = Result(
    {
        "unit_id": Maybe(Words("the unit's own id; empty without an entry")),
        "unit": Maybe(Typed(FORM, "its definition that stands, as it was typed; empty while none has arrived")),
        "derived": Maybe(as_stored(UNIT)),
        "verdict": Maybe(VERDICT),
        "reason": REASON,
        "looked_at": Maybe(Words("when somebody last looked at the unit itself")),
        "torque": Maybe(JUDGED),
        "by_slot": Mapping(MEASURED, "place in the stack", "every measured plate"),
        "parts": Listing(
            Either([MEASURED, JUDGED], "a spring, ring or pin by its last measurement, or the refit"),
            0,
            200,
            "springs, rings and pins, then the refit",
        ),
        "fitted": Mapping(Figure("", "thickness as the last rebuild fitted it, mm", 0), "place in the stack", "plates"),
        "rebuilt": Maybe(Result({"at": AT, "id": ID}, "the last rebuild")),
        "due": concerns("what is due, most pressing first"),
        "trend": Listing(TREND_POINT, 0, 100000, "every torque check that stands, by time"),
        "replaced": Mapping(Words("id of its correction that stands"), "id of an entry", "entries that were corrected"),
        "contested": Listing(ID, 0, 100000, "definitions that another device overwrote without having seen them"),
        "disagrees": Listing(ID, 0, 100000, "entries that the workshop judged otherwise"),
    },
    "what stands for a unit",
)

KIT_STANDING = Result(
    {
        "tools": Listing(
            Result(
                {
                    "id": Words("the entry that brought it in"),
                    "tool": Choice(TOOLS, "what kind of tool"),
                    "name": Words("what it is called"),
                    "body": Typed(KIT_FORM, "the tool as it was typed"),
                },
                "a tool",
            ),
            0,
            100000,
            "every tool in use, by name",
        ),
        "shelf": as_stored(PIECES),
    },
    "the kit and the shelf that stand",
)
