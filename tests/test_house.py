"""The house: what is at the top, and which folder may import from which."""

import ast
import re
import subprocess
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

from server.engine import ENGINE_VERSION

ROOT = Path(__file__).resolve().parent.parent

TOP = {"README.md", "DEVELOPERS.md", "pyproject.toml", "server", "webui", "tests", "demo_units"}

# What each package of the server may import from the project, besides itself.
KNOWS = {
    "engine": set(),
    "log": {"engine"},
    "office": {"engine", "log"},
    "api": {"engine", "log", "lan", "office"},
    "lan": {"engine", "log"},
}

# What each room of the engine may import, besides itself.
ROOMS: dict[str, set[str]] = {
    "request": set(),
    "doubt": {"request"},
    "unit": {"request", "doubt"},
    "torque_check": {"request", "doubt", "unit"},
    "part_checks": {"request", "doubt", "unit"},
    "drive": {"request", "doubt", "unit"},
    "car": {"request"},
    "corner": {"request", "doubt", "unit", "drive", "car"},
    # An outing's record says what can be felt, and that of a trial what can be changed.
    "complaint": {"request", "unit", "drive", "car", "corner", "records"},
    # Lines through what the log has shown: for plans and for the history alike.
    "experience": {"request", "doubt", "unit"},
    "worked_out": {"request", "doubt", "unit"},
    # Whether a tool of the kit could prove an order is asked of the check itself.
    "plan": {"request", "doubt", "unit", "torque_check", "part_checks", "experience"},
    # A rebuild names marked parts as the definition does.
    "records": {"request", "doubt", "unit", "torque_check", "part_checks", "plan"},
    # What stands asks the record of a kind of entry what an entry of it means for the unit.
    "history": {
        "request",
        "doubt",
        "unit",
        "torque_check",
        "part_checks",
        "plan",
        "drive",
        "records",
        "experience",
        "worked_out",
    },
    # Asked by the server alone; no room below may know it, since the phone has none of it.
    "results": {
        "request",
        "doubt",
        "unit",
        "torque_check",
        "part_checks",
        "plan",
        "drive",
        "car",
        "corner",
        "complaint",
        "history",
        "records",
        "experience",
        "worked_out",
    },
}

# What each room of the log may import, besides itself and the modules of `log`, which know no room.
LOG_ROOMS: dict[str, set[str]] = {"files": set(), "postgres": set(), "backups": {"files"}}

# The engine runs on the phone as well: these are in MicroPython, or the phone has a shim for them.
ENGINE_LIBRARIES = {"math", "json", "typing"}

# What each folder of the web side may import from, besides itself and the vendored libraries.
WEB_KNOWS = {
    "draw": set(),
    "engine": set(),
    "log": {"engine"},
    # Sorting, choosing and grouping rows, and reading pasted ones: pure functions, since screens work nothing out.
    "tables": set(),
    "screens": {"draw", "engine", "log", "tables"},
}

# Libraries that only one module may import, or the modules of one room.
ONLY_IN = {
    "tinydb": "server/log/files/unit_file.py",
    "zeroconf": "server/lan/announcing.py",
    "psycopg": "server/log/postgres/",
    "psycopg_pool": "server/log/postgres/",
    "yoyo": "server/log/postgres/schema.py",
}

# About 400 lines: a longer file holds two ideas.
LONGEST = 420

# Two files of this width fit side by side on a screen. Biome does not break templates and sentences.
WIDEST = 120

# `any` lets everything through unchecked, and nothing of the web side needs it. A library that forces it somewhere is
# listed here: file, how often, why.
ANY_ALLOWED: dict[str, tuple[int, str]] = {}

TAG = re.compile(r"@(?:type|param|returns?|typedef|property|template|satisfies|extends)\s*\{")
# In a comment `*` means the same.
ANY = re.compile(r"\bany\b|\*")
FROM = re.compile(r"""(?:\bfrom|(?<!\{)\bimport)\s*\(?\s*["'](\.[^"']*)["']""")


@cache
def imports(file: Path) -> frozenset[str]:
    """The full names of what a Python file of the project imports: modules, and names from modules."""
    names = set()
    package = file.relative_to(ROOT).parent.parts
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            names |= {name.name for name in node.names}
        elif isinstance(node, ast.ImportFrom):
            base = package[: len(package) - node.level + 1] if node.level else ()
            module = ".".join([*base, *([node.module] if node.module else [])])
            names |= {f"{module}.{name.name}" for name in node.names}
    return frozenset(names)


def web_modules() -> list[Path]:
    """The web side's own modules."""
    folders = ("", *WEB_KNOWS)
    return [file for folder in folders for file in (ROOT / "webui" / folder).glob("**/*.js" if folder else "*.js")]


