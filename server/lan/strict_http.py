"""Reads the head of a request strictly (RFC 9112): if it can be read in two ways, another could be hidden inside."""

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
# Fields that a head may have only once.
ONLY_ONCE = {b"Authorization", b"Content-Length", b"Content-Type", b"Host", b"Origin", b"Transfer-Encoding"}

BAD_REQUEST = "400 Bad Request"
NO_LENGTH = "411 Length Required"
TOO_MANY = "431 Request Header Fields Too Large"
UNKNOWN_CODING = "501 Not Implemented"

# A client that is refused while it is still sending gets the answer only if the rest is read too. For how long in all,
# how long to wait for more each time, and the same where little is expected, in seconds; and how many bytes.
REST_WITHIN_S = 2.0
REST_PAUSE_S = 0.3
SHORT_PAUSE_S = 0.02
REST_BYTES = 8_000_000


class RefusedHead(Exception):
    """The head is refused; `status` and `reason` are the answer."""

    def __init__(self, status: str, reason: str) -> None:
        super().__init__(reason)
        self.status = status
        self.reason = reason


def read_fields(file: Any) -> dict[bytes, bytes]:
    """The fields of a head, by their names in title case.

    Parameters
    ----------
    file : file
        The request after its first line; `readline` returns a line of limited length.

    Raises
    ------
    Refusal
        They can be read in more than one way, or are too many.
    """
    fields: dict[bytes, bytes] = {}
    for _ in range(MOST_FIELDS + 1):
        line = file.readline()
        if line == b"\r\n":
            return fields
        field = FIELD.fullmatch(line)
        if field is None:
            raise RefusedHead(BAD_REQUEST, "A header line is not well-formed: send name, colon, value, CR and LF.")
        name, value = field[1].title(), field[2]
        if name in fields and name in ONLY_ONCE:
            raise RefusedHead(BAD_REQUEST, f"Send {name.decode()} once.")
        # WSGI makes underscores of hyphens, so a name with an underscore would pass for the field with a hyphen.
        if b"_" not in name:
            fields[name] = fields[name] + b", " + value if name in fields else value
    raise RefusedHead(TOO_MANY, f"Send at most {MOST_FIELDS} header lines.")


def check_fields(fields: dict[bytes, bytes], version: bytes) -> None:
    """Refuse fields from which it is not clear where the request ends, or which host it is for.

    Raises
    ------
    Refusal
        It is not clear.
    """
    coding, length = fields.get(b"Transfer-Encoding"), fields.get(b"Content-Length")
    if coding is not None:
        if length is not None or version == b"HTTP/1.0":
            raise RefusedHead(BAD_REQUEST, "Send Content-Length alone, without Transfer-Encoding.")
        if coding.lower() != b"chunked":
            raise RefusedHead(UNKNOWN_CODING, "Send Content-Length, without Transfer-Encoding.")
        # Phones send nothing in chunks, and what is not read cannot be misread.
        raise RefusedHead(NO_LENGTH, "Send Content-Length, without Transfer-Encoding.")
    if length is not None and not LENGTH.fullmatch(length):
        raise RefusedHead(BAD_REQUEST, "Content-Length has to be a number of bytes, in digits.")
    if not fields.get(b"Host") and version != b"HTTP/1.0":
        raise RefusedHead(BAD_REQUEST, "Send Host, as HTTP/1.1 wants it.")


class StrictRequest(HTTPRequest):
    """Cheroot's request, with a head that can be read in only one way."""

    def read_request_line(self) -> bool:
        """Read the first line; returns False if it was refused."""
        try:
            if not super().read_request_line():  # type: ignore[no-untyped-call]
                return False
        except ValueError:
            # Text in brackets that is not an IPv6 address.
            self.simple_response(BAD_REQUEST, "The address is not well-formed.")
            return False
        if not VERSION.fullmatch(self.request_protocol) or not TARGET.fullmatch(self.uri):
            self.simple_response(
                BAD_REQUEST, "The request line is not well-formed: send an address that begins with a slash."
            )
            return False
        return True

    def read_request_headers(self) -> bool:
        """Read the other lines; returns False if they were refused."""
        try:
            fields = read_fields(self.rfile)
            check_fields(fields, self.request_protocol)
        except RefusedHead as refusal:
            self.simple_response(refusal.status, refusal.reason)
            return False
        self.header_reader = lambda _, headers: headers.update(fields)
        return bool(super().read_request_headers())  # type: ignore[no-untyped-call]

    def respond(self) -> None:
        """Answer."""
        super().respond()
        body: Any = self.rfile
        if self.close_connection and body.remaining:
            self.read_rest()

    def send_headers(self) -> None:
        """Begin the answer; after a refusal the connection does not wait for the request's body."""
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
            self.read_rest(REST_PAUSE_S if status[:3] in ("413", "414", "431") else SHORT_PAUSE_S)

    def read_rest(self, pause: float = REST_PAUSE_S) -> None:
        """Read for a while what is still being sent: closing the connection during it would lose the answer.

        Parameters
        ----------
        pause : float
            After how many seconds without data the client is taken to have sent everything.
        """
        deadline, size = time.monotonic() + REST_WITHIN_S, 0
        self.conn.socket.settimeout(pause)
        with suppress(OSError):
            while time.monotonic() < deadline and size < REST_BYTES:
                data = self.conn.socket.recv(65536)
                if not data:
                    break
                size += len(data)


class StrictConnection(HTTPConnection):
    """Cheroot's connection, with strict requests and a close that never fails."""

    RequestHandlerClass = StrictRequest

    def close(self) -> None:
        """Close the connection, also if it broke off; a failure here would end the whole server."""
        try:
            super().close()
        except (OSError, ValueError):
            with suppress(OSError):
                self.socket.close()
        finally:
            self.server.open_connections.release(self)
