"""What is left out of a web file on its way changes nothing of what it does."""

import json
import subprocess
from pathlib import Path

from server.packing import without_comments, without_indents
from tests.server.running import ROOT

WEBUI = ROOT / "webui"
# TypeScript's own parser is the judge: both texts have to come to the same program.
SAME = """
const ts = require("./node_modules/typescript");
const { ESNext: target } = ts.ScriptTarget;
const options = { compilerOptions: { target, module: ts.ModuleKind.ESNext, removeComments: true } };
const indents = /^\\s+/gm;
const program = (text) => ts.transpileModule(text, options).outputText.replace(indents, "");
const pairs = JSON.parse(require("fs").readFileSync(0, "utf8"));
console.log(JSON.stringify(pairs.filter(([, whole, slim]) => program(whole) !== program(slim)).map(([name]) => name)));
"""

# Texts with indents in them that are no markup, where white space counts.
INDENTED = """
const ts = require("./node_modules/typescript");
const found = [];
for (const [name, text] of JSON.parse(require("fs").readFileSync(0, "utf8"))) {
  const look = (node) => {
    const markup = ts.isTaggedTemplateExpression(node) && ["html", "svg", "mathml"].includes(node.tag.text);
    const own = markup ? node.template : undefined;
    const parts = (one) => (one.head ? [one.head, ...one.templateSpans.map((span) => span.literal)] : [one]);
    if (own) parts(own).forEach((one) => (one.markup = true));
    if (ts.isTemplateLiteralToken(node) && !node.markup && /\\n\\s/.test(node.text)) found.push(name);
    ts.forEachChild(node, look);
  };
  look(ts.createSourceFile(name, text, ts.ScriptTarget.ESNext, true));
}
console.log(JSON.stringify(found));
"""


def own_modules() -> list[Path]:
    """Every module that is ours."""
    others = {"vendor", "node_modules"}
    return [path for path in sorted(WEBUI.rglob("*.js")) if not others & set(path.relative_to(WEBUI).parts)]


def judged(judge: str, told: list[tuple[str, ...]]) -> list[str]:
    """Names of those that a judge finds at fault."""
    done = subprocess.run(
        ["node", "-e", judge], cwd=WEBUI, input=json.dumps(told), capture_output=True, text=True, check=True
    )
    return list(json.loads(done.stdout))


def differing(pairs: list[tuple[str, ...]]) -> list[str]:
    """Names of those whose two texts are not the same program."""
    return judged(SAME, pairs)


def test_only_comments_and_indents_are_left_out() -> None:
    texts = {str(path.relative_to(WEBUI)): path.read_text("utf-8") for path in own_modules()}
    slim = {name: without_indents(without_comments(text)) for name, text in texts.items()}
    assert len(texts) > 50
    assert sum(map(len, slim.values())) < 0.95 * sum(map(len, texts.values()))
    assert differing([(name, text, slim[name]) for name, text in texts.items()]) == []
    assert judged(INDENTED, list(texts.items())) == []


def test_the_judge_sees_a_text_that_looks_like_a_comment() -> None:
    text = "const a = `\n// no comment\n`;\n"
    assert differing([("text", text, without_comments(text))]) == ["text"]


def test_the_judge_sees_an_indent_that_counts() -> None:
    told = [("text", "const a = `one\n  ${1}`;"), ("markup", "const a = html`<p>\n  ${1}\n  one</p>`;")]
    assert judged(INDENTED, list(told)) == ["text"]
