"""What a pattern that changed offers to a unit: each change with the unit's own value beside it, to take or to leave.

Nothing is taken over by itself. A unit notes the entry of its pattern whose changes were decided on last, so what was
declined is not asked again until the pattern changes there again.
"""

from typing import Any

from ..request.errors import BadInput
from ..request.fields import Checked, Choice, Field, Group, Listing, Number, Text, amount, is_empty, show
from ..request.letters import with_capital
from ..request.units import UNITS, say
from ..request.written_in import WrittenIn, with_written_in, written_in_by
from .form import FORM as DEFINITION
from .marks import FIGURES, mark_of
from .pattern import FORM as PATTERN
from .pattern import SHARED, shared

FORM = Group(
    with_written_in(
        {
            "own": Checked("the unit's definition, as it was typed"),
            "wanted": Checked("its pattern as it stands, as it was typed"),
            "seen": Checked(
                "the pattern as it was when its changes were last decided on; every difference is offered if empty",
                default=None,
            ),
            # For the definition to name, with the entry that was decided on.
            "link": DEFINITION.fields["pattern"],
            "accepted": Listing(Text(120, "name of a change"), 0, 1000, "changes to take", default=[], nouns="changes"),
        },
        "write_in",
        "write_lengths_in",
    ),
    "a unit beside its pattern",
)

# What a section is called before the meaning of its field, where that alone could be another's.
SECTIONS = {"spring": "Spring", "cover": "Cover", "ramps": "Ramps", "friction": "Rubbing ring", "warming": "Warming"}

NOT_KNOWN = "not known"

# The section that says which figures were worked out: each mark goes with its figure, and is no change by itself.
MARKS = "worked_out"

# Figures that differ by less than this share are the same figure, typed in another unit.
SAME = 1e-9


def in_si(body: dict[str, Any], path: str) -> dict[str, Any]:
    """What a typed definition or pattern, at `path` of the request, holds of what is shared, checked and in SI."""
    given = shared(body)
    # Every definition needs a name, and it is not compared.
    given["name"] = "-"
    try:
        checked = DEFINITION.read(given, "")
    except BadInput as refusal:
        raise BadInput(path, refusal.reason) from None
    return {name: checked[name] for name in SHARED}


def refuse_unknown(body: dict[str, Any]) -> None:
    """Refuse a definition or a pattern with fields of a newer Slipbook: a copy of it would lose them or be refused."""
    for name in sorted(body):
        if name not in DEFINITION.fields and name not in PATTERN.fields:
            raise BadInput("own", "This Slipbook does not know all of this: bring it up to date first.")


def is_same(value: Any, other: Any) -> bool:
    """Whether two checked values are the same, in whatever unit they were typed.

    >>> is_same({"mm": 2.54}, {"mm": 0.1 * 25.4}), is_same([1.0], [1.0, 2.0]), is_same(None, 0.0), is_same(True, 1.0)
    (True, False, False, False)
    """
    if isinstance(value, dict) and isinstance(other, dict):
        return sorted(value) == sorted(other) and all(is_same(value[name], other[name]) for name in value)
    if isinstance(value, list) and isinstance(other, list):
        return len(value) == len(other) and all(is_same(mine, theirs) for mine, theirs in zip(value, other))
    if is_figure(value) and is_figure(other):
        return bool(abs(value - other) <= SAME * max(abs(value), abs(other)))
    return type(value) is type(other) and bool(value == other)


def is_figure(value: Any) -> bool:
    """Whether a value is a number."""
    return isinstance(value, (int, float)) and not isinstance(value, bool)


def fields_of(field: Field | None) -> dict[str, Field]:
    """The fields of a group."""
    return field.fields if isinstance(field, Group) else {}


def places(chain: Any) -> list[tuple[str, str]] | None:
    """What sits where in a stack; None of another list, which counts as a whole."""
    if not isinstance(chain, list) or any("slot" not in item for item in chain):
        return None
    return [(item["slot"], item["part"]) for item in chain]


def inner(value: Any, step: str) -> Any:
    """What a group holds under a name, or a stack in a place; None where it has no such."""
    if isinstance(value, list):
        items = [item for item in value if item["slot"] == step]
        return items[0] if items else None
    return None if value is None else value.get(step)


