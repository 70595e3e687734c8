"""The log of the application that handles a request."""

from collections.abc import Callable

from flask import current_app, g

from ..log import Log


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
