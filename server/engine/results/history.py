"""Results from a unit's entries and readings: what stands, where the preload went, and when wear meets a limit."""

from ..history.built_now import FITTED, NOMINAL
from ..history.built_now import MEASURED as MEASURED_PLATE
from ..history.loss import FRICTION, PLATES, SPRING
from ..records.kit import KIT_FORM, TOOLS
from ..request.fields import Choice, Field, Group, Listing, YesNo
from ..unit.definition import FORM
from ..unit.ramp_lock import build_form
from ..unit.stack import PARTS
from .fields import Cases, Count, Either, Figure, Mapping, Maybe, Result, Sometimes, Typed, Words
from .from_forms import as_stored, in_si
from .records import PIECES
from .shared import FINDING, REASON, TEXT, VERDICT, concerns
from .torque_check import COMPARE
from .unit import TRAVEL, UNIT

# A unit always has these fields, a check only where its unit was known.
CHECK_BUILD = Group(build_form(FORM.fields["ramps"]).fields)

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
        "mu": Figure("", "friction that the torque comes to", 0),
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
        "expanded_nm": Maybe(Figure("nm", "the expanded uncertainty that was shown")),
        "guard_nm": Maybe(Figure("nm", "the guard band that was shown")),
        "low_nm": Maybe(Figure("nm", "lowest torque allowed then")),
        "high_nm": Maybe(Figure("nm", "highest torque allowed then")),
        "findings": Listing(as_stored(FINDING), 0, 200, "what was found then"),
        "agrees": Maybe(YesNo("whether the workshop's verdict is the same; empty until it has judged")),
    },
    "an entry that was judged as a whole",
)

MEASURED = Result(
    {
        "slot": Words("place in the stack, or name of the part"),
        "verdict": VERDICT,
        "reason": REASON,
        "lowest_mm": Maybe(Figure("mm", "lowest of what was measured")),
        "mean_mm": Maybe(Figure("mm", "mean of what was measured")),
        "minimum_mm": Maybe(Figure("mm", "its limit, for a plate")),
        "guard_mm": Maybe(Figure("mm", "guard band of one reading", 0)),
        "at": AT,
        "corrected_at": Words("the same in UTC, corrected where the device's clock was off"),
        "id": ID,
    },
    "the last measurement of one part",
)

TREND_POINT = Result(
    {name: JUDGED.fields[name] for name in ("id", "at", "value_nm", "guard_nm", "verdict")},
    "one torque check",
)

# A definition as built has no limits of its own: a worn plate may lie below the one that it was given.
DEFINITION = in_si(FORM, "the definition as built, in SI")

PLACE = Result(
    {
        "slot": Words("place in the stack"),
        "part": Choice(PARTS, "what sits there"),
        "mm": Figure("mm", "mean thickness", 0),
        "lowest_mm": Maybe(Figure("mm", "lowest point, which its limit judges; empty where it was not measured", 0)),
        "known": Choice(
            {MEASURED_PLATE: "measured", FITTED: "as a rebuild fitted it", NOMINAL: "as the definition has it"},
            "how its thickness is known",
        ),
        "within_mm": Figure("mm", "how far off that thickness may be, either way", 0),
        "at": Maybe(Words("when it was measured, by the device's clock")),
        "new_mm": Figure("mm", "thickness as it was fitted or when new", 0),
        "minimum_mm": Figure("mm", "its limit", 0),
        "usual_minimum": YesNo("whether that limit is only common practice"),
        "replace": YesNo("whether it is a plate that was judged worn and has to go"),
    },
    "what sits in one place",
)

BUILT = Result(
    {
        "places": Listing(PLACE, 0, 80, "every place but the spring's, from cover to floor"),
        "measured_text": Words("when its plates were measured"),
        "stale_text": Words("that this was too long ago; blank where it was not"),
        "unit": DEFINITION,
        "strongest": in_si(FORM, "the strongest spring and stack that a vice has to hold"),
        "spring_mm": Maybe(Figure("mm", "free height of the spring as measured; empty where it was not", 0)),
        "spring_within_mm": Maybe(Figure("mm", "how far off that height may be, either way", 0)),
        "measured": Maybe(
            Result(
                {
                    "torque_nm": Figure("nm", "breakaway torque of this build", 0),
                    "expanded_nm": Figure("nm", "its expanded uncertainty, 95 %", 0),
                },
                "the last torque check of this build",
            )
        ),
        "for_check": in_si(CHECK_BUILD, "what a torque check has to know of the unit, as its build"),
        "crush_mm": Figure("mm", "how far the closed cover squeezes the stack; below 0 it is loose"),
        "preload_n": Maybe(Figure("n", "preload; empty where the stack is loose", 0)),
        "warnings": concerns("what to know about the spring, and where order and limits contradict each other"),
    },
    "the unit as it is built now",
)