def web_imports(file: Path) -> set[Path]:
    """The files that a web module imports."""
    return {(file.parent / name).resolve() for name in FROM.findall(file.read_text(encoding="utf-8"))}


def test_nothing_else_shows_at_the_top() -> None:
    files = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True)
    if files.returncode != 0:
        pytest.skip("this tree is no checkout: only a checkout says what belongs to it")
    assert {name.split("/")[0] for name in files.stdout.splitlines() if not name.startswith(".")} == TOP


def test_every_folder_has_its_rule() -> None:
    packages = {file.parent.name for file in (ROOT / "server").glob("*/__init__.py")}
    assert packages == set(KNOWS)
    # A build beside the tests has a folder of its own there for a while, which begins with a dot.
    folders = {path.name for path in (ROOT / "webui").iterdir() if path.is_dir() and not path.name.startswith(".")}
    scripted = {name for name in folders - {"vendor", "node_modules"} if any((ROOT / "webui" / name).rglob("*.js"))}
    assert scripted == set(WEB_KNOWS)


def test_the_engine_knows_nothing_but_itself() -> None:
    for file in (ROOT / "server" / "engine").rglob("*.py"):
        others = {name.split(".")[0] for name in imports(file) if not name.startswith("server.engine.")}
        assert others <= ENGINE_LIBRARIES, file.name


def test_the_engine_is_written_in_what_micropython_knows() -> None:
    # Seen here at once; whether the phone's engine answers like the server's is tested in a browser.
    for file in (ROOT / "server" / "engine").rglob("*.py"):
        if file.parent.name == "results":  # which the server alone has
            continue
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            where = f"{file.name}, line {getattr(node, 'lineno', 0)}"
            assert not (isinstance(node, ast.Dict) and None in node.keys), f"{where}: ** in a dictionary"
            assert not isinstance(node, ast.Match), f"{where}: match"
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "NamedTuple":
                types = [item.elts[1] for item in ast.walk(node) if isinstance(item, ast.Tuple)]
                assert not [kind for kind in types if isinstance(kind, ast.Subscript)], (
                    f"{where}: a type like list[str]"
                )


@pytest.mark.parametrize("room", ROOMS)
def test_a_room_of_the_engine_knows_only_those_below_it(room: str) -> None:
    for file in (ROOT / "server" / "engine" / room).rglob("*.py"):
        for name in imports(file):
            if name.startswith("server.engine."):
                assert name.split(".")[2] in ROOMS[room] | {room}, f"{file.name} imports {name}"


@pytest.mark.parametrize("room", ["", *LOG_ROOMS])
def test_a_room_of_the_log_knows_only_those_below_it(room: str) -> None:
    known = {room, *LOG_ROOMS.get(room, set())}
    for file in (ROOT / "server" / "log" / room).glob("*.py"):
        for name in imports(file):
            top, package, *rest = [*name.split("."), "", ""]
            if (top, package) == ("server", "log"):
                assert rest[0] not in LOG_ROOMS.keys() - known, f"{file.name} imports {name}"


def test_the_picture_of_the_house_shows_true_arrows() -> None:
    picture = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").partition("```mermaid")[2].partition("```")[0]
    engine = picture.partition("subgraph engine")[2].partition("end\n")[0]
    drawn = re.findall(r"^ *(\w+) --> (\w+)$", engine, re.MULTILINE)
    assert {room for arrow in drawn for room in arrow} == set(ROOMS)
    assert [arrow for arrow in drawn if arrow[1] not in ROOMS[arrow[0]]] == []


def test_every_room_of_the_engine_has_its_rule() -> None:
    assert {file.parent.name for file in (ROOT / "server" / "engine").glob("*/__init__.py")} == set(ROOMS)
    assert {file.parent.name for file in (ROOT / "server" / "log").glob("*/__init__.py")} == set(LOG_ROOMS)
    assert [file.name for file in (ROOT / "server" / "engine").glob("*.py")] == ["__init__.py"]


@pytest.mark.parametrize("package", KNOWS)
def test_a_package_knows_only_those_below_it(package: str) -> None:
    for file in (ROOT / "server" / package).rglob("*.py"):
        for name in imports(file):
            top, _, rest = name.partition(".")
            assert top not in ("tests", "webui", "demo_units"), f"{file.name} imports {name}"
            if top == "server":
                assert rest.split(".")[0] in KNOWS[package] | {package}, f"{file.name} imports {name}"


