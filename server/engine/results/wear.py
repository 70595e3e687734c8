"""Results of readings over use: where the preload went, and when wear meets a limit."""

from ..history.loss import FRICTION, PLATES, SPRING
from ..request.fields import Choice, Field, Listing, YesNo
from .fields import Cases, Count, Figure, Maybe, Result, Sometimes, Words
from .shared import TEXT, concerns
from .unit import TRAVEL

CAUSE = Choice(
    {PLATES: "plates and rings", SPRING: "the spring has set, or is another", FRICTION: "friction of the plates"},
    "what changes the torque",
)

SHARE = Result(
    {
        "cause": CAUSE,
        "share_log": Figure("", "its part of the change, on the natural logarithm"),
        "factor": Figure("", "what it multiplies the torque by", 0),
        "u_log": Figure("", "standard uncertainty of that", 0),
        "expanded_log": Figure("", "half of the interval that holds 95 % of it", 0),
        "low_log": Figure("", "the least that it may be, 95 %"),
        "high_log": Figure("", "the most that it may be, 95 %"),
        "share": Maybe(Figure("", "its part of the change; empty where there is no change")),
        "percent": Figure("percent", "what it does to the torque on its own", -100),
        "size_percent": Figure("percent", "the same without its sign", 0),
        "shows": YesNo("whether that is more than nothing, written with one place after the point"),
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
        "mu": Maybe(Figure("", "friction that the torque comes to; empty without the rubbing ring", 0)),
    },
    "the unit at one time",
)

LOSS = Result(
    {
        "change_percent": Figure("percent", "change of the torque", -100),
        "change": Words("the same in a sentence"),
        "change_log": Figure("", "the same on the natural logarithm"),
        "u_log": Figure("", "standard uncertainty of that", 0),
        "expanded_log": Figure("", "half of the interval that holds 95 % of it", 0),
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
    "whether there are enough readings for a trend",
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
                            "low": Figure("", "lower edge of its band, 95 %, at 0 where it would be below", 0),
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