BAND = Result(
    {
        "low_nm": Figure("nm", "lowest torque allowed", 0),
        "high_nm": Maybe(Figure("nm", "highest torque allowed; empty where there is none", 0)),
    },
    "two limits",
)

AGAIN = Result(
    {
        "id": ID,
        "engine": Words("version of the engine that judged it"),
        "verdict": VERDICT,
        "value_nm": Maybe(Figure("nm", "its torque as this engine finds it; empty where it cannot tell")),
        "text": TEXT,
    },
    "a torque check that an older engine judged, where this one differs",
)

UNIT_FINDING = Result(
    {
        "name": Choice({"solid_drive": "locks solid on drive", "solid_coast": "locks solid on coast"}, "short name"),
        "title": Words("the same in a few words"),
        "text": Words("what was found and what to do about it"),
        "verdict": Maybe(VERDICT),
    },
    "a finding of the unit itself",
)

JUDGED_AGAIN = Result({"again": Maybe(AGAIN)}, "a torque check, judged again by the engine of now")

STANDING = Result(
    {
        "unit_id": Maybe(Words("the unit's own id; empty without an entry")),
        "unit": Maybe(Typed(FORM, "its definition that stands, as it was typed; empty while none has arrived")),
        "derived": Maybe(as_stored(UNIT)),
        "limits": Maybe(Result({"order": BAND, "service": BAND}, "limits that a check may be judged against, in SI")),
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
        "rebuilds": Listing(AT, 0, 100000, "when each rebuild was done"),
        "due": concerns("what is due, most pressing first"),
        "trend": Listing(TREND_POINT, 0, 100000, "every torque check that stands, by time"),
        "order": Listing(ID, 0, 100000, "every entry, newest first"),
        "newest": Mapping(ID, "kind of entry", "the newest that stands, by kind"),
        "built": Maybe(BUILT),
        "findings": Listing(UNIT_FINDING, 0, 2, "what is to know of the unit itself whatever was read"),
        "replaced": Mapping(Words("id of its correction that stands"), "id of an entry", "entries that were corrected"),
        "contested": Listing(ID, 0, 100000, "definitions that another device overwrote without having seen them"),
        "disagrees": Listing(ID, 0, 100000, "entries on which the workshop's verdict differs"),
        "judged_again": Maybe(AGAIN),
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
                    "overdue": YesNo("whether its calibration had run out by the day that was given"),
                },
                "a tool",
            ),
            0,
            100000,
            "every tool in use, by name",
        ),
        "shelf": as_stored(PIECES),
        "shelf_count": Count("how many plates and shims lie on it"),
        "shelf_entry": Maybe(Words("id of the count that the shelf is from; empty where it was never counted")),
    },
    "the kit and the shelf that stand",
)

LAST_LOOKED = Result(
    {"order": Listing(Words("the unit's own id"), 0, 100000, "units, the last one looked at first")},
    "units in the order in which they were last looked at",
)

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
        "loss": Maybe(LOSS),
        "compared": Maybe(COMPARE),
        "fault": Words("why nothing is shared out; blank where it is"),
    },
    "what changed between two torque checks",
)

OUTLOOK = Result(
    {
        "life": Maybe(LIFE),
        "why": Words("why there is no prediction; blank where there is"),
        "checks": Listing(
            Result(
                {
                    "use": Figure("", "outings since the rebuild", 0),
                    "value_nm": Figure("nm", "the torque that was shown"),
                    "guard_nm": Maybe(Figure("nm", "the guard band that was shown")),
                },
                "a torque check",
            ),
            0,
            500,
            "the checks that count, by use",
        ),
    },
    "when the torque will meet a limit",
)
