"""Other units of a unit's pattern, as requests give them."""

from ..request.fields import Group, Listing, Text
from .standing import FORM as ENTRIES_FORM

OTHERS = Listing(
    Group(
        {"name": Text(60, "name of the unit"), "entries": ENTRIES_FORM.fields["entries"]},
        "another unit of the same pattern",
    ),
    0,
    60,
    "other units of the same pattern",
    default=[],
    nouns="units",
)