def test_the_server_names_its_own_modules_relative_to_one_another() -> None:
    # In a checkout the package is `server`, in a wheel `slipbook.server`.
    for file in (ROOT / "server").rglob("*.py"):
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            modules = [node.module or ""] if isinstance(node, ast.ImportFrom) and not node.level else []
            modules += [name.name for name in node.names] if isinstance(node, ast.Import) else []
            assert "server" not in {module.split(".")[0] for module in modules}, file.name


@pytest.mark.parametrize("module", ["demo", "cli"])
def test_the_log_is_filled_and_looked_after_without_the_interface(module: str) -> None:
    assert not {name for name in imports(ROOT / "server" / f"{module}.py") if name.startswith("server.api")}


@pytest.mark.parametrize("library", ONLY_IN)
def test_a_library_is_known_in_one_place(library: str) -> None:
    users = {
        file.relative_to(ROOT).as_posix()
        for file in (ROOT / "server").rglob("*.py")
        if any(name.split(".")[0] == library for name in imports(file))
    }
    assert users
    assert not [user for user in users if not user.startswith(ONLY_IN[library])]


@pytest.mark.parametrize("folder", WEB_KNOWS)
def test_a_web_folder_knows_only_those_below_it(folder: str) -> None:
    webui = ROOT / "webui"
    for file in (webui / folder).rglob("*.js"):
        for imported in web_imports(file):
            top = imported.relative_to(webui).parts[0]
            if top != "vendor":
                assert top in WEB_KNOWS[folder] | {folder}, f"{file.name} imports from {top}"


def test_there_is_one_door_to_the_engine_on_the_phone() -> None:
    engine = ROOT / "webui" / "engine"
    for file in web_modules():
        from_engine = {imported.name for imported in web_imports(file) if imported.parent == engine}
        # Imports of types are no way in: they are gone when it runs.
        assert from_engine <= {"door.js", "calculations.js"} or file.parent == engine, file.name


def test_the_page_asks_beforehand_for_what_is_there() -> None:
    webui = ROOT / "webui"
    linked = re.findall(r'href="/([^"]+)"', (webui / "index.html").read_text(encoding="utf-8"))
    own = [name for name in linked if not name.startswith("vendor/")]
    assert "app.js" in own
    assert [name for name in own if not (webui / name).exists()] == []


def test_tests_wait_for_the_thing_itself() -> None:
    """A time that is long enough here is too short on a busy machine, and too long everywhere else."""
    # Where it is asked again and again, and where pictures are taken that nobody compares.
    asking = {"conftest.py", "pictures.py"}
    files = [file for file in (ROOT / "tests" / "phone").glob("*.py") if file.name not in asking]
    assert [file.name for file in files if "wait_for_timeout" in file.read_text("utf-8")] == []
    assert "wait_for_timeout" in (ROOT / "tests" / "phone" / "conftest.py").read_text("utf-8")


def test_no_test_takes_the_promise_of_an_answer_for_a_yes() -> None:
    """Playwright's `wait_for_function` is content with a promise, whatever comes of it; `until` waits for that."""
    promises, calls = re.compile(r"\basync\b|\bawait\b|import\(|fetch\(|\.then\("), 0
    found = []
    for file in (ROOT / "tests").rglob("*.py"):
        tree = ast.parse(file.read_text("utf-8"))
        assigned = {
            target.id: node.value
            for node in tree.body
            if isinstance(node, ast.Assign)
            for target in node.targets
            if isinstance(target, ast.Name)
        }
        for node in ast.walk(tree):
            if isinstance(node, ast.Call) and getattr(node.func, "attr", "") == "wait_for_function":
                calls += 1
                [given, *_] = node.args
                if promises.search(ast.unparse(assigned.get(getattr(given, "id", ""), given))):
                    found.append(f"{file.name}, line {node.lineno}")
    assert calls > 3
    assert found == []


def test_no_file_holds_two_ideas() -> None:
    styles = (ROOT / "webui").glob("style/*.css")
    files = [*web_modules(), *styles, *(file for top in ("server", "tests") for file in (ROOT / top).rglob("*.py"))]
    assert [file.name for file in files if len(file.read_text(encoding="utf-8").splitlines()) > LONGEST] == []


def test_no_line_of_the_web_side_is_wider_than_a_screen() -> None:
    webui = ROOT / "webui"
    files = [*web_modules(), *webui.glob("*.html"), *webui.glob("style/*.css")]
    assert len(files) > 90
    assert [
        f"{file.name}, line {number}"
        for file in files
        for number, line in enumerate(file.read_text(encoding="utf-8").splitlines(), 1)
        if len(line) > WIDEST
    ] == []


