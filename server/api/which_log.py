"""Refuses what is meant for another log than the one that answers at this address."""

from flask import Flask, Response, request

from .current import current_log, has_no_log
from .problems import problem

HEADER = "Slipbook-Log"
# A device asks there which log it is; and an empty log becomes another while a backup of that one is brought back.
OPEN = ("health.health", "backup.bring_back")

OTHER_LOG = "Another log is at this address now than the one that this was meant for: reload Slipbook to see it."


def install(app: Flask) -> None:
    """Refuse requests that name another log, so that nothing crosses from one to the other by itself."""

    @app.before_request
    def refuse_for_another() -> Response | None:
        wanted = request.headers.get(HEADER)
        if wanted is None or request.endpoint in OPEN or has_no_log():
            return None
        if wanted == current_log().identity.log_id:
            return None
        return problem(409, OTHER_LOG)
