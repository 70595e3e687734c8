"""The one door to the engine: a name and a plain request in, a plain result out."""

import json
from typing import Any, NamedTuple

from .errors import BadInput
from .fields import Group

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


def answer(calculations: dict[str, Calculation], name: str, request: dict[str, Any]) -> dict[str, Any]:
    """Check a request against its form and calculate.

    Parameters
    ----------
    calculations : dict
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
        raise BadInput("", f"There is no calculation {name!r}. Choose one of: {', '.join(sorted(calculations))}.")
    chosen = calculations[name]
    result: dict[str, Any] = chosen.run(chosen.form.read(request, ""))
    return result


def answer_text(calculations: dict[str, Calculation], text: str) -> str:
    """The same door for a host that passes text: JSON in, JSON out, never an exception.

    Parameters
    ----------
    calculations : dict
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
