"""What a field is called on the screens, where a sentence has to name it apart from the field itself."""

from typing import Any

from .fields import Checked, Choice, Field, Group, Listing, Text
from .letters import are_digits, trimmed, with_capital

FORM = Group(
    {
        "calculation": Text(40, "the calculation whose request the field is in"),
        "field": Text(400, "dotted path of the field", default=""),
        "body": Checked("the request as it was typed, by which its rows are named", default={}),
    },
    "a field of a request",
)

# Fields by which people tell the rows of a list apart, the first that is filled in.
NAMES_OF_ROWS = ("slot", "name", "piece")


def quoted(form: Field, field: str) -> str:
    """A field of a form as a sentence at another field names it: by what stands beside it on the screens.

    >>> bag = Group({"name": Text(20, "what it is called", label="Name on its bag")})
    >>> quoted(Group({"bag": bag}), "bag.name")
    '“Name on its bag”'
    """
    for step in field.split("."):
        assert isinstance(form, Group)
        form = form.fields[step]
    return f"“{form.label}”"


def field_name(form: Group, field: str, body: Any) -> dict[str, Any]:
    """What a field is called on the screens, with the row and the section in which it stands.

    Parameters
    ----------
    form : Group
        The form of the request.
    field : str
        Dotted path of the field, as `BadInput` has it; empty for the request as a whole.
    body : object
        The request as it was typed: a row is called by its place in the stack, its name or its piece.

    Returns
    -------
    dict
        name: the labels on the way to the field; its meaning where no screen has it; empty for the whole request.

    Examples
    --------
    >>> plate = Group({"slot": Text(9, "place"), "limit": Text(9, "where it is replaced", label="Limit")})
    >>> form = Group({"plates": Listing(plate, 0, 9, "the plates")})
    >>> field_name(form, "plates.1.limit", {"plates": [{"slot": "A2"}, {"slot": "B2"}]})["name"]
    'B2, Limit'
    >>> field_name(form, "plates.1.slot", {})["name"]
    'No. 2, place'
    """
    words: list[str] = []
    at: Field = form
    steps = field.split(".") if field else []
    for step in steps:
        if isinstance(at, Group):
            body = body.get(step) if isinstance(body, dict) else None
            if step not in at.fields:
                # A newer Slipbook's field, or one of no form.
                words.append(" ".join(step.split("_")))
                break
            at = at.fields[step]
            words += [at.label] if at.label else []
        elif isinstance(at, Listing) and are_digits(step):
            body = body[int(step)] if isinstance(body, list) and int(step) < len(body) else None
            at = at.of
            words.append(name_of_row(at, body) or f"{at.label or 'no.'} {int(step) + 1}")
        else:
            break
    else:
        unnamed = not at.label and steps and not are_digits(steps[-1])
        if unnamed and (not words or not isinstance(at, (Group, Listing))):
            words.append(first_words(at.meaning))
    name = ", ".join(words)
    return {"name": with_capital(name)}


def name_of_row(form: Field, row: Any) -> str:
    """What people call a row of a list, or a choice in it by its words; empty where nothing tells."""
    if isinstance(form, Choice):
        return form.options.get(row, "") if isinstance(row, str) else ""
    for name in NAMES_OF_ROWS:
        called = row.get(name) if isinstance(row, dict) else None
        if isinstance(called, str) and trimmed(called):
            return trimmed(called)
    return ""


def first_words(meaning: str) -> str:
    """A meaning up to its first pause: what follows explains it.

    >>> first_words("how far off it may be; a quarter of it if empty")
    'how far off it may be'
    """
    return meaning.split(";")[0].split(":")[0].strip()
