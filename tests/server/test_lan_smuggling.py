"""No request hides inside another: raw bytes over TLS to a real server (RFC 9112, 11.2), and what it did with them."""

import json
import re
import socket
import ssl
from collections.abc import Iterator
from pathlib import Path

import pytest

from .lan_server import LanServer, serve_lan
from .sample_logs import entry, new_id

pytestmark = pytest.mark.about_files("`serve --lan` serves a folder, with a certificate of its own")

# The body of the request in front; the hidden one begins where a careless reader believes that this has ended.
FRONT = b'{"entries": []}'
# Sent behind what may leave the connection open: it is answered and the connection closed, whatever time that takes.
LAST = b"GET /api/health HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n"
# Shorter than the ten seconds after which the server closes a connection that says no more.
PATIENCE = 8.0


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[LanServer]:
    with serve_lan(tmp_path_factory.mktemp("smuggling") / "data") as running:
        yield running


@pytest.fixture(scope="module")
def token(server: LanServer) -> str:
    return server.pair("bench")


def exchange(server: LanServer, sent: bytes) -> bytes:
    """All that is answered until the server closes."""
    received = b""
    with server.connect_tls(timeout=PATIENCE) as secured:
        secured.sendall(sent)
        try:
            while data := secured.recv(65536):
                received += data
        except (TimeoutError, ssl.SSLError, ConnectionError):
            return received + b"\n(left open)"
    return received


def statuses(received: bytes) -> list[int]:
    """The answers in what was got."""
    return [int(status) for status in re.findall(rb"^HTTP/1\.1 (\d+)", received, re.MULTILINE)]


def hidden(token: str) -> tuple[bytes, str]:
    """A whole request that stores a note, and the note's id."""
    note = entry("note", id=new_id())
    body = json.dumps({"entries": [note]}).encode()
    head = f"POST /api/log HTTP/1.1\r\nHost: localhost\r\nAuthorization: Bearer {token}\r\n"
    head += f"Content-Type: application/json\r\nContent-Length: {len(body)}\r\n\r\n"
    return head.encode() + body, note["id"]


def is_stored(server: LanServer, token: str, id: str) -> bool:
    status, page = server.ask("GET", "/api/log?after=0&most=500", token=token)
    assert status == 200
    return id in [entry["id"] for entry in page["entries"]]


def post_head(token: str, *lines: bytes, target: bytes = b"/api/log", version: bytes = b"HTTP/1.1") -> bytes:
    """The head of a request as a phone sends it, with lines of its own."""
    usual = [b"Host: localhost", b"Authorization: Bearer " + token.encode(), b"Content-Type: application/json"]
    return b"\r\n".join([b"POST " + target + b" " + version, *usual, *lines]) + b"\r\n\r\n"


