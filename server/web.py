"""Serves the web files, and the engine's source for the phone; a file is read again only when it has changed.

A checkout's files are served as they are written. An installed Slipbook serves what the build made of them, with the
engine's files in one.
"""

import hashlib
import json
import os
import re
from collections.abc import Callable
from contextlib import suppress
from functools import cache
from pathlib import Path
from typing import NamedTuple

import brotli
from flask import Blueprint, Flask, Response, abort, g, request
from werkzeug.routing import PathConverter

from .one_file import join

TYPES = {
    ".bin": "application/octet-stream",
    ".css": "text/css; charset=utf-8",
    ".html": "text/html; charset=utf-8",
    ".ico": "image/x-icon",
    ".js": "text/javascript; charset=utf-8",
    ".json": "application/json",
    ".map": "application/json",
    ".md": "text/plain; charset=utf-8",
    ".mjs": "text/javascript; charset=utf-8",
    ".png": "image/png",
    ".py": "text/plain; charset=utf-8",
    ".svg": "image/svg+xml",
    ".txt": "text/plain; charset=utf-8",
    ".wasm": "application/wasm",
    ".webmanifest": "application/manifest+json",
    ".woff2": "font/woff2",
}
COMPRESSED = sorted({kind.partition(";")[0] for kind in TYPES.values()} - {"image/png", "font/woff2"})
OTHER = "text/plain; charset=utf-8"

# Tools for working on the web files, which browsers do not need.
TOOLS = {
    "build.py",
    "bundle.py",
    "bundled.js",
    "bytecode.py",
    "minify.py",
    "vendor.py",
    "icons.py",
    "package.json",
    "package-lock.json",
    "tsconfig.json",
    "tsconfig.sw.json",
    "biome.json",
    "node_modules",
    "__pycache__",
}
# Characters with which an address could lead out of a folder on some system.
UNSAFE = "\\:\0"
# The engine's files and the shim that they need on the phone, all in one.
ENGINE = "/engine/files.bin"
SHIM = "/engine/typing.py"
# A room of the engine that only the server uses: forms of results, which take no part in calculations.
SERVER_ONLY = "results"
# What a phone needs beyond its first page, in one file: a hundred small files would cost a hundred requests.
PACK = "/pack.json"
LARGEST_IN_PACK = 60_000
NOT_OFFLINE = {"/sw.js", "/precache.js", SHIM}
# Brotli's quality: the best takes seconds for a large file, too long for files that somebody is working on.
BEST = 11
QUICK = 5
# Base-2 logarithm of how many bytes brotli compresses at once: any of our files as a whole.
BLOCK_BITS = 24


class WebPath(PathConverter):
    """Every address outside the interface, which answers unknown addresses of its own itself."""

    regex = r"(?!api/).*?"


class File(NamedTuple):
    """A file's content, its revision (the same only for the same content), and its path if it is on disk."""

    data: bytes
    revision: str
    media_type: str
    path: Path | None = None


