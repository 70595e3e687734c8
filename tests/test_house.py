"""The house: what lies at the top, and which folder may know which."""

import ast
import re
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent

TOP = {"README.md", "DEVELOPERS.md", "pyproject.toml", "server", "webui", "tests", "demo_units"}

# What a package may import of the project's own, beside itself.
KNOWS = {
    "engine": set(),
    "log": {"engine"},
    "api": {"engine", "log", "lan"},
    "lan": {"engine", "log"},
}

# The engine runs on the phone as well: nothing but these, which MicroPython has, or the phone brings a shim for.
ENGINE_LIBRARIES = {"math", "json", "typing"}

# What a folder of the web side may import from, beside itself and the vendored libraries.
WEB_KNOWS = {
    "draw": set(),
    "engine": set(),
    "log": {"engine"},
    "screens": {"draw", "engine", "log"},
}


def imports(file: Path) -> set[str]:
    """The modules that a Python file imports, relative ones with their dots."""
    found = set()
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {name.name for name in node.names}
        elif isinstance(node, ast.ImportFrom):
            found.add("." * node.level + (node.module or ""))
    return found


def test_nothing_else_shows_at_the_top() -> None:
    listed = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True)
    if listed.returncode != 0:
        pytest.skip("this tree is no checkout: only a checkout says what belongs to it")
    assert {name.split("/")[0] for name in listed.stdout.splitlines() if not name.startswith(".")} == TOP


def test_the_engine_knows_nothing_but_itself() -> None:
    for file in (ROOT / "server" / "engine").glob("*.py"):
        others = {name for name in imports(file) if not re.match(r"\.\w|\.$", name)}
        assert others <= ENGINE_LIBRARIES, file.name


@pytest.mark.parametrize("package", KNOWS)
def test_a_package_knows_only_those_below_it(package: str) -> None:
    for file in (ROOT / "server" / package).rglob("*.py"):
        for name in imports(file):
            own = re.match(r"(?:server|\.)\.(\w+)", name)
            if own and own[1] in KNOWS and own[1] != package:
                assert own[1] in KNOWS[package], f"{file.name} imports {name}"


@pytest.mark.parametrize("folder", WEB_KNOWS)
def test_a_web_folder_knows_only_those_below_it(folder: str) -> None:
    for file in (ROOT / "webui" / folder).glob("*.js"):
        for other in re.findall(r"""(?:from|(?<!\{)import\()\s*["']\.\./(\w+)""", file.read_text(encoding="utf-8")):
            if other != "vendor":
                assert other in WEB_KNOWS[folder], f"{file.name} imports from {other}"


def test_every_web_module_is_type_checked() -> None:
    for folder in WEB_KNOWS:
        for file in (ROOT / "webui" / folder).glob("*.js"):
            assert file.read_text(encoding="utf-8").startswith("// @ts-check"), file.name


def test_nobody_elses_code_is_committed() -> None:
    listed = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True)
    assert not [
        name
        for name in listed.stdout.splitlines()
        if re.search(r"node_modules/|\.wasm$|\.min\.js$|webui/vendor/", name)
    ]