CHUNKED = b"f\r\n" + FRONT + b"\r\n0\r\n\r\n"
LENGTH = b"Content-Length: 15"
# Name, lines of the head, the body that goes with it, and the answer.
REFUSED = {
    "length and chunks": ([LENGTH, b"Transfer-Encoding: chunked"], CHUNKED, 400),
    "chunks and length": ([b"Transfer-Encoding: chunked", b"Content-Length: 4"], CHUNKED, 400),
    "length 0 and chunks": ([b"Content-Length: 0", b"Transfer-Encoding: chunked"], CHUNKED, 400),
    "chunks": ([b"Transfer-Encoding: chunked"], CHUNKED, 411),
    "chunks in capitals": ([b"TRANSFER-ENCODING: CHUNKED"], CHUNKED, 411),
    "chunks twice": ([b"Transfer-Encoding: chunked", b"Transfer-Encoding: chunked"], CHUNKED, 400),
    "chunks named twice": ([b"Transfer-Encoding: chunked, chunked"], CHUNKED, 501),
    "nearly chunks": ([b"Transfer-Encoding: xchunked"], CHUNKED, 501),
    "chunks and identity": ([b"Transfer-Encoding: chunked, identity"], CHUNKED, 501),
    "identity": ([b"Transfer-Encoding: identity"], CHUNKED, 501),
    "gzip": ([b"Transfer-Encoding: gzip, chunked"], CHUNKED, 501),
    "no coding": ([b"Transfer-Encoding:"], CHUNKED, 501),
    "coding after a tab": ([b"Transfer-Encoding:\tchunked"], CHUNKED, 411),
    "coding after a vertical tab": ([b"Transfer-Encoding:\x0bchunked"], CHUNKED, 400),
    "coding in quotes": ([b'Transfer-Encoding: "chunked"'], CHUNKED, 501),
    "huge chunk": ([b"Transfer-Encoding: chunked"], b"FFFFFFFFFFFFFFFFF\r\n" + FRONT, 411),
    "chunk below 0": ([b"Transfer-Encoding: chunked"], b"-1\r\n", 411),
    "long chunk extension": ([b"Transfer-Encoding: chunked"], b"f;" + b"x" * 100_000 + b"\r\n" + FRONT, 411),
    "two lengths": ([LENGTH, b"Content-Length: 0"], FRONT, 400),
    "two lengths alike": ([LENGTH, LENGTH], FRONT, 400),
    "lengths in a list": ([b"Content-Length: 15, 15"], FRONT, 400),
    "length below 0": ([b"Content-Length: -1"], FRONT, 400),
    "length with plus": ([b"Content-Length: +15"], FRONT, 400),
    "length in hexadecimal": ([b"Content-Length: 0xf"], FRONT, 400),
    "length with underscore": ([b"Content-Length: 1_5"], FRONT, 400),
    "length in other digits": (["Content-Length: ١٥".encode()], FRONT, 400),
    "length as a fraction": ([b"Content-Length: 15.0"], FRONT, 400),
    "length empty": ([b"Content-Length:"], FRONT, 400),
    "length beyond counting": ([b"Content-Length: " + b"9" * 5000], FRONT, 400),
    "length beyond the limit": ([b"Content-Length: 99999999999"], FRONT, 413),
    "folded length": ([b"Content-Length: 1\r\n 5"], FRONT, 400),
    "folded field": ([LENGTH, b"X-One: a\r\n\tb"], FRONT, 400),
    "folded first line": ([b" X: a", LENGTH], FRONT, 400),
    "space before the colon": ([b"Content-Length : 15"], FRONT, 400),
    "tab before the colon": ([b"Transfer-Encoding\t: chunked", LENGTH], FRONT, 400),
    "no colon": ([b"Content-Length 15"], FRONT, 400),
    "no name": ([b": 15", LENGTH], FRONT, 400),
    "bare LF after a field": ([b"X-One: a\nContent-Length: 15"], FRONT, 400),
    "bare LF at the end": ([LENGTH + b"\n"], FRONT, 400),
    "bare CR": ([b"X-One: a\rTransfer-Encoding: chunked", LENGTH], FRONT, 400),
    "NUL in a value": ([b"X-One: a\0b", LENGTH], FRONT, 400),
    "NUL in a name": ([b"Content-Length\0: 15"], FRONT, 400),
    "a letter beyond ASCII in a name": (["Contént: 1".encode(), LENGTH], FRONT, 400),
    "two hosts": ([b"Host: elsewhere.example", LENGTH], FRONT, 400),
    "two tokens": ([b"Authorization: Bearer x", LENGTH], FRONT, 400),
    "too many fields": ([LENGTH, *(b"X-%d: a" % number for number in range(200))], FRONT, 431),
    "fields too large": ([LENGTH, *(b"X-%d: " % number + b"a" * 1000 for number in range(50))], FRONT, 413),
    "one field too large": ([LENGTH, b"X-One: " + b"a" * 200_000], FRONT, 413),
}


