"""What a person wrote into a cell: a figure with or without its unit, several of them, or a day."""

import re
from datetime import date, datetime

from ..engine import BadInput
from .spreadsheet import Value, as_text

# Signs of units as people write them, without blanks, points and case; what is not here is asked about.
SPELLINGS = {
    "nm": {
        "nm": "nm",
        "n*m": "nm",
        "n·m": "nm",
        "newtonmetre": "nm",
        "newtonmetres": "nm",
        "newtonmeter": "nm",
        "lbft": "lbf_ft",
        "lb-ft": "lbf_ft",
        "lbf·ft": "lbf_ft",
        "lbfft": "lbf_ft",
        "lbsft": "lbf_ft",
        "ftlb": "lbf_ft",
        "ft-lb": "lbf_ft",
        "ftlbs": "lbf_ft",
        "ft-lbs": "lbf_ft",
        "ftlbf": "lbf_ft",
        "lbin": "lbf_in",
        "lb-in": "lbf_in",
        "lbfin": "lbf_in",
        "lbf·in": "lbf_in",
        "inlb": "lbf_in",
        "in-lb": "lbf_in",
        "inlbs": "lbf_in",
        "kgm": "kgf_m",
        "kgfm": "kgf_m",
        "kgf·m": "kgf_m",
        "mkg": "kgf_m",
    },
    "mm": {
        "mm": "mm",
        "in": "inch",
        "inch": "inch",
        "inches": "inch",
        '"': "inch",
        "thou": "thou",
        "mil": "thou",
        "mils": "thou",
    },
    # What stands on a pull scale or a weight is what it weighs.
    "n": {
        "n": "n",
        "newton": "n",
        "newtons": "n",
        "kgf": "kgf",
        "kg": "kgf",
        "kp": "kgf",
        "lbf": "lbf",
        "lb": "lbf",
        "lbs": "lbf",
    },
}
# What people write where nothing was measured.
NOTHING = ("-", "–", "—", "n/a", "n.a.", "none")
COMMA, POINT, EITHER = "comma", "point", "either"
DECIMALS = {COMMA: "84,5", POINT: "84.5", EITHER: "both occur; never a sign between thousands"}
DMY, MDY = "dmy", "mdy"
DAYS = {DMY: "3/5/2025 is 3 May", MDY: "3/5/2025 is 5 March"}

FIGURE = re.compile(r"[+\-\u2212]?\d[\d.,']*")
BETWEEN = re.compile(r"[;/|\n]|,\s+|\s+(?:and|&)\s+|(?<=\d)\s+(?=[\d+\-\u2212])")
# Thousands with a blank between, or two readings: nobody can say.
UNSURE = re.compile(r"(?<![\d.,])\d{1,3}[ \u00a0\u202f]\d{3}(?![\d.,])")
MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
ISO_DAY = re.compile(r"(\d{4})[-./](\d{1,2})[-./](\d{1,2})(?:[T ].*)?")
NUMERIC_DAY = re.compile(r"(\d{1,2})\s*[-./]\s*(\d{1,2})\s*[-./]\s*(\d{4}|\d{2})\.?(?:\s.*)?")
DAY_MONTH = re.compile(r"(\d{1,2})(?:st|nd|rd|th)?[ .\-]+([A-Za-z]{3,9})[ .,\-]+(\d{4}|\d{2})")
MONTH_DAY = re.compile(r"([A-Za-z]{3,9})[ .\-]+(\d{1,2})(?:st|nd|rd|th)?[ ,.\-]+(\d{4}|\d{2})")
FIRST_YEAR = 1970
# Two figures of a year up to this one are of this century.
TURN = 69


def read_figures(value: Value, si: str, unit: str, decimal: str) -> list[dict[str, str]]:
    """Figures in a cell, as a request takes them: {"typed", "unit"}.

    Parameters
    ----------
    value : Value
        The cell.
    si : str
        What they measure: "nm" or "mm".
    unit : str
        Their unit where the cell names none.
    decimal : str
        One of `DECIMALS`.

    Raises
    ------
    BadInput
        With no field: something in the cell is no figure, or its unit is not known.

    Examples
    --------
    >>> read_figures("84,5 Nm / 62 ft-lb", "nm", "nm", "either")
    [{'typed': '84.5', 'unit': 'nm'}, {'typed': '62', 'unit': 'lbf_ft'}]
    >>> read_figures("1.084,5", "nm", "nm", "comma")
    [{'typed': '1084.5', 'unit': 'nm'}]
    """
    if isinstance(value, bool) or (value is not None and not isinstance(value, str | int | float)):
        raise BadInput("", f"{as_text(value)} is no figure: correct this cell.")
    if isinstance(value, int | float):
        return [{"typed": as_text(value), "unit": unit}]
    text = as_text(value)
    if text.casefold() in NOTHING:
        return []
    if si == "nm" and (unsure := UNSURE.search(text)) and len(text.split()) == 2:
        raise BadInput(
            "", f"“{unsure.group()}” may be one figure or two: write it without the blank, or with a / in it."
        )
    return [read_figure(part.strip(), text, si, unit, decimal) for part in BETWEEN.split(text) if part.strip()]