class WebFiles:
    """Every file that a browser may ask for, by address.

    Parameters
    ----------
    web, engine : Path
        The folder of the web files, and of the engine's source.
    makers : dict of callables, optional
        Further files in JSON that a phone needs offline, by address: what makes each, which is always the same.
    """

    def __init__(self, web: Path, engine: Path, makers: dict[str, Callable[[], bytes]] | None = None) -> None:
        self.web = web
        self.engine = engine
        self.makers = makers or {}
        self.made_files: dict[str, File] = {}
        # Each file as it was read, with its time of change and size.
        self.read_files: dict[Path, tuple[tuple[int, int], File]] = {}

    def addresses(self) -> dict[str, Path]:
        """Every file on disk by its address."""
        paths = {f"/engine/{name}": path for name, path in self.engine_paths().items()}
        for folder, inner, names in os.walk(self.web):
            # Folders that are not served are not searched: those of tools hold thousands of files.
            inner[:] = [name for name in inner if is_public(name)]
            for name in names:
                path = Path(folder, name)
                if is_public(name):
                    paths["/" + path.relative_to(self.web).as_posix()] = path
        return paths

    def at(self, address: str) -> Path | None:
        """The file at an address, found without a search of the folders."""
        parts = address[1:].split("/")
        if not all(is_public(part) for part in parts) or any(character in address for character in UNSAFE):
            return None
        web_path, engine_path = self.web.joinpath(*parts), self.engine.joinpath(*parts[1:])
        is_engine = parts[0] == "engine" and parts[1:2] != [SERVER_ONLY] and engine_path.suffix == ".py"
        # The system refuses some names, such as one of a thousand letters.
        with suppress(OSError):
            if web_path.is_file():
                return web_path
            if is_engine and engine_path.is_file():
                return engine_path
        return None

    def get(self, address: str) -> File | None:
        """The file at an address, or None."""
        if address == "/":
            address = "/index.html"
        if address == ENGINE:
            return self.engine_files()
        if address == PACK:
            return make_file(self.pack(), ".json")
        if address == "/precache.js":
            return make_file(f"self.__precache = {json.dumps(self.precache(), indent=1)};\n".encode(), ".js")
        if address in self.makers:
            return self.make(address)
        path = self.at(address)
        return self.read(path) if path else None

    def make(self, address: str) -> File:
        """A file that is on no disk; made when it is first asked for."""
        if address not in self.made_files:
            self.made_files[address] = make_file(self.makers[address](), ".json")
        return self.made_files[address]

    def read(self, path: Path) -> File:
        """A file's content, read again only when it has changed."""
        status = path.stat()
        stamp = (status.st_mtime_ns, status.st_size)
        if path not in self.read_files or self.read_files[path][0] != stamp:
            self.read_files[path] = (stamp, make_file(path.read_bytes(), path.suffix, path))
        return self.read_files[path][1]

    def compress(self, file: File) -> bytes:
        """A file's content in brotli's format."""
        return compress(file, BEST if self.is_built() else QUICK)

    def is_built(self) -> bool:
        """Whether these files come from a build, and not from a checkout."""
        return self.at(ENGINE) is not None

    def engine_paths(self) -> dict[str, Path]:
        """The engine's files that a phone needs, by their paths in its folder."""
        paths = {path.relative_to(self.engine).as_posix(): path for path in sorted(self.engine.rglob("*.py"))}
        return {name: path for name, path in paths.items() if not name.startswith(f"{SERVER_ONLY}/")}

    def engine_files(self) -> File:
        """The engine's files by their paths in the phone's library, in one: a phone needs them all, at every start."""
        built = self.at(ENGINE)
        if built:
            return self.read(built)
        files = {f"engine/{name}": self.read(path).data for name, path in self.engine_paths().items()}
        shim = self.at(SHIM)
        return make_file(join(files | ({"typing.py": self.read(shim).data} if shim else {})), ".bin")

    def worker_scripts(self) -> set[str]:
        """The addresses of the scripts that the service worker imports; the browser keeps these with the worker."""
        worker = self.at("/sw.js")
        imports = re.search(r"importScripts\(([^)]*)\)", worker.read_text("utf-8")) if worker else None
        return set(re.findall(r'"(/[^"]+)"', imports[1])) if imports else set()

    def offline_files(self) -> dict[str, File]:
        """Every file that a phone needs offline, by address, without the engine's, which are in one file."""
        worker_scripts = self.worker_scripts()
        return {
            address: self.read(path)
            for address, path in self.addresses().items()
            if self.engine not in path.parents and is_for_phones(address) and address not in worker_scripts
        }

    def precache(self) -> list[dict[str, str]]:
        """What a phone needs to work offline, each with its revision."""
        revisions = {address: file.revision for address, file in self.offline_files().items()}
        # The page is kept under the address under which it is opened.
        revisions["/"] = revisions.pop("/index.html", "")
        revisions[ENGINE] = self.engine_files().revision
        revisions.update({address: self.make(address).revision for address in self.makers})
        return [{"url": address, "revision": revisions[address]} for address in sorted(revisions)]

    def pack(self) -> bytes:
        """The small texts that the first page does not load, by address, each with its revision and media type."""
        page = self.at("/index.html")
        on_page = set(re.findall(r'(?:href|src)="([^"]+)"', page.read_text("utf-8"))) if page else set()
        texts = {}
        # Brotli compresses similar texts better side by side.
        for address, file in sorted(self.offline_files().items(), key=lambda item: (item[1].media_type, item[0])):
            # The engine's worker fetches the files beside it by itself, with their own headers; and the page fetches
            # scripts of the build, which stand beside it, with its first screen.
            is_beside = "/" not in address[1:]
            is_apart = address in on_page or is_beside or address.startswith("/engine/")
            if not is_apart and file.media_type.endswith("charset=utf-8") and len(file.data) <= LARGEST_IN_PACK:
                texts[address] = [file.revision, file.media_type, file.data.decode()]
        return json.dumps(texts, ensure_ascii=False).encode()


