"""The one door to the engine: a name and a plain request in, a plain result out."""

import json
from typing import Any, NamedTuple

from .errors import BadInput
from .fields import Group

NO_CALCULATION = "There is no calculation of this name: the document of the interface lists them."

Calculation = NamedTuple(
    "Calculation",
    [
        # Name that a request calls it by.
        ("name", str),
        # What it does, in one sentence.
        ("meaning", str),
        # The request's fields.
        ("form", Group),
        # Checked request -> result.
        ("run", Any),
    ],
)


class Calculations:
    """Calculations by name, of which each group is read when the first of it is asked for.

    Parameters
    ----------
    groups : list of (tuple of str, callable)
        The names of a group, and what reads it: a function that imports its modules and returns its calculations.
    """

    def __init__(self, groups: Any) -> None:
        self.groups = groups
        self.readers = {name: reader for names, reader in groups for name in names}
        self.known: dict[str, Calculation] = {}

    def __contains__(self, name: object) -> bool:
        """Whether there is a calculation of this name."""
        return name in self.readers

    def __iter__(self) -> Any:
        """Every name."""
        return iter(self.readers)

    def __getitem__(self, name: str) -> Calculation:
        """The calculation of a name, which is read if it was not yet."""
        if name not in self.known:
            for calculation in self.readers[name]():
                self.known[calculation.name] = calculation
        return self.known[name]

    def items(self) -> list[tuple[str, Calculation]]:
        """Every name with its calculation."""
        return [(name, self[name]) for name in self.readers]

    def read_for(self, name: str) -> None:
        """Read the group of a calculation, if there is any of this name."""
        if name in self.readers:
            self[name]

    def read_more(self) -> bool:
        """Read a group that was not read yet; returns whether there was any."""
        for names, _ in self.groups:
            if names[0] not in self.known:
                self[names[0]]
                return True
        return False


def answer(calculations: Calculations, name: str, request: dict[str, Any]) -> dict[str, Any]:
    """Check a request against its form and calculate.

    Parameters
    ----------
    calculations : Calculations
        Every known calculation by name.
    name : str
        Name of the calculation.
    request : dict
        Plain values, as JSON gives them; see `fields` for how numbers may be typed.

    Returns
    -------
    dict
        Plain values, each number finite, in SI with the unit at the end of its name.

    Raises
    ------
    BadInput
        At the first field that cannot be used, with what to do about it.
    """
    if name not in calculations:
        raise BadInput("", NO_CALCULATION)
    chosen = calculations[name]
    result: dict[str, Any] = chosen.run(chosen.form.read(request, ""))
    return result


def answer_text(calculations: Calculations, text: str) -> str:
    """The same door for a host that passes text: JSON in, JSON out, never an exception.

    Parameters
    ----------
    calculations : Calculations
        Every known calculation by name.
    text : str
        {"calc": name, "request": {...}}

    Returns
    -------
    str
        {"ok": result} or {"bad": {"field": path, "reason": sentence}}.
    """
    try:
        call = json.loads(text)
        return json.dumps({"ok": answer(calculations, call["calc"], call["request"])})
    except BadInput as refusal:
        return json.dumps({"bad": {"field": refusal.field, "reason": refusal.reason}})
    except (ValueError, KeyError, TypeError) as failure:
        return json.dumps({"bad": {"field": "", "reason": f"The request cannot be read: {failure}."}})
