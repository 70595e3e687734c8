"""What a result holds besides the fields that requests have too, and which of them a stored entry must have.

A result is read more strictly than a request: every field is there, numbers are plain numbers, and nothing stands
beside them. What was stored as shown is read more leniently, since an older engine knew fewer fields and a newer one
may know others: see `as_stored`.
"""

import math
from typing import Any

from ..request.errors import BadInput, inside
from ..request.fields import FILL_THIS_IN, NO_CHOICE, NOT_ASKED, TYPE_A_NUMBER, Field, Group, Text, as_whole, show

# How units are written that only results have; those that may be typed stand in `UNITS`.
WRITTEN = {
    "kgf": "kgf",
    "kn": "kN",
    "j": "J",
    "ms": "m/s",
    "n_per_mm": "N/mm",
    "n_per_nm": "N for each N·m",
    "per_n": "N·m for each N",
}


class Figure(Field):
    """A plain number, in the unit that its name ends in.

    Parameters
    ----------
    unit : str
        "" for a plain ratio, or where it follows the request's readings.
    low, high : float, optional
        Where it cannot lie anywhere.
    """

    def __init__(self, unit: str, meaning: str, low: float | None = None, high: float | None = None) -> None:
        super().__init__(meaning)
        self.unit = unit
        self.low = low
        self.high = high

    def read(self, value: object, path: str) -> float:
        if isinstance(value, bool) or not isinstance(value, (int, float)) or not math.isfinite(value):
            raise BadInput(path, TYPE_A_NUMBER)
        if self.low is not None and value < self.low:
            raise BadInput(path, f"This must be at least {show(self.low)}; got {show(value)}.")
        if self.high is not None and value > self.high:
            raise BadInput(path, f"This must be at most {show(self.high)}; got {show(value)}.")
        return value


class Count(Figure):
    """A whole number, 0 or more unless it says otherwise."""

    def __init__(self, meaning: str, low: float = 0, high: float | None = None) -> None:
        super().__init__("", meaning, low, high)

    def read(self, value: object, path: str) -> int:
        return as_whole(super().read(value, path), path)


class Words(Text):
    """Text that may be blank."""

    def __init__(self, meaning: str, most: int = 4000) -> None:
        super().__init__(most, meaning, default="")

    def read(self, value: object, path: str) -> str:
        # Results are mostly words, and all of them are read where an entry arrives.
        if isinstance(value, str) and len(value) <= self.most and value.isprintable():
            return value
        return super().read(value, path)


class Nothing(Field):
    """Always None, such as the verdict of an entry that is not judged."""

    def read(self, value: object, path: str) -> None:
        if value is not None:
            raise BadInput(path, "Leave this empty: nothing is judged here.")


class Maybe(Field):
    """A value, or None where there is none."""

    def __init__(self, of: Field) -> None:
        super().__init__(of.meaning)
        self.of = of

    def read(self, value: object, path: str) -> object:
        return None if value is None else self.of.read(value, path)


class Sometimes(Field):
    """A field that is left out altogether unless `when` holds."""

    def __init__(self, of: Field, when: str) -> None:
        super().__init__(of.meaning)
        self.of = of
        self.when = when

    def read(self, value: object, path: str) -> object:
        return self.of.read(value, path)


class Mapping(Field):
    """Any number of names, each with a value of one form; `names` says what the names are."""

    def __init__(self, of: Field, names: str, meaning: str) -> None:
        super().__init__(meaning)
        self.of = of
        self.names = names

    def read(self, value: object, path: str) -> dict[str, object]:
        if not isinstance(value, dict):
            raise BadInput(path, "Give named fields here.")
        return {name: self.of.read(value[name], inside(path, name)) for name in sorted(value)}


class Stored(Group):
    """A result as an entry keeps it: any field may be missing but the needed ones, and others may stand beside them."""

    def __init__(self, fields: dict[str, Field], meaning: str, needed: tuple[str, ...]) -> None:
        super().__init__(fields, meaning)
        self.needed = needed
        self.in_order = list(fields.items())

    def read(self, value: object, path: str) -> dict[str, object]:
        if not isinstance(value, dict):
            raise BadInput(path, "Give named fields here.")
        for name, field in self.in_order:
            if name in value:
                field.read(value[name], inside(path, name))
            elif name in self.needed:
                raise BadInput(inside(path, name), FILL_THIS_IN)
        return value


class Result(Group):
    """Named fields, all of them there.

    Parameters
    ----------
    needed : sequence of str
        Fields without which a stored result is of no use: what stands for a unit is worked out from them.
    """

    def __init__(self, fields: dict[str, Field], meaning: str, needed: tuple[str, ...] = ()) -> None:
        super().__init__(fields, meaning)
        self.needed = needed
        # Made once, when it is first asked for: see `as_stored`.
        self.stored: Stored | None = None
        # Fields are shared between results, so their own places say nothing about the order in this one.
        self.in_order = list(fields.items())

    def read(self, value: object, path: str) -> dict[str, object]:
        if not isinstance(value, dict):
            raise BadInput(path, "Give named fields here.")
        for name in sorted(value):
            if name not in self.fields:
                raise BadInput(inside(path, name), NOT_ASKED)
        answer = {}
        for name, field in self.in_order:
            if name in value:
                answer[name] = field.read(value[name], inside(path, name))
            elif not isinstance(field, Sometimes):
                raise BadInput(inside(path, name), FILL_THIS_IN)
        return answer


class Cases(Field):
    """One of several results; each has the field `by`, whose value says which it is.

    Parameters
    ----------
    by : str
        Name of a field that is true or false, or a word.
    says : str
        What that field means.
    cases : dict
        Its value -> the rest of the result.
    """

    def __init__(self, by: str, says: str, cases: dict[Any, Result], meaning: str) -> None:
        super().__init__(meaning)
        self.by = by
        self.says = says
        self.cases = cases

    def read(self, value: object, path: str) -> dict[str, object]:
        if not isinstance(value, dict):
            raise BadInput(path, "Give named fields here.")
        case = value.get(self.by)
        if not isinstance(case, (bool, str)) or case not in self.cases:
            raise BadInput(inside(path, self.by), NO_CHOICE)
        rest = {name: value[name] for name in value if name != self.by}
        return {self.by: case, **self.cases[case].read(rest, path)}


class Either(Field):
    """A value that fits one of several forms, with no field that says which."""

    def __init__(self, forms: list[Field], meaning: str) -> None:
        super().__init__(meaning)
        self.forms = forms

    def read(self, value: object, path: str) -> object:
        refused = []
        for form in self.forms:
            try:
                return form.read(value, path)
            except BadInput as refusal:
                refused.append(refusal)
        raise refused[-1]


class Typed(Field):
    """A request as it was typed."""

    def __init__(self, form: Group, meaning: str) -> None:
        super().__init__(meaning)
        self.form = form

    def read(self, value: object, path: str) -> object:
        self.form.read(value, path)
        return value
