"""Who may do what when Slipbook is open to the workshop's network."""

import logging
from urllib.parse import quote, urlsplit

from flask import Flask, Response, g, request

from ..engine.records.kinds import kept_from
from ..lan import BENCH, TRACKSIDE, Device, Door, is_loopback
from .problems import problem

PAIR = "pair.pair"
# For whoever has not been let in yet: whether the server is there, pairing, and the app itself, which holds no data.
OPEN = {"health.health", PAIR}
OPEN_SUBJECTS = {"web"}
READING = {"GET", "HEAD"}
# Bytes that a stranger may send; a code and a name are all that is asked of one.
STRANGERS_BODY = 4096
# Subjects in which a trackside phone may read nothing, and those in which it may write.
BENCH_ONLY = {"devices"}
TRACKSIDE_WRITES = {"calc", "log", "photos"}

NO_TOKEN = "This device is not paired with the workshop: have a pairing code made at the workshop's PC."
UNKNOWN_TOKEN = "The workshop does not know this device: pair it again. What waits in its outbox is kept."
REVOKED = "This device was shut out at the workshop's PC: pair it again. What waits in its outbox is kept."
NOT_TRACKSIDE = "This device is paired for trackside: do this at the bench, or have it paired for the bench."
FROM_ELSEWHERE = "This request was started by a page of another site: open Slipbook itself."


def current_door() -> Door | None:
    """The door of the application that a request came to; None while it serves this machine alone."""
    door: Door | None = g.get("door")
    return door


def is_stranger() -> bool:
    """Whether the request comes from a device that was not let in."""
    return current_door() is not None and g.get("role") is None


def barred_kinds() -> frozenset[str]:
    """Kinds of entry that whoever asks may not write."""
    role = g.get("role")
    return frozenset(kept_from(role)) if role else frozenset()


def from_own_page() -> bool:
    """Whether no other site's page is behind the request; programs that are no browser say nothing of it."""
    origin = request.headers.get("Origin")
    return origin is None or urlsplit(origin).netloc == request.host


def bearer() -> str | None:
    """The token that was sent (RFC 6750), or None."""
    kind, _, token = request.headers.get("Authorization", "").partition(" ")
    return token.strip() if kind.lower() == "bearer" and token.strip() else None


def refusal(door: Door) -> Response | None:
    """Why a request is not let in; None if it is, with its role in `g.role`."""
    token = bearer()
    device = door.devices.of_token(token) if token else None
    if device and not device.revoked:
        door.devices.saw(device)
        g.role, g.device = device.role, device
    elif token is None and is_loopback(request.remote_addr or ""):
        if request.method not in READING and not from_own_page():
            return problem(403, FROM_ELSEWHERE)
        g.role = BENCH
    else:
        # Or strangers could keep every thread waiting for a body that never comes.
        request.max_content_length = STRANGERS_BODY
    if request.blueprint in OPEN_SUBJECTS or request.endpoint in OPEN:
        return None
    if g.get("role") is None:
        answer = problem(401, why_not(token, device))
        answer.headers["WWW-Authenticate"] = 'Bearer realm="slipbook"'
        return answer
    return None if may(g.role) else problem(403, NOT_TRACKSIDE)


def why_not(token: str | None, device: Device | None) -> str:
    """What keeps a device out, and what to do."""
    if token is None:
        return NO_TOKEN
    return REVOKED if device else UNKNOWN_TOKEN


def was_guess(status: int) -> bool:
    """Whether a request that was answered so came with a token or a code that lets nobody in."""
    if request.endpoint == PAIR:
        return status >= 400
    return status == 401 and bearer() is not None


def may(role: str) -> bool:
    """Whether a role may do what is asked; what an entry may be is looked at with the entry."""
    if role == BENCH:
        return True
    if request.method in READING:
        return request.blueprint not in BENCH_ONLY
    return role == TRACKSIDE and request.blueprint in TRACKSIDE_WRITES


def stand_before(app: Flask, door: Door) -> None:
    """Let nobody into an application but through this door."""

    @app.before_request
    def let_in() -> Response | None:
        g.door = door
        return refusal(door)

    @app.after_request
    def pace(response: Response) -> Response:
        if was_guess(response.status_code):
            door.pacing.guessed()
        return response

    @app.after_request
    def note(response: Response) -> Response:
        device: Device | None = g.get("device")
        who = device.id if device else g.get("role") or "-"
        # No query, no headers, no body: nothing that is secret.
        logging.getLogger("slipbook.access").info(
            "%s %s %s %s %d", request.remote_addr, who, request.method, quote(request.path), response.status_code
        )
        return response
