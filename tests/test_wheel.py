"""The wheel that is handed out: complete, serving from anywhere, with the licences of what it carries."""

import json
import os
import re
import subprocess
import sys
import urllib.request
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent


@pytest.fixture(scope="module")
def unpacked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A wheel built from this tree, unpacked as an installer would."""
    folder = tmp_path_factory.mktemp("wheel")
    order = [sys.executable, "-m", "build", "--wheel", "--outdir", str(folder), str(ROOT)]
    done = subprocess.run(order, capture_output=True, text=True)
    assert done.returncode == 0, done.stdout + done.stderr
    [wheel] = folder.glob("*.whl")
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(folder / "site")
    return folder / "site"


@pytest.fixture
def served(unpacked: Path, tmp_path: Path) -> Iterator[str]:
    """Its demo, run from a folder that has nothing to do with this tree."""
    order = [sys.executable, "-P", "-m", "server.cli", "demo", "--folder", str(tmp_path / "log"), "--port", "0"]
    process = subprocess.Popen(
        order,
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(unpacked), "PYTHONUNBUFFERED": "1"},
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    )
    try:
        assert process.stdout is not None
        address = next(
            (found[0] for line in process.stdout if (found := re.search(r"http://127\.0\.0\.1:\d+", line))), None
        )
        assert address is not None
        yield address
    finally:
        process.terminate()
        process.wait(timeout=20)
        if process.stdout is not None:
            process.stdout.close()


def get(address: str) -> bytes:
    """The body of a page that must be there."""
    with urllib.request.urlopen(address, timeout=20) as answer:
        assert answer.status == 200
        body: bytes = answer.read()
        return body


def test_every_library_comes_with_its_licence(unpacked: Path) -> None:
    lock = json.loads((ROOT / "webui" / "package-lock.json").read_text(encoding="utf-8"))
    carried = {
        name.removeprefix("node_modules/")
        for name, package in lock["packages"].items()
        # What is optional only builds.
        if name and not {"dev", "optional"} & set(package) and not name.startswith("node_modules/@types/")
    }
    texts = "\n".join(path.as_posix().lower() for path in unpacked.rglob("*") if "licen" in path.name.lower())
    missing = {name for name in carried if name.split("/")[-1].lower() not in texts}
    assert missing == set()


def test_nothing_of_the_workbench_is_in_it(unpacked: Path) -> None:
    top = {path.name for path in unpacked.iterdir() if not path.name.endswith(".dist-info")}
    assert top == {"server", "webui", "demo_units"}
    assert not list(unpacked.rglob("node_modules"))


def test_it_serves_the_whole_app_from_anywhere(served: str) -> None:
    listed = json.loads(re.sub(r"^self\.__precache = |;?\s*$", "", get(served + "/precache.js").decode()))
    assert len(listed) > 20
    for item in listed:
        assert get(served + item["url"] if item["url"].startswith("/") else f"{served}/{item['url']}")
    units = json.loads(get(served + "/api/units"))["units"]
    assert len(units) >= 3
