"""The form of each calculation's result, one module for each room of the engine.

The phone calculates without them and does not keep this folder. Elsewhere they say what an answer holds: to the
document of the interface, to the types of the web side, and to whatever looks at a result that an entry keeps as it was
shown.
"""

from ..request.fields import Field
from .drive import LOCK, RAMPS, TRACTION
from .history import (
    BUILT,
    CHANGE,
    JUDGED,
    JUDGED_AGAIN,
    KIT_STANDING,
    LAST_LOOKED,
    LIFE,
    LOSS,
    MEASURED,
    OUTLOOK,
    PLACE,
    STANDING,
)
from .part_checks import PLATE, PLATES, REFIT, RINGS, SPRING, SPRINGS, WORN
from .plan import ALTERNATIVE, CHOICE, PLAN, PLANNED
from .records import ABOUT, CLOSED, IN_WORDS, JUST_CHECKED, REBUILD, SHELF, SHELF_LESS, STEPS, STRIPPED, UNITS
from .shared import CONCERN, FINDING, VERDICT
from .torque_check import BREAKAWAY, COMPARE
from .unit import CLOSING, SPRING_ALONE, UNIT

RESULTS: dict[str, Field] = {
    "about": ABOUT,
    "units": UNITS,
    "in_words": IN_WORDS,
    "unit": UNIT,
    "breakaway": BREAKAWAY,
    "plates": PLATES,
    "spring": SPRING_ALONE,
    "closing": CLOSING,
    "plan": PLAN,
    "ramps": RAMPS,
    "traction": TRACTION,
    "loss": LOSS,
    "life": LIFE,
    "compare": COMPARE,
    "spring_check": SPRINGS,
    "ring_check": RINGS,
    "refit": REFIT,
    "steps": STEPS,
    "strip": STRIPPED,
    "close": CLOSED,
    "rebuild": REBUILD,
    "photo": JUST_CHECKED,
    "shelf": SHELF,
    "shelf_less": SHELF_LESS,
    "kit": JUST_CHECKED,
    "note": JUST_CHECKED,
    "kit_standing": KIT_STANDING,
    "standing": STANDING,
    "last_looked": LAST_LOOKED,
    "change": CHANGE,
    "judged_again": JUDGED_AGAIN,
    "outlook": OUTLOOK,
}

# What several results hold, by the name that documents and types give it.
SHAPES: dict[str, Field] = {
    "Verdict": VERDICT,
    "Finding": FINDING,
    "Concern": CONCERN,
    "MeasuredPlate": PLATE,
    "MeasuredSpring": SPRING,
    "WornPart": WORN,
    "Lock": LOCK,
    "PlannedPart": PLANNED,
    "Alternative": ALTERNATIVE,
    "PlannedChoice": CHOICE,
    "JudgedEntry": JUDGED,
    "LastMeasurement": MEASURED,
    "BuiltPlace": PLACE,
    "BuiltUnit": BUILT,
    "JustChecked": JUST_CHECKED,
}
