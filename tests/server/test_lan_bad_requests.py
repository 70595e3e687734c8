"""Odd addresses and bodies over TLS: refused in words, whoever sends them, and nothing of the data folder comes out."""

import json
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import ThreadPoolExecutor
from http.client import HTTPSConnection
from pathlib import Path
from typing import Any, NamedTuple, TypeVar

import pytest

from tests.engine.checks import BREAKAWAY, PLATES, UNIT, changed

from .lan_server import LanServer, serve_lan
from .sample_logs import UNIT_ID, entry

pytestmark = pytest.mark.about_files("`serve --lan` serves a folder, with a certificate of its own")

# In every file of `lan`, and in nothing that is served.
SECRETS = (b"PRIVATE KEY", b"token_sha256", b"root:")
JSON = "application/json"
NAMES = (
    "lan/authority-key.pem",
    "lan/host-key.pem",
    "lan/devices.json",
    "devices.json",
    "shop.json",
    f"units/{UNIT_ID}.json",
    "etc/passwd",
)
UPS = ("", "../", "..%2f", "%2e%2e/", "%2e%2e%2f", "..%5c", "..\\", "%252e%252e%252f", "....//", "..%c0%af", ".%00./")
PLACES = ("/", "/engine/", "/vendor/", "/api/", "/api/units/", "/api/photos/", "/api/calc/", "/api/devices/")
ODD = (
    "//",
    "///etc/passwd",
    "/.",
    "/..",
    "/%",
    "/%zz",
    "/%00",
    "/index.html%00",
    "/index.html%00.pem",
    "/index.html/",
    "/index.html%2f..%2fapp.js",
    "/%2f",
    "/%5c",
    "/C:%5CWindows",
    "/%ff%fe",
    "/%ed%a0%80",
    "/api",
    "/api/",
    "/api//log",
    "/API/log",
    "/api%2flog",
    "/api/log/",
    "/api/log%00",
    "/api/log?after=%00",
    "/api/log?after=-1",
    "/api/log?after=1e99",
    "/api/log?after=" + "9" * 5000,
    "/api/log?after=1&after=2",
    "/api/log?" + "a=b&" * 5000,
    "/api/units/" + "x" * 20_000,
    "/" + "x" * 20_000,
    "/" + "a/" * 10_000,
    "/" + "../" * 5_000 + "etc/passwd",
)


# In how many pieces a visitor asks at once: as many guesses are answered late at a time, and each waits for itself.
PIECES = 4
Asked = TypeVar("Asked")


class Visitor(NamedTuple):
    """Somebody who asks, and how they are known."""

    name: str
    token: str | None


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[LanServer]:
    with serve_lan(tmp_path_factory.mktemp("bad") / "data") as running:
        assert running.ask("POST", "/api/log", {"entries": [entry("unit"), entry("kit")]})[0] == 200
        yield running


@pytest.fixture(scope="module")
def visitors(server: LanServer) -> list[Visitor]:
    """The PC itself, phones of both roles and a stranger."""
    return [
        Visitor("the PC", None),
        Visitor("bench", server.pair("bench")),
        Visitor("trackside", server.pair("trackside")),
        Visitor("stranger", "x" * 43),
    ]


class Line:
    """One TLS connection that is used for many requests, as a browser does."""

    def __init__(self, server: LanServer, visitor: Visitor) -> None:
        self.visitor = visitor
        self.connection = HTTPSConnection("localhost", server.port, context=server.tls_context, timeout=30)

    def ask(self, method: str, path: str, body: bytes | None = None, kind: str | None = None) -> tuple[int, bytes]:
        """One request, its path as it is given."""
        self.connection.putrequest(method, path, skip_accept_encoding=True)
        if self.visitor.token:
            self.connection.putheader("Authorization", f"Bearer {self.visitor.token}")
        if kind:
            self.connection.putheader("Content-Type", kind)
        if body is not None:
            self.connection.putheader("Content-Length", str(len(body)))
        self.connection.endheaders(body)
        answer = self.connection.getresponse()
        return answer.status, answer.read()

    def close(self) -> None:
        self.connection.close()


