"""Results of part checks: plates, springs, ramp rings, and the unit back in its axle."""

from ..part_checks.crown_wheel import RATIOS
from ..part_checks.plates import PLATES as KINDS
from ..part_checks.setting_form import CONTACTS
from ..part_checks.setting_words import WAYS
from ..part_checks.since_last import CHANGES
from ..request.fields import Choice, Field, Listing, Text, YesNo
from ..unit.features import FEATURE_PARTS, MEASURES
from .fields import Cases, Count, Figure, Maybe, Result, Sometimes, Words
from .shared import FINDINGS, REASON, VERDICT

GUARD = Figure("mm", "guard band of the gauge, one-sided 95 %", 0)

PLATE = Result(
    {
        "slot": Text(20, "place in the stack"),
        "part": Choice(KINDS, "what kind of plate"),
        "verdict": VERDICT,
        "reason": REASON,
        "lowest_mm": Figure("mm", "lowest point, which judges it", 0),
        "mean_mm": Figure("mm", "mean of its points", 0),
        "taper_mm": Figure("mm", "difference round the plate", 0),
        "guard_mm": GUARD,
        "minimum_mm": Figure("mm", "thickness at which it has to be replaced", 0),
        "usual_minimum": Sometimes(YesNo("whether that limit is only common practice"), "this engine judged it"),
        "new_mm": Figure("mm", "thickness when new", 0),
        "points_mm": Listing(Figure("mm", "thickness at one clock point", 0), 3, 24, "thickness round the plate"),
        "findings": FINDINGS,
    },
    "a plate as it was judged",
    needed=("slot", "verdict", "reason", "lowest_mm"),
)

PLATES = Result(
    {
        "verdict": VERDICT,
        "reason": REASON,
        "guard_mm": GUARD,
        "plates": Listing(PLATE, 1, 200, "every measured plate"),
    },
    "plates as they were judged",
    needed=("verdict", "plates"),
)

SINCE_LAST = Result(
    {
        "plates": Listing(
            Result(
                {
                    "slot": Text(20, "place in the stack"),
                    "change_mm": Figure("mm", "lowest point now less that of the last time; below 0 for wear"),
                    "expanded_mm": Figure("mm", "expanded uncertainty of that difference, two-sided 95 %", 0),
                    "found": Choice(CHANGES, "what became of it"),
                    "text": Words("the same in words"),
                },
                "a plate that was measured before",
            ),
            0,
            80,
            "what became of each",
        )
    },
    "plates now and when they were measured last",
)

WHICH_PLATE = Result(
    {
        "asked": Listing(
            Result(
                {
                    "slot": Text(20, "the plate that the figure was typed for"),
                    "point": Count("place of the figure among those that were sent, from 0", 0),
                    "fits": Listing(Text(20, "place"), 1, 80, "plates that it fits, the nearest first"),
                    "fits_whole": Listing(Text(20, "place"), 0, 80, "those that all its figures fit"),
                    "text": Words("the question"),
                },
                "a figure that is asked about",
            ),
            0,
            80,
            "figures that fit a plate of another class",
        )
    },
    "what is asked about figures of plates",
)


def row(unit: str, more: dict[str, Field] | None = None) -> dict[str, Field]:
    """The fields of something measured against its band, in this unit, and what more it has."""
    end = "_" + unit
    fields: dict[str, Field] = {
        "verdict": VERDICT,
        "reason": REASON,
        "lowest" + end: Figure(unit, "lowest of what was measured"),
        "highest" + end: Figure(unit, "highest of what was measured"),
        "guard" + end: Figure(unit, "guard band, one-sided 95 %", 0),
        "low" + end: Maybe(Figure(unit, "lowest allowed", 0)),
        "high" + end: Maybe(Figure(unit, "highest allowed", 0)),
        "findings": FINDINGS,
    }
    fields.update(more or {})
    return fields


NEEDED = ("verdict", "reason")
NAME: dict[str, Field] = {"name": Words("what the part is called", 20)}
CLOSED = "the height of the disc in the closed unit was given"
UNEVEN = Figure("mm", "largest difference round the part", 0)

SPRING = Result(
    {
        **NAME,
        **row(
            "mm",
            {
                "mean_mm": Figure("mm", "mean free height", 0),
                "set_mm": Figure("mm", "how much lower it stands than when new"),
                "uneven_mm": UNEVEN,
                "load_new_n": Sometimes(Figure("n", "load in the closed unit when new", 0), CLOSED),
                "load_now_n": Sometimes(Figure("n", "load in the closed unit now", 0), CLOSED),
            },
        ),
    },
    "a disc spring as it was judged",
    needed=("name", *NEEDED),
)

WORN = Result({**NAME, **row("mm")}, "a ramp ring or a cross pin as it was judged", needed=("name", *NEEDED))

SPRINGS = Result(
    {
        "verdict": VERDICT,
        "reason": REASON,
        "guard_mm": GUARD,
        "springs": Listing(SPRING, 1, 16, "every measured disc"),
    },
    "disc springs as they were judged",
    needed=("verdict", "springs"),
)

RINGS = Result(
    {
        "verdict": VERDICT,
        "reason": REASON,
        "guard_mm": GUARD,
        "rings": Listing(WORN, 1, 4, "the ramp rings"),
        "pins": Listing(WORN, 0, 8, "the cross pins"),
    },
    "ramp rings and cross pins as they were judged",
    needed=("verdict", "rings"),
)

