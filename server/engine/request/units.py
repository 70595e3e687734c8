"""Units that a person may type, and what each is in SI.

Every factor is exact. The pound is 0.45359237 kg and the inch 25.4 mm by the international agreement of 1959;
standard gravity is 9.80665 m/s2 by the third CGPM of 1901.

References
----------
1. NIST Special Publication 811 (2008), appendix B.
"""

from .errors import BadInput
from .rounded import fixed

INCH_MM = 25.4
POUND_KG = 0.45359237
GRAVITY = 9.80665
# The products written out, since multiplying them here would round on the way.
POUND_FORCE_N = 4.4482216152605
POUND_FORCE_FOOT_NM = 1.3558179483314004
POUND_FORCE_INCH_NM = 0.1129848290276167

# For each SI unit, named as at the end of a field's name: units that may be typed, how each is written, and its size.
UNITS = {
    "nm": [
        ("nm", "N·m", 1.0),
        ("lbf_ft", "lbf·ft", POUND_FORCE_FOOT_NM),
        ("lbf_in", "lbf·in", POUND_FORCE_INCH_NM),
        ("kgf_m", "kgf·m", GRAVITY),
    ],
    "mm": [("mm", "mm", 1.0), ("inch", "inch", INCH_MM), ("thou", "thou", 0.0254)],
    "n": [("n", "N", 1.0), ("kgf", "kgf", GRAVITY), ("lbf", "lbf", POUND_FORCE_N)],
    "kg": [("kg", "kg", 1.0), ("lb", "lb", POUND_KG)],
    "m": [("m", "m", 1.0)],
    "ms2": [("ms2", "m/s²", 1.0), ("g", "g", GRAVITY)],
    "deg": [("deg", "°", 1.0)],
    "nmm2": [("nmm2", "N/mm²", 1.0)],
    "percent": [("percent", "%", 1.0)],
    "k": [("k", "K", 1.0)],
    "": [("", "", 1.0)],
}


def unit_labels(si: str) -> dict[str, str]:
    """The units that a quantity may be given in, each with the way it is written.

    >>> unit_labels("mm")
    {'mm': 'mm', 'inch': 'inch', 'thou': 'thou'}
    """
    return {name: sign for name, sign, _ in UNITS[si]}


def factor(unit: str, si: str, field: str = "") -> float:
    """Size of one `unit` in the SI unit `si`.

    Parameters
    ----------
    unit : str
        The unit that was typed, such as "lbf_ft".
    si : str
        The field's SI unit, such as "nm".
    field : str
        Path of the field, for the error.

    Raises
    ------
    BadInput
        `unit` does not measure what the field holds.

    Examples
    --------
    >>> factor("lbf_ft", "nm") == 1.3558179483314004
    True
    """
    for name, _, size in UNITS[si]:
        if name == unit:
            return size
    known = ", ".join(sign for _, sign, _ in UNITS[si] if sign)
    if not known:
        raise BadInput(field, "This is a plain number: leave its unit out.")
    raise BadInput(field, f"That is not a unit for this. Use one of these: {known}.")


def units(_: dict[str, object]) -> dict[str, object]:
    """Every unit that can be chosen, for the switches beside the fields.

    Returns
    -------
    dict
        SI unit -> list of {"unit", "label", "factor", "places" after the point}; the SI unit itself comes first.
    """
    return {
        si: [
            {"unit": name, "label": sign, "factor": size, "places": DECIMALS.get(name, 2)}
            for name, sign, size in choices
        ]
        for si, choices in UNITS.items()
        if len(choices) > 1
    }


# Places after the point that a sentence gives: a little finer than the tools of this job can read.
DECIMALS = {
    "nm": 1,
    "lbf_ft": 1,
    "lbf_in": 0,
    "kgf_m": 2,
    "mm": 3,
    "inch": 4,
    "thou": 1,
    "n": 0,
    "kgf": 1,
    "lbf": 0,
}


def say(value: float, si: str, unit: str = "") -> str:
    """A value as sentences give it, in the unit that the reader chose.

    Parameters
    ----------
    value : float
        In the SI unit `si`.
    si : str
        "nm", "mm" or "n".
    unit : str
        One of the units of `UNITS[si]`; empty for the SI unit.

    Examples
    --------
    >>> say(100.0, "nm"), say(100.0, "nm", "lbf_ft"), say(2.5, "mm", "inch")
    ('100.0 N·m', '73.8 lbf·ft', '0.0984 inch')
    """
    chosen = unit or si
    for name, sign, size in UNITS[si]:
        if name == chosen:
            places = DECIMALS.get(name, 2)
            return f"{fixed(value / size, places)} {sign}"
    raise BadInput("", "That is not a unit for this.")
