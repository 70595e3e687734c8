"""The web files: right types, found again when changed, compressed, and all that a phone needs named in one list."""

import ast
import gzip
import json
import re
from collections.abc import Iterator
from pathlib import Path

import brotli
import pytest
from flask import Flask
from flask.testing import FlaskClient

from server.app import close_app, create_app
from server.one_file import join, split

FILES = {
    "index.html": "<!doctype html>" + "<p>Slipbook</p>" * 100,
    "app.js": "export const a = 1;\n" * 100,
    "sw.js": 'importScripts("/vendor/worker.js", "/precache.js");',
    "vendor/worker.js": "",
    "manifest.webmanifest": "{}",
    "style/app.css": "body { color: black }\n" * 100,
    "engine/typing.py": "Any = object\n",
    "vendor/core.mjs": "export {};",
    "vendor/core.wasm": "\0asm" * 1000,
    "vendor/core.mjs.map": "{}",
    "vendor/LICENSE": "Free.",
    "vendor/lit-html/LICENSE.md": "Free.",
    "vendor.py": "print('a tool')",
    "package.json": "{}",
    "node_modules/a/a.js": "",
    ".hidden": "",
    "types.d.ts": "",
}


@pytest.fixture
def web(tmp_path: Path) -> Path:
    for name, content in FILES.items():
        path = tmp_path / "webui" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(content)
    return tmp_path / "webui"


@pytest.fixture
def app(folder: Path, web: Path) -> Iterator[Flask]:
    app = create_app(folder, web_folder=web)
    yield app
    close_app(app)


@pytest.mark.parametrize(
    ("path", "media_type"),
    [
        ("/", "text/html"),
        ("/index.html", "text/html"),
        ("/app.js", "text/javascript"),
        ("/vendor/core.mjs", "text/javascript"),
        ("/vendor/core.wasm", "application/wasm"),
        ("/manifest.webmanifest", "application/manifest+json"),
        ("/style/app.css", "text/css"),
        ("/engine/request/fields.py", "text/plain"),
        ("/engine/typing.py", "text/plain"),
        ("/engine/files.bin", "application/octet-stream"),
        ("/precache.js", "text/javascript"),
        ("/vendor/LICENSE", "text/plain"),
    ],
)
def test_every_file_has_its_media_type(client: FlaskClient, path: str, media_type: str) -> None:
    answer = client.get(path)
    assert answer.status_code == 200
    assert answer.mimetype == media_type
    assert answer.headers["X-Content-Type-Options"] == "nosniff"


@pytest.mark.parametrize(
    "path",
    ["/vendor.py", "/package.json", "/node_modules/a/a.js", "/.hidden", "/../server/app.py", "/engine/../app.py"]
    + ["/engine/..%2fapp.py", "/types.d.ts", "/engine/__pycache__/x.pyc"],
)
def test_nothing_but_web_files_is_given_out(client: FlaskClient, path: str) -> None:
    assert client.get(path).status_code == 404


def test_the_engine_on_the_phone_is_the_servers_own(client: FlaskClient) -> None:
    files = split(client.get("/engine/files.bin").data)
    assert files.pop("typing.py") == FILES["engine/typing.py"].encode()
    engine = Path(__file__).resolve().parent.parent.parent / "server" / "engine"
    own_files = [path.relative_to(engine).as_posix() for path in engine.rglob("*.py")]
    # The phone calculates without the forms of results, and is spared what they weigh.
    assert sorted(files) == sorted(f"engine/{name}" for name in own_files if not name.startswith("results/"))
    assert client.get("/engine/results/plan.py").status_code == 404
    for name, data in files.items():
        assert client.get(f"/{name}").data == data == (engine.parent / name).read_bytes()


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("style/corner.css", 'p::before {\n  content: ": ";\n}\n'),
        ("corner.js", 'export const corner = "/** @a */ b";\n'),
        ("corner.py", '# As it is.\nDay("the first")\n'),
    ],
)
def test_files_travel_as_they_are_written(client: FlaskClient, web: Path, name: str, text: str) -> None:
    (web / name).write_text(text)
    assert client.get(f"/{name}").text == text


def test_a_built_engine_is_taken_as_it_was_built(client: FlaskClient, web: Path) -> None:
    def listed() -> str:
        found = json.loads(client.get("/precache.js").text.removeprefix("self.__precache = ").rstrip(";\n"))
        return str({file["url"]: file["revision"] for file in found}["/engine/files.bin"])

    before = listed()
    built = join({"engine/__init__.mpy": b"M\x06" * 20_000})
    (web / "engine" / "files.bin").write_bytes(built)
    assert client.get("/engine/files.bin").data == built
    assert listed() != before
    assert client.get("/engine/files.bin").headers["ETag"].strip('"') == listed()
    assert "/engine/files.bin" not in json.loads(client.get("/pack.json").text)