def all_at_once(ask: Callable[[Visitor, list[Asked]], None], shares: Iterable[tuple[Visitor, list[Asked]]]) -> None:
    """Have all visitors ask beside each other, each of them in some pieces; what fails in a piece is raised."""
    pieces = [(visitor, share[piece::PIECES]) for visitor, share in shares for piece in range(PIECES)]
    with ThreadPoolExecutor(len(pieces)) as pool:
        for asking in [pool.submit(ask, *piece) for piece in pieces]:
            asking.result()


def is_problem(status: int, answer: bytes) -> bool:
    """Whether a refusal says in words what is wrong."""
    if answer.startswith(b"{"):
        problem = json.loads(answer)
        return problem["status"] == status and len(problem["detail"]) > 10
    return status in (400, 413, 414) and len(answer) > 10


def test_no_address_leads_out_of_what_is_served(server: LanServer, visitors: list[Visitor]) -> None:
    paths = [place + up * 4 + name for place in PLACES for up in UPS for name in NAMES]
    assert len(paths) > 600

    def ask(visitor: Visitor, some: list[str]) -> None:
        line = Line(server, visitor)
        for path in some:
            status, answer = line.ask("GET", path)
            assert status in (400, 401, 403, 404, 405, 422), (visitor.name, path, status)
            assert is_problem(status, answer), (visitor.name, path, answer)
            assert not [secret for secret in SECRETS if secret in answer], (visitor.name, path)
        line.close()

    all_at_once(ask, [(visitor, paths[number :: len(visitors)]) for number, visitor in enumerate(visitors)])


@pytest.mark.parametrize("method", ["GET", "HEAD", "POST", "PUT", "DELETE", "PATCH", "OPTIONS", "TRACE", "BREW"])
def test_odd_addresses_are_answered_with_every_method(server: LanServer, visitors: list[Visitor], method: str) -> None:
    def ask(visitor: Visitor, some: list[str]) -> None:
        line = Line(server, visitor)
        for path in some:
            body = b"{}" if method in ("POST", "PUT", "PATCH") else None
            status, answer = line.ask(method, path, body, JSON)
            assert status < 500, (visitor.name, path, status, answer)
            assert method == "HEAD" or status < 400 or is_problem(status, answer), (visitor.name, path, answer)
            assert not [secret for secret in SECRETS if secret in answer], (visitor.name, path)
        line.close()

    all_at_once(ask, [(visitor, list(ODD)) for visitor in visitors])
    assert log_end(server) == 2


def log_end(server: LanServer) -> int:
    """The log's last number; none of this may store anything."""
    return int(server.ask("GET", "/api/log")[1]["next"])


def deep(levels: int, opens: bytes, closes: bytes, inner: bytes = b"1") -> bytes:
    return opens * levels + inner + closes * levels