def test_dark_is_the_same_whether_the_phone_or_the_person_wants_it() -> None:
    style = (ROOT / "webui" / "style" / "base.css").read_text(encoding="utf-8")
    [phone] = re.findall(r':root:not\(\[data-theme="light"\]\) \{(.*?)\}', style, re.DOTALL)
    [person] = re.findall(r':root\[data-theme="dark"\] \{(.*?)\}', style, re.DOTALL)
    assert phone.split() == person.split()
    assert "--paper" in phone


def test_every_web_module_is_type_checked() -> None:
    for file in web_modules():
        assert file.read_text(encoding="utf-8").startswith("// @ts-check"), file.name


def types_in(comment: str) -> Iterator[str]:
    """What stands in braces behind each tag of a comment."""
    plain = re.sub(r"(?m)^\s*\*(?!/)", "", comment)
    for tag in TAG.finditer(plain):
        depth = 1
        for end in range(tag.end(), len(plain)):
            depth += {"{": 1, "}": -1}.get(plain[end], 0)
            if not depth:
                yield plain[tag.end() : end]
                break


def loose_types(file: Path, text: str) -> int:
    """How often a file of the web side says `any` where a type stands."""
    if file.name.endswith(".d.ts"):
        return len(ANY.findall(re.sub(r"(?s)/\*.*?\*/|//[^\n]*|\"[^\"\n]*\"", "", text)))
    return sum(len(ANY.findall(kind)) for comment in re.findall(r"(?s)/\*\*.*?\*/", text) for kind in types_in(comment))


def test_no_type_of_the_web_side_lets_everything_through() -> None:
    webui = ROOT / "webui"
    declared = [file for folder in WEB_KNOWS for file in (webui / folder).rglob("*.d.ts")]
    assert declared
    found = {}
    for file in [*web_modules(), *declared]:
        name, text = file.relative_to(webui).as_posix(), file.read_text(encoding="utf-8")
        assert not re.search(r"@ts-(?:ignore|nocheck|expect-error)", text), name
        if count := loose_types(file, text):
            found[name] = count
    assert found == {name: count for name, (count, why) in ANY_ALLOWED.items() if why}


@pytest.mark.parametrize(
    ("name", "text", "count"),
    [
        ("a.js", "/** Whether any of it counts. @param {string} text any @returns {boolean} */", 0),
        ("a.js", "const a = /** @type {any} */ (b);", 1),
        ("a.js", "/** @param {{one: any[], other: {inner: Promise<any>}}} both */", 2),
        ("a.js", "/**\n * @param {(found: string,\n *   more: *) => void} tell\n */", 1),
        ("a.js", "// any\nconst any = '/** no type: any */';", 0),
        ("a.d.ts", '/** any */\nexport interface A { word: "any"; all: any; many: string }', 1),
    ],
)
def test_a_type_that_lets_everything_through_is_found(name: str, text: str, count: int) -> None:
    assert loose_types(Path(name), text) == count


def test_nobody_elses_code_is_committed() -> None:
    files = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True)
    assert not [
        name for name in files.stdout.splitlines() if re.search(r"node_modules/|\.wasm$|\.min\.js$|webui/vendor/", name)
    ]


def test_developers_names_what_is_there() -> None:
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    [house] = re.findall(r"^## The house\n(.*?)^## ", text, re.MULTILINE | re.DOTALL)
    drawn = {
        name for line in house.splitlines() if line.startswith("    ") for name in re.findall(r"^ +([\w/]+)/ ", line)
    }
    folders = {"server", "webui", "tests", "demo_units", *KNOWS, *WEB_KNOWS, *ROOMS, *LOG_ROOMS, "style"}
    assert drawn == folders
    files = {path.name for top in ("server", "webui", "tests") for path in (ROOT / top).rglob("*.*")}
    # Made by the build, and in no checkout.
    files |= {"app-more.js", "common.js", "first-screens.js"}
    assert set(re.findall(r"[\w-]+\.(?:py|js)\b", text)) <= files


def test_what_came_with_the_newest_engine_is_told() -> None:
    versions = re.findall(r"^### Engine (\S+)$", (ROOT / "server" / "CHANGES.md").read_text("utf-8"), re.M)
    assert versions[0] == ENGINE_VERSION
    assert versions == sorted(versions, key=lambda version: [int(part) for part in version.split(".")], reverse=True)


def test_no_screen_takes_a_pc_for_a_phone() -> None:
    # What a screen runs on is called what `log/device.js` calls it; Help and pages that let phones in speak of them.
    comment = re.compile(r"/\*.*?\*/|^\s*//.*?$", re.DOTALL | re.MULTILINE)
    for file in web_modules():
        if file.name == "devices.js" or file.parent.name == "help":
            continue
        text = comment.sub("", file.read_text(encoding="utf-8"))
        assert not re.search(r"\b[Tt]his phone\b", text), file.name
