"""The built form of the web files and of the engine: fewer bytes, and the same programs."""

import importlib
import json
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import brotli
import pytest

from server.engine import CALCULATIONS, BadInput, calc
from tests.engine.samples import FOLDER, samples

ROOT = Path(__file__).resolve().parent.parent
WEBUI = ROOT / "webui"
sys.path.insert(0, str(WEBUI))

import minify  # noqa: E402
import vendor  # noqa: E402

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
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The built form of this tree's web files."""
    folder = tmp_path_factory.mktemp("built") / "webui"
    minify.build(WEBUI / "node_modules", WEBUI, ROOT / "server" / "engine", folder)
    return folder


@pytest.fixture(scope="module")
def corners(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The built form of files in which white space, or what looks like a comment, counts."""
    folder = tmp_path_factory.mktemp("corners")
    for name, text in {**CORNERS, "engine/typing.py": "Any = object\n", "server/fields.py": PYTHON}.items():
        (folder / "webui" / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / "webui" / name).write_text(text)
    (folder / "webui" / "server").rename(folder / "engine")
    minify.build(WEBUI / "node_modules", folder / "webui", folder / "engine", folder / "built")
    return folder / "built"


def run_node(program: str, *arguments: str, standard_input: Any = None) -> Any:
    """Run a program in Node; returns the JSON that it prints. `standard_input` is given to it as JSON."""
    command = [*vendor.find_command("node"), "--input-type=commonjs", "-e", program, *arguments]
    result = subprocess.run(command, cwd=WEBUI, input=json.dumps(standard_input), capture_output=True, text=True)
    assert result.returncode == 0, result.stderr
    return json.loads(result.stdout)


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


def test_texts_and_names_of_the_engine_stay(corners: Path) -> None:
    text = json.loads((corners / "engine" / "files.json").read_text("utf-8"))["fields.py"]
    assert "What it is for" not in text
    assert "A comment" not in text
    source_names: dict[str, Any] = {}
    built_names: dict[str, Any] = {}
    exec(PYTHON, source_names)
    exec(text, built_names)
    for name in ("SENTENCE", "NUMBER", "days"):
        assert source_names[name] == built_names[name]
    assert built_names["SENTENCE"] == "the first it's # no comment"


def read_own_scripts(folder: Path) -> dict[str, str]:
    """Our own modules in a folder of web files, by path."""
    others = {"vendor", "node_modules"}
    paths = [path.relative_to(folder) for path in sorted(folder.rglob("*.js"))]
    return {path.as_posix(): (folder / path).read_text("utf-8") for path in paths if not others & set(path.parts)}


def test_the_text_of_every_template_stays(built: Path) -> None:
    source_scripts, built_scripts = read_own_scripts(WEBUI), read_own_scripts(built)
    assert set(source_scripts) == set(built_scripts)
    assert len(source_scripts) > 50
    assert sum(map(len, built_scripts.values())) < 0.8 * sum(map(len, source_scripts.values()))
    texts = run_node(TEMPLATES, standard_input=source_scripts)
    assert sum(map(len, texts.values())) > 500
    assert run_node(TEMPLATES, standard_input=built_scripts) == texts


def test_only_what_is_served_is_built(built: Path) -> None:
    names = {path.relative_to(built).as_posix() for path in built.rglob("*") if path.is_file()}
    assert {"index.html", "app.js", "sw.js", "manifest.webmanifest", "engine/typing.py", "engine/files.json"} <= names
    assert {Path(name).suffix for name in names if name.startswith("engine/")} == {".js", ".py", ".json", ".br"}
    assert not [
        name
        for name in names
        if name.endswith((".d.ts", "package.json", "tsconfig.json", "tsconfig.sw.json", "biome.json"))
    ]
    assert {name for name in names if name.endswith(".py")} == {"engine/typing.py"}


def test_what_the_build_compressed_is_the_file_beside_it(built: Path) -> None:
    compressed = list(built.rglob("*.br"))
    assert len(compressed) >= 3
    for path in compressed:
        assert brotli.decompress(path.read_bytes()) == path.with_suffix("").read_bytes(), path.name


@pytest.fixture
def engine(built: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Any]:
    """The built engine, imported."""
    for name, text in json.loads((built / "engine" / "files.json").read_text("utf-8")).items():
        (tmp_path / "built_engine" / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / "built_engine" / name).write_text(text, encoding="utf-8")
    monkeypatch.syspath_prepend(tmp_path)
    yield importlib.import_module("built_engine")
    for name in [name for name in sys.modules if name.partition(".")[0] == "built_engine"]:
        del sys.modules[name]


def test_the_built_engine_answers_every_sample_as_its_source_does(engine: Any) -> None:
    for name, sample in [
        (file.stem, sample) for file in sorted(FOLDER.glob("*.json")) for sample in samples(file.stem)
    ]:
        expected: Any
        answer: Any
        try:
            expected = calc(name, sample["request"])
        except BadInput as refusal:
            expected = (refusal.field, refusal.reason)
        try:
            answer = engine.calc(name, sample["request"])
        except engine.BadInput as refusal:
            answer = (refusal.field, refusal.reason)
        assert answer == expected, sample["about"]


def test_what_fields_mean_travels_with_the_engine(engine: Any) -> None:
    assert engine.CALCULATIONS["breakaway"].form.meaning == CALCULATIONS["breakaway"].form.meaning
