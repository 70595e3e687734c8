"""A test that makes a data folder of its own says that it is about files: over a database it would try nothing new."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

TESTS = Path(__file__).resolve().parent

MARK = "about_files"
# What is there over a folder alone; over whichever store is asked, `server/stores.py` does the same.
OF_A_FOLDER = re.compile(r'\b(Folder[A-Z]\w+|LanServer|serve_lan|serve_folder|create_app)\(|"--folder"')
# They try both stores, or what stands between them, whatever the others run over; or no log at all.
BOTH_OR_NONE = {"test_hosted_door.py", "test_hosting.py", "test_registers.py", "test_stores.py", "test_web.py"}
FILES = [file for room in ("server", "phone") for file in sorted((TESTS / room).glob("test_*.py"))]


def unsaid(text: str) -> Iterator[str]:
    """Tests that make a folder of their own and do not say that they are about files."""
    module = ast.parse(text)
    marks = {MARK}
    for node in module.body:
        if isinstance(node, ast.Assign) and MARK in ast.unparse(node.value):
            marks |= {ast.unparse(target) for target in node.targets}
    if "pytestmark" in marks:
        return
    for node in module.body:
        if isinstance(node, ast.FunctionDef) and node.name.startswith("test_"):
            said = " ".join(ast.unparse(decorator) for decorator in node.decorator_list)
            body = "\n".join(ast.unparse(line) for line in node.body).replace("'--folder'", '"--folder"')
            if OF_A_FOLDER.search(body) and not any(re.search(rf"\b{mark}\b", said) for mark in marks):
                yield node.name


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.name)
def test_what_makes_a_folder_of_its_own_says_that_it_is_about_files(file: Path) -> None:
    if file.name not in BOTH_OR_NONE:
        assert list(unsaid(file.read_text("utf-8"))) == []


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("def test_a(): FolderLog(1)", ["test_a"]),
        ("def test_a(): main(['check', '--folder', 'x'])", ["test_a"]),
        ("def test_a(): open_log(1)", []),
        ("@pytest.mark.about_files('why')\ndef test_a(): FolderLog(1)", []),
        ("LOST = pytest.mark.about_files('why')\n@LOST\ndef test_a(): FolderLog(1)", []),
        ("LOST = pytest.mark.about_files('why')\ndef test_a(): FolderLog(1)", ["test_a"]),
        ("pytestmark = [1, pytest.mark.about_files('why')]\ndef test_a(): FolderLog(1)", []),
    ],
)
def test_one_that_does_not_say_so_is_found(text: str, names: list[str]) -> None:
    assert list(unsaid(text)) == names
