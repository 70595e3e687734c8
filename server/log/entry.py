"""What every entry holds besides its body: who, when, on which device, of what kind, and the result as shown."""

import re
from collections.abc import Iterable, Mapping
from datetime import datetime
from typing import Any

from ..engine import KINDS, BadInput, result_form
from ..engine.history.order import MOST_KNOWN
from ..engine.records.kinds import SHOP, UNIT
from ..engine.request.errors import inside
from ..engine.request.fields import TYPE_A_NUMBER, Checked, Choice, Field, Group, Listing, Text, Whole
from ..engine.results.from_forms import as_stored

# Years that an entry's time may lie in: wide enough for a clock that is badly wrong.
YEARS = (1970, 2199)
MOST_SECONDS = (YEARS[1] - YEARS[0]) * 366 * 86400
TIME = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d(:\d\d(\.\d{1,6})?)?(Z|[+-]\d\d:\d\d)")
UUID_TEXT = re.compile(r"[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}")
# Results are nested less deeply than this, and no figure of this trade comes near the largest.
DEEPEST = 12
LARGEST = 1e15


NEWER = "This entry comes from a newer Slipbook: update the server, then send it again."


class Id(Field):
    """A UUID in lower case; of version 7 if `version` says so."""

    def __init__(self, meaning: str, version: int | None = None, **rest: Any) -> None:
        super().__init__(meaning, **rest)
        self.version = version

    def read(self, value: object, path: str) -> str:  # noqa: D102
        if not (isinstance(value, str) and UUID_TEXT.fullmatch(value)):
            raise BadInput(path, "Give a UUID in lower case here, such as 01932b5c-7a10-7c3e-9d51-0a6f3b1f7e22.")
        # RFC 9562, 4: the version and the variant are digits of their own.
        if self.version and not (value[14] == f"{self.version:x}" and value[19] in "89ab"):
            raise BadInput(path, f"Give a UUID of version {self.version} here, as the device makes for an entry.")
        return value


class Instant(Field):
    """A time with its offset from UTC, in ISO 8601."""

    def read(self, value: object, path: str) -> str:  # noqa: D102
        if isinstance(value, str) and TIME.fullmatch(value):
            try:
                if YEARS[0] <= datetime.fromisoformat(value).year <= YEARS[1]:
                    return value
            except ValueError:
                pass
        raise BadInput(path, "Give the time with its offset, for example 2026-11-25T10:30:00+01:00.")


class KindOfEntry(Choice):
    """One of the kinds of entry."""

    def read(self, value: object, path: str) -> str:  # noqa: D102
        if isinstance(value, str) and value and value not in self.options:
            raise BadInput(path, NEWER)
        return super().read(value, path)


class Version(Field):
    """The version of a body's form: 1 or more."""

    def read(self, value: object, path: str) -> int:  # noqa: D102
        if isinstance(value, int) and not isinstance(value, bool) and 1 <= value <= 1000:
            return value
        raise BadInput(path, "Give the version of the entry's form as a whole number, 1 or more.")


class Seconds(Field):
    """A number of seconds, of either sign; a clock is wrong by no more than those years."""

    def read(self, value: object, path: str) -> float:  # noqa: D102
        if isinstance(value, int | float) and not isinstance(value, bool) and abs(value) <= MOST_SECONDS:
            return value
        raise BadInput(path, "Give a number of seconds.")


class Plain(Checked):
    """Named values of any kind, without deep nesting or absurdly large figures."""

    def read(self, value: object, path: str) -> dict[str, object]:  # noqa: D102
        if not is_sane(value):
            refuse_absurd(value, path)
        return super().read(value, path)


def is_sane(value: object) -> bool:
    """Whether a value, as JSON gives it, is free of deep nesting and of absurdly large figures."""
    level: list[Any] = [value]
    for _ in range(DEEPEST + 1):
        inner: list[Any] = []
        for item in level:
            kind = type(item)
            if kind is dict:
                inner += item.values()
            elif kind is list:
                inner += item
            elif (kind is float or kind is int) and not -LARGEST <= item <= LARGEST:
                return False
        if not inner:
            return True
        level = inner
    return False


