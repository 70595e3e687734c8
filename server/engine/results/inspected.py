"""Results about features of other parts: what stands of each, and how it went."""

from ..request.fields import Listing
from .fields import Maybe, Result, Words
from .part_checks import INSPECTED
from .shared import REASON

ID = Words("the entry's own id")
AT = Words("when it was entered, by the device's clock")

INSPECTED_NOW = Result(
    {
        "name": INSPECTED.fields["name"],
        "part": INSPECTED.fields["part"],
        "measure": INSPECTED.fields["measure"],
        "verdict": INSPECTED.fields["verdict"],
        "reason": REASON,
        "lowest_mm": INSPECTED.fields["lowest_mm"],
        "highest_mm": INSPECTED.fields["highest_mm"],
        "guard_mm": INSPECTED.fields["guard_mm"],
        "low_mm": INSPECTED.fields["low_mm"],
        "high_mm": INSPECTED.fields["high_mm"],
        "change_mm": INSPECTED.fields["change_mm"],
        "uses": INSPECTED.fields["uses"],
        "at": Maybe(AT),
        "id": Maybe(ID),
        "at_closing": Words("what whoever closes the unit has to know of screws; blank for nothing"),
        "trend": Listing(
            Result(
                {
                    "id": ID,
                    "at": AT,
                    "lowest_mm": INSPECTED.fields["lowest_mm"],
                    "highest_mm": INSPECTED.fields["highest_mm"],
                    "guard_mm": INSPECTED.fields["guard_mm"],
                    "uses": INSPECTED.fields["uses"],
                    "verdict": INSPECTED.fields["verdict"],
                },
                "one inspection of it",
            ),
            0,
            100000,
            "what was found since its part was replaced, by time",
        ),
    },
    "a feature of another part by its last inspection",
)
