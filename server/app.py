"""The application factory: the interface and the web files over one data folder, with the security headers of both."""

from collections.abc import Callable
from http import HTTPStatus
from pathlib import Path
from urllib.parse import urlsplit

from flask import Flask, Request, Response, g, request
from flask_compress import Compress
from werkzeug.exceptions import SecurityError

from . import api, demo, web
from .answering import QuickJson
from .lan import Doorway
from .lan.door import FOLDER
from .lan.files import FolderRegisters
from .log import Log
from .log.backups.bring_back import IncomingBackup
from .log.files import FolderLog

HERE = Path(__file__).resolve().parent
# The web files: as they are written, or in an installed Slipbook as they were built.
WEB = HERE.parent / "webui"

LARGEST_BODY = 2 * 1000 * 1000

# No inline code at all; WebAssembly is the engine's host on the phone.
POLICY = "; ".join(
    [
        "default-src 'self'",
        "script-src 'self' 'wasm-unsafe-eval'",
        "style-src 'self'",
        "img-src 'self' data: blob:",
        "object-src 'none'",
        "base-uri 'none'",
        "form-action 'self'",
        "frame-ancestors 'none'",
    ]
)

HEADERS = {
    "Content-Security-Policy": POLICY,
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
}

# A file of these types is only ever part of a page, and needs fewer headers; a worker is not, and has a policy itself.
PARTS = {"text/css", "text/javascript", "application/wasm", "image/png"}
PART_HEADERS = {"X-Content-Type-Options": HEADERS["X-Content-Type-Options"]}
WORKERS = {"/sw.js", "/engine/worker.js"}

# Another site can point a name of its own at this machine; requests for such a name are refused.
LOOPBACK = ["localhost", "127.0.0.1", "::1"]


class FileCache:
    """Compressed web files by their revision; other answers are not kept."""

    def __init__(self) -> None:
        self.compressed: dict[str, bytes] = {}

    def get(self, key: str) -> bytes | None:
        """The compressed file, or None."""
        return self.compressed.get(key)

    def set(self, key: str, value: bytes) -> None:
        """Keep a compressed file."""
        # An answer that is not a file has no revision before the semicolon.
        if not key.endswith(";"):
            self.compressed[key] = value


def choose_headers(path: str, media_type: str) -> dict[str, str]:
    """The security headers of an answer.

    >>> len(choose_headers("/app.js", "text/javascript")), len(choose_headers("/", "text/html")) == len(HEADERS)
    (1, True)
    """
    return PART_HEADERS if media_type in PARTS and path not in WORKERS else HEADERS


def find_host(address: str) -> str:
    """The host that a request names, without its port and brackets; empty if it names none.

    >>> find_host("pit-pc.local:8127"), find_host("[fd00::2]:8127"), find_host("[fd00::")
    ('pit-pc.local', 'fd00::2', '')
    """
    try:
        return urlsplit(f"//{address}").hostname or ""
    except ValueError:
        return ""


def current_revision(_: Request) -> str:
    """The revision of the web file that answers the current request; empty if no file does."""
    return str(g.get("revision", ""))


def create_app(
    data_folder: Path | str | None,
    *,
    web_folder: Path | None = None,
    hosts: list[str] | None = None,
    door: Doorway | None = None,
    log: Log | None = None,
    logs: Callable[[int | None], Log] | None = None,
) -> Flask:
    """Make the application over a data folder.

    Parameters
    ----------
    data_folder : Path, str or None
        The folder of the log; made if missing. The application holds its lock until `close_app`. None with `logs`.
    web_folder : Path, optional
        The folder of the web files; by default `WEB`, which is beside the package.
    hosts : list of str, optional
        The hosts that requests may name; by default the door's, or without a door those of this machine only.
    door : Doorway, optional
        Lets devices of the workshop's network in; without one every request is allowed.
    log : Log, optional
        The folder's log if it is open already; the application closes it.
    logs : callable, optional
        Opens the log that a request is about, by its workshop. Without `log`, those are the workshops of a database;
        with it, they are that one log, opened anew for each request.

    Raises
    ------
    LogFault
        The folder is in use or cannot be used.
    """
    app = Flask("slipbook", static_folder=None)
    app.json = QuickJson(app)
    app.config.update(
        MAX_CONTENT_LENGTH=LARGEST_BODY,
        COMPRESS_ALGORITHM=["br", "gzip"],
        COMPRESS_MIMETYPES=[*web.COMPRESSED, "application/problem+json"],
        COMPRESS_CACHE_BACKEND=FileCache,
        COMPRESS_CACHE_KEY=current_revision,
    )
    root = Path(data_folder or "")
    if log is None and logs is None:
        if data_folder is None:
            raise ValueError("Either a folder or its log has to be given, or several logs.")
        log = FolderLog(root)
    app.extensions["slipbook_log"] = log
    app.extensions["slipbook_logs"] = logs or always(log)
    app.extensions["slipbook_is_hosted"] = log is None
    # A backup comes in pieces, which several processes would share out.
    app.extensions["slipbook_incoming"] = IncomingBackup(log) if log else None
    app.extensions["slipbook_summaries"] = {}
    app.extensions["slipbook_registers"] = door.registers if door else FolderRegisters(root / FOLDER)
    own_hosts = hosts or (door.hosts if door else LOOPBACK)

    # Flask's own check takes no IPv6 address.
    @app.before_request
    def refuse_other_hosts() -> None:
        # None where a proxy sees to it.
        if own_hosts and find_host(request.host) not in own_hosts:
            raise SecurityError(f"Host {request.host!r} is not this PC's.")

    api.register(app, door)
    web.register(app, web_folder or WEB, HERE / "engine", {"/samples.json": demo.sample_book})

    @app.after_request
    def guard(response: Response) -> Response:
        # A browser that is told "not modified" keeps the headers of the first answer.
        if response.status_code != HTTPStatus.NOT_MODIFIED:
            response.headers.update(choose_headers(request.path, response.mimetype or ""))
        response.headers.setdefault("Cache-Control", "no-store")
        return response

    Compress().init_app(app)
    return app


def always(log: Log | None) -> Callable[[int | None], Log | None]:
    """Opens the same log for every request."""
    return lambda _: log


def close_app(app: Flask) -> None:
    """Release the data folder, and make no more backups of it."""
    if backups := app.extensions.get("slipbook_backups"):
        backups.stop()
    if incoming := app.extensions["slipbook_incoming"]:
        incoming.forget()
    if own_log := app.extensions["slipbook_log"]:
        own_log.close()
