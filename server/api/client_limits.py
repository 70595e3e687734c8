"""How few and how many the forms take, for screens that have to know it before they ask: see `npm run types`.

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

# What screens ask for, by the name that it has there. A list's own entries stand behind an empty name.
WANTED = {
    "READINGS": ("breakaway", "steady_nm.forward"),
    "PLATE_POINTS": ("plates", "plates..points_mm"),
    "SPRING_POINTS": ("spring_check", "springs..points_mm"),
    "RING_STEPS": ("ring_check", "rings..steps_mm"),
    "BACKLASH_POINTS": ("refit", "backlash.points_mm"),
    "BEARING_READINGS": ("refit", "bearings.readings_nm"),
    "SCREW_READINGS": ("refit", "screws.readings_nm"),
}


def field_at(form: Field, path: str) -> Field:
    """The field at a dotted path of a form.

    >>> field_at(CALCULATIONS["unit"].form, "chain..slot").meaning
    'place in the stack'
    """
    found = form
    for name in path.split("."):
        if isinstance(found, Listing) and not name:
            found = found.of
        elif isinstance(found, Group):
            found = found.fields[name]
        else:
            raise KeyError(path)
    return found


def text() -> str:
    """The whole file."""
    lines = []
    for name, (calculation, path) in WANTED.items():
        form = field_at(CALCULATIONS[calculation].form, path)
        assert isinstance(form, Listing)
        lines.append(declared(name, form.meaning, f"{{ least: {form.least}, most: {form.most} }}"))
    who = ENTRY.fields["who"]
    assert isinstance(who, Text)
    lines.append(declared("LONGEST_NAME", f"{who.meaning}: so many characters", str(who.most)))
    return "\n".join([HEAD, *lines])


def declared(name: str, meaning: str, value: str) -> str:
    """A constant with what it is about."""
    return f"/** {meaning[:1].upper()}{meaning[1:]}. */\nexport const {name} = {value};\n"


if __name__ == "__main__":
    FILE.write_text(text(), encoding="utf-8", newline="\n")
