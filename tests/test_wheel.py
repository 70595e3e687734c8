"""The wheel: one complete package that serves from any folder, with the licences of the libraries in it."""

import json
import os
import re
import subprocess
import sys
import urllib.error
import urllib.request
import zipfile
from collections.abc import Iterator
from contextlib import contextmanager
from http import HTTPStatus
from pathlib import Path

from .installed import ROOT, Installed, install_into, make_environment, run

PAIRS_A_PHONE = """
import sys
from pathlib import Path
from slipbook.server.app import close_app, create_app
from slipbook.server.lan import Addresses, Door

folder = Path(sys.argv[1])
door = Door(folder, lambda: Addresses(("pit-pc.local", "pit-pc"), ("192.168.7.20",)), announce=True)
door.port, door.welcome_port = 8127, 8128
app = create_app(folder, door=door)
code = app.test_client().post("/api/pairing", json={"role": "bench"})
assert code.status_code == 200, code.text
phone = {"REMOTE_ADDR": "192.168.7.31", "wsgi.url_scheme": "https"}
paired = app.test_client().post("/api/pair", json={"code": code.json["code"], "name": "Mara"}, environ_base=phone)
assert paired.status_code == 200, paired.text
close_app(app)
door.close()
"""


@contextmanager
def serve(*command: str | Path, **variables: str) -> Iterator[str]:
    """Run a demo, with more variables in its environment; gives its address."""
    process = subprocess.Popen(
        [*map(str, command), "--port", "0"],
        env={**os.environ, "PYTHONUNBUFFERED": "1", **variables},
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    )
    try:
        assert process.stdout is not None
        output = []
        for line in process.stdout:
            output.append(line)
            if address := re.search(r"http://127\.0\.0\.1:\d+", line):
                break
        assert address is not None, "".join(output)
        yield address[0]
    finally:
        process.terminate()
        process.wait(timeout=20)
        if process.stdout is not None:
            process.stdout.close()


def get(address: str) -> bytes:
    """The body of a page, which must exist."""
    with urllib.request.urlopen(address, timeout=20) as answer:
        assert answer.status == 200
        body: bytes = answer.read()
        return body


def is_sent_once(address: str) -> bool:
    """Whether a browser that has a file already, compressed, does not get it again."""
    request = urllib.request.Request(address, headers={"Accept-Encoding": "gzip"})
    with urllib.request.urlopen(request, timeout=20) as answer:
        assert answer.headers["Content-Encoding"] == "gzip"
        request.add_header("If-None-Match", answer.headers["ETag"])
    try:
        with urllib.request.urlopen(request, timeout=20):
            return False
    except urllib.error.HTTPError as answer:
        return answer.code == HTTPStatus.NOT_MODIFIED


def test_every_library_comes_with_its_licence(installed: Installed) -> None:
    # What these need in turn is for their commands, of which nothing is carried: the build copies named files alone.
    carried = json.loads((ROOT / "webui" / "package.json").read_text(encoding="utf-8"))["dependencies"]
    texts = "\n".join(path.as_posix().lower() for path in installed.package.rglob("*") if "licen" in path.name.lower())
    missing = {name for name in carried if name.split("/")[-1].lower() not in texts}
    assert missing == set()


def test_it_is_one_package_without_the_workbench(installed: Installed) -> None:
    names = [name for name in zipfile.ZipFile(installed.wheel).namelist() if ".dist-info/" not in name]
    assert {name.split("/")[0] for name in names} == {"slipbook"}
    assert {name.split("/")[1] for name in names} == {"__init__.py", "server", "webui", "demo_units"}
    tools = re.compile(r"node_modules|webui/[^/]*\.(?:py|json)$|\.d\.ts$")
    assert [name for name in names if tools.search(name)] == []


