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


SAID = Day("the first", second="it's")
NUMBER = 0.1 + 0.2
'''

# Every tagged template's texts between its values; which template comes first is the minifier's to choose.
TEMPLATES = """
const ts = require("./node_modules/typescript");
const found = {};
for (const [name, text] of Object.entries(JSON.parse(require("fs").readFileSync(0, "utf8")))) {
  found[name] = [];
  const look = (node) => {
    if (ts.isTaggedTemplateExpression(node)) {
      const { head, templateSpans } = node.template;
      found[name].push(head ? [head, ...templateSpans.map((span) => span.literal)].map((one) => one.rawText)
        : [node.template.rawText]);
    }
    ts.forEachChild(node, look);
  };
  look(ts.createSourceFile(name, text, ts.ScriptTarget.ESNext, true));
}
for (const texts of Object.values(found)) texts.sort((one, other) => (`${one}` < `${other}` ? -1 : 1));
console.log(JSON.stringify(found));
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


def node(program: str, *arguments: str, told: Any = None) -> Any:
    """What a program for Node prints as JSON; `told` is its input."""
    order = [*vendor.command("node"), "--input-type=commonjs", "-e", program, *arguments]
    done = subprocess.run(order, cwd=WEBUI, input=json.dumps(told), capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


def test_texts_of_a_style_sheet_stay(corners: Path) -> None:
    style = (corners / "style" / "corner.css").read_text("utf-8")
    assert style.strip() == 'p:before{content:": "}p:after{content:"/* b */ ;}"}'


def test_texts_of_a_script_stay(corners: Path) -> None:
    script = corners / "corner.js"
    (corners / "corner.mjs").write_text(script.read_text("utf-8"))
    asked = "import(process.argv[1]).then((one) => console.log(JSON.stringify([one.quoted, one.lines, one.half(3)])))"
    assert node(asked, str(corners / "corner.mjs")) == ["/** @a */ b", "\n  // no comment\n    2\n", 1.5]
    assert "a comment" not in script.read_text("utf-8")


def test_a_script_that_is_no_module_is_not_made_strict(corners: Path) -> None:
    assert "use strict" not in (corners / "worker.js").read_text("utf-8")


def test_texts_and_names_of_the_engine_stay(corners: Path) -> None:
    text = json.loads((corners / "engine" / "files.json").read_text("utf-8"))["fields.py"]
    assert "What it is for" not in text
    assert "A comment" not in text
    names: list[dict[str, Any]] = []
    for source in (PYTHON, text):
        names.append({})
        exec(source, names[-1])
    for name in ("SAID", "NUMBER", "days"):
        assert names[0][name] == names[1][name]
    assert names[1]["SAID"] == "the first it's # no comment"


def own_scripts(folder: Path) -> dict[str, str]:
    """Our own modules in a folder of web files, by path."""
    others = {"vendor", "node_modules"}
    names = [path.relative_to(folder) for path in sorted(folder.rglob("*.js"))]
    return {name.as_posix(): (folder / name).read_text("utf-8") for name in names if not others & set(name.parts)}


def test_the_text_of_every_template_stays(built: Path) -> None:
    before, after = own_scripts(WEBUI), own_scripts(built)
    assert set(before) == set(after)
    assert len(before) > 50
    assert sum(map(len, after.values())) < 0.8 * sum(map(len, before.values()))
    texts = node(TEMPLATES, told=before)
    assert sum(map(len, texts.values())) > 500
    assert node(TEMPLATES, told=after) == texts


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


def test_what_is_pressed_ahead_is_what_it_lies_beside(built: Path) -> None:
    pressed = list(built.rglob("*.br"))
    assert len(pressed) >= 3
    for path in pressed:
        assert brotli.decompress(path.read_bytes()) == path.with_suffix("").read_bytes(), path.name


@pytest.fixture
def engine(built: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Any]:
    """The built engine, imported."""
    for name, text in json.loads((built / "engine" / "files.json").read_text("utf-8")).items():
        (tmp_path / "built_engine" / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / "built_engine" / name).write_text(text, encoding="utf-8")
    monkeypatch.syspath_prepend(tmp_path)
    yield importlib.import_module("built_engine")
    for name in [one for one in sys.modules if one.partition(".")[0] == "built_engine"]:
        del sys.modules[name]


def test_the_built_engine_answers_every_sample_as_its_source_does(engine: Any) -> None:
    for name, sample in [
        (file.stem, sample) for file in sorted(FOLDER.glob("*.json")) for sample in samples(file.stem)
    ]:
        expected: Any
        found: Any
        try:
            expected = calc(name, sample["request"])
        except BadInput as refusal:
            expected = (refusal.field, refusal.reason)
        try:
            found = engine.calc(name, sample["request"])
        except engine.BadInput as refusal:
            found = (refusal.field, refusal.reason)
        assert found == expected, sample["about"]


def test_what_fields_mean_travels_with_the_engine(engine: Any) -> None:
    assert engine.CALCULATIONS["breakaway"].form.meaning == CALCULATIONS["breakaway"].form.meaning
