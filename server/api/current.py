"""The log of the application that handles a request."""

from collections.abc import Callable
from typing import Any
from uuid import UUID

from flask import current_app, g

from ..log import Log
from .problems import refuse


def current_log() -> Log:
    """The log that a request is about: the folder's, or that of the workshop from which its device comes."""
    if "log" not in g:
        open_log: Callable[[int | None], Log] = current_app.extensions["slipbook_logs"]
        g.log = open_log(g.get("workshop"))
    log: Log = g.log
    return log


def has_no_log() -> bool:
    """Whether a request is about no log, since the server has several and nobody says from which workshop it comes."""
    return bool(current_app.extensions["slipbook_is_hosted"]) and g.get("workshop") is None


def entries_of(unit: UUID) -> list[dict[str, Any]]:
    """The entries of a unit, in the order of arrival; where the log has none, the request ends with that."""
    entries = current_log().of_unit(str(unit))
    if not entries:
        refuse(404, f"There is no unit {unit} in this log. Choose one from the list of units.")
    return entries