def test_it_serves_the_whole_app_from_anywhere(installed: Installed, tmp_path: Path) -> None:
    with serve(installed.command, "demo", "--folder", tmp_path / "log") as address:
        listed = json.loads(re.sub(r"^self\.__precache = |;?\s*$", "", get(address + "/precache.js").decode()))
        assert len(listed) > 20
        for item in listed:
            assert get(address + item["url"] if item["url"].startswith("/") else f"{address}/{item['url']}")
        units = json.loads(get(address + "/api/units"))["units"]
        assert len(units) >= 3
        # In the built form.
        beside = [item["url"] for item in listed if re.fullmatch(r"/[\w-]+\.js", item["url"])]
        assert "/app.js" in beside
        scripts = [get(address + name) for name in beside]
        assert [script for script in scripts if b"// @ts-check" in script] == []
        modules = [
            path for name in ("log", "screens", "draw", "vendor") for path in (ROOT / "webui" / name).rglob("*.js")
        ]
        assert sum(map(len, scripts)) < 0.8 * sum(path.stat().st_size for path in modules)


def test_programs_of_other_names_do_not_disturb_it(installed: Installed, tmp_path: Path) -> None:
    for name in ("server", "webui", "demo_units", "engine", "minify", "vendor"):
        (tmp_path / f"{name}.py").write_text("raise SystemExit('this is another program')\n")
    path = {"PYTHONPATH": str(tmp_path)}
    result = subprocess.run(
        [installed.command, "--help"], cwd=tmp_path, env={**os.environ, **path}, capture_output=True, text=True
    )
    assert result.returncode == 0, result.stderr
    assert "demo" in result.stdout
    with serve(installed.command, "demo", "--folder", tmp_path / "log", **path) as address:
        assert json.loads(get(address + "/api/units"))["units"]


def test_a_checkout_can_be_installed_as_it_is(tmp_path: Path) -> None:
    (tmp_path / "server.py").write_text("raise SystemExit('this is another program')\n")
    programs, _ = install_into(tmp_path / "venv", "-e", ROOT)
    program = "import slipbook.server.cli as cli; print(cli.__file__)"
    assert Path(run(programs / "python", "-c", program, cwd=tmp_path).strip()) == ROOT / "server" / "cli.py"
    with serve(programs / "slipbook", "demo", "--folder", tmp_path / "log", PYTHONPATH=str(tmp_path)) as address:
        assert get(address + "/app.js") == (ROOT / "webui" / "app.js").read_bytes()


def test_it_works_with_the_lowest_versions_that_it_allows(installed: Installed, tmp_path: Path) -> None:
    programs = make_environment(tmp_path / "venv")
    install = [sys.executable, "-m", "uv", "pip", "install", "--quiet", "--python", str(programs / "python")]
    run(*install, "--resolution", "lowest-direct", "-r", ROOT / "pyproject.toml")
    run(*install, "--no-deps", installed.wheel)
    assert "demo" in run(programs / "slipbook", "--help", cwd=tmp_path)
    with serve(programs / "slipbook", "demo", "--folder", tmp_path / "log") as address:
        assert b"<!doctype html>" in get(address + "/")
        assert is_sent_once(address + "/app.js")
        assert json.loads(get(address + "/api/units"))["units"]
        assert json.loads(get(address + "/api/openapi.json"))["paths"]
    run(programs / "slipbook", "check", "--folder", tmp_path / "log", cwd=tmp_path)
    run(programs / "slipbook", "backup", "--folder", tmp_path / "log", tmp_path / "log.zip", cwd=tmp_path)
    # Keys, certificates, the QR code and the name on the network, all without using the network.
    run(programs / "python", "-c", PAIRS_A_PHONE, tmp_path / "log", cwd=tmp_path)


def test_what_makes_the_tables_of_a_database_comes_with_it(installed: Installed) -> None:
    with zipfile.ZipFile(installed.wheel) as wheel:
        packed = {name for name in wheel.namelist() if name.endswith(".sql")}
    there = {f"slipbook/{path.relative_to(ROOT).as_posix()}" for path in (ROOT / "server").rglob("*.sql")}
    assert {"slipbook/server/log/postgres/grants.sql", "slipbook/server/log/postgres/migrations/0001.log.sql"} <= there
    assert packed == there