def at(value: Any, path: tuple[str, ...]) -> Any:
    """The value at a path; None where it ends before."""
    for step in path:
        value = inner(value, step)
    return value


def field_at(path: tuple[str, ...]) -> Field:
    """The field of a definition at a path, in which a place of the stack is named by its slot."""
    field: Field = DEFINITION
    for step in path:
        field = field.of if isinstance(field, Listing) else fields_of(field)[step]
    return field


def differences(before: Any, after: Any, path: tuple[str, ...] = ()) -> list[tuple[str, ...]]:
    """Paths at which two checked definitions differ, in the order of the form.

    A section that only one of them has counts as a whole, and so does a stack with other parts or places.
    """
    found = []
    fields = SHARED if not path else fields_of(field_at(path))
    steps = sorted(fields, key=lambda name: fields[name].place)
    if isinstance(before, list):
        steps = [item["slot"] for item in before]
    for step in steps:
        old, new = inner(before, step), inner(after, step)
        if step == MARKS or is_same(old, new):
            continue
        both_groups = isinstance(old, dict) and isinstance(new, dict)
        same_places = places(old) is not None and places(old) == places(new)
        found += differences(old, new, path + (step,)) if both_groups or same_places else [path + (step,)]
    return found


def as_far_as(path: tuple[str, ...], own: Any) -> tuple[str, ...]:
    """The path, or the section on it that the unit lacks: that can only be taken as a whole.

    A place whose part is another in this unit, or that it does not have, makes it the stack as a whole.
    """
    for end in range(1, len(path)):
        value = at(own, path[:end])
        if value is None:
            return path[:1] if path[0] == "chain" else path[:end]
    return path


def changed_paths(own: dict[str, Any], seen: dict[str, Any] | None, wanted: dict[str, Any]) -> list[tuple[str, ...]]:
    """Paths of what a pattern offers: what it changed since it was seen, where the unit has something else.

    A figure that the pattern no longer knows is not offered: the unit keeps what it has.
    """
    paths: list[tuple[str, ...]] = []
    for path in differences(own if seen is None else seen, wanted):
        if path[0] == "chain" and len(path) > 1:
            item, other = at(own, path[:2]), at(wanted, path[:2])
            if item is not None and item["part"] != other["part"]:
                path = path[:1]
        path = as_far_as(path, own)
        value = at(wanted, path)
        if value not in (None, []) and not is_same(value, at(own, path)) and path not in paths:
            paths.append(path)
    # What is offered whole is not offered in parts as well.
    return [path for path in paths if not any(path[:end] in paths for end in range(1, len(path)))]


def in_short(field: Field) -> str:
    """What a field means, without what its form adds to that."""
    return field.meaning.split(";")[0]


def label_of(path: tuple[str, ...]) -> str:
    """What a change is about, as its line begins."""
    meaning = in_short(field_at(path))
    if path[0] == "chain" and len(path) > 1:
        return f"{path[1]}: {meaning}"
    if len(path) > 1 and path[0] in SECTIONS:
        return f"{SECTIONS[path[0]]}: {meaning}"
    return with_capital(meaning)


def figure_in_words(value: float, unit: str, written_in: WrittenIn, exactly: bool) -> str:
    """A figure in the reader's unit, or as exactly as it was typed."""
    if not exactly and unit in ("nm", "mm"):
        return say(value, unit, written_in.nm if unit == "nm" else written_in.mm)
    return amount(value, UNITS[unit][0][0], unit)


def in_words(field: Field, value: Any, written_in: WrittenIn, exactly: bool = False) -> str:
    """A checked value of a field, in words."""
    if value in (None, []) or is_empty(value):
        return NOT_KNOWN
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(field, Choice):
        return field.options[value]
    if isinstance(field, Number):
        return figure_in_words(value, field.unit, written_in, exactly)
    if places(value) is not None:
        return ", ".join([item_in_words(item, written_in, exactly) for item in value])
    if isinstance(field, Listing):
        return "; ".join([in_words(field.of, item, written_in, exactly) for item in value])
    if isinstance(field, Group):
        rows = [
            f"{in_short(inner_field)}: {in_words(inner_field, value[name], written_in, exactly)}"
            for name, inner_field in field.in_order
            if value[name] is not None
        ]
        return "; ".join(rows)
    return str(value) if not is_figure(value) else show(value)


