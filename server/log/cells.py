"""What an entry holds, cut into the cells of a table, by the forms of its kind's request and result.

A heading is the path of a field in its form, with the unit in brackets at its end: `wrench.high (N·m)`. Nothing here
knows the kinds of entry or their fields.
"""

from collections.abc import Iterator
from typing import Any, NamedTuple

from ..engine import BadInput
from ..engine.request.fields import Choice, Day, Field, Group, Listing, Number, Text, YesNo, is_empty
from ..engine.results.fields import Cases, Count, Figure, Maybe, Sometimes, Typed
from .figures import ChosenUnits, as_plain_text, is_plain_number

# A field that is named by its unit alone holds a thickness.
NAMED_BY_UNIT = {"mm": "thickness"}

Path = tuple[str, ...]
Place = tuple[int, ...]


# What a cell holds: words, a number with a decimal point, a day, or a time with its offset, the last two as ISO 8601.
WORDS, NUMBER, DAY, TIME = range(4)


class Cell(NamedTuple):
    """One cell: its heading, where its column stands among the others, its text, and what that text is."""

    heading: str
    place: Place
    text: str
    kind: int = WORDS


def heading_of(path: Path, si: str, units: ChosenUnits) -> str:
    """A column's heading.

    >>> heading_of(("steady_nm", "forward", "1"), "nm", ChosenUnits({"torque": "lbf_ft"}))
    'steady.forward.1 (lbf·ft)'
    >>> heading_of(("mm",), "mm", ChosenUnits({}))
    'thickness (mm)'
    """
    if not si:
        return ".".join(path)
    bare = [NAMED_BY_UNIT.get(name, name) if name == si else name.removesuffix("_" + si) for name in path]
    return f"{'.'.join(bare)} ({units.sign_of(si)})"


def unwrapped_form(form: Field | None, value: Any) -> Field | None:
    """The form behind what only says whether a value is there, or which of several forms it has."""
    while isinstance(form, Maybe | Sometimes | Typed):
        form = form.form if isinstance(form, Typed) else form.of
    if isinstance(form, Cases) and isinstance(value, dict):
        other_fields = form.cases.get(value.get(form.by))
        fields: dict[str, Field] = {form.by: Text(200, form.says)}
        return Group({**fields, **other_fields.fields} if other_fields else fields)
    return form


def lists_groups(form: Field | None) -> bool:
    """Whether a field is a list of things that have fields of their own."""
    form = unwrapped_form(form, None)
    return isinstance(form, Listing) and isinstance(unwrapped_form(form.of, None), Group | Cases)


def fields_of(form: Field | None, value: dict[str, Any]) -> Iterator[tuple[int, str, Field | None]]:
    """The fields of a group in order, each with its place; what no form knows comes last."""
    # In the order in which the form is written, which is that of its screen.
    known = list(form.fields.items()) if isinstance(form, Group) else []
    for place, (name, field) in enumerate(known):
        if name in value:
            yield place, name, field
    names = {name for name, _ in known}
    for place, name in enumerate(sorted(value.keys() - names), len(names)):
        yield place, name, None


def cells_of(form: Field | None, value: Any, path: Path, place: Place, units: ChosenUnits) -> Iterator[Cell]:
    """The cells of one value; none where it is empty.

    Parameters
    ----------
    form : Field, optional
        What a request or a result may hold there; None where no form knows it.
    value : object
        As an entry holds it.
    path : tuple of str
        Names that lead to it.
    place : tuple of int
        Where it stands among others.
    units : ChosenUnits
        The units of the table.
    """
    form = unwrapped_form(form, value)
    if is_empty(value):
        return
    if isinstance(value, list):
        yield from cells_of_list(form, value, path, place, units)
    elif isinstance(value, dict) and "typed" not in value:
        for index, name, field in fields_of(form, value):
            yield from cells_of(field, value[name], (*path, name), (*place, index), units)
    else:
        yield cell_of(form, value, path, place, units)


def cell_of(form: Field | None, value: Any, path: Path, place: Place, units: ChosenUnits) -> Cell:
    """The cell of a single figure or text."""
    try:
        if isinstance(form, Number):
            return Cell(heading_of(path, form.unit, units), place, units.typed_text(value, form.unit), NUMBER)
        if isinstance(form, Figure) and isinstance(value, int | float):
            number = int(value) if isinstance(form, Count) else value
            return Cell(heading_of(path, form.unit, units), place, units.computed_text(number, form.unit), NUMBER)
        if isinstance(form, Day):
            return Cell(heading_of(path, "", units), place, form.read(value, ""), DAY)
    except BadInput:
        # An entry of an older version may hold what would be refused today: it stands there as it is.
        pass
    return plain_cell(heading_of(path, "", units), place, value)


def plain_cell(heading: str, place: Place, value: Any) -> Cell:
    """The cell of a value of which no form says what it is."""
    return Cell(heading, place, as_plain_text(value), NUMBER if is_plain_number(value) else WORDS)


def cells_of_list(
    form: Field | None, values: list[Any], path: Path, place: Place, units: ChosenUnits
) -> Iterator[Cell]:
    """The cells of a list: words in one cell, figures in one each."""
    item_form = unwrapped_form(form.of, None) if isinstance(form, Listing) else None
    if isinstance(item_form, Text | Choice | YesNo):
        yield Cell(heading_of(path, "", units), place, "; ".join(map(str, values)))
    elif values and all(isinstance(value, dict) and isinstance(value.get("text"), str) for value in values):
        # Sentences about what was found.
        yield Cell(heading_of(path, "", units), place, " ".join(value["text"] for value in values))
    else:
        for number, value in enumerate(values):
            name = value.get("name") if isinstance(value, dict) else None
            if isinstance(name, str):
                figures = {key: item for key, item in value.items() if not isinstance(item, str)}
                # Columns of what has a name of its own stand by their names, since its order changes from row to row.
                for cell in cells_of(item_form, figures, (*path, name), (), units):
                    yield cell._replace(place=place)
            else:
                yield from cells_of(item_form, value, (*path, str(number + 1)), (*place, number), units)
