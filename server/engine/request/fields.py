"""What a request may hold: each field's meaning, unit and range, stated once.

The engine checks requests by these on both hosts. The server makes its published schemas from the same objects, and
the phone its forms, so that a limit or a sentence is never written twice.
"""

from .errors import BadInput, inside
from .letters import BLANKS, are_digits, is_blank, trimmed
from .rounded import fixed
from .units import UNITS, factor

TYPE_A_NUMBER = "Type a number, for example 72.5."
FILL_THIS_IN = "Fill this in."
NO_CHOICE = "This cannot be chosen here: choose another."
NOT_ASKED = "This is not asked for here: leave it out."
# Characters of a text that stands in one line.
LINE = 200
# What a typed quantity holds.
QUANTITY = {"typed", "unit"}
# The letters that any text may hold.
PLAIN = "".join([chr(code) for code in range(0x20, 0x7F)])


class Required:
    """Default of a field that has to be given."""


REQUIRED = Required()


class Field:
    """One field of a request.

    Attributes
    ----------
    meaning : str
        What it holds, in the trade's words.
    default : object
        The value where none is given; `REQUIRED` if there is none, None if the field may stay empty.
    label : str
        What stands beside it on the screens; empty where no screen has it.
    """

    count = 0

    def __init__(self, meaning: str, default: object = REQUIRED, label: str = "") -> None:
        self.meaning = meaning
        self.default = default
        self.label = label
        # MicroPython's dictionaries keep no order, so each field notes its place in the source.
        Field.count += 1
        self.place = Field.count

    def read(self, value: object, path: str) -> object:
        """`value` checked, in SI; raises `BadInput` at `path`."""
        raise NotImplementedError


class Number(Field):
    """A number, in the SI unit that its name ends in, or as it was typed.

    Accepts a JSON number (SI), text with a decimal comma or point (SI), or {"typed": text, "unit": name}.
    """

    def __init__(
        self,
        low: float,
        high: float,
        unit: str,
        meaning: str,
        default: object = REQUIRED,
        label: str = "",
    ) -> None:
        super().__init__(meaning, default, label)
        self.low = low
        self.high = high
        self.unit = unit

    def read(self, value: object, path: str) -> float:
        # The first unit of each is the SI unit itself.
        unit, size = UNITS[self.unit][0][0], 1.0
        if isinstance(value, dict):
            others = set(value) - QUANTITY
            if others:
                raise BadInput(inside(path, min(others)), "A typed quantity holds only 'typed' and 'unit'.")
            given = value.get("unit", unit)
            if given != unit:
                unit = given
                size = factor(str(unit), self.unit, path)
            value = value.get("typed")
        number = parse(value, path)
        # Multiplying by 1.0 would be harmless, but a value typed in SI must come through untouched to the last bit.
        number = number if size == 1.0 else number * size
        if not self.low <= number <= self.high:
            side, bound = ("least", self.low) if number < self.low else ("most", self.high)
            got = amount(number / size, unit, self.unit)
            raise BadInput(path, f"This must be at {side} {amount(bound / size, unit, self.unit)}; got {got}.")
        return number


class Whole(Number):
    """A whole number without a unit, such as a count."""

    def __init__(self, low: int, high: int, meaning: str, default: object = REQUIRED, label: str = "") -> None:
        super().__init__(low, high, "", meaning, default, label)

    def read(self, value: object, path: str) -> int:
        return as_whole(super().read(value, path), path)


class Choice(Field):
    """One word out of a few; `options` gives each word's meaning."""

    def __init__(self, options: dict[str, str], meaning: str, default: object = REQUIRED, label: str = "") -> None:
        super().__init__(meaning, default, label)
        self.options = options

    def read(self, value: object, path: str) -> str:
        if isinstance(value, str) and value in self.options:
            return value
        raise BadInput(path, choose_one([self.options[word] for word in sorted(self.options)]))


