"""Results from a unit's entries: what stands, what changed between two checks, and what is to come."""

from ..car.car import FORM as CAR_FORM
from ..history.built_now import FITTED, NOMINAL
from ..history.built_now import MEASURED as MEASURED_PLATE
from ..history.due import TITLES
from ..history.job import STEPS
from ..history.order import MOST_KNOWN
from ..history.trials import MOST_FELT
from ..records.kit import KIT_FORM, TOOLS
from ..records.letterhead import LETTERHEAD_FORM
from ..records.outing import FELT
from ..request.fields import Choice, Group, Listing, YesNo
from ..unit.form import FORM
from ..unit.pattern import FORM as PATTERN_FORM
from ..unit.ramp_lock import build_form
from ..unit.sits import SITS
from ..unit.stack import PARTS
from .customers import CUSTOMER, SIGNED
from .fields import Count, Either, Figure, Mapping, Maybe, Result, Typed, Words
from .from_forms import as_stored, in_si
from .inspected import INSPECTED_NOW
from .marked_parts import MARKED_NOW
from .records import COUNTED_PIECES
from .shared import FINDING, LOST_IN_BEDDING, REASON, TEXT, VERDICT, concerns
from .shelf import COUNT, FOR_SHELF
from .trials import FELT_NOW, TRIAL_NOW
from .unit import LACKS, NEW_UNIT, OPENS, UNIT, WORKED_OUT
from .used import LAST_OUTING, UPKEEP, USED

# A unit always has these fields, a check only where its unit was known.
CHECK_BUILD = Group(build_form(FORM.fields["ramps"]).fields)

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

FRESH = YesNo("whether it was taken fresh from a rebuild, before the plates bedded in")

