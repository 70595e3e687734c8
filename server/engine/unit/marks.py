"""Which of a unit's figures were worked out instead of measured: from what, and how far off they may be.

A mark belongs to the figure that was worked out. Whoever puts another one in its place, with a gauge in hand, has
measured, and the mark says nothing any more.
"""

import math
from typing import Any, NamedTuple

from ..request.fields import Choice, Field, Group, Number, Text
from ..request.rounded import fixed
from ..request.units import say

# What a figure may be worked out from, by the figure.
DEPTH_FROM = {
    "depth_from_gap": "from the gap under the loose cover",
    "depth_from_torque": "from a torque, with the friction taken as known",
    "depth_from_builds": "from the torques of two builds",
}
HEIGHT_FROM = {"height_from_load": "from its height under a known load"}
FRICTION_FROM = {"friction_from_torque": "from a torque, at a known crush"}

# Standard uncertainties to either side that hold 95 %, as a sentence gives them.
SAID_95 = 1.96

MARK_MM: dict[str, Field] = {
    "value_mm": Number(0.1, 500, "mm", "what came of it: the mark holds as long as this is the figure"),
    "u_mm": Number(0, 100, "mm", "its standard uncertainty"),
    "basis": Text(200, "what was measured for it, in words", default=""),
}
MARK: dict[str, Field] = {
    "value": Number(0.02, 0.5, "", "what came of it: the mark holds as long as this is the figure"),
    "u": Number(0, 0.5, "", "its standard uncertainty"),
    "basis": Text(200, "what was measured for it, in words", default=""),
}


def mark_form(froms: dict[str, str], fields: dict[str, Field], meaning: str) -> Group:
    """Fields of one mark, with what it may be worked out from."""
    of_this: dict[str, Field] = {"from": Choice(froms, "what it was worked out from")}
    of_this.update(fields)
    return Group(of_this, meaning, default=None)


MARKS: dict[str, Field] = {
    "cavity_mm": mark_form(DEPTH_FROM, MARK_MM, "the depth, where it was worked out"),
    "l0_mm": mark_form(HEIGHT_FROM, MARK_MM, "the free height of a disc, where it was worked out"),
    "mu": mark_form(FRICTION_FROM, MARK, "the friction of the plates, where it was worked out"),
}

MarkedFigure = NamedTuple(
    "MarkedFigure",
    [
        # Name of its mark, its path in the definition, and what it is called.
        ("name", str),
        ("field", str),
        ("title", str),
        # What it was worked out from, in words.
        ("froms", Any),
        # What to do about it.
        ("advice", str),
    ],
)

FIGURES = [
    MarkedFigure("cavity_mm", "cavity_mm", "Depth", DEPTH_FROM, "Measure it at the next strip."),
    MarkedFigure("l0_mm", "spring.l0_mm", "Free height", HEIGHT_FROM, "Measure it at the next strip."),
    MarkedFigure("mu", "friction.mu", "Friction", FRICTION_FROM, "It holds for these plates and this oil."),
]


def figure_at(definition: dict[str, Any], path: str) -> float | None:
    """The figure at a path such as "spring.l0_mm"; None where it is not known."""
    place: Any = definition
    for name in path.split("."):
        place = None if place is None else place.get(name)
    return place if place is None else float(place)


def mark_of(definition: dict[str, Any], name: str) -> dict[str, Any] | None:
    """The mark of a figure of a checked definition; None where it was measured, or put in place since."""
    marks = definition.get("worked_out") or {}
    mark: dict[str, Any] | None = marks.get(name)
    if mark is None:
        return None
    path = next(figure.field for figure in FIGURES if figure.name == name)
    value, came = figure_at(definition, path), mark["value" if name == "mu" else "value_mm"]
    return mark if value is not None and abs(value - came) <= 1e-9 * came else None


def doubt_of(definition: dict[str, Any], name: str) -> float:
    """Standard uncertainty of a figure that was worked out, mm or of the coefficient; 0 where it has no mark."""
    mark = mark_of(definition, name)
    doubt: float = 0.0 if mark is None else mark["u" if name == "mu" else "u_mm"]
    return doubt


def even_within(definition: dict[str, Any], name: str, within: float) -> float:
    """How far off a figure may be, evenly either way: by its mark where it was worked out, or else `within`.

    >>> marked = {"cavity_mm": 61.2, "worked_out": {"cavity_mm": {"value_mm": 61.2, "u_mm": 0.1}}}
    >>> round(even_within(marked, "cavity_mm", 0.05), 3), even_within({"cavity_mm": 61.2}, "cavity_mm", 0.05)
    (0.173, 0.05)
    """
    # An even doubt of root 3 times a standard uncertainty has just that: JCGM 100:2008, 4.3.7.
    return max(within, math.sqrt(3.0) * doubt_of(definition, name))


def height_within(definition: dict[str, Any], gauged: float | None) -> float | None:
    """How far off the free height may be, evenly either way, mm; None where it is that of a new disc's table.

    `gauged` is what a gauge left open, or None where none was laid on.
    """
    return gauged if gauged is not None else even_within(definition, "l0_mm", 0.0) or None


def may_be_more(definition: dict[str, Any], name: str) -> float:
    """By how much a figure may be larger than it was worked out, mm or of the coefficient, 95 %; 0 without a mark."""
    return SAID_95 * doubt_of(definition, name)


def marks_that_hold(definition: dict[str, Any]) -> dict[str, Any] | None:
    """Those marks of a checked definition that say something, with every name; None where there are none."""
    holding = {figure.name: mark_of(definition, figure.name) for figure in FIGURES}
    return holding if any(mark is not None for mark in holding.values()) else None


def marked_figures(definition: dict[str, Any], mm: str = "mm") -> list[dict[str, Any]]:
    """The figures that were worked out, as results hold them.

    Parameters
    ----------
    definition : dict
        Checked, in SI.
    mm : str
        Unit of length to write in.

    Returns
    -------
    list of dict
        name of the mark; field, its path in the definition; title, what it is called; value, with its unit, and within,
        how far off it may be (95 %), both in words; text, the whole in a sentence; basis, what was measured for it, as
        it was written then.
    """
    rows = []
    for name, field, title, froms, advice in FIGURES:
        mark = mark_of(definition, name)
        if mark is None:
            continue
        if name == "mu":
            value, within = fixed(mark["value"], 3), fixed(SAID_95 * mark["u"], 3)
        else:
            value, within = say(mark["value_mm"], "mm", mm), say(SAID_95 * mark["u_mm"], "mm", mm)
        came = f"{title} {value} is worked out, not measured: {froms[mark['from']]}"
        text = f"{came}, give or take {within} (95 %). {advice}"
        row = {"name": name, "field": field, "title": title, "value": value, "within": within, "text": text}
        # In whatever units it was measured: no sentence of today's.
        row["basis"] = mark["basis"]
        rows.append(row)
    return rows


def marked_concerns(definition: dict[str, Any], mm: str = "mm", friction: bool = True) -> list[dict[str, Any]]:
    """A concern for each figure that was worked out; without `friction` where a measured torque stands for it."""
    return [
        {"name": "worked_out_" + row["name"], "text": row["text"]}
        for row in marked_figures(definition, mm)
        if friction or row["name"] != "mu"
    ]
