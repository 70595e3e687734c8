"""Writes what stands beside the fields of the screens' forms, as the forms have it; `npm run types` runs it.

python -m server.api.client_labels
"""

import json
from collections.abc import Iterator
from pathlib import Path

from ..engine import CALCULATIONS
from ..engine.request.fields import Field, Group, Listing

FILE = Path(__file__).resolve().parents[2] / "webui" / "log" / "labels.js"

HEAD = """\
// @ts-check
// Made by `npm run types` from the forms of server/engine: change those, and run it again.
// What stands beside each field, by the calculation that reads it. An empty step leads into a list.
"""

# Calculations whose forms screens show, each with what its screen does not ask for.
WANTED: dict[str, tuple[str, ...]] = {
    "breakaway": ("build",),
    "car": (),
    "close": (),
    "customer": (),
    "kit": (),
    "letterhead": (),
    "outing": (),
    "plan": ("unit", "springs", "experience", "shelf", "fitted", "tools", "bedding"),
    "plates": ("micrometer", "limits"),
    "rebuild": (),
    "refit": (),
    "ring_check": ("gauge", "pins"),
    "service": (),
    "shelf": (),
    "spring_check": ("gauge", "springs..spring"),
    "unit": (),
}


def labels_of(form: Field, path: str = "") -> Iterator[tuple[str, str]]:
    """The path and the label of every field below a form that has one.

    >>> dict(labels_of(CALCULATIONS["service"].form))["litres"]
    'How much, litres'
    """
    if isinstance(form, Group):
        inner = [(f"{path}.{name}" if path else name, field) for name, field in form.in_order]
    elif isinstance(form, Listing):
        inner = [(f"{path}.", form.of)]
    else:
        return
    for at, field in inner:
        if field.label:
            yield at, field.label
        yield from labels_of(field, at)


def text() -> str:
    """The whole file."""
    lines = [HEAD, "export const LABELS = {"]
    for name, left_out in WANTED.items():
        lines.append(f"  {name}: {{")
        for path, label in labels_of(CALCULATIONS[name].form):
            if any(f"{path}.".startswith(f"{way}.") for way in left_out):
                continue
            key = path if path.isidentifier() else json.dumps(path)
            lines.append(f"    {key}: {json.dumps(label, ensure_ascii=False)},")
        lines.append("  },")
    return "\n".join([*lines, "};", ""])


if __name__ == "__main__":
    FILE.write_text(text(), encoding="utf-8", newline="\n")