def bodies() -> dict[str, tuple[bytes, str | None]]:
    """Bodies that are no batch of entries, each with the media type that it is sent as."""
    entries = json.dumps({"entries": [entry("note")]}).encode()
    bodies_by_name: dict[str, tuple[bytes, str | None]] = {
        "none": (b"", JSON),
        "too large by a byte": (b" " * 2_000_001, JSON),
        "larger than is read": (b" " * 4_100_000, JSON),
        "half": (entries[: len(entries) // 2], JSON),
        "two": (entries * 2, JSON),
        "binary": (bytes(range(256)) * 100, JSON),
        "UTF-16": (entries.decode().encode("utf-16"), JSON),
        "with a byte order mark": (b"\xef\xbb\xbf" + entries, JSON),
        "NUL in it": (entries.replace(b"Mara", b"Ma\0ra"), JSON),
        "half a character": (entries.replace(b"Mara", b"\\ud800"), JSON),
        "a number of 5 000 digits": (b'{"entries": ' + b"9" * 5000 + b"}", JSON),
        "a number of 400 digits": (b'{"entries": [' + b"9" * 400 + b"]}", JSON),
        "too many entries": (b'{"entries": [' + b",".join([b"{}"] * 101) + b"]}", JSON),
        "very many entries": (b'{"entries": [' + b",".join([b"1"] * 400_000) + b"]}", JSON),
        "text": (entries, "text/plain"),
        "no type": (entries, None),
        "a form": (b"entries=1", "application/x-www-form-urlencoded"),
        "a form in parts": (b"--x\r\n\r\n--x--", "multipart/form-data; boundary=x"),
        "a type that is none": (entries, "application/json/json;;;=\t"),
        "XML": (b"<?xml version='1.0'?><entries/>", "application/xml"),
    }
    for levels in (50, 200, 400, 600, 900, 990, 2000, 300_000):
        bodies_by_name[f"lists {levels} deep"] = (b'{"entries": ' + deep(levels, b"[", b"]") + b"}", JSON)
        bodies_by_name[f"groups {levels} deep"] = (b'{"entries": [' + deep(levels, b'{"a":', b"}") + b"]}", JSON)
    return bodies_by_name


@pytest.mark.parametrize("path", ["/api/log", "/api/calc/breakaway", "/api/calc/plan", "/api/pair", "/api/pairing"])
def test_bodies_that_are_none_are_refused_in_words(server: LanServer, visitors: list[Visitor], path: str) -> None:
    def ask(visitor: Visitor, some: list[tuple[str, tuple[bytes, str | None]]]) -> None:
        for name, (body, kind) in some:
            line = Line(server, visitor)
            status, answer = line.ask("POST", path, body, kind)
            line.close()
            assert status < 500, (visitor.name, name, answer[:200])
            if status == 200:
                answers = json.loads(answer)["answers"]
                assert {answer["answer"] for answer in answers} == {"refused"}, (visitor.name, name)
                assert all(answer["errors"] for answer in answers)
            else:
                assert is_problem(status, answer), (visitor.name, name, answer[:200])

    all_at_once(ask, [(visitor, list(bodies().items())) for visitor in visitors])
    assert log_end(server) == 2


def levels_of(bottom: Any, levels: int) -> Any:
    for _ in range(levels):
        bottom = {"in": [bottom]}
    return bottom


@pytest.mark.parametrize("levels", [20, 100, 200, 300, 400, 450])
def test_depth_within_a_good_request_is_refused(server: LanServer, levels: int) -> None:
    low = levels_of("x", levels)
    for name, body in (
        ("breakaway", changed(BREAKAWAY, steady_nm__forward=low)),
        ("breakaway", changed(BREAKAWAY, wrench=low)),
        ("plates", changed(PLATES, plates=[low])),
        ("unit", changed(UNIT, chain=low)),
        ("plan", {"unit": low}),
        ("strip", low),
    ):
        status, answer = server.ask("POST", f"/api/calc/{name}", body)
        assert status in (400, 422), (name, answer)
        assert answer["errors"] or answer["detail"]
    for name in ("body", "shown", "unit", "kind", "who"):
        status, answer = server.ask("POST", "/api/log", {"entries": [{**entry("note"), name: low}]})
        assert status in (200, 400), answer
        assert status == 400 or answer["answers"][0]["answer"] == "refused", name
    assert log_end(server) == 2


@pytest.mark.parametrize("digits", [20, 400, 4000])
def test_whole_numbers_beyond_all_measure_are_refused(server: LanServer, digits: int) -> None:
    huge = 10**digits
    for name, body in (
        ("breakaway", changed(BREAKAWAY, hub_ratio=huge)),
        ("breakaway", changed(BREAKAWAY, steady_nm__forward__1=-huge)),
        ("unit", changed(UNIT, spring__parallel=huge)),
    ):
        status, answer = server.ask("POST", f"/api/calc/{name}", body)
        assert status == 422, (name, answer)
    for name in ("version", "engine", "at", "body", "shown"):
        status, answer = server.ask("POST", "/api/log", {"entries": [{**entry("note"), name: huge}]})
        assert status == 200
        assert answer["answers"][0]["answer"] == "refused", name
    for path in (f"/api/log?after={huge}", f"/api/log?most={huge}", f"/api/log?after=-{huge}"):
        assert server.ask("GET", path)[0] in (200, 422), path


def test_nothing_of_all_this_is_in_the_data_folder(server: LanServer, tmp_path: Path) -> None:
    assert server.ask("GET", "/api/health")[1]["problems"] == []
    assert log_end(server) == 2
