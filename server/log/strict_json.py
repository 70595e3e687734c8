"""Reads JSON strictly: no NaN, no infinities, no text that cannot be stored."""

import json
import math
from typing import Any, NoReturn

# Python itself reads no more.
MOST_DIGITS = 4300


def refuse_constant(name: str) -> NoReturn:
    """NaN and infinities, which JSON does not have."""
    raise ValueError(f"{name} is not a number: leave the field out or type one.")


def finite(text: str) -> float:
    """A float, unless it is beyond all floats."""
    number = float(text)
    if not math.isfinite(number):
        raise ValueError(f"{text[:20]} is too large for a number.")
    return number


def whole(text: str) -> int:
    """A whole number, unless it has more digits than anything that is measured or counted."""
    if len(text) > MOST_DIGITS:
        raise ValueError(f"{text[:20]}... is too large for a number.")
    return int(text)


def parse(data: bytes) -> Any:
    """The value of a JSON text.

    Raises
    ------
    ValueError
        It is no JSON text; the message is a sentence.

    Examples
    --------
    >>> parse(b'{"torque": NaN}')
    Traceback (most recent call last):
    ValueError: NaN is not a number: leave the field out or type one.
    """
    try:
        text = data.decode()
        value = json.loads(text, parse_constant=refuse_constant, parse_float=finite, parse_int=whole)
        if "\\u" in text:
            # An escape may name half a character, which no file can hold.
            json.dumps(value, ensure_ascii=False).encode()
    except UnicodeError:
        raise ValueError("This is not text in UTF-8: send JSON in UTF-8.") from None
    except json.JSONDecodeError as failure:
        raise ValueError(f"This is not JSON at character {failure.pos + 1}: send well-formed JSON.") from None
    except RecursionError:
        raise ValueError("This is nested too deeply: send plain fields.") from None
    return value
