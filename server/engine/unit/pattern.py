"""A pattern: a build that the workshop sees again and again, so that nobody types it twice."""

from typing import Any

from ..request.fields import Checked, Choice, Field, Group, Text
from .definition import refuse_flat, worked_out
from .form import FORM as DEFINITION

# What belongs to one unit alone: no pattern has it, and another unit like it does not take it over.
ITS_OWN = ("name", "owner", "customer_id", "car_id", "pattern", "marked_parts")

# Characters of what a mark says that was measured.
LONGEST_BASIS = 200

# What a unit shares with others of its pattern, by field of the definition.
SHARED: dict[str, Field] = {name: field for name, field in DEFINITION.fields.items() if name not in ITS_OWN}


def pattern_form() -> Group:
    """The form of a pattern: that of a unit without what is the unit's own."""
    fields: dict[str, Field] = {
        "name": Text(60, "name of the pattern", label="Name of the pattern"),
        "id": Text(40, "the pattern that this entry changes: the id of its first entry", default=""),
        "gone": Choice({"no": "in use", "yes": "withdrawn"}, "whether new units are still built to it", default="no"),
    }
    fields.update(SHARED)
    return Group(fields, "a pattern, to which units are built")


FORM = pattern_form()

ANOTHER_FORM = Group({"unit": Checked("a unit's definition, as it was typed")}, "a unit to make others like")


def pattern(request: dict[str, Any]) -> dict[str, Any]:
    """Check a pattern, and work out what a unit of it should do with every part new, as far as that is known.

    Parameters
    ----------
    request : dict
        Checked by `FORM`; only the name has to be known.

    Returns
    -------
    dict
        What `unit` answers of such a unit; verdict, always None.

    Raises
    ------
    BadInput
        A stack, spring or limit that contradicts itself, at its field. One that is withdrawn may be loose or flat.
    """
    definition = {name: request[name] for name in SHARED}
    definition.update({"name": request["name"], "owner": "", "customer_id": "", "car_id": "", "pattern": None})
    definition["marked_parts"] = []
    figures = worked_out(definition)
    if request["gone"] == "no":
        refuse_flat(definition, figures)
    figures["verdict"] = None
    return figures


def shared(body: dict[str, Any]) -> dict[str, Any]:
    """What a definition or a pattern, as it was typed, holds of what units of one pattern share.

    >>> shared({"name": "Hillclimb", "owner": "Ilse", "service": {"low_nm": 45}})
    {'service': {'low_nm': 45}}
    """
    return {name: body[name] for name in body if name in SHARED}


def another(request: dict[str, Any]) -> dict[str, Any]:
    """What a pattern made of a unit holds, and what another unit like it starts with.

    Parameters
    ----------
    request : dict
        Checked by `ANOTHER_FORM`.

    Returns
    -------
    dict
        for_pattern, the definition without what is this unit's own; for_unit, the same with the pattern that it is
        built to, if any. Both lack a name.
    """
    body = request["unit"]
    alike = shared(body)
    if body.get("worked_out"):
        alike["worked_out"] = marks_of_another(body["worked_out"], body.get("name", ""))
    unit = alike.copy()
    if body.get("pattern"):
        unit["pattern"] = body["pattern"]
    return {"for_pattern": alike, "for_unit": unit}


def marks_of_another(marks: dict[str, Any], name: str) -> dict[str, Any]:
    """Marks of figures that were worked out, saying on which unit: what was measured there was not measured here.

    >>> marks_of_another({"mu": {"value": 0.1, "basis": "95.0 N·m"}, "l0_mm": None}, "Bramble 1")
    {'mu': {'value': 0.1, 'basis': 'on Bramble 1: 95.0 N·m'}}
    """
    copied = {}
    for figure in sorted(marks):
        if marks[figure]:
            mark = marks[figure].copy()
            basis = mark.get("basis") or ""
            if not basis.startswith("on "):
                mark["basis"] = f"on {name}: {basis}"[:LONGEST_BASIS] if basis else f"on {name}"
            copied[figure] = mark
    return copied
