"""The built form of the web files and of the engine: fewer bytes, and the same programs."""

import json
import os
import re
from pathlib import Path

import brotli
import pytest

from server.one_file import split

from .built import ENGINE, WEBUI, built_web, bytecode, minify, run_node, vendor

CORNERS = {
    "style/corner.css": """p::before {
  content: ": ";
}

/* a comment */
p::after {
  content: "/* b */ ;}";
}
""",
    "corner.js": """// a comment
export const quoted = "/** @a */ b";
export const lines = `
  // no comment
    ${1 + 1}
`;
/** @param {number} wide */
export const half = (wide) => wide / 2;
""",
    "worker.js": "/* a script */\nvar seen = [this === globalThis];\nimportScripts('/a.js');\n",
}
# What nearly every start wants: the shell, and the first screens, which are on their way beside it.
AT_ONCE = ("app.js", "first-screens.js")
# One for each topic of Help.
TOPICS = [
    f"help/{name}"
    for name in re.findall(r'=> import\("./(.+)"\)', (WEBUI / "screens" / "help" / "topics.js").read_text("utf-8"))
]
# The others: of the rooms, of what the first screens ask for, and of what several of them want.
LATER = ("app-more.js", "bench.js", "common.js", "help.js", "parts.js", "shop.js", "unit.js", *TOPICS)
# A module that is asked for later, and the scripts that it needs.
ASKED = r'slipbook\.part\("([^"]+)"((?:,"[^"]+")*)\)'
PYTHON = '''"""What it is for."""

from math import pi as days


def Day(first: str, *, second: str = "b") -> str:
    """Not a field."""
    # A comment.
    return f"{first} {', '.join([second])} # no comment"


SENTENCE = Day("the first", second="it's")
NUMBER = 0.1 + 0.2
'''

# Prints the texts between the values of every tagged template, sorted, since the minifier may reorder templates.
TEMPLATES = """
const ts = require("./node_modules/typescript");
const templates = {};
for (const [name, source] of Object.entries(JSON.parse(require("fs").readFileSync(0, "utf8")))) {
  templates[name] = [];
  const visit = (node) => {
    if (ts.isTaggedTemplateExpression(node)) {
      const { head, templateSpans } = node.template;
      templates[name].push(head ? [head, ...templateSpans.map((span) => span.literal)].map((text) => text.rawText)
        : [node.template.rawText]);
    }
    ts.forEachChild(node, visit);
  };
  visit(ts.createSourceFile(name, source, ts.ScriptTarget.ESNext, true));
}
for (const texts of Object.values(templates)) texts.sort((left, right) => (`${left}` < `${right}` ? -1 : 1));
console.log(JSON.stringify(templates));
"""


@pytest.fixture(scope="module")
def built() -> Path:
    """The built form of this tree's web files."""
    return built_web()


