"""Decides who may do what while Slipbook is open to the workshop's network."""

import logging
from urllib.parse import quote, urlsplit

from flask import Flask, Response, current_app, g, request

from ..engine.records.kinds import kinds_closed_to
from ..lan import BENCH, TRACKSIDE, Device, Doorway, Register, Registers, is_loopback
from .problems import SENTENCES, problem

PAIR = "pair.pair"
# Its address holds the secret that lets a calendar program in, which can show no token.
FEED = "calendar.feed"
# Open to devices that are not paired yet: whether the server is there, pairing, and the app itself, which has no data.
OPEN = {"health.health", PAIR}
OPEN_SUBJECTS = {"web"}
READING = {"GET", "HEAD"}
# The most bytes that a stranger may send: enough for a pairing code and a name.
STRANGERS_BODY = 4096
# Subjects in which a trackside phone may not even read, and those in which it may write.
BENCH_ONLY = {"backup", "devices", "feeds"}
TRACKSIDE_WRITES = {"calc", "log", "photos"}

UNKNOWN_TOKEN = "The workshop does not know this device: pair it again. What waits in its outbox is kept."
REVOKED = "This device was shut out at the workshop's PC: pair it again. What waits in its outbox is kept."
NOT_TRACKSIDE = "This device is paired for trackside: do this at the bench, or have it paired for the bench."
TOO_MUCH_TODAY = (
    "This device has sent as much as it may in a day: what waits is kept and goes on tomorrow; tell the workshop."
)
OTHER_SITE = "This request came from a page of another site: open Slipbook itself."


def current_door() -> Doorway | None:
    """The door of the application that handles a request; None while it serves this machine only."""
    door: Doorway | None = g.get("door")
    return door


def current_registers() -> Registers:
    """The registers of the application that handles a request."""
    registers: Registers = current_app.extensions["slipbook_registers"]
    return registers


def current_register() -> Register:
    """Who may come into the workshop that a request is for."""
    return current_registers().register_of(g.get("workshop"))


def own_addresses() -> list[str]:
    """Slipbook's addresses as others on the network reach it, the best first."""
    door = current_door()
    return (door.urls() if door else []) or [request.host_url]


def is_stranger() -> bool:
    """Whether the request comes from a device that is not paired."""
    return current_door() is not None and g.get("role") is None


def find_barred_kinds() -> frozenset[str]:
    """The kinds of entry that the device may not write."""
    role = g.get("role")
    return frozenset(kinds_closed_to(role)) if role else frozenset()


def name_sender() -> str:
    """What people call the device that a request comes from."""
    device: Device | None = g.get("device")
    return device.name if device else "this PC"


def is_other_machine() -> bool:
    """Whether the request certainly comes from a paired device that is not this PC, and has a clock of its own."""
    door, address = current_door(), request.remote_addr or ""
    if door is None or g.get("device") is None:
        return False
    return not door.lets_this_pc_in or not (is_loopback(address) or address in door.hosts)


def is_from_own_page() -> bool:
    """Whether the request comes from no other site's page; programs other than browsers send no Origin."""
    origin = request.headers.get("Origin")
    return origin is None or urlsplit(origin).netloc == request.host


def read_token() -> str | None:
    """The token that was sent (RFC 6750), or None."""
    kind, _, token = request.headers.get("Authorization", "").partition(" ")
    return token.strip() if kind.lower() == "bearer" and token.strip() else None


def check_request(door: Doorway) -> Response | None:
    """The answer to a request that is refused; None if it may go on, with role and workshop in `g`."""
    token = read_token()
    workshop, device = (door.registers.find_device(token) if token else None) or (None, None)
    if device and not device.revoked:
        g.role, g.device, g.workshop = device.role, device, workshop
        current_register().devices.note_seen(device)
    elif token is None and door.lets_this_pc_in and is_loopback(request.remote_addr or ""):
        if request.method not in READING and not is_from_own_page():
            return problem(403, OTHER_SITE)
        g.role = BENCH
    else:
        # Otherwise strangers could keep every thread waiting for a body that never arrives.
        request.max_content_length = STRANGERS_BODY
    if request.blueprint in OPEN_SUBJECTS or request.endpoint in OPEN or names_feed():
        return None
    if g.get("role") is None:
        answer = problem(401, explain_token(token, device))
        answer.headers["WWW-Authenticate"] = 'Bearer realm="slipbook"'
        return answer
    if not is_allowed(g.role):
        return problem(403, NOT_TRACKSIDE)
    return refuse_too_much(device)


def names_feed() -> bool:
    """Whether a request names a calendar's address that was given out and not withdrawn; then its workshop is known."""
    if request.endpoint != FEED:
        return False
    secret = str((request.view_args or {}).get("token", "")).removesuffix(".ics")
    found = current_registers().find_feed(secret)
    if found is None:
        return False
    g.workshop, feed = found
    current_register().feeds.note_read(feed)
    return True


def refuse_too_much(device: Device | None) -> Response | None:
    """The answer to a device that has sent all that it may send today; None if it may go on."""
    size = request.content_length or 0
    if device is None or request.method in READING or size > request_limit():
        return None
    if current_register().amounts.count(device.id, request.blueprint or "", size):
        return None
    answer = problem(429, TOO_MUCH_TODAY)
    answer.headers["Retry-After"] = "3600"
    return answer


def request_limit() -> int:
    """The most bytes that a request may have; a larger one is refused in any case, and not counted."""
    return int(request.max_content_length or 0)


def explain_token(token: str | None, device: Device | None) -> str:
    """Why a token does not let a device in, and what to do."""
    if token is None:
        return SENTENCES[401]
    return REVOKED if device else UNKNOWN_TOKEN


def was_guess(status: int) -> bool:
    """Whether a request that got this status came with a wrong token or a wrong code."""
    if request.endpoint == PAIR:
        return status >= 400
    return status == 401 and (read_token() is not None or request.endpoint == FEED)


def is_allowed(role: str) -> bool:
    """Whether a role may make the request; which kinds of entry it may write is checked with each entry."""
    if role == BENCH:
        return True
    if request.method in READING:
        return request.blueprint not in BENCH_ONLY
    return role == TRACKSIDE and request.blueprint in TRACKSIDE_WRITES


def install(app: Flask, door: Doorway) -> None:
    """Let requests into an application through this door only."""

    @app.before_request
    def let_in() -> Response | None:
        g.door = door
        return check_request(door)

    @app.after_request
    def slow_guesses(response: Response) -> Response:
        if was_guess(response.status_code):
            door.pacing.delay_guess()
        return response

    @app.after_request
    def write_access_log(response: Response) -> Response:
        device: Device | None = g.get("device")
        who = device.id if device else g.get("role") or "-"
        # No query, no headers, no body, no calendar's address: the access log must hold nothing secret.
        path = FEED if request.endpoint == FEED else quote(request.path)
        logging.getLogger("slipbook.access").info(
            "%s %s %s %s %d", request.remote_addr, who, request.method, path, response.status_code
        )
        return response