@pytest.mark.parametrize("case", REFUSED)
def test_a_head_that_can_be_read_in_two_ways_is_refused_and_nothing_behind_it_is_done(
    server: LanServer, token: str, case: str
) -> None:
    lines, body, status = REFUSED[case]
    behind, id = hidden(token)
    received = exchange(server, post_head(token, *lines) + body + behind)
    assert statuses(received) == [status], received[:300]
    assert b"left open" not in received, "the connection is closed"
    assert b"Connection: close" in received
    assert not is_stored(server, token, id)


@pytest.mark.parametrize(
    ("line", "status"),
    [
        (b"POST https://elsewhere.example/api/log HTTP/1.1", 400),
        (b"POST https://localhost/api/log HTTP/1.1", 400),
        (b"OPTIONS https://localhost/api/log HTTP/1.1", 400),
        (b"OPTIONS * HTTP/1.1", 400),
        (b"POST //elsewhere.example/api/log HTTP/1.1", 400),
        (b"POST http://[/api/log HTTP/1.1", 400),
        (b"POST //[x/api/log HTTP/1.1", 400),
        (b"CONNECT localhost:443 HTTP/1.1", 405),
        (b"POST api/log HTTP/1.1", 400),
        (b"POST /api/log#x HTTP/1.1", 400),
        (b"POST /api/log\0 HTTP/1.1", 400),
        (b"POST /api/log\tx HTTP/1.1", 400),
        ("POST /api/lög HTTP/1.1".encode(), 400),
        (b"POST  /api/log HTTP/1.1", 400),
        (b"POST /api/log x HTTP/1.1", 400),
        (b"post /api/log HTTP/1.1", 400),
        (b"POST /api/log", 400),
        (b"POST", 400),
        (b"\xff\xfe\xfd", 400),
        (b"POST /api/log HTTP/0.9", 505),
        (b"POST /api/log HTTP/1.01", 400),
        (b"POST /api/log HTTP/+1.1", 400),
        (b"POST /api/log HTTP/1.1x", 400),
        (b"POST /api/log HTTP/1", 400),
        (b"POST /api/log HTTP/2.0", 505),
        (b"POST /api/log ICY/1.1", 400),
        (b"POST /" + b"x" * 50_000 + b" HTTP/1.1", 414),
    ],
)
def test_a_first_line_that_is_none_is_refused(server: LanServer, token: str, line: bytes, status: int) -> None:
    behind, id = hidden(token)
    head = line + b"\r\nHost: localhost\r\nContent-Length: 15\r\n\r\n"
    received = exchange(server, head + FRONT + behind)
    assert statuses(received) == [status], received[:300]
    assert b"left open" not in received
    assert not is_stored(server, token, id)


@pytest.mark.parametrize("target", [b"/api/log", b"/api/nothing", b"/api/calc/unit", b"/"])
@pytest.mark.parametrize("let_in", [True, False])
def test_a_body_is_never_taken_for_the_next_request(server: LanServer, token: str, target: bytes, let_in: bool) -> None:
    # The whole hidden request is the body here, also of a request that is refused before anybody reads it.
    behind, id = hidden(token)
    sent = post_head(token if let_in else "x" * 43, b"Content-Length: %d" % len(behind), target=target) + behind
    first, *others = statuses(exchange(server, sent + LAST))
    assert 400 <= first < 500
    # The last request, where the connection was left open for it; nothing before that.
    assert others in ([], [200])
    assert not is_stored(server, token, id)


def test_a_body_is_skipped_where_a_get_has_one(server: LanServer, token: str) -> None:
    behind, id = hidden(token)
    head = post_head(token, b"Content-Length: %d" % len(behind)).replace(b"POST /api/log", b"GET /api/health")
    received = exchange(server, head + behind + LAST)
    assert statuses(received) == [200, 200], "the two that were sent"
    assert not is_stored(server, token, id)


