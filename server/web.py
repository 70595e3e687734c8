"""The web files, and the engine's own source for the phone, from memory of what they held when last changed.

A checkout's files travel as they are written. An installed Slipbook has them in the form that the build gave them, with
the engine's files in one piece.
"""

import hashlib
import json
import os
import re
from contextlib import suppress
from pathlib import Path
from typing import NamedTuple

import brotli
from flask import Blueprint, Flask, Response, abort, g, request
from werkzeug.routing import PathConverter

TYPES = {
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

# Tools of whoever works on the web files; nothing that a browser asks for.
TOOLS = {
    "build.py",
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
# What would lead out of a folder, on one system or another.
NO_NAMES = "\\:\0"
# The engine's own files, all in one.
ENGINE = "/engine/files.json"
# A room of the engine that only the server asks: forms of results, which nothing is calculated with.
STAYS_HOME = "results"
# What a phone needs beyond its first page, in one piece: a hundred small files would cost a hundred requests.
PACK = "/pack.json"
LARGEST_IN_PACK = 60_000
NOT_OFFLINE = {"/sw.js", "/precache.js"}
# Brotli's effort: its best takes seconds for a large file, too long for files that change while somebody works on them.
BEST = 11
QUICK = 5
# Whole files are looked at at once.
WIDEST = 24


class WebPath(PathConverter):
    """Every address but those of the interface, which has its own answers for what it does not know."""

    regex = r"(?!api/).*?"


class File(NamedTuple):
    """A file's content, a name for exactly this content, and where it comes from if it is a file on disk."""

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
    """

    def __init__(self, web: Path, engine: Path) -> None:
        self.web = web
        self.engine = engine
        self.kept: dict[Path, tuple[tuple[int, int], File]] = {}
        self.pressed: dict[str, bytes] = {}

    def addresses(self) -> dict[str, Path]:
        """Every file on disk by its address."""
        found = {f"/engine/{name}": path for name, path in self.engine_paths().items()}
        for folder, inner, names in os.walk(self.web):
            # What is not given out is not looked into either: a workbench holds thousands of files.
            inner[:] = [name for name in inner if is_public(name)]
            for name in names:
                path = Path(folder, name)
                if is_public(name):
                    found["/" + path.relative_to(self.web).as_posix()] = path
        return found

    def at(self, address: str) -> Path | None:
        """The file at an address, looked up on its own."""
        parts = address[1:].split("/")
        if not all(is_public(part) for part in parts) or any(one in address for one in NO_NAMES):
            return None
        path, own = self.web.joinpath(*parts), self.engine.joinpath(*parts[1:])
        # Some names no disk takes, such as one of a thousand letters.
        with suppress(OSError):
            if path.is_file():
                return path
            if parts[0] == "engine" and parts[1:2] != [STAYS_HOME] and own.suffix == ".py" and own.is_file():
                return own
        return None

    def get(self, address: str) -> File | None:
        """The file at an address, or None."""
        if address == "/":
            address = "/index.html"
        if address == ENGINE:
            return self.engine_files()
        if address == PACK:
            return made(self.pack(), ".json")
        if address == "/precache.js":
            return made(f"self.__precache = {json.dumps(self.precache(), indent=1)};\n".encode(), ".js")
        path = self.at(address)
        return self.read(path) if path else None

    def read(self, path: Path) -> File:
        """A file's content, read again only when it has changed."""
        state = path.stat()
        stamp = (state.st_mtime_ns, state.st_size)
        if path not in self.kept or self.kept[path][0] != stamp:
            self.kept[path] = (stamp, made(path.read_bytes(), path.suffix, path))
        return self.kept[path][1]

    def press(self, file: File) -> bytes:
        """A file's content in brotli's format, kept once it is made."""
        if file.revision not in self.pressed:
            self.pressed[file.revision] = pressed_ahead(file) or bytes(
                brotli.compress(file.data, quality=BEST if self.is_built() else QUICK, lgblock=WIDEST)
            )
        return self.pressed[file.revision]

    def is_built(self) -> bool:
        """Whether these are the files of a build, and not those that people write."""
        return self.at(ENGINE) is not None

    def engine_paths(self) -> dict[str, Path]:
        """The engine's own files that a phone needs, by their paths in its folder."""
        found = {path.relative_to(self.engine).as_posix(): path for path in sorted(self.engine.rglob("*.py"))}
        return {name: path for name, path in found.items() if not name.startswith(f"{STAYS_HOME}/")}

    def engine_files(self) -> File:
        """The engine's files by their paths in one piece: a phone fetches them all, and at every start."""
        built = self.at(ENGINE)
        if built:
            return self.read(built)
        texts = {name: self.read(path).data.decode() for name, path in self.engine_paths().items()}
        return made(json.dumps(texts, ensure_ascii=False).encode(), ".json")

    def of_worker(self) -> set[str]:
        """What the service worker is made of: the browser keeps that with the worker."""
        worker = self.at("/sw.js")
        scripts = re.search(r"importScripts\(([^)]*)\)", worker.read_text("utf-8")) if worker else None
        return set(re.findall(r'"(/[^"]+)"', scripts[1])) if scripts else set()

    def needed(self) -> dict[str, File]:
        """Every file that a phone needs offline, by address; the engine's own come in one piece."""
        apart = self.of_worker()
        return {
            address: self.read(path)
            for address, path in self.addresses().items()
            if self.engine not in path.parents and is_for_phones(address) and address not in apart
        }

    def precache(self) -> list[dict[str, str]]:
        """What a phone needs to work offline, each with its revision."""
        needed = {address: file.revision for address, file in self.needed().items()}
        # The page is kept under the address that it is asked for by.
        needed["/"] = needed.pop("/index.html", "")
        needed[ENGINE] = self.engine_files().revision
        return [{"url": address, "revision": needed[address]} for address in sorted(needed)]

    def pack(self) -> bytes:
        """The small texts that no first page asks for, by address, each with its revision and media type."""
        page = self.at("/index.html")
        named = set(re.findall(r'(?:href|src)="([^"]+)"', page.read_text("utf-8"))) if page else set()
        texts = {}
        # Brotli makes more of texts that lie beside their like.
        for address, file in sorted(self.needed().items(), key=lambda one: (one[1].media_type, one[0])):
            # What is beside the worker is fetched by it, with its own headers.
            apart = address in named or address == "/index.html" or address.startswith("/engine/")
            if not apart and file.media_type.endswith("charset=utf-8") and len(file.data) <= LARGEST_IN_PACK:
                texts[address] = [file.revision, file.media_type, file.data.decode()]
        return json.dumps(texts, ensure_ascii=False).encode()


def made(data: bytes, suffix: str, path: Path | None = None) -> File:
    """A file of this content."""
    return File(data, hashlib.blake2b(data, digest_size=6).hexdigest(), TYPES.get(suffix, OTHER), path)


def pressed_ahead(file: File) -> bytes | None:
    """What the build pressed of a file, a neighbour with `.br` behind its name, if it is there and of this content."""
    ahead = file.path.with_name(file.path.name + ".br") if file.path else None
    if ahead is None or not ahead.is_file():
        return None
    found = ahead.read_bytes()
    return found if brotli.decompress(found) == file.data else None


def is_public(name: str) -> bool:
    """Whether a file or folder of this name is given out.

    >>> [is_public(name) for name in ("app.js", "node_modules", ".hidden", "", "..", "a.d.ts")]
    [True, False, False, False, False, False]
    """
    return bool(name) and name not in TOOLS and not name.startswith(".") and not name.endswith((".d.ts", ".br"))


def is_for_phones(address: str) -> bool:
    """Whether a phone needs the web file at this address offline."""
    name = address.rpartition("/")[2].upper()
    return address not in NOT_OFFLINE and not name.endswith((".MAP", ".MD", ".TXT")) and "LICEN" not in name


def register(app: Flask, web: Path, engine: Path) -> None:
    """Serve the web files at every address that nothing else has."""
    files = WebFiles(web, engine)
    app.url_map.converters["web"] = WebPath
    site = Blueprint("web", __name__)

    @site.get("/")
    @site.get("/<web:_>")
    def file(_: str = "") -> Response:
        found = files.get(request.path)
        if found is None:
            abort(404)
        if request.accept_encodings.quality("br") > 0 and found.media_type.partition(";")[0] in COMPRESSED:
            answer = Response(files.press(found), content_type=found.media_type)
            answer.headers["Content-Encoding"] = "br"
            answer.set_etag(found.revision + ":br")
        else:
            answer = Response(found.data, content_type=found.media_type)
            answer.set_etag(found.revision)
        answer.headers["Cache-Control"] = "no-cache"
        # Tells the compression that it may keep what it makes of this for browsers without brotli.
        g.revision = found.revision
        answer.make_conditional(request)
        return answer

    app.register_blueprint(site)
