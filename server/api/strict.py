"""Reads requests strictly: JSON by its media type, no NaN, no infinities, no text that cannot be stored."""

import json
import math
from collections.abc import Callable
from typing import TYPE_CHECKING, Any, NoReturn

from flask import Request
from flask_smorest import Blueprint, abort
from marshmallow import Schema
from webargs.flaskparser import FlaskParser

# Python itself reads no more.
MOST_DIGITS = 4300

Decorator = Callable[[Callable[..., Any]], Callable[..., Any]]


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


class StrictParser(FlaskParser):
    """A webargs parser that takes JSON by `parse` only."""

    def load_json(self, request: Request, _: Any) -> Any:
        """The request's body."""
        if not request.is_json:
            abort(415)
        try:
            return parse(request.get_data())
        except ValueError as failure:
            return abort(400, message=str(failure))


class Subject(Blueprint):  # type: ignore[misc]
    """A blueprint whose requests are read strictly."""

    ARGUMENTS_PARSER = StrictParser()

    if TYPE_CHECKING:
        # flask-smorest has no types; these are what its decorators do.
        def route(self, rule: str, **options: Any) -> Decorator: ...  # noqa: D102
        def arguments(self, schema: Schema | type[Schema], **options: Any) -> Decorator: ...  # noqa: D102
        def response(self, status: int, schema: type[Schema] | dict[str, str], **options: Any) -> Decorator: ...  # noqa: D102
        def doc(self, **options: Any) -> Decorator: ...  # noqa: D102
