"""Text that programs have tripped over, put into every text field of every kind of entry, by the forms themselves."""

import copy
import re
from collections.abc import Iterator
from typing import Any, NamedTuple

from server.engine import CALCULATIONS, KINDS, BadInput, calc
from server.engine.records.kinds import SHOP
from server.engine.request.fields import LINE, Field, Group, Listing, Text
from tests.engine.samples import samples

from .sample_logs import entry

# Each of them can be shown, so each is accepted wherever a text is free. `hostile` is a function that a page has not.
HOSTILE = (
    "<script>hostile()</script>",
    '"><img src=x onerror=hostile()>',
    "'><svg onload=hostile()>",
    "</style><style>*{display:none}</style>",
    "<b>bold</b> &lt;&amp;&#0;",
    "=1+1",
    "+1",
    "-1+cmd|' /C calc'!A0",
    "@SUM(A1:A9)",
    "\u202eback to front\u2066",
    # What is written from right to left: a name as people have it, and one that leaves a run open.
    "דני כהן",
    "אבי 2 \u2067أحمد",
    "a\u200bb\u200d\ufeff",
    "👩🏽‍🔧🏁🇫🇮",
    "𠮷𝔘𐍈",
    "e" + "\u0301" * 20,
    "../../etc/passwd",
    "C:\\CON\\..\\nul",
    "]]>",
    "W" * 400,
    "{{7*7}}${7*7}#{7*7}",
    "%s%n%00%0d%0a",
    "a;b,c:d\\n\"q'",
    "_x0041_\ufffe",
    "END:VEVENT\u2028BEGIN:VEVENT",
    "__proto__",
    "' OR 1=1; --",
)
SEVERAL_LINES = "one\r\n\tEND:VEVENT\n=1+1\rtwo"
# What cannot be shown, and so is refused.
CONTROLS = ("\x00", "a\x07b", "\x1b[2J", "a\x7f", "\x85", "\x9b")
ONE_LINE_ONLY = ("a\r\nSet-Cookie: b", "a\tb")

# Names from the top of a form, "*" for the places of a list; and the same in a request, with their numbers.
FieldPath = tuple[str, ...]
Place = tuple[Any, ...]


def checked_answer(answer: Any, address: str) -> Any:
    """An answer with status 200, and no header or name of a file that hostile text reached."""
    assert answer.status_code == 200, f"{address}: {answer.text[:300]}"
    assert "X-Hostile" not in answer.headers
    for name, value in answer.headers:
        assert value.isascii(), f"{address}: {name}"
        assert value.isprintable(), f"{address}: {name}"
    file = re.search(r'filename="([^"]*)"', answer.headers.get("Content-Disposition", ""))
    assert file is None or re.fullmatch(r"[A-Za-z0-9][A-Za-z0-9.-]*", file[1]), file
    return answer


class Spoiled(NamedTuple):
    """A request that the engine takes, and the fields in which it has hostile text."""

    body: dict[str, Any]
    paths: set[FieldPath]


def text_paths(field: Field, path: FieldPath = ()) -> Iterator[tuple[FieldPath, Text]]:
    """Every text field of a form."""
    if isinstance(field, Text):
        yield path, field
    elif isinstance(field, Group):
        for name, inner in field.fields.items():
            yield from text_paths(inner, (*path, name))
    elif isinstance(field, Listing):
        yield from text_paths(field.of, (*path, "*"))


def text_places(field: Field, value: Any, place: Place = ()) -> Iterator[tuple[Place, Text]]:
    """Every place of a request where a text is or may be, in what it has of groups and lists."""
    if isinstance(field, Text):
        yield place, field
    elif isinstance(field, Group) and isinstance(value, dict):
        for name, inner in field.fields.items():
            if name in value or isinstance(inner, Text):
                yield from text_places(inner, value.get(name), (*place, name))
    elif isinstance(field, Listing) and isinstance(value, list):
        for number, item in enumerate(value):
            yield from text_places(field.of, item, (*place, number))


def at(request: Any, place: Place) -> Any:
    """What stands at a place of a request; None where nothing does."""
    for step in place:
        request = request.get(step) if isinstance(request, dict) else request[step]
    return request


def replaced(request: dict[str, Any], places: dict[Place, Text], first: int) -> dict[str, Any]:
    """A request with hostile text at these places; what was the same text is the same again, so that names fit."""
    body = copy.deepcopy(request)
    chosen: dict[Any, str] = {}
    for place, field in places.items():
        key = at(request, place) or place
        if key not in chosen:
            text = HOSTILE[(first + len(chosen)) % len(HOSTILE)]
            chosen[key] = text if len(chosen) < len(HOSTILE) else f"{len(chosen)}{text}"
        at(body, place[:-1])[place[-1]] = fitting(chosen[key], field)
    return body


def spoil(calculation: str, request: dict[str, Any], first: int, empty_too: bool = True) -> Spoiled:
    """A good request with hostile text wherever the engine takes it, also where no text was if `empty_too`."""
    places = dict(text_places(CALCULATIONS[calculation].form, request))
    if not empty_too:
        places = {place: field for place, field in places.items() if at(request, place)}
    while True:
        body = replaced(request, places, first)
        try:
            calc(calculation, body)
        except BadInput as refusal:
            # A refusal at a field that is no text is about a text beside it, which was empty.
            guilty = [place for place in places if ".".join(map(str, place)) == refusal.field] or [
                place for place in places if not at(request, place)
            ]
            if not guilty:
                raise
            for place in guilty:
                del places[place]
            continue
        return Spoiled(body, {as_path(place) for place in places})


def as_path(place: Place) -> FieldPath:
    return tuple("*" if isinstance(step, int) else step for step in place)


def fitting(text: str, field: Text) -> str:
    """A hostile text as long as a field takes it."""
    return (f"{text} {SEVERAL_LINES}" if field.most > LINE else text)[: field.most]


def good_samples(kind: str) -> list[dict[str, Any]]:
    """The samples of a kind's calculation that are answered."""
    return [row for row in samples(KINDS[kind].calculation) if not row["about"].startswith("bad")]


def spoiled_bodies(kind: str, first: int) -> tuple[list[dict[str, Any]], set[FieldPath]]:
    """Bodies of a kind that together have hostile text in as many fields as can be, and those fields."""
    calculation = KINDS[kind].calculation
    bodies: list[dict[str, Any]] = []
    covered: set[FieldPath] = set()
    for row in good_samples(kind):
        body, paths = spoil(calculation, row["request"], first + len(bodies))
        if paths - covered or not bodies:
            bodies.append(body)
            covered |= paths
    return bodies, covered


def entries_of(unit: str, first: int, who: str) -> list[dict[str, Any]]:
    """Entries of each kind, and at last a customer and a unit as they are now, the unit linked to the customer."""
    entries = [
        entry(kind, "" if KINDS[kind].about == SHOP else unit, body=body, who=who)
        for kind in KINDS
        if kind != "erasure"  # it would take away what is looked for
        for body in spoiled_bodies(kind, first)[0]
    ]
    customer, definition = (
        spoil(KINDS[kind].calculation, good_samples(kind)[0]["request"], first, empty_too=False).body
        for kind in ("customer", "unit")
    )
    entries.append(entry("customer", "", body=customer, who=who))
    return [*entries, entry("unit", unit, body={**definition, "customer_id": entries[-1]["id"]}, who=who)]