def test_a_field_with_an_underscore_passes_for_no_other(server: LanServer, token: str) -> None:
    behind, id = hidden(token)
    head = post_head(token, LENGTH, b"Content_Length: 2", b"Transfer_Encoding: chunked")
    received = exchange(server, head + FRONT + behind + LAST)
    assert statuses(received)[0] == 200, "read by its real length"
    assert statuses(received)[1:] == [200, 200], "what is behind it are requests of their own, as they were sent"
    assert is_stored(server, token, id)
    plain = b"GET /api/units HTTP/1.1\r\nHost: localhost\r\nX_Forwarded_For: 1\r\nAuthorization_: x\r\n\r\n"
    assert statuses(exchange(server, plain + LAST)) == [200, 200]


def test_http_1_0_ends_with_its_answer(server: LanServer, token: str) -> None:
    behind, id = hidden(token)
    received = exchange(server, post_head(token, LENGTH, version=b"HTTP/1.0") + FRONT + behind)
    assert statuses(received) == [200]
    assert b"left open" not in received
    assert not is_stored(server, token, id)
    received = exchange(server, post_head(token, b"Transfer-Encoding: chunked", version=b"HTTP/1.0") + CHUNKED + behind)
    assert statuses(received) == [400]
    received = exchange(server, b"POST /api/log HTTP/1.0\r\nHost: localhost\r\n\r\n" + behind)
    assert len(statuses(received)) == 1
    assert not is_stored(server, token, id)
    # RFC 1945 knows no Host, and no name of this PC can be told apart then.
    assert statuses(exchange(server, b"GET /api/health HTTP/1.0\r\n\r\n")) in ([200], [400])
    assert statuses(exchange(server, b"GET /api/health\r\n\r\n")) == [400], "0.9"


def test_requests_one_after_another_are_answered_in_order(server: LanServer, token: str) -> None:
    # Longer together than what is read at a time, so that some wait where the socket does not show them.
    many = [hidden(token) for _ in range(12)]
    received = b""
    with server.connect_tls(timeout=20) as secured:
        secured.sendall(b"".join(sent for sent, _ in many))
        while len(statuses(received)) < len(many):
            data = secured.recv(65536)
            assert data, received[-300:]
            received += data
    assert statuses(received) == [200] * len(many)
    assert all(is_stored(server, token, id) for _, id in many)


# A server that takes the rest of what it refused for as long as a busy machine needs to send it.
TAKES_ALL_THE_REST = """
import sys
from server.cli import main
from server.lan import strict_http
strict_http.REST_WITHIN_S, strict_http.REST_PAUSE_S = 60, 30
strict_http.StrictRequest.read_rest.__defaults__ = (30,)
sys.exit(main())
"""


def test_whoever_sends_too_much_hears_why(tmp_path: Path) -> None:
    server = LanServer(tmp_path / "data", program=("-c", TAKES_ALL_THE_REST))
    try:
        token = server.pair("bench")
        for size in (2_500_000, 5_000_000):
            with server.connect_tls() as secured:
                secured.sendall(post_head(token, b"Content-Length: %d" % size))
                # All of it first and the answer then, as browsers do.
                secured.sendall(b"x" * size)
                received = secured.recv(65536)
            assert statuses(received) == [413], size
    finally:
        assert server.stop() == 0


def test_the_welcome_page_is_as_strict(server: LanServer) -> None:
    for lines, status in (
        (b"Content-Length: 5\r\nTransfer-Encoding: chunked", b"400"),
        (b"Transfer-Encoding: chunked", b"411"),
        (b"Content-Length: 5\r\nContent-Length: 0", b"400"),
        (b"X : y", b"400"),
    ):
        with socket.create_connection(("127.0.0.1", server.welcome_port), timeout=10) as plain:
            plain.sendall(b"GET / HTTP/1.1\r\nHost: localhost\r\n" + lines + b"\r\n\r\n0\r\n\r\n")
            received = b"".join(iter(lambda: plain.recv(65536), b""))
        assert received.split()[1] == status
        assert len(statuses(received)) == 1