def make_file(data: bytes, suffix: str, path: Path | None = None) -> File:
    """A file with this content."""
    return File(data, hashlib.blake2b(data, digest_size=6).hexdigest(), TYPES.get(suffix, OTHER), path)


@cache
def compress(file: File, quality: int) -> bytes:
    """A file's content in brotli's format, as the build compressed it if it did; every application shares it."""
    return read_compressed(file) or bytes(brotli.compress(file.data, quality=quality, lgblock=BLOCK_BITS))


def read_compressed(file: File) -> bytes | None:
    """What the build compressed of a file, from `.br` beside it; None if it is missing or of another content."""
    path = file.path.with_name(file.path.name + ".br") if file.path else None
    if path is None or not path.is_file():
        return None
    compressed = path.read_bytes()
    return compressed if brotli.decompress(compressed) == file.data else None


def is_public(name: str) -> bool:
    """Whether a file or folder of this name is served.

    >>> [is_public(name) for name in ("app.js", "node_modules", ".hidden", "", "..", "a.d.ts")]
    [True, False, False, False, False, False]
    """
    return bool(name) and name not in TOOLS and not name.startswith(".") and not name.endswith((".d.ts", ".br"))


def is_for_phones(address: str) -> bool:
    """Whether a phone needs the web file at this address offline."""
    name = address.rpartition("/")[2].upper()
    return address not in NOT_OFFLINE and not name.endswith((".MAP", ".MD", ".TXT")) and "LICEN" not in name


def register(app: Flask, web: Path, engine: Path, makers: dict[str, Callable[[], bytes]] | None = None) -> None:
    """Serve the web files, and those that are made, at every address outside the interface."""
    files = WebFiles(web, engine, makers)
    app.url_map.converters["web"] = WebPath
    site = Blueprint("web", __name__)

    @site.get("/")
    @site.get("/<web:_>")
    def file(_: str = "") -> Response:
        web_file = files.get(request.path)
        if web_file is None:
            abort(404)
        if request.accept_encodings.quality("br") > 0 and web_file.media_type.partition(";")[0] in COMPRESSED:
            answer = Response(files.compress(web_file), content_type=web_file.media_type)
            answer.headers["Content-Encoding"] = "br"
            answer.set_etag(web_file.revision + ":br")
        else:
            answer = Response(web_file.data, content_type=web_file.media_type)
            answer.set_etag(web_file.revision)
        answer.headers["Cache-Control"] = "no-cache"
        # With a revision, flask-compress may keep what it compresses for browsers without brotli.
        g.revision = web_file.revision
        answer.make_conditional(request)
        return answer

    app.register_blueprint(site)