class Text(Field):
    """Text of at most `most` characters; where it may be longer than `LINE`, in several lines."""

    def __init__(self, most: int, meaning: str, default: object = REQUIRED, label: str = "") -> None:
        super().__init__(meaning, default, label)
        self.most = most

    def read(self, value: object, path: str) -> str:
        if not isinstance(value, str):
            raise BadInput(path, "Type text here.")
        if len(value) > self.most:
            raise BadInput(path, f"Shorten this to {self.most} characters; it has {len(value)}.")
        # Nearly every text is plain, and so is nearly every letter of the others; many are read at every key.
        if value.strip(PLAIN):
            for place, letter in enumerate(value):
                if not " " <= letter <= "~" and is_control(letter) and not (self.most > LINE and letter in "\n\r\t"):
                    raise BadInput(path, f"Character {place + 1} cannot be shown in this text: delete it.")
        if self.default is REQUIRED and is_blank(value):
            raise BadInput(path, FILL_THIS_IN)
        return value


class Day(Field):
    """A calendar day of the years 1 to 9999, as ISO 8601 writes it: 2026-11-25."""

    def read(self, value: object, path: str) -> str:
        if isinstance(value, str) and len(value) == 10 and value[4] == "-" and value[7] == "-":
            year, month, day = value[:4], value[5:7], value[8:]
            digits = are_digits(year) and are_digits(month) and are_digits(day)
            if digits and year != "0000" and 1 <= int(month) <= 12 and 1 <= int(day) <= days_in(int(year), int(month)):
                return value
        raise BadInput(path, "Write the day as year-month-day, for example 2026-11-25.")


class YesNo(Field):
    """True or false."""

    def read(self, value: object, path: str) -> bool:
        if isinstance(value, bool):
            return value
        raise BadInput(path, "Answer true or false.")


class Listing(Field):
    """`least` to `most` values of one field; `nouns` names them in errors."""

    def __init__(
        self,
        of: Field,
        least: int,
        most: int,
        meaning: str,
        default: object = REQUIRED,
        nouns: str = "entries",
        label: str = "",
    ) -> None:
        super().__init__(meaning, default, label)
        self.of = of
        self.least = least
        self.most = most
        self.nouns = nouns

    def read(self, value: object, path: str) -> list[object]:
        if not isinstance(value, list):
            raise BadInput(path, "Give a list here.")
        if len(value) < self.least:
            few = f"at least {self.least}" if self.least > 1 else "some"
            raise BadInput(path, f"Give {few} {self.nouns} here; there {be(len(value))}.")
        if len(value) > self.most:
            raise BadInput(path, f"Give at most {self.most} {self.nouns} here; there {be(len(value))}.")
        return [self.of.read(item, inside(path, place)) for place, item in enumerate(value)]


class Checked(Field):
    """Named fields that the server or the phone checked before, taken as they are."""

    def read(self, value: object, path: str) -> dict[str, object]:
        if not isinstance(value, dict):
            raise BadInput(path, "Give named fields here.")
        return value


class Group(Field):
    """Named fields that belong together; anything else beside them is refused."""

    def __init__(
        self, fields: dict[str, Field], meaning: str = "", default: object = REQUIRED, label: str = ""
    ) -> None:
        super().__init__(meaning, default, label)
        self.fields = fields
        self.names = set(fields)
        self.in_order = sorted(fields.items(), key=lambda item: item[1].place)

    def read(self, value: object, path: str) -> dict[str, object]:
        if not isinstance(value, dict):
            raise BadInput(path, "Give named fields here.")
        others = set(value) - self.names
        if others:
            raise BadInput(inside(path, min(others)), NOT_ASKED)
        start = path + "." if path else ""
        answer = {}
        for name, field in self.in_order:
            given = value.get(name)
            if given is not None and not is_empty(given):
                answer[name] = field.read(given, start + name)
            elif field.default is REQUIRED:
                raise BadInput(start + name, FILL_THIS_IN)
            else:
                answer[name] = field.default
        return answer


class Answered(Group):
    """Another calculation's result, handed on whole: only the fields named here are read, the rest is passed over."""

    def read(self, value: object, path: str) -> dict[str, object]:
        if not isinstance(value, dict):
            raise BadInput(path, "Give named fields here.")
        return super().read({name: value[name] for name in self.fields if name in value}, path)


def choose_one(words: list[str]) -> str:
    """A sentence that asks for one out of a few, and tells them as long as that is short.

    >>> choose_one(["cold", "warm"])
    'Choose one of these: cold; warm.'
    """
    choices = "; ".join(words)
    return f"Choose one of these: {choices}." if len(choices) <= LINE else NO_CHOICE


