"""Answers every error with problem details (RFC 9457) and a sentence for each field at fault."""

import json
import logging
from collections.abc import Callable, Iterator
from http import HTTPStatus
from threading import Lock
from typing import Any, NoReturn

from flask import Flask, Response, abort
from flask_smorest import Api, Blueprint
from marshmallow import Schema, fields
from werkzeug.exceptions import HTTPException

from ..engine import BadInput
from ..log import LogFault
from ..log.entry import list_errors

PROBLEM = "application/problem+json"

SENTENCES = {
    400: "This request cannot be read: send well-formed JSON.",
    401: "This device is not paired with the workshop: have a pairing code made at the workshop's PC.",
    403: "This device may not do that: do it at the bench.",
    404: "There is nothing at this address.",
    405: "This address does not take that method.",
    413: "This is too much at once: send at most 2 MB.",
    415: "Send JSON, with Content-Type: application/json.",
    422: "Some of this cannot be used: see the fields.",
    500: "Slipbook failed at this; what was stored before is safe. Try again, and tell whoever looks after it.",
}


class FaultSchema(Schema):
    """One field's fault."""

    field = fields.String(
        required=True, metadata={"description": "Dotted path of the field; empty for the request as a whole."}
    )
    reason = fields.String(required=True, metadata={"description": "One sentence that says what to do."})


class ProblemSchema(Schema):
    """Problem details (RFC 9457)."""

    type = fields.String(required=True)
    title = fields.String(required=True)
    status = fields.Integer(required=True)
    detail = fields.String(required=True)
    errors = fields.List(fields.Nested(FaultSchema), required=True)


def problem(status: int, detail: str = "", errors: list[dict[str, str]] | None = None) -> Response:
    """The answer to a request that failed.

    Parameters
    ----------
    status : int
        HTTP status, 400 or above.
    detail : str
        One sentence; if empty, the one that `SENTENCES` has for the status.
    errors : list of dict
        {"field", "reason"} for each field at fault.
    """
    try:
        title = HTTPStatus(status).phrase
    except ValueError:
        title = "Error"
    body = {
        "type": "about:blank",
        "title": title,
        "status": status,
        "detail": detail or SENTENCES.get(status, title + "."),
        "errors": errors or [],
    }
    return Response(json.dumps(body, ensure_ascii=False), status, content_type=PROBLEM)


def refuse(status: int, detail: str) -> NoReturn:
    """End a request that cannot be answered, from wherever that turns out: see `problem`."""
    abort(problem(status, detail))


def flatten(messages: Any, path: str = "") -> Iterator[dict[str, str]]:
    """Marshmallow's nested messages as {"field", "reason"}, each with its dotted path."""
    if isinstance(messages, dict):
        for name, inner in messages.items():
            yield from flatten(inner, f"{path}.{name}" if path else str(name))
    elif isinstance(messages, list):
        for inner in messages:
            yield from flatten(inner, path)
    else:
        yield {"field": "" if path == "_schema" else path.removesuffix("._schema"), "reason": str(messages)}


class ProblemApi(Api):  # type: ignore[misc]
    """flask-smorest's Api, which answers errors with `problem` and writes its document when that is first asked for.

    To write it takes as long as all else at the start of a server, and hardly anybody reads it.
    """

    ERROR_SCHEMA = ProblemSchema

    def init_app(self, app: Flask, **options: Any) -> None:
        """Register the interface and its error handlers."""
        self.not_written: list[Callable[[], None]] = []
        self.writing = Lock()
        super().init_app(app, **options)
        app.register_error_handler(BadInput, self.handle_bad_input)
        app.register_error_handler(LogFault, self.handle_log_fault)

    def register_blueprint(self, subject: Blueprint) -> None:
        """Answer at a subject's addresses; the document follows."""
        self._app.extensions["flask-smorest"]["blp_name_to_api"][subject.name] = self
        self._app.register_blueprint(subject)
        self.not_written.append(lambda: self.describe(subject))

    def describe(self, subject: Blueprint) -> None:
        """Write a subject into the document."""
        subject.register_views_in_doc(self, self._app, self.spec, name=subject.name, parameters=None)
        self.spec.tag({"name": subject.name, "description": subject.description})

    def _openapi_json(self) -> Response:
        with self.writing:
            while self.not_written:
                self.not_written.pop(0)()
            answer: Response = super()._openapi_json()
        return answer

    def _register_responses(self) -> None:
        # The document must name the media type of errors; flask-smorest has no other setting for it.
        self.DEFAULT_RESPONSE_CONTENT_TYPE: str = PROBLEM
        super()._register_responses()
        del self.DEFAULT_RESPONSE_CONTENT_TYPE

    def handle_bad_input(self, refusal: BadInput) -> Response:
        """Answer with the engine's sentence, at its field."""
        return problem(422, refusal.reason, list_errors([refusal]))

    def handle_log_fault(self, fault: LogFault) -> Response:
        """Answer that the log cannot read or write now; sending again later is safe."""
        logging.getLogger("slipbook").error("%s", fault.reason)
        answer = problem(507 if fault.full else 503, fault.reason)
        answer.headers["Retry-After"] = "30"
        return answer

    def handle_http_exception(self, error: HTTPException) -> Response:
        """Answer every other error."""
        data: dict[str, Any] = getattr(error, "data", None) or {}
        # By where the fault is: the query, or the body.
        messages = data.get("messages") or {}
        errors = [fault for nested in messages.values() for fault in flatten(nested)]
        detail = str(data.get("message", "")) or (errors[0]["reason"] if errors else "")
        answer = problem(error.code or 500, detail, errors)
        for name, value in error.get_headers():
            if name in ("Allow", "Retry-After"):
                answer.headers[name] = value
        return answer
