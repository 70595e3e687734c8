"""The log of the application that handles a request."""

from flask import current_app

from ..log import Log


def current_log() -> Log:
    """The log that the application factory opened."""
    log: Log = current_app.extensions["slipbook_log"]
    return log
