"""What is left out of a web file on its way changes nothing of what it does."""

import json
import subprocess
from pathlib import Path

from server.packing import without_comments
from tests.server.running import ROOT

WEBUI = ROOT / "webui"
# TypeScript's own parser is the judge: both texts have to come to the same program.
SAME = """
const ts = require("./node_modules/typescript");
const { ESNext: target } = ts.ScriptTarget;
const options = { compilerOptions: { target, module: ts.ModuleKind.ESNext, removeComments: true } };
const program = (text) => ts.transpileModule(text, options).outputText;
const pairs = JSON.parse(require("fs").readFileSync(0, "utf8"));
console.log(JSON.stringify(pairs.filter(([, whole, slim]) => program(whole) !== program(slim)).map(([name]) => name)));
"""


def own_modules() -> list[Path]:
    """Every module that is ours."""
    others = {"vendor", "node_modules"}
    return [path for path in sorted(WEBUI.rglob("*.js")) if not others & set(path.relative_to(WEBUI).parts)]


def differing(pairs: list[tuple[str, str, str]]) -> list[str]:
    """Names of those whose two texts are not the same program."""
    done = subprocess.run(
        ["node", "-e", SAME], cwd=WEBUI, input=json.dumps(pairs), capture_output=True, text=True, check=True
    )
    return list(json.loads(done.stdout))


def test_only_comments_are_left_out() -> None:
    texts = {path.name: path.read_text("utf-8") for path in own_modules()}
    slim = {name: without_comments(text) for name, text in texts.items()}
    assert len(texts) > 50
    assert sum(map(len, slim.values())) < 0.95 * sum(map(len, texts.values()))
    assert differing([(name, text, slim[name]) for name, text in texts.items()]) == []


def test_the_judge_sees_a_text_that_looks_like_a_comment() -> None:
    text = "const a = `\n// no comment\n`;\n"
    assert differing([("text", text, without_comments(text))]) == ["text"]
