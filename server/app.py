"""The application factory: the interface, the web files and the headers around both, over one data folder."""

from http import HTTPStatus
from pathlib import Path

from flask import Flask, Request, Response, g, request
from flask_compress import Compress

from . import api, web
from .lan import Door
from .log import Log
from .log.photos import Photos

HERE = Path(__file__).resolve().parent

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

# What a file carries that is only ever part of a page; a worker is no part, it has rules of its own.
PARTS = {"text/css", "text/javascript", "application/wasm", "image/png"}
OF_A_PART = {"X-Content-Type-Options": HEADERS["X-Content-Type-Options"]}
WORKERS = {"/sw.js", "/engine/worker.js"}

# A page elsewhere can point a name of its own at this machine; a request for that name is none of ours.
LOOPBACK = ["localhost", "127.0.0.1", "::1"]


class FileCache:
    """Compressed web files by their revision; answers that are not files are not kept."""

    def __init__(self) -> None:
        self.kept: dict[str, bytes] = {}

    def get(self, key: str) -> bytes | None:
        """What was made of this file, if anything."""
        return self.kept.get(key)

    def set(self, key: str, value: bytes) -> None:
        """Keep what was made of a file."""
        if not key.endswith(";"):
            self.kept[key] = value


def heads(path: str, media_type: str) -> dict[str, str]:
    """The security headers of an answer.

    >>> len(heads("/app.js", "text/javascript")), len(heads("/", "text/html")) == len(HEADERS)
    (1, True)
    """
    return OF_A_PART if media_type in PARTS and path not in WORKERS else HEADERS


def revision(_: Request) -> str:
    """The revision of the web file that is being answered; empty if it is something else."""
    return str(g.get("revision", ""))


def create_app(
    data_folder: Path | str,
    *,
    web_folder: Path | None = None,
    hosts: list[str] | None = None,
    door: Door | None = None,
    log: Log | None = None,
) -> Flask:
    """Make the application over a data folder.

    Parameters
    ----------
    data_folder : Path or str
        Where the log is; made if missing. The application holds its lock until `close_app`.
    web_folder : Path, optional
        Where the web files are; by default `webui` beside the package.
    hosts : list of str, optional
        Names that requests may come to; by default the door's, or without one those of this machine alone.
    door : Door, optional
        Lets devices of the workshop's network in; without one nobody is asked who they are.
    log : Log, optional
        The folder's log, where it is open already; it is the application's from now on.

    Raises
    ------
    LogFault
        The folder is in use or cannot be used.
    """
    app = Flask("slipbook", static_folder=None)
    app.json.sort_keys = False  # type: ignore[attr-defined]
    app.json.ensure_ascii = False  # type: ignore[attr-defined]
    app.config.update(
        MAX_CONTENT_LENGTH=LARGEST_BODY,
        TRUSTED_HOSTS=hosts or (door.hosts if door else LOOPBACK),
        COMPRESS_ALGORITHM=["br", "gzip"],
        COMPRESS_MIMETYPES=[*web.COMPRESSED, "application/problem+json"],
        COMPRESS_CACHE_BACKEND=FileCache,
        COMPRESS_CACHE_KEY=revision,
    )
    app.extensions["slipbook_log"] = log or Log(Path(data_folder))
    app.extensions["slipbook_photos"] = Photos(Path(data_folder))
    app.extensions["slipbook_summaries"] = {}
    api.register(app, door)
    web.register(app, web_folder or HERE.parent / "webui", HERE / "engine")

    @app.after_request
    def guard(response: Response) -> Response:
        # An answer that nothing has changed leaves the heads of the first one as they are.
        if response.status_code != HTTPStatus.NOT_MODIFIED:
            response.headers.update(heads(request.path, response.mimetype or ""))
        response.headers.setdefault("Cache-Control", "no-store")
        return response

    Compress().init_app(app)
    return app


def close_app(app: Flask) -> None:
    """Let the data folder go."""
    app.extensions["slipbook_log"].close()