def refuse_absurd(value: object, path: str, depth: int = 0) -> None:
    """Refuse a value that `is_sane` does not accept, at the field where the fault is.

    Raises
    ------
    BadInput
        A figure is too large, or the nesting is too deep.
    """
    if depth > DEEPEST:
        raise BadInput(path, "This is nested too deeply: send plain fields.")
    if isinstance(value, dict):
        for name, item in value.items():
            refuse_absurd(item, inside(path, name), depth + 1)
    elif isinstance(value, list):
        for index, item in enumerate(value):
            refuse_absurd(item, inside(path, index), depth + 1)
    elif isinstance(value, int | float) and not -LARGEST <= value <= LARGEST:
        raise BadInput(path, f"{TYPE_A_NUMBER[:-1]}; this one is far too large.")


FORM = Group(
    {
        "id": Id("the entry's own id, made on the device", version=7),
        "at": Instant("when it was entered, by the device's clock"),
        "who": Text(60, "who entered it"),
        "device": Id("the device on which it was entered"),
        "unit": Id("the unit that it is about; empty if it belongs to the shop", default=""),
        "kind": KindOfEntry({name: kind.meaning for name, kind in KINDS.items()}, "what was entered"),
        "version": Version("version of the body's form"),
        "engine": Text(20, "version of the engine that judged it on the device"),
        "body": Plain("the request exactly as it was typed"),
        "shown": Plain("the result as it was shown"),
        "replaces": Id("the entry that this one corrects", default=None),
        "knows": Listing(
            Id("the id of an entry"),
            0,
            MOST_KNOWN,
            "the entries that the device had when it was written, except those that others of them knew: those of its "
            "unit, and those of the shelf where it moves plates or counts them",
            default=None,
        ),
        "clock": Group(
            {
                "met": Instant("what the device's clock showed when it last met the workshop's PC", default=None),
                "off_s": Seconds("by how many seconds it was slow then", default=None),
                "met_fell_s": Seconds("by how many seconds it had been seen to fall by then, in all", default=None),
                "fell_s": Seconds("the same when this was entered"),
            },
            "what the device knew of its clock",
            default=None,
        ),
        "imported": Group(
            {
                "file": Text(200, "the spreadsheet's name"),
                "row": Whole(1, 10**7, "its row, as the spreadsheet numbers it"),
                "at": Instant("when it was imported"),
                "by": Text(60, "who imported it"),
            },
            "where an entry comes from that was imported from a spreadsheet",
            default=None,
        ),
    },
    "an entry of the log",
)

# What an entry of each kind must keep of its result, because what is derived from entries later reads it.
STORED = {name: as_stored(result_form(kind.calculation)) for name, kind in KINDS.items()}


def check(entry: dict[str, Any]) -> None:
    """Refuse an entry whose fields are each valid but contradict one another.

    Raises
    ------
    BadInput
        At the field to correct.
    """
    kind, unit = KINDS[entry["kind"]], entry.get("unit") or ""
    if kind.about == SHOP and unit:
        raise BadInput("unit", f"{kind.nouns.capitalize()} belong to the shop: leave the unit empty.")
    if kind.about == UNIT and not unit:
        raise BadInput("unit", "Say which unit this is about.")
    if entry["version"] > kind.version:
        raise BadInput("version", NEWER)
    if entry.get("replaces") == entry["id"]:
        raise BadInput("replaces", "An entry cannot correct itself: name the entry that it replaces.")


def check_shown(entry: dict[str, Any]) -> None:
    """Refuse an entry whose result lacks what is derived from it later, or has something else in its place.

    Raises
    ------
    BadInput
        At the field of the result.
    """
    STORED[entry["kind"]].read(entry["shown"], "shown")


def find_refusals(form: Group, data: Any) -> list[BadInput]:
    """Why a form refuses a request: the first fault of each of its fields; empty if it accepts the request.

    >>> from server.engine.records.note import NOTE_FORM
    >>> [str(refusal) for refusal in find_refusals(NOTE_FORM, {"text": "", "colour": 1})]
    ['colour: This is not asked for here: leave it out.', 'text: Fill this in.']
    """
    refusals: list[BadInput] = []
    while True:
        try:
            form.read(data, "")
            return refusals
        except BadInput as refusal:
            refusals.append(refusal)
            name = refusal.field.partition(".")[0]
            if not isinstance(data, Mapping) or not name:
                return refusals
            # With this field out of the way, the form says what else is wrong.
            data = {key: value for key, value in data.items() if key != name}
            form = Group({key: field for key, field in form.fields.items() if key != name}, form.meaning)


def list_errors(refusals: Iterable[BadInput]) -> list[dict[str, str]]:
    """Refusals as an answer's `errors`."""
    return [{"field": refusal.field, "reason": refusal.reason} for refusal in refusals]