def item_in_words(item: dict[str, Any], written_in: WrittenIn, exactly: bool) -> str:
    """A part of a stack, in words."""
    words = f"{item['slot']} {item['part']}"
    if item["new_mm"] is not None:
        words += f" {figure_in_words(item['new_mm'], 'mm', written_in, exactly)}"
    if item["minimum_mm"] is not None:
        words += f" (limit {figure_in_words(item['minimum_mm'], 'mm', written_in, exactly)})"
    return words


def marked_under(path: tuple[str, ...]) -> list[tuple[str, str]]:
    """Figures at or below a path that may have been worked out: name of the mark, and what the figure is called."""
    rows = []
    for figure in FIGURES:
        if tuple(figure.field.split(".")[: len(path)]) == path:
            rows.append((figure.name, "" if figure.field == ".".join(path) else figure.title.lower() + " "))
    return rows


def with_marks(words: str, path: tuple[str, ...], definition: dict[str, Any]) -> str:
    """A value in words, with which of it was worked out."""
    for name, title in marked_under(path):
        if mark_of(definition, name) is not None:
            words += f", {title}worked out"
    return words


def offer_of(path: tuple[str, ...], own: Any, wanted: Any, written_in: WrittenIn) -> dict[str, Any]:
    """A change as a person decides on it."""
    field, values = field_at(path), (at(own, path), at(wanted, path))
    now, offered = [in_words(field, value, written_in) for value in values]
    if now == offered:
        now, offered = [in_words(field, value, written_in, exactly=True) for value in values]
    return {
        "name": ".".join(path),
        "label": label_of(path),
        "now": with_marks(now, path, own),
        "offered": with_marks(offered, path, wanted),
    }


def put(body: Any, typed: Any, path: tuple[str, ...]) -> Any:
    """A copy of a typed definition that has at a path what another has there."""
    step, rest = path[0], path[1:]
    if isinstance(body, list):
        other = inner(typed, step)
        return [put(item, other, rest) if item["slot"] == step else item for item in body]
    changed = {} if body is None else body.copy()
    given = None if typed is None else typed.get(step)
    if rest:
        given = put(changed.get(step), given, rest)
    if is_empty(given) or given == {}:
        changed.pop(step, None)
    else:
        changed[step] = given
    return changed


def pattern_offer(request: dict[str, Any]) -> dict[str, Any]:
    """What a pattern offers to a unit of it, and the unit's definition once that was decided on.

    Parameters
    ----------
    request : dict
        Checked by `FORM`.

    Returns
    -------
    dict
        offers, every change that is to be decided on: name, label, now (the unit's own value in words) and offered (the
        pattern's); text, how many they are; body, the definition as it was typed with the accepted changes and the
        link. What is not accepted stays as it is.

    Raises
    ------
    BadInput
        What was handed in is no definition or pattern of this engine.

    Examples
    --------
    >>> low = lambda nm: {"service": {"low_nm": nm}}
    >>> answer = pattern_offer(FORM.read({"own": low(45), "seen": low(45), "wanted": low(50)}, ""))
    >>> [(row["name"], row["now"], row["offered"]) for row in answer["offers"]]
    [('service.low_nm', '45.0 N·m', '50.0 N·m')]
    """
    refuse_unknown(request["own"])
    own, wanted = in_si(request["own"], "own"), in_si(request["wanted"], "wanted")
    seen = None if request["seen"] is None else in_si(request["seen"], "seen")
    written_in = written_in_by(request)
    body = request["own"].copy()
    offers = []
    for path in changed_paths(own, seen, wanted):
        offer = offer_of(path, own, wanted, written_in)
        offers.append(offer)
        if offer["name"] in request["accepted"]:
            body = put(body, request["wanted"], path)
            for mark, _ in marked_under(path):
                body = put(body, request["wanted"], (MARKS, mark))
    if request["link"] is not None:
        body["pattern"] = request["link"]
    count = len(offers)
    text = "" if not count else "1 change to decide on" if count == 1 else f"{count} changes to decide on"
    return {"offers": offers, "text": text, "body": body}
