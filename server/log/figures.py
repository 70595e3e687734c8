"""Figures and words as a table has them: in the unit that was chosen, with as many places as were read."""

import math
from collections.abc import Mapping
from typing import Any

from ..engine import BadInput
from ..engine.request.fields import parse
from ..engine.request.units import DECIMALS, UNITS, factor
from ..engine.results.fields import WRITTEN

# What may be chosen, and the SI unit of the figures that it is chosen for.
UNIT_CHOICES = {"torque": "nm", "lengths": "mm", "forces": "n", "weights": "kg"}

# Places after the point of a figure that the engine worked out, where sentences have no rule for its unit.
USUAL_PLACES = 2
RATIO_PLACES = 4
# A doubt is far smaller than what it belongs to; two figures of it count (JCGM 100, 7.2.6), in so many places more.
MORE_PLACES = 3
# A plain number with more places than this was worked out, not read.
MOST_PLACES = 6


class ChosenUnits:
    """The units that a table is written in.

    Parameters
    ----------
    choices : mapping
        For names of `UNIT_CHOICES`, one of the units of `UNITS` each; the SI unit where there is none.

    Raises
    ------
    BadInput
        A unit does not measure what it is chosen for.

    Examples
    --------
    >>> ChosenUnits({"torque": "lbf_ft"}).sign_of("nm"), ChosenUnits({}).sign_of("nm"), ChosenUnits({}).sign_of("j")
    ('lbf·ft', 'N·m', 'J')
    """

    def __init__(self, choices: Mapping[str, str | None]) -> None:
        self.units: dict[str, str] = {}
        for name, si in UNIT_CHOICES.items():
            unit = choices.get(name)
            if unit:
                factor(unit, si, name)
                self.units[si] = unit

    def sign_of(self, si: str) -> str:
        """How the unit is written that figures in the SI unit `si` stand in; empty for a plain number."""
        if si not in UNITS:
            return WRITTEN[si]
        return next(sign for name, sign, _ in UNITS[si] if name == self.unit_for(si))

    def unit_for(self, si: str) -> str:
        """The unit that figures in the SI unit `si` stand in."""
        return self.units.get(si, si)

    def typed_text(self, value: Any, si: str) -> str:
        """A figure of a request, as it was typed if it was typed in this unit, else as finely as it was typed.

        >>> typed = {"typed": "2,50", "unit": "inch"}
        >>> ChosenUnits({"lengths": "inch"}).typed_text(typed, "mm"), ChosenUnits({}).typed_text(typed, "mm")
        ('2.50', '63.500')
        >>> ChosenUnits({"torque": "lbf_ft"}).typed_text(119, "nm"), ChosenUnits({}).typed_text("84", "nm")
        ('87.8', '84')
        """
        unit = si
        if isinstance(value, dict):
            unit, value = value.get("unit", si), value.get("typed")
        text = as_digits(value)
        if unit == self.unit_for(si):
            return text
        ratio = factor(unit, si) / factor(self.unit_for(si), si)
        places = max(0, math.ceil(-math.log10(ratio * 10.0 ** -len(text.partition(".")[2])) - 1e-9))
        return with_places(float(text) * ratio, max(places, DECIMALS.get(self.unit_for(si), USUAL_PLACES)))

    def computed_text(self, value: float, si: str) -> str:
        """A figure that the engine worked out, as finely as sentences give it; a small one with two figures.

        >>> units = ChosenUnits({})
        >>> units.computed_text(84.5833333, "nm"), units.computed_text(0.0061, "mm"), units.computed_text(4, "")
        ('84.6', '0.0061', '4')
        """
        if isinstance(value, int):
            return str(value)
        unit = self.unit_for(si)
        if si in UNITS:
            value /= factor(unit, si)
        places = DECIMALS.get(unit, USUAL_PLACES) if si else RATIO_PLACES
        if value:
            places = max(places, min(places + MORE_PLACES, 1 - math.floor(math.log10(abs(value)))))
        return with_places(value, places)


def with_places(value: float, places: int) -> str:
    """A number with so many places after the point; nothing is not below 0.

    >>> with_places(-0.0001, 2), with_places(-1.25, 1)
    ('0.00', '-1.2')
    """
    text = f"{value:.{places}f}"
    return text.removeprefix("-") if not text.strip("-0.") else text


def as_digits(value: Any) -> str:
    """A number as it was typed, with a decimal point.

    >>> as_digits("+2,50"), as_digits(2.5), as_digits(1e-05), as_digits(7.000000001)
    ('2.50', '2.5', '0.00001', '7')
    """
    number = parse(value, "")
    if isinstance(value, str):
        return value.strip().replace("\u2212", "-").removeprefix("+").replace(",", ".")
    text = f"{number:.{MOST_PLACES}f}".rstrip("0").rstrip(".")
    return text.removeprefix("-") if not text.strip("-0.") else text


def as_plain_text(value: Any) -> str:
    """A value of which no form says what it is.

    >>> as_plain_text(True), as_plain_text("Dry."), as_plain_text(2.5), as_plain_text({"typed": "2,5", "unit": "inch"})
    ('yes', 'Dry.', '2.5', '2,5 inch')
    """
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        try:
            return as_digits(value)
        except BadInput:
            return str(value)
    if isinstance(value, dict):
        return f"{value.get('typed')} {value.get('unit', '')}".strip()
    return str(value)


def is_plain_number(value: Any) -> bool:
    """Whether `as_plain_text` writes a value as a number.

    >>> is_plain_number(2.5), is_plain_number(True), is_plain_number("2.5")
    (True, False, False)
    """
    return isinstance(value, int | float) and not isinstance(value, bool)


def escape_formula(text: str) -> str:
    """Mark text that a spreadsheet would take for a formula as text.

    >>> escape_formula("=1+1"), escape_formula("Oil changed.")
    ("'=1+1", 'Oil changed.')
    """
    return "'" + text if text[:1] in ("=", "+", "-", "@", "\t", "\r") else text
