"""Reads the head of a request strictly (RFC 9112): one way to read each, so that none is hidden inside another."""

import re
import time
from contextlib import suppress
from typing import Any

from cheroot.server import HTTPConnection, HTTPRequest

LARGEST_HEAD = 32 * 1024
MOST_FIELDS = 100
FIELD = re.compile(rb"([!#$%&'*+.^_`|~0-9A-Za-z-]+):[ \t]*([\t\x20-\x7e\x80-\xff]*?)[ \t]*\r\n")
TARGET = re.compile(rb"/[\x21-\x7e]*")
VERSION = re.compile(rb"HTTP/1\.[01]")
LENGTH = re.compile(rb"[0-9]{1,15}")
# What may stand in a head once only.
ONCE = {b"Authorization", b"Content-Length", b"Content-Type", b"Host", b"Origin", b"Transfer-Encoding"}

BAD = "400 Bad Request"
NO_LENGTH = "411 Length Required"
TOO_MANY = "431 Request Header Fields Too Large"
UNKNOWN_CODING = "501 Not Implemented"

# A client that is told no in the middle of its sending hears it only if the rest is taken from it: for how long in all
# and at a time, in seconds, and how much.
REST_WITHIN = 2.0
REST_PAUSE = 0.3
BRIEFLY = 0.02
REST_BYTES = 8_000_000


class Refusal(Exception):
    """A head that is not read further; `status` is the answer."""

    def __init__(self, status: str, reason: str) -> None:
        super().__init__(reason)
        self.status = status
        self.reason = reason


def read_fields(file: Any) -> dict[bytes, bytes]:
    """The fields of a head, by their names in title case.

    Parameters
    ----------
    file : file
        Stands after the request line; its `readline` has a limit.

    Raises
    ------
    Refusal
        They can be read in more than one way, or are too many.
    """
    found: dict[bytes, bytes] = {}
    for _ in range(MOST_FIELDS + 1):
        line = file.readline()
        if line == b"\r\n":
            return found
        matched = FIELD.fullmatch(line)
        if matched is None:
            raise Refusal(BAD, "A header line is not well-formed: send name, colon, value, CR and LF.")
        name, value = matched[1].title(), matched[2]
        if name in found and name in ONCE:
            raise Refusal(BAD, f"Send {name.decode()} once.")
        # With an underscore it would pass for its neighbour with a hyphen.
        if b"_" not in name:
            found[name] = found[name] + b", " + value if name in found else value
    raise Refusal(TOO_MANY, f"Send at most {MOST_FIELDS} header lines.")


def check(fields: dict[bytes, bytes], version: bytes) -> None:
    """Refuse fields that leave open where the request ends or whom it is for.

    Raises
    ------
    Refusal
        They do.
    """
    coding, length = fields.get(b"Transfer-Encoding"), fields.get(b"Content-Length")
    if coding is not None:
        if length is not None or version == b"HTTP/1.0":
            raise Refusal(BAD, "Send Content-Length alone, without Transfer-Encoding.")
        if coding.lower() != b"chunked":
            raise Refusal(UNKNOWN_CODING, "Send Content-Length, without Transfer-Encoding.")
        # Nothing that phones send comes in chunks, and what is not read cannot be misread.
        raise Refusal(NO_LENGTH, "Send Content-Length, without Transfer-Encoding.")
    if length is not None and not LENGTH.fullmatch(length):
        raise Refusal(BAD, "Content-Length has to be a number of bytes, in digits.")
    if not fields.get(b"Host") and version != b"HTTP/1.0":
        raise Refusal(BAD, "Send Host, as HTTP/1.1 wants it.")


class StrictRequest(HTTPRequest):
    """Cheroot's request, whose head can be read in one way only."""

    def read_request_line(self) -> bool:
        """Read the first line; False if it was refused."""
        try:
            if not super().read_request_line():  # type: ignore[no-untyped-call]
                return False
        except ValueError:
            # What looks like a host in brackets, and is none.
            self.simple_response(BAD, "The address is not well-formed.")
            return False
        if not VERSION.fullmatch(self.request_protocol) or not TARGET.fullmatch(self.uri):
            self.simple_response(BAD, "The request line is not well-formed: send an address that begins with a slash.")
            return False
        return True

    def read_request_headers(self) -> bool:
        """Read the other lines; False if they were refused."""
        try:
            fields = read_fields(self.rfile)
            check(fields, self.request_protocol)
        except Refusal as refusal:
            self.simple_response(refusal.status, refusal.reason)
            return False
        self.header_reader = lambda _, kept: kept.update(fields)
        return bool(super().read_request_headers())  # type: ignore[no-untyped-call]

    def respond(self) -> None:
        """Answer."""
        super().respond()
        body: Any = self.rfile
        if self.close_connection and body.remaining:
            self.take_the_rest()

    def send_headers(self) -> None:
        """Begin the answer; a refused request's body is not waited for."""
        body: Any = self.rfile
        status: Any = self.status
        if status[:1] in (b"4", b"5") and body.remaining:
            self.close_connection = True
        super().send_headers()

    def simple_response(self, status: str, msg: str = "") -> None:
        """Refuse in one line of text, and read nothing more from this connection."""
        self.close_connection = True
        text = msg.encode()
        head = f"HTTP/1.1 {status}\r\nContent-Type: text/plain; charset=utf-8\r\n"
        head += f"Content-Length: {len(text)}\r\nConnection: close\r\n\r\n"
        with suppress(OSError):
            self.conn.wfile.write(head.encode() + text)
            self.take_the_rest(REST_PAUSE if status[:3] in ("413", "414", "431") else BRIEFLY)

    def take_the_rest(self, pause: float = REST_PAUSE) -> None:
        """Take what is still being sent, for a moment: closing on it would take the answer away.

        Parameters
        ----------
        pause : float
            For how long nothing may come before that was all, in seconds.
        """
        ends, taken = time.monotonic() + REST_WITHIN, 0
        self.conn.socket.settimeout(pause)
        with suppress(OSError):
            while time.monotonic() < ends and taken < REST_BYTES:
                found = self.conn.socket.recv(65536)
                if not found:
                    break
                taken += len(found)


class StrictConnection(HTTPConnection):
    """Cheroot's connection with strict requests, which can always be closed."""

    RequestHandlerClass = StrictRequest

    def close(self) -> None:
        """Let the connection go, also one that broke off; a failure here would end the whole server."""
        try:
            super().close()
        except (OSError, ValueError):
            with suppress(OSError):
                self.socket.close()
        finally:
            self.server.crowd.goes(self)