def read_figure(text: str, cell: str, si: str, unit: str, decimal: str) -> dict[str, str]:
    """One figure with or without its unit, of a cell that may hold more."""
    match = FIGURE.match(text)
    if match is None:
        raise BadInput("", f"“{shorten(cell)}” is no figure: correct this cell, or leave its column out.")
    sign = text[match.end() :].strip()
    written = re.sub(r"[\s.]+", "", sign).casefold()
    if sign and written not in SPELLINGS[si]:
        raise BadInput("", f"“{shorten(cell)}”: the unit “{shorten(sign)}” is not known here; correct this cell.")
    return {"typed": plain_digits(match.group(), decimal), "unit": SPELLINGS[si][written] if sign else unit}


def plain_digits(text: str, decimal: str) -> str:
    """A figure with a decimal point and nothing between thousands.

    >>> plain_digits("1'084.5", "point"), plain_digits("2,485", "comma"), plain_digits("\u22120,5", "either")
    ('1084.5', '2.485', '-0.5')
    """
    bare = text.replace("'", "").replace("\u2212", "-").removeprefix("+")
    if decimal == EITHER:
        if bare.count(",") + bare.count(".") > 1:
            raise BadInput("", f"“{text}” has two signs: say above which is the decimal sign.")
        return bare.replace(",", ".")
    point, thousands = (",", ".") if decimal == COMMA else (".", ",")
    whole, _, rest = bare.partition(point)
    groups = whole.split(thousands)
    if point in rest or thousands in rest or (len(groups) > 1 and any(len(group) != 3 for group in groups[1:])):
        raise BadInput("", f"“{text}” does not fit {DECIMALS[decimal]}: correct this cell, or choose the other sign.")
    return "".join(groups) + (f".{rest}" if rest else "")


def read_day(value: Value, order: str, today: date) -> date:
    """The day in a cell.

    Parameters
    ----------
    value : Value
        The cell; as a spreadsheet's own date, or in words and figures.
    order : str
        One of `DAYS`: what 3/5/2025 is.
    today : date
        No day of a history is later.

    Raises
    ------
    BadInput
        With no field: it is no day, or not one on which this can have been done.

    Examples
    --------
    >>> today = date(2026, 11, 29)
    >>> [read_day(text, "dmy", today).isoformat() for text in ("2025-05-03", "3.5.25", "3 May 2025", "May 3rd, 2025")]
    ['2025-05-03', '2025-05-03', '2025-05-03', '2025-05-03']
    """
    if isinstance(value, datetime):
        day = value.date()
    elif isinstance(value, date):
        day = value
    else:
        day = day_of_words(as_text(value).strip(), order)
    if day > today:
        raise BadInput("", f"{day.isoformat()} is still to come: correct the day.")
    if day.year < FIRST_YEAR:
        raise BadInput("", f"{day.isoformat()} is before {FIRST_YEAR}, which no entry can be: correct the day.")
    return day


def day_of_words(text: str, order: str) -> date:
    """The day that a text names."""
    if match := ISO_DAY.fullmatch(text):
        year, month, day = map(int, match.groups())
    elif match := NUMERIC_DAY.fullmatch(text):
        first, second = int(match[1]), int(match[2])
        day, month = (first, second) if order == DMY else (second, first)
        year = whole_year(match[3])
        if month > 12 >= day:
            raise BadInput(
                "", f"“{text}” has no month {month}: here day and month are the other way round; correct it."
            )
    elif match := DAY_MONTH.fullmatch(text):
        day, month, year = int(match[1]), month_of(match[2]), whole_year(match[3])
    elif match := MONTH_DAY.fullmatch(text):
        day, month, year = int(match[2]), month_of(match[1]), whole_year(match[3])
    else:
        raise BadInput("", f"“{shorten(text)}” is not a day: write it as 2025-05-03." if text else "There is no day.")
    try:
        return date(year, month, day)
    except ValueError:
        raise BadInput("", f"“{text}” is not a day of the calendar: correct it.") from None


def whole_year(text: str) -> int:
    """A year of two or four figures."""
    return int(text) if len(text) == 4 else int(text) + (2000 if int(text) <= TURN else 1900)


def month_of(name: str) -> int:
    """The number of a month by its English name; 0 if it is none, which no calendar has."""
    short = name[:3].lower()
    return MONTHS.index(short) + 1 if short in MONTHS else 0


def shorten(text: str) -> str:
    """The beginning of a text that a sentence quotes."""
    return text if len(text) <= 40 else text[:39] + "…"
