"""Writes what screens must know before they ask, limits of forms and signs of units; `npm run types` in webui runs it.

python -m server.api.client_limits
"""

import json
from pathlib import Path

from ..engine import CALCULATIONS
from ..engine.request.fields import Field, Group, Listing, Text
from ..log.entry import FORM as ENTRY
from ..office.cell_words import SPELLINGS

FILE = Path(__file__).resolve().parents[2] / "webui" / "log" / "limits.js"
SIGNS_FILE = FILE.with_name("unit-signs.js")

HEAD = """\
// @ts-check
// Made by `npm run types` from the forms of server/engine and server/log: change those, and run it again.
// How few and how many they take, as far as a screen has to know before it asks.
"""

SIGNS_HEAD = """\
// @ts-check
// Made by `npm run types` from server/office/cell_words.py: change that, and run it again.

/**
 * Signs of units as people write them into spreadsheets, without blanks, points and case, by the SI unit.
 * @type {Record<"nm" | "mm" | "n", Record<string, string>>}
 */
export const UNIT_SIGNS = {
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
    "TRIES": ("refit", "tries"),
    "OTHERS": ("experience", "others"),
    "COUNTED": ("shelf", "pieces"),
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


def signs_text() -> str:
    """The whole file of signs."""
    lines = []
    for si, signs in SPELLINGS.items():
        lines.append(f"  {si}: {{\n")
        for sign, unit in signs.items():
            name = sign if sign.isidentifier() else json.dumps(sign, ensure_ascii=False)
            # As biome has it: no quotation mark is written with a stroke before it.
            written = "'\"'" if sign == '"' else name
            lines.append(f'    {written}: "{unit}",\n')
        lines.append("  },\n")
    return "".join([SIGNS_HEAD, *lines, "};\n"])


def declare(name: str, meaning: str, value: str) -> str:
    """A constant below its meaning."""
    return f"/** {meaning[:1].upper()}{meaning[1:]}. */\nexport const {name} = {value};\n"


if __name__ == "__main__":
    FILE.write_text(text(), encoding="utf-8", newline="\n")
    SIGNS_FILE.write_text(signs_text(), encoding="utf-8", newline="\n")
