"""Reads requests strictly: a body must be JSON, and must say so."""

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from flask import Request
from flask_smorest import Blueprint, abort
from marshmallow import Schema
from webargs.flaskparser import FlaskParser

from ..log.strict_json import parse

Decorator = Callable[[Callable[..., Any]], Callable[..., Any]]


class StrictParser(FlaskParser):
    """A webargs parser that reads JSON with `strict_json`."""

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
        # flask-smorest has no types; these are the types of its decorators.
        def route(self, rule: str, **options: Any) -> Decorator: ...  # noqa: D102
        def arguments(self, schema: Schema | type[Schema], **options: Any) -> Decorator: ...  # noqa: D102
        def response(self, status: int, schema: type[Schema] | dict[str, Any] | None, **options: Any) -> Decorator: ...  # noqa: D102
        def doc(self, **options: Any) -> Decorator: ...  # noqa: D102