INSPECTED = Result(
    {
        "name": Words("what the feature is called", 60),
        "part": Choice(FEATURE_PARTS, "part that it is on"),
        "measure": Choice(MEASURES, "what was measured"),
        "verdict": Maybe(VERDICT),
        "reason": REASON,
        "lowest_mm": Maybe(Figure("mm", "lowest of what was measured; empty where it has no length", 0)),
        "highest_mm": Maybe(Figure("mm", "highest of what was measured", 0)),
        "guard_mm": Maybe(Figure("mm", "guard band of one value, one-sided 95 %", 0)),
        "low_mm": Maybe(Figure("mm", "lowest allowed", 0)),
        "high_mm": Maybe(Figure("mm", "highest allowed", 0)),
        "new_mm": Maybe(Figure("mm", "figure when new", 0)),
        "change_mm": Maybe(Figure("mm", "largest change against new, with its sign")),
        "uses": Maybe(Count("how often it has been used")),
        "most_uses": Maybe(Count("how often it may be used in all")),
        "findings": FINDINGS,
    },
    "a feature as it was judged; without a verdict where nothing limits it",
    needed=("name", "verdict", "reason"),
)

INSPECTION = Result(
    {
        "verdict": Maybe(VERDICT),
        "reason": REASON,
        "features": Listing(INSPECTED, 1, 60, "every inspected feature"),
    },
    "other parts as they were judged; without a verdict where nothing has a limit",
    needed=("verdict", "features"),
)

REFITTED = Cases(
    "name",
    "what was checked",
    {
        "backlash": Result(row("mm", {"uneven_mm": UNEVEN}), "backlash of crown wheel and pinion", NEEDED),
        "bearings": Result(row("nm"), "turning torque of the carrier bearings", NEEDED),
        "screws": Result(row("nm"), "torque of the crown-wheel screws", NEEDED),
        "contact": Result(
            {
                "verdict": VERDICT,
                "reason": REASON,
                "contact": Choice(CONTACTS, "where the marking paste is wiped off"),
                "findings": FINDINGS,
            },
            "contact pattern of crown wheel and pinion",
            NEEDED,
        ),
    },
    "one thing that was checked",
)

SET_BACKLASH = Result(
    {
        "found_mm": Figure("mm", "middle between the tightest and the loosest tooth", 0),
        "found_within_mm": Figure("mm", "expanded uncertainty of that, 95 %", 0),
        "aim_mm": Maybe(Figure("mm", "what it is set to; empty where nobody says", 0)),
        "ratio": Figure("", "backlash for each mm that the crown wheel moves sideways", 0),
        "ratio_low": Figure("", "lowest that the ratio may be", 0),
        "ratio_high": Figure("", "highest that the ratio may be", 0),
        "ratio_from": Choice(RATIOS, "where the ratio is from"),
        "expected_mm": Figure("mm", "backlash to expect once the shims are moved", 0),
        "expected_within_mm": Figure("mm", "how far off that may be", 0),
    },
    "what stands of backlash",
)

TRIED = Result(
    {
        "behind_mm": Maybe(Figure("mm", "shims behind the crown wheel", 0)),
        "tooth_mm": Maybe(Figure("mm", "shims on the tooth side", 0)),
        "pinion_mm": Maybe(Figure("mm", "shims of the pinion", 0)),
        "backlash_mm": Maybe(Figure("mm", "middle between the tightest and the loosest tooth", 0)),
        "torque_nm": Maybe(Figure("nm", "turning torque of the bearings", 0)),
        "contact": Maybe(Choice(CONTACTS, "contact pattern, drive side")),
    },
    "one try",
)

SETTING = Result(
    {
        "move_mm": Figure("mm", "how far the crown wheel moves away from the pinion; below 0 towards it"),
        "move_low_mm": Figure("mm", "least that this may really have to be"),
        "move_high_mm": Figure("mm", "most that this may really have to be"),
        "with_pinion_mm": Figure("mm", "how far away it moves beside that, so that the pinion leaves backlash alone"),
        "behind_change_mm": Figure("mm", "shims to add behind the crown wheel; below 0 to take out"),
        "tooth_change_mm": Figure("mm", "shims to add on the tooth side"),
        "pinion_change_mm": Figure("mm", "shims to add at the pinion"),
        "way": Choice(WAYS, "where the crown wheel goes"),
        "behind_text": Words("change behind the crown wheel, with its sign; empty for none"),
        "tooth_text": Words("change on the tooth side, with its sign; empty for none"),
        "pinion_text": Words("change at the pinion, with its sign; empty for none"),
        "rises_nm": Maybe(Figure("nm", "turning torque for each 0.1 mm of shims; empty where nobody knows", 0)),
        "backlash": Maybe(SET_BACKLASH),
        "behind_mm": Maybe(Figure("mm", "shims behind the crown wheel afterwards", 0)),
        "tooth_mm": Maybe(Figure("mm", "shims on the tooth side afterwards", 0)),
        "pinion_mm": Maybe(Figure("mm", "shims of the pinion afterwards", 0)),
        "advice": Listing(
            Result(
                {
                    "about": Choice(
                        {"contact": "contact", "bearings": "bearings", "backlash": "backlash", "shims": "shims"},
                        "what it is about",
                    ),
                    "text": Words("what to do, or why nothing can be said"),
                },
                "a piece of advice",
            ),
            0,
            40,
            "what to do, in the order of the work",
        ),
        "tries": Listing(TRIED, 1, 21, "what was tried, the present try last"),
    },
    "what to move",
)

REFIT = Result(
    {
        "verdict": VERDICT,
        "reason": REASON,
        "checks": Listing(REFITTED, 1, 4, "what was checked"),
        "setting": Maybe(SETTING),
    },
    "a unit back in its axle, as it was judged",
    needed=("verdict",),
)