@pytest.fixture(scope="module")
def corners(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The built form of files in which white space, or what looks like a comment, counts."""
    folder = tmp_path_factory.mktemp("corners")
    for name, text in {**CORNERS, "engine/typing.py": "Any = object\n", "server/fields.py": PYTHON}.items():
        (folder / "webui" / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / "webui" / name).write_text(text)
    (folder / "webui" / "server").rename(folder / "engine")
    minify.build(WEBUI / "node_modules", folder / "webui", folder / "engine", folder / "built", bundled=False)
    return folder / "built"


def test_texts_of_a_style_sheet_stay(corners: Path) -> None:
    style = (corners / "style" / "corner.css").read_text("utf-8")
    assert style.strip() == 'p:before{content:": "}p:after{content:"/* b */ ;}"}'


def test_texts_of_a_script_stay(corners: Path) -> None:
    script = corners / "corner.js"
    (corners / "corner.mjs").write_text(script.read_text("utf-8"))
    program = "import(process.argv[1]).then((corner) => {\n"
    program += "  console.log(JSON.stringify([corner.quoted, corner.lines, corner.half(3)])); })"
    printed = run_node(program, str(corners / "corner.mjs"))
    assert printed == ["/** @a */ b", "\n  // no comment\n    2\n", 1.5]
    assert "a comment" not in script.read_text("utf-8")


def test_a_script_that_is_no_module_is_not_made_strict(corners: Path) -> None:
    assert "use strict" not in (corners / "worker.js").read_text("utf-8")


def test_the_compiled_engine_has_its_texts_and_no_comments(corners: Path) -> None:
    [data] = [data for name, data in split((corners / minify.ENGINE_FILES).read_bytes()).items() if "fields" in name]
    assert b"the first" in data
    assert b"it's" in data
    assert b"# no comment" in data
    for left_out in (b"What it is for", b"Not a field", b"A comment"):
        assert left_out not in data


def read_own_scripts(folder: Path) -> dict[str, str]:
    """Our own modules in a folder of web files, by path."""
    others = {"vendor", "node_modules"}
    inside = [path for path in folder.iterdir() if path.is_dir() and path.name not in others and path.name[0] != "."]
    paths = sorted([*folder.glob("*.js"), *(file for path in inside for file in path.rglob("*.js"))])
    return {path.relative_to(folder).as_posix(): path.read_text("utf-8") for path in paths}


def templates(scripts: dict[str, str]) -> list[list[str]]:
    """The texts of every tagged template in some scripts, sorted."""
    return sorted(text for texts in run_node(TEMPLATES, standard_input=scripts).values() for text in texts)


def test_the_text_of_every_template_stays_once(built: Path) -> None:
    source_scripts, built_scripts = read_own_scripts(WEBUI), read_own_scripts(built)
    assert len(source_scripts) > 50
    assert set(built_scripts) == {*AT_ONCE, *LATER, "sw.js", "engine/worker.js"}
    assert sum(map(len, built_scripts.values())) < 0.8 * sum(map(len, source_scripts.values()))
    texts = templates(source_scripts)
    assert len(texts) > 500
    # A module that were in two scripts would have two states.
    assert templates(built_scripts) == texts


@pytest.mark.parametrize(
    ("name", "hint"),
    [*((name, "//# allFunctionsCalledOnLoad\n") for name in AT_ONCE), *((name, "") for name in LATER)],
)
def test_what_was_modules_is_a_plain_strict_script(built: Path, name: str, hint: str) -> None:
    text = (built / name).read_text("utf-8")
    run_node(
        "new (require('vm').Script)(JSON.parse(require('fs').readFileSync(0))); console.log(0)", standard_input=text
    )
    assert text.startswith(f'{hint}"use strict";')
    assert "import.meta" not in text


def test_the_page_asks_for_the_shell_and_one_style_sheet_and_has_the_first_screens_fetched(built: Path) -> None:
    page = (built / "index.html").read_text("utf-8")
    assert re.findall(r"<script[^>]*>", page) == ['<script defer src="/app.js">']
    assert re.findall(r'rel="(?:stylesheet|modulepreload)" href="([^"]+)"', page) == ["/style/app.css"]
    assert re.findall(r'rel="preload" href="([^"]+)"', page) == ["/first-screens.js"]


def test_each_module_that_is_asked_for_is_in_one_of_the_scripts(built: Path) -> None:
    texts = {name: (built / name).read_text("utf-8") for name in (*AT_ONCE, *LATER)}
    asked = {path: set(re.findall(r'"([^"]+)"', names)) for path, names in re.findall(ASKED, "".join(texts.values()))}
    entered = {name: re.findall(r'slipbook\.parts\["([^"]+)"\]=', text) for name, text in texts.items()}
    for name in AT_ONCE:
        entered[name] += re.findall(r'slipbook\.shared\["([^"]+)"\]=', texts[name])
    everywhere = [path for paths in entered.values() for path in paths]
    assert len(everywhere) == len(set(everywhere))
    routes = set(re.findall(r'import\("\./([^"]+)"\)', (WEBUI / "app.js").read_text("utf-8")))
    assert len(routes) > 30
    assert routes <= set(asked) <= set(everywhere)
    for path, names in asked.items():
        # The shell is there; of the others, the one that has it is named.
        assert {name for name, paths in entered.items() if path in paths} <= names | {"app.js"}, path


def test_a_room_is_fetched_for_its_own_screens_alone(built: Path) -> None:
    first = (built / "app.js").read_text("utf-8")
    for path, names in re.findall(ASKED, first):
        of_room = set(re.findall(r'"([^"]+)"', names)) - {"common.js", "app-more.js", "first-screens.js"}
        assert of_room <= {f"{Path(path).parent.name}.js"}, path
    # Whichever screen comes first, most of the others stays where it is.
    sizes = {name: (built / name).stat().st_size for name in LATER}
    assert max(sizes.values()) < sum(sizes.values()) / 3
    assert sizes["common.js"] < sum(sizes.values()) / 10


def test_only_what_is_served_is_built(built: Path) -> None:
    names = {path.relative_to(built).as_posix() for path in built.rglob("*") if path.is_file()}
    assert {"index.html", "app.js", "sw.js", "manifest.webmanifest", "engine/files.bin"} <= names
    assert {Path(name).suffix for name in names if name.startswith("engine/")} == {".js", ".bin", ".br"}
    assert not [
        name
        for name in names
        if name.endswith((".d.ts", "package.json", "tsconfig.json", "tsconfig.sw.json", "biome.json"))
    ]
    assert not {name for name in names if name.endswith(".py")}


def test_what_the_build_compressed_is_the_file_beside_it(built: Path) -> None:
    compressed = list(built.rglob("*.br"))
    assert len(compressed) >= 3
    for path in compressed:
        assert brotli.decompress(path.read_bytes()) == path.with_suffix("").read_bytes(), path.name


def test_every_module_of_the_engine_is_compiled_for_the_phones_micropython(built: Path) -> None:
    compiled = split((built / "engine" / "files.bin").read_bytes())
    assert list(compiled) == [f"{name.removesuffix('.py')}.mpy" for name in minify.phone_modules(WEBUI, ENGINE)]
    assert "engine/records/kinds.mpy" in compiled
    assert not [name for name in compiled if name.startswith("engine/results/")]
    # The letter M and the number of the format, which MicroPython looks at first.
    assert {data[:2] for data in compiled.values()} == {b"M\x06"}


def test_a_compiler_of_another_version_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    lock = tmp_path / "package-lock.json"
    lock.write_text(json.dumps({"packages": {bytecode.PACKAGE: {"version": "1.2.3"}}}))
    monkeypatch.setattr(bytecode, "LOCK", lock)
    with pytest.raises(vendor.VendorError, match=r"has MicroPython 1\.2\.3"):
        bytecode.check_version()


def test_a_program_of_the_path_is_not_told_to_import_what_the_build_may(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """An npm of a virtual environment is a Python script, which pip's PYTHONPATH would keep from its own package."""
    program = tmp_path / "npm"
    program.write_text('#!/bin/sh\necho "${PYTHONPATH-nothing} in $(pwd)"\n')
    program.chmod(0o755)
    monkeypatch.setenv("PATH", f"{tmp_path}{os.pathsep}{os.environ['PATH']}")
    monkeypatch.setenv("PYTHONPATH", "/of/the/build")
    assert vendor.run("npm", [], tmp_path).stdout.strip() == f"nothing in {tmp_path.resolve()}"
