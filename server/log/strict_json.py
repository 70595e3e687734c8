"""Reads JSON strictly: NaN, infinities and text that cannot be stored are refused."""

import json
import math
from typing import Any, NoReturn

import orjson

# Python itself reads no longer numbers.
MOST_DIGITS = 4300


def refuse_constant(name: str) -> NoReturn:
    """Refuse NaN and infinities, which JSON does not have."""
    raise ValueError(f"{name} is not a number: leave the field out or type a number.")


def parse_float(text: str) -> float:
    """A float, unless it is too large for one."""
    number = float(text)
    if not math.isfinite(number):
        raise ValueError(f"{text[:20]} is too large for a number.")
    return number


def parse_int(text: str) -> int:
    """A whole number of at most `MOST_DIGITS` digits."""
    if len(text) > MOST_DIGITS:
        raise ValueError(f"{text[:20]}... is too large for a number.")
    return int(text)


def parse(data: bytes) -> Any:
    """The value of a JSON text in UTF-8.

    Raises
    ------
    ValueError
        It is not JSON, or holds what cannot be stored; the message is a sentence that says what to do.

    Examples
    --------
    >>> parse(b'{"torque": NaN}')
    Traceback (most recent call last):
    ValueError: NaN is not a number: leave the field out or type a number.
    """
    try:
        # A whole number of more than 64 bits is a float then, which is refused in every field just the same.
        return orjson.loads(data)
    except orjson.JSONDecodeError:
        # Python's own reader is slower, and can say what is wrong.
        pass
    try:
        text = data.decode()
        value = json.loads(text, parse_constant=refuse_constant, parse_float=parse_float, parse_int=parse_int)
        if "\\u" in text:
            # An escape may stand for half a character, which no file can hold.
            json.dumps(value, ensure_ascii=False).encode()
    except UnicodeError:
        raise ValueError("This is not UTF-8 text: send JSON in UTF-8.") from None
    except json.JSONDecodeError as failure:
        raise ValueError(f"This is not JSON at character {failure.pos + 1}: send well-formed JSON.") from None
    except RecursionError:
        raise ValueError("This is nested too deeply: send plain fields.") from None
    return value
