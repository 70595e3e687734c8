"""The form of each calculation's result, one module for each room of the engine.

The phone calculates without them and does not keep this folder. Elsewhere they say what an answer holds: to the
document of the interface, to the types of the web side, and to whatever looks at a result that an entry keeps as it was
shown.
"""

from ..request.fields import Field
from .car import CAR
from .change import CHANGE, OUTLOOK, STRIP_FOUND
from .complaint import COMPLAINT, TRIAL
from .corner import CORNER, CORNER_MAP, TRACTION
from .customers import OWNERS
from .drive import CANDIDATES, LOCK, RAMPS
from .experience import FOUND
from .history import (
    BUILT,
    BUILT_TO,
    JUDGED,
    JUDGED_AGAIN,
    KIT_STANDING,
    LAST_LOOKED,
    MEASURED,
    PLACE,
    STANDING,
)
from .inspected import INSPECTED_NOW
from .marked_parts import MARKED_PARTS, STAY
from .part_checks import (
    INSPECTED,
    INSPECTION,
    PLATE,
    PLATES,
    REFIT,
    RINGS,
    SINCE_LAST,
    SPRING,
    SPRINGS,
    WHICH_PLATE,
    WORN,
)
from .plan import ALTERNATIVE, CHOICE, PLAN, PLANNED
from .records import (
    ABOUT,
    CAME_OUT_STARTS,
    CLOSED,
    FIELD_NAME,
    IN_WORDS,
    JUST_CHECKED,
    PLANNED_TAKEN,
    REBUILD,
    SHELF,
    SHELF_LESS,
    STEPS,
    STRIPPED,
    UNITS,
)
from .shared import CONCERN, FINDING, VERDICT
from .sheet import SHEET
from .shelf import COUNT, MOVE, PLAN_TAKEN, ROW, SHELF_NOW
from .torque_check import BREAKAWAY, COMPARE
from .unit import ANOTHER, CLOSING, FROM_LOG, OFFER, PATTERN, SO_FAR, SPRING_ALONE, UNIT, USUAL_FEATURES, WORK_OUT
from .used import OUTING, SERVICE
from .wear import LIFE, LOSS

RESULTS: dict[str, Field] = {
    "about": ABOUT,
    "units": UNITS,
    "in_words": IN_WORDS,
    "field_name": FIELD_NAME,
    "unit": UNIT,
    "breakaway": BREAKAWAY,
    "plates": PLATES,
    "which_plate": WHICH_PLATE,
    "since_last": SINCE_LAST,
    "spring": SPRING_ALONE,
    "work_out": WORK_OUT,
    "from_log": FROM_LOG,
    "closing": CLOSING,
    "plan": PLAN,
    "ramps": RAMPS,
    "candidates": CANDIDATES,
    "traction": TRACTION,
    "corner": CORNER,
    "corner_map": CORNER_MAP,
    "complaint": COMPLAINT,
    "trial": TRIAL,
    "loss": LOSS,
    "life": LIFE,
    "compare": COMPARE,
    "spring_check": SPRINGS,
    "ring_check": RINGS,
    "inspection": INSPECTION,
    "refit": REFIT,
    "steps": STEPS,
    "strip": STRIPPED,
    "close": CLOSED,
    "customer": JUST_CHECKED,
    "sheet_sent": JUST_CHECKED,
    "erasure": JUST_CHECKED,
    "owners": OWNERS,
    "letterhead": JUST_CHECKED,
    "rebuild": REBUILD,
    "came_out": CAME_OUT_STARTS,
    "planned": PLANNED_TAKEN,
    "photo": JUST_CHECKED,
    "outing": OUTING,
    "service": SERVICE,
    "shelf": SHELF,
    "shelf_less": SHELF_LESS,
    "kit": JUST_CHECKED,
    "pattern": PATTERN,
    "another": ANOTHER,
    "pattern_offer": OFFER,
    "usual_features": USUAL_FEATURES,
    "car": CAR,
    "built_to": BUILT_TO,
    "note": JUST_CHECKED,
    "kit_standing": KIT_STANDING,
    "experience": FOUND,
    "standing": STANDING,
    "shelf_now": SHELF_NOW,
    "marked_parts": MARKED_PARTS,
    "last_looked": LAST_LOOKED,
    "change": CHANGE,
    "strip_found": STRIP_FOUND,
    "judged_again": JUDGED_AGAIN,
    "outlook": OUTLOOK,
    "so_far": SO_FAR,
    "sheet": SHEET,
}

# What several results hold, by the name that documents and types give it.
SHAPES: dict[str, Field] = {
    "Verdict": VERDICT,
    "Finding": FINDING,
    "Concern": CONCERN,
    "MeasuredPlate": PLATE,
    "MeasuredSpring": SPRING,
    "WornPart": WORN,
    "InspectedFeature": INSPECTED,
    "StandingFeature": INSPECTED_NOW,
    "Lock": LOCK,
    "PlannedPart": PLANNED,
    "Alternative": ALTERNATIVE,
    "PlannedChoice": CHOICE,
    "JudgedEntry": JUDGED,
    "LastMeasurement": MEASURED,
    "BuiltPlace": PLACE,
    "BuiltUnit": BUILT,
    "ShelfRow": ROW,
    "ShelfMove": MOVE,
    "ShelfCount": COUNT,
    "PlanTaken": PLAN_TAKEN,
    "MarkedStay": STAY,
    "JustChecked": JUST_CHECKED,
}