def test_a_script_beside_the_page_is_listed_and_travels_by_itself(client: FlaskClient, web: Path) -> None:
    """The page may have fetched it by then, and would get it twice."""
    (web / "room.js").write_text('"use strict";\n')
    (web / "style" / "room.css").write_text("p {}\n")
    listed = client.get("/precache.js").text
    packed = json.loads(client.get("/pack.json").text)
    assert '"/room.js"' in listed
    assert '"/style/room.css"' in listed
    assert "/room.js" not in packed
    assert "/style/room.css" in packed


@pytest.mark.parametrize("path", ["/", "/app.js", "/engine/files.bin", "/vendor/core.wasm"])
def test_a_browser_with_brotli_gets_the_same_file(client: FlaskClient, path: str) -> None:
    plain = client.get(path)
    packed = client.get(path, headers={"Accept-Encoding": "gzip, br"})
    assert packed.headers["Content-Encoding"] == "br"
    assert "Accept-Encoding" in packed.headers["Vary"]
    assert brotli.decompress(packed.data) == plain.data
    known = {"Accept-Encoding": "br", "If-None-Match": packed.headers["ETag"]}
    assert client.get(path, headers=known).status_code == 304


def test_what_was_pressed_of_another_content_is_not_taken(client: FlaskClient, web: Path) -> None:
    large = b"\0asm" * 100_000
    for at, beside in (("right.wasm", large), ("stale.wasm", b"old")):
        (web / at).write_bytes(large)
        (web / f"{at}.br").write_bytes(brotli.compress(beside))
        assert brotli.decompress(client.get(f"/{at}", headers={"Accept-Encoding": "br"}).data) == large
        assert client.get(f"/{at}.br").status_code == 404
    assert client.get("/right.wasm", headers={"Accept-Encoding": "br"}).data == (web / "right.wasm.br").read_bytes()


def test_the_offline_list_names_all_that_is_needed_with_its_revision(client: FlaskClient, web: Path) -> None:
    def listed() -> dict[str, str]:
        found = re.fullmatch(r"self\.__precache = (\[.*\]);\n", client.get("/precache.js").text, re.DOTALL)
        assert found is not None
        return {file["url"]: file["revision"] for file in json.loads(found[1])}

    before = listed()
    assert {"/", "/app.js", "/vendor/core.wasm", "/engine/files.bin"} < set(before)
    assert not {"/engine/request/fields.py", "/engine/typing.py"} & set(before)
    # The browser keeps it with the worker.
    assert "/vendor/worker.js" not in before
    assert not {"/sw.js", "/precache.js", "/vendor/LICENSE", "/vendor/lit-html/LICENSE.md"} & set(before)
    assert "/vendor/core.mjs.map" not in before
    assert all(client.get(url).status_code == 200 for url in before)
    (web / "app.js").write_text("export const a = 2;\n")
    after = listed()
    assert {url for url in after if after[url] != before[url]} == {"/app.js"}


@pytest.mark.parametrize("path", ["/", "/app.js", "/vendor/core.wasm", "/engine/request/fields.py"])
def test_files_are_compressed_and_not_sent_again_unchanged(client: FlaskClient, path: str) -> None:
    plain = client.get(path)
    assert plain.headers["Cache-Control"] == "no-cache"
    for _ in range(2):
        packed = client.get(path, headers={"Accept-Encoding": "gzip"})
        assert packed.headers["Content-Encoding"] == "gzip"
        assert gzip.decompress(packed.data) == plain.data
        assert len(packed.data) < len(plain.data)
    for encoding, known in (("gzip", packed), ("identity", plain)):
        again = client.get(path, headers={"Accept-Encoding": encoding, "If-None-Match": known.headers["ETag"]})
        assert (again.status_code, again.data) == (304, b"")


def test_a_changed_file_is_sent_anew(client: FlaskClient, web: Path) -> None:
    before = client.get("/app.js", headers={"Accept-Encoding": "gzip"})
    (web / "app.js").write_text("export const b = 1;\n" * 100)
    after = client.get("/app.js", headers={"Accept-Encoding": "gzip", "If-None-Match": before.headers["ETag"]})
    assert after.status_code == 200
    assert b"const b" in gzip.decompress(after.data)


def test_no_inline_code_may_run(client: FlaskClient) -> None:
    policy = client.get("/").headers["Content-Security-Policy"]
    assert "script-src 'self' 'wasm-unsafe-eval'" in policy
    assert "unsafe-inline" not in policy
    assert "'unsafe-eval'" not in policy
    assert "frame-ancestors 'none'" in policy


def test_the_engine_imports_nothing_that_the_phone_lacks() -> None:
    engine = Path(__file__).resolve().parent.parent.parent / "server" / "engine"
    taken = set()
    for path in engine.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Import):
                taken |= {name.name for name in node.names}
            elif isinstance(node, ast.ImportFrom) and node.level == 0:
                taken.add(node.module or "")
    assert taken <= {"math", "json", "typing"}
