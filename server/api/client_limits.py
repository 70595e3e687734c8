"""Writes limits of the forms for screens that must know them before they ask; `npm run types` in webui runs it.

python -m server.api.client_limits
"""

from pathlib import Path

from ..engine import CALCULATIONS
from ..engine.request.fields import Field, Group, Listing, Text
from ..log.entry import FORM as ENTRY

FILE = Path(__file__).resolve().parents[2] / "webui" / "log" / "limits.js"

HEAD = """\
// @ts-check
// Made by `npm run types` from the forms of server/engine and server/log: change those, and run it again.
// How few and how many they take, as far as a screen has to know before it asks.
"""

# Lists whose limits screens need, by the name on the web side: (calculation, path). An empty step leads into a list.
WANTED = {
    "READINGS": ("breakaway", "steady_nm.forward"),
    "PLATE_POINTS": ("plates", "plates..points_mm"),
    "SPRING_POINTS": ("spring_check", "springs..points_mm"),
    "RING_STEPS": ("ring_check", "rings..steps_mm"),
    "BACKLASH_POINTS": ("refit", "backlash.points_mm"),
    "BEARING_READINGS": ("refit", "bearings.readings_nm"),
    "SCREW_READINGS": ("refit", "screws.readings_nm"),
    "OTHERS": ("experience", "others"),
}


def field_at(form: Field, path: str) -> Field:
    """The field at a dotted path of a form.

    >>> field_at(CALCULATIONS["unit"].form, "chain..slot").meaning
    'place in the stack'
    """
    field = form
    for name in path.split("."):
        if isinstance(field, Listing) and not name:
            field = field.of
        elif isinstance(field, Group):
            field = field.fields[name]
        else:
            raise KeyError(path)
    return field


def text() -> str:
    """The whole file."""
    lines = []
    for name, (calculation, path) in WANTED.items():
        listing = field_at(CALCULATIONS[calculation].form, path)
        assert isinstance(listing, Listing)
        lines.append(declare(name, listing.meaning, f"{{ least: {listing.least}, most: {listing.most} }}"))
    who = ENTRY.fields["who"]
    assert isinstance(who, Text)
    lines.append(declare("LONGEST_NAME", f"{who.meaning}: so many characters", str(who.most)))
    return "\n".join([HEAD, *lines])


def declare(name: str, meaning: str, value: str) -> str:
    """A constant below its meaning."""
    return f"/** {meaning[:1].upper()}{meaning[1:]}. */\nexport const {name} = {value};\n"


if __name__ == "__main__":
    FILE.write_text(text(), encoding="utf-8", newline="\n")