def is_control(letter: str) -> bool:
    """Whether a character is one of the control codes of ISO/IEC 6429, which do not show on a screen.

    >>> is_control("\\x00"), is_control("\\n"), is_control("ä")
    (True, True, False)
    """
    return letter < " " or "\x7f" <= letter < "\xa0"


def as_typed(text: str) -> str:
    """What somebody typed, to be quoted to them; MicroPython's `repr` writes no letter beyond ASCII.

    >>> print(as_typed("9 mm é"), as_typed("9\\x00"))
    '9 mm é' '9�'
    """
    return "'" + "".join(["\ufffd" if is_control(letter) else letter for letter in text]) + "'"


def is_empty(value: object) -> bool:
    """Whether nothing was typed: None, blank text, or a quantity without a number."""
    if isinstance(value, dict) and "typed" in value:
        value = value["typed"]
    if isinstance(value, str):
        # Most begin with a letter that shows.
        return not value or (value[0] in BLANKS and is_blank(value))
    return value is None


def parse(value: object, path: str) -> float:
    """A finite number from a JSON number or from text with a decimal comma or point.

    Raises
    ------
    BadInput
        Nothing, a word, two decimal signs, an infinity or no number at all.

    Examples
    --------
    >>> parse("72,5", "")
    72.5
    """
    # Most figures are plain; this passes over what cannot be compared.
    if (type(value) is float or type(value) is int) and -1e15 <= value <= 1e15:
        return float(value)
    if isinstance(value, str):
        # So are most texts: what is left out here is looked at letter by letter below.
        text = value.replace(",", ".")
        if 0 < len(text) <= 20 and text.count(".") < 2 and text != "." and not text.strip("0123456789."):
            return float(text)
    if is_empty(value):
        raise BadInput(path, FILL_THIS_IN)
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        if value != value or value in (float("inf"), float("-inf")):
            raise BadInput(path, TYPE_A_NUMBER)
        if abs(value) > 1e15:
            raise BadInput(path, f"{TYPE_A_NUMBER[:-1]}; this one is far too large.")
        return float(value)
    if not isinstance(value, str):
        raise BadInput(path, TYPE_A_NUMBER)
    typed = trimmed(value)
    text = typed.replace("\u2212", "-")
    digits = text[1:] if text[:1] in ("-", "+") else text
    whole, _, part = digits.replace(",", ".").partition(".")
    if (whole + part).strip("0123456789") or not whole + part:
        if "," in digits + part and "." in digits and set(digits) <= set("0123456789.,"):
            raise BadInput(path, f"Use one decimal sign only, comma or point; got {as_typed(typed)}.")
        raise BadInput(path, f"{TYPE_A_NUMBER[:-1]}; got {as_typed(typed[:20])}.")
    if len(digits) > 20:
        raise BadInput(path, "Type at most 20 digits.")
    return float(text.replace(",", "."))


def as_whole(number: float, path: str) -> int:
    """The same number as a whole one; refuses a fraction."""
    if number != int(number):
        raise BadInput(path, f"Type a whole number; got {show(number)}.")
    return int(number)


def show(number: float) -> str:
    """A number as a person writes it: at most four figures after the point, no trailing zeros.

    >>> show(140.0), show(2.4699999)
    ('140', '2.47')
    """
    text = fixed(number, 4)
    while text.endswith("0"):
        text = text[:-1]
    text = text[:-1] if text.endswith(".") else text
    return "0" if text == "-0" else text


def amount(number: float, unit: object, si: str) -> str:
    """A number with its unit, as written beside a field."""
    for name, written, _ in UNITS[si]:
        if name == unit:
            return f"{show(number)} {written}".strip()
    return show(number)


def be(count: int) -> str:
    """ "is 1" or "are 3", for sentences that count."""
    return f"is {count}" if count == 1 else f"are {count}"


def days_in(year: int, month: int) -> int:
    """Days in a month of the Gregorian calendar.

    >>> days_in(2028, 2)
    29
    """
    if month == 2:
        return 29 if year % 4 == 0 and (year % 100 != 0 or year % 400 == 0) else 28
    return 30 if month in (4, 6, 9, 11) else 31