TREND_POINT = Result(
    {
        "id": ID,
        "at": AT,
        "value_nm": JUDGED.fields["value_nm"],
        "guard_nm": JUDGED.fields["guard_nm"],
        "verdict": JUDGED.fields["verdict"],
        "fresh": FRESH,
        "outings": Maybe(Count("outings since the rebuild, as logged or as the check says; empty where nothing tells")),
    },
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
        "bedding": Listing(LOST_IN_BEDDING, 0, 5, "what it lost while it bedded in, after each of its last rebuilds"),
        "alike": Words("what units built alike have in common"),
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
        "crush_mm": Maybe(Figure("mm", "how far the closed cover squeezes the stack; below 0 it is loose")),
        "preload_n": Maybe(Figure("n", "preload; empty where the stack is loose, or not known", 0)),
        "worked_out": WORKED_OUT,
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

UNIT_FINDINGS = {
    "solid_drive": "locks solid on drive",
    "solid_coast": "locks solid on coast",
    "builds_disagree": "builds in the log and the spring's curve disagree",
}
UNIT_FINDINGS.update({f"felt_{what}": f"felt, and measured: {words}" for what, words in FELT.items()})

UNIT_FINDING = Result(
    {
        "name": Choice(
            UNIT_FINDINGS,
            "short name",
        ),
        "title": Words("the same in a few words"),
        "text": Words("what was found and what to do about it"),
        "verdict": Maybe(VERDICT),
    },
    "a finding of the unit itself",
)

JUDGED_AGAIN = Result(
    {"again": Maybe(AGAIN), "outdated": YesNo("whether its limits are none of those that its unit has today")},
    "a torque check, judged again by the engine of now",
)

STEP = Choice(STEPS, "a step of the job")

JOB = Result(
    {
        "next": STEP,
        "text": Words("what comes next, as a key says it"),
        "steps": Listing(
            Result({"name": STEP, "text": Words("the same in words"), "done": YesNo("whether it is done")}, "a step"),
            1,
            20,
            "the steps in the order of the job",
        ),
    },
    "the job at hand",
)

START = Result(
    {
        "last": Maybe(Words("id of the newest torque check")),
        "last_nm": Maybe(Figure("nm", "torque that it found, where the next one is likely to find the same")),
        "outings": Maybe(Count("outings since the rebuild, as far as they were logged or noted")),
        "against": Choice({"order": "the torque ordered", "service": "limits for running"}, "what it is judged by"),
    },
    "what the next torque check starts with",
)

DUE = Result(
    {
        "name": Choice(TITLES, "what is due"),
        "title": Words("the same in a few words"),
        "text": Words("what is due and why, in one sentence"),
    },
    "something that is due",
)

SITS_NOW = Result(
    {
        "where": Maybe(Choice(SITS, "where in the car it sits; empty where nobody said")),
        "text": Words("the same in words; blank where nobody said"),
        "corner": Words("why nothing is said of corners and wheels; blank where it is"),
        "car": Words("why it is not checked on the car; blank where it is"),
        "goes_back": Words("what the step is called in which it goes back"),
    },
    "where in the car it sits",
)

STANDING = Result(
    {
        "unit_id": Maybe(Words("the unit's own id; empty without an entry")),
        "unit": Maybe(Typed(FORM, "its definition that stands, as it was typed; empty while none has arrived")),
        "derived": Maybe(as_stored(UNIT)),
        "limits": Maybe(
            Result(
                {"order": Maybe(BAND), "service": Maybe(BAND), "running": Maybe(BAND)},
                "limits that a check may be judged against, in SI; running: service, or else order",
            )
        ),
        "verdict": Maybe(VERDICT),
        "reason": REASON,
        "looked_at": Maybe(Words("when somebody last looked at the unit itself")),
        "looked_by": Words("who did; blank where nobody did, or gave no name"),
        "torque": Maybe(JUDGED),
        "by_slot": Mapping(MEASURED, "place in the stack", "every measured plate"),
        "parts": Listing(
            Either([MEASURED, JUDGED], "a spring, ring or pin by its last measurement, or the refit"),
            0,
            200,
            "springs, rings and pins, then the refit",
        ),
        "features": Listing(INSPECTED_NOW, 0, 60, "features of other parts, in the definition's order"),
        "fitted": Mapping(Figure("", "thickness as the last rebuild fitted it, mm", 0), "place in the stack", "plates"),
        "rebuilt": Maybe(Result({"at": AT, "id": ID}, "the last rebuild")),
        "rebuilds": Listing(AT, 0, 100000, "when each rebuild was done"),
        "due": Listing(DUE, 0, 200, "what is due, most pressing first"),
        "trend": Listing(TREND_POINT, 0, 100000, "every torque check that stands, by time"),
        "order": Listing(ID, 0, 100000, "every entry, newest first"),
        "knows": Listing(ID, 0, MOST_KNOWN, "what an entry that is written now knows"),
        "unsure": Listing(Words("why, and how to settle it"), 0, 1000, "what stands though nobody can tell the last"),
        "clocks": Mapping(Words("what was wrong and what was done"), "id of an entry", "clocks that were wrong"),
        "newest": Mapping(ID, "kind of entry", "the newest that stands, by kind"),
        "built": Maybe(BUILT),
        "findings": Listing(UNIT_FINDING, 0, 3 + len(FELT), "what is to know of the unit itself whatever was read"),
        "contradiction": Maybe(
            Result({"field": Words("field of the definition"), "text": TEXT}, "where its definition contradicts itself")
        ),
        "opens": OPENS,
        "lacks": LACKS,
        "replaced": Mapping(Words("id of its correction that stands"), "id of an entry", "entries that were corrected"),
        "contested": Listing(ID, 0, 100000, "definitions that another device overwrote without having seen them"),
        "disagrees": Listing(ID, 0, 100000, "entries on which the workshop's verdict differs"),
        "judged_again": Maybe(AGAIN),
        "job": JOB,
        "start": START,
        "shelf": FOR_SHELF,
        "used": USED,
        "upkeep": UPKEEP,
        "plates_by": Maybe(Words("last day on which its plates may be gone by; empty where nothing is known of them")),
        "last_outing": Maybe(LAST_OUTING),
        "trials": Listing(TRIAL_NOW, 0, 100000, "changes to try, the newest first"),
        "felt": Listing(FELT_NOW, 0, MOST_FELT, "what was felt, the newest outing first"),
        "marked_parts": MARKED_NOW,
        "sits": SITS_NOW,
        "outings_left": Maybe(
            Figure(
                "",
                "outings from now on until a limit may be met at the earliest; empty where none is in sight",
                0,
            )
        ),
    },
    "what stands for a unit",
)

PATTERN = Result(
    {
        "id": Words("the entry that brought it in"),
        "name": Words("what it is called"),
        "gone": YesNo("whether it is withdrawn"),
        "entry": Words("its newest entry, to which what is decided on refers"),
        "body": Typed(PATTERN_FORM, "the pattern as it was typed"),
        "unit": NEW_UNIT,
        "history": Listing(Result(SIGNED, "an entry of it"), 1, 100000, "its entries that stand, the newest first"),
        "overwritten": Listing(
            Result(
                {
                    "base": Maybe(Words("the entry of the pattern that it went by; empty where there was none")),
                    **SIGNED,
                },
                "a change that the newest one was written without",
            ),
            0,
            1000,
            "changes of other devices that do not count, because a later one did not know them",
        ),
    },
    "a pattern",
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
        "cars": Listing(
            Result(
                {
                    "id": Words("the entry that brought it in"),
                    "name": Words("what it is called"),
                    "body": Typed(CAR_FORM, "the car as it was typed"),
                },
                "a car",
            ),
            0,
            100000,
            "every car that is kept, by name",
        ),
        "customers": Listing(CUSTOMER, 0, 100000, "every customer, those that are none any more among them, by name"),
        "letterhead": Maybe(Typed(LETTERHEAD_FORM, "the workshop's letterhead as it was typed")),
        "shelf": as_stored(COUNTED_PIECES),
        "shelf_count": Count("how many plates and shims lie on it by its counts alone"),
        "counts": Listing(COUNT, 0, 100000, "every count of the shelf that stands, in the order of arrival"),
        "count_ids": Listing(ID, 0, 100000, "every count of it, those that were corrected among them"),
        "patterns": Listing(PATTERN, 0, 100000, "every pattern by its newest entry, by name"),
        "shelf_entry": Maybe(Words("id of the last count of the whole shelf; empty where it was never counted")),
        "knows": Listing(ID, 0, MOST_KNOWN, "what an entry that is written now knows"),
    },
    "kit, shelf and cars that stand",
)

BUILT_TO = Result({"ids": Listing(ID, 0, 100000, "entries that travel with the units")}, "patterns of units")

LAST_LOOKED = Result(
    {"order": Listing(Words("the unit's own id"), 0, 100000, "units, the last one looked at first")},
    "units in the order in which they were last looked at",
)
