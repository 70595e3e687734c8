"""A kind of entry is described in one place, its record; no other file keeps a list of kinds."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from server.engine import CALCULATIONS, KINDS, calc
from server.engine.records.kinds import EITHER, SHOP, UNIT
from server.lan import ROLES
from server.log.entry import STORED

from .engine.samples import samples

ROOT = Path(__file__).resolve().parent.parent
RECORDS = "server/engine/records/kinds.py"
VIEWS = "webui/screens/unit/entry-views.js"
# Files that may list kinds, and why.
MAY_LIST = {
    RECORDS: "the records",
    "server/api/client_labels.py": "calculations whose forms screens show, most of which are named like kinds",
    "webui/log/labels.js": "made by it: labels by calculation",
    VIEWS: "the views of those kinds that show more than tables",
    "webui/screens/unit/list-notes.js": "forms that are half typed go by their addresses, some named like kinds",
    "webui/screens/help/pasting.js": "words that Help explains, some of them named like kinds",
    "webui/screens/help/patterns.js": "words that Help explains, some of them named like kinds",
    "webui/screens/bench/guided.js": "one screen guides through two procedures, and has a heading for each",
    "server/engine/__init__.py": "calculations by the group that reads them, some of which are named like kinds",
    "server/engine/history/sheet.py": "sheets by whom they are for, two of which are named like kinds",
    "server/engine/history/change.py": "a torque check or a rebuild parts what was measured before from what after",
    "server/engine/history/tightened.py": "a unit that ran, was checked or put back had been closed",
    "server/engine/records/guided_steps.py": "two procedures, told apart by the kinds that sign them off",
    "server/engine/results/records.py": "the steps of two procedures are one result",
    "server/engine/results/unit.py": "a unit's figures are shown at the steps of two procedures",
}

INNERMOST = re.compile(r"([\[{(])([^\[\]{}()]*)[\]})]")
COMMENT = re.compile(r"/\*.*?\*/|(?<![:\"'`])//[^\n]*", re.DOTALL)
IS = r"""===?\s*["'](\w+)["']"""
CHAIN = re.compile(rf"{IS}((?:\s*\|\|\s*[\w.]+\s*{IS})+)")


def listed_in_python(source: str) -> Iterator[list[str]]:
    """The texts of every list, tuple, set, dictionary's keys, and chain of `== ... or ... ==`."""
    for node in ast.walk(ast.parse(source)):
        items: list[Any] = []
        if isinstance(node, ast.List | ast.Tuple | ast.Set):
            items = list(node.elts)
        elif isinstance(node, ast.Dict):
            items = list(node.keys)
        elif isinstance(node, ast.BoolOp) and isinstance(node.op, ast.Or):
            items = [part.comparators[0] for part in node.values if isinstance(part, ast.Compare)]
        yield [item.value for item in items if isinstance(item, ast.Constant) and isinstance(item.value, str)]


def listed_in_javascript(source: str) -> list[list[str]]:
    """The texts of every array, the keys of every object, the cases of every switch, and chains of `=== ... ||`."""
    rest = COMMENT.sub("", source)
    lists = [[first, *re.findall(IS, others)] for first, others, _ in CHAIN.findall(rest)]

    def read_brackets(brackets: re.Match[str]) -> str:
        opening, inside = brackets.groups()
        if opening == "[":
            lists.append(re.findall(r"""["'](\w+)["']""", inside))
        elif opening == "{":
            lists.append(re.findall(r"""(?:^|,)\s*["']?(\w+)["']?\s*(?=:)""", inside))
            lists.append(re.findall(r"""\bcase\s*["'](\w+)["']""", inside))
        # What is read already stands for a single value in the brackets around it.
        return "_"

    count = 1
    while count:
        rest, count = INNERMOST.subn(read_brackets, rest)
    return lists


def lists_kinds(names: list[str]) -> bool:
    """Whether a list is one of kinds: it has two kinds or more, and no more other names than kinds."""
    kinds = set(names) & set(KINDS)
    return len(kinds) >= 2 and 2 * len(kinds) >= len(set(names))


def lists_of_kinds(file: Path) -> list[list[str]]:
    """Every list of kinds that a program has."""
    listed = listed_in_python if file.suffix == ".py" else listed_in_javascript
    return [names for names in listed(file.read_text(encoding="utf-8")) if lists_kinds(names)]


def programs() -> list[Path]:
    """Our own programs that users run: the server's and the web side's."""
    folders = [path for path in (ROOT / "webui").iterdir() if path.is_dir() and not path.name.startswith(".")]
    own = [folder for folder in folders if folder.name not in {"node_modules", "vendor"}]
    scripts = [file for folder in own for file in folder.rglob("*.js")]
    return [*(ROOT / "server").rglob("*.py"), *(ROOT / "webui").glob("*.js"), *scripts]


@pytest.mark.parametrize(
    "source",
    [
        'KINDS = frozenset({"unit", "kit", "shelf"})',
        'LOOKS = ("torque_check", "strip")',
        'SHOWN = {"torque_check": 1, "plate_check": 2}',
        'if kind == "note" or kind == "photo":\n    pass',
        'if kind in ["note", "photo", "something else"]:\n    pass',
    ],
)
def test_a_list_of_kinds_in_python_is_seen(source: str) -> None:
    assert any(map(lists_kinds, listed_in_python(source)))


@pytest.mark.parametrize(
    "source",
    [
        'const KINDS = ["unit", "kit", "shelf"];',
        'const ON = new Set(["note",\n  "photo"]);',
        'const ON = { torque_check: "check", plate_check: "plates" };',
        'const views = { note: (one) => `${one.text}`, "photo": ({ a }) => [a] };',
        'if (kind === "strip" || kind === "close") go();',
        'if (entry.kind === "note" || entry.kind === "photo" || entry.kind === "kit") go();',
        'switch (kind) { case "note": go(); break; case "photo": stop(); }',
    ],
)
def test_a_list_of_kinds_in_javascript_is_seen(source: str) -> None:
    assert any(map(lists_kinds, listed_in_javascript(source)))


@pytest.mark.parametrize(
    "source",
    [
        'write({ unit: id, kind: "plate_check", body });',
        'const FIELDS = new Set(["id", "at", "unit", "kind"]); // not ["unit", "kit"]',
        'if (one.kind === "photo") show(one.unit, "note");',
    ],
)
def test_a_single_kind_is_no_list(source: str) -> None:
    assert not any(map(lists_kinds, listed_in_javascript(source)))


def test_kinds_are_listed_nowhere_but_in_their_records() -> None:
    by_file = {file.relative_to(ROOT).as_posix(): lists for file in programs() if (lists := lists_of_kinds(file))}
    assert {name: lists for name, lists in by_file.items() if name not in MAY_LIST} == {}
    assert set(by_file) == set(MAY_LIST), "a file that lists no kinds any more needs no permission"


@pytest.mark.parametrize("name", KINDS)
def test_a_record_fits_its_calculation_and_its_writers(name: str) -> None:
    kind = KINDS[name]
    assert kind.calculation in CALCULATIONS
    assert kind.about in (UNIT, SHOP, EITHER)
    assert kind.writers
    assert set(kind.writers) <= set(ROLES)
    requests = [row["request"] for row in samples(kind.calculation) if not row["about"].startswith("bad:")]
    results = [calc(kind.calculation, request) for request in requests]
    assert results
    for table, heading in kind.tables:
        assert heading
        assert any(result.get(table) for result in results), f"no result of {name} has {table}"
    for result in results:
        STORED[name].read(result, "shown")


@pytest.mark.parametrize("name", [name for name, kind in KINDS.items() if kind.corrected_on])
def test_a_kind_is_corrected_on_a_screen_that_is_there(name: str) -> None:
    app = (ROOT / "webui" / "app.js").read_text(encoding="utf-8")
    routes = re.findall(r"^  \[/(\^.*\$)/, \(\) => import", app, re.MULTILINE)
    assert len(routes) > 20
    kind = KINDS[name]
    path = f"/{kind.corrected_on}/some-entry"
    path = path if kind.about == SHOP else f"/unit/some-unit{path}"
    assert any(re.fullmatch(route, path) for route in routes), path


def test_every_view_is_one_of_a_kind() -> None:
    [views] = re.findall(r"const VIEWS = \{(.*?)\};", (ROOT / VIEWS).read_text(encoding="utf-8"), re.DOTALL)
    assert set(re.findall(r"^\s*(\w+):", views, re.MULTILINE)) <= set(KINDS)


def test_no_two_kinds_go_by_the_same_words() -> None:
    for words in ([kind.meaning for kind in KINDS.values()], [kind.nouns for kind in KINDS.values()]):
        assert len(set(words)) == len(words)
