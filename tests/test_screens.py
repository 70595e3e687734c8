"""Screens show what the engine says: they add, compare, sort and limit nothing that it could have said.

`screen_work.js` reads the screens with TypeScript's own parser and type checker, and finds three kinds of work:

- arithmetic: a sum, a product, a comparison or a call of `Math` on a measured value. A value is measured if its name
  ends in a unit of measure (`_mm`, `_nm`, `_n`, `_um`, `_deg` and their like), if it is a number in what the engine
  says, by the types in `calculations.d.ts`, or if it is read from a text by `Number` and its like; and so is what was
  set to one, chosen from several, or worked out from it. To round for the eye (`Math.round`, `Math.floor`, `toFixed`),
  and to tell none, one and several of a count apart, is no arithmetic.
- time: sorting and comparing text by its order, whatever it holds; a clock or a name of a time (`at`, `day`, `due` and
  their like) in a sum or a comparison; a time made a number.
- limit: a number above 1, written as such or under a name, that something is compared with, cut off at or kept to, or
  that stands in a field's attributes. Limits of forms come from `log/limits.js`, which is made from them.

Drawings may scale: this looks at screens alone.
"""

import json
import re
import subprocess
import sys
from functools import cache
from pathlib import Path
from typing import NamedTuple

import pytest

ROOT = Path(__file__).resolve().parent.parent
WEBUI = ROOT / "webui"
SCREENS = WEBUI / "screens"
PROGRAM = Path(__file__).with_name("screen_work.js")
sys.path.insert(0, str(WEBUI))

import vendor  # noqa: E402

LONG_LIST = "how much of a long list is drawn at once; no form states it"

# What may stand, by file and a piece of its code: why.
EXCEPTIONS = {
    ("form/fields.js", "chosenOf(all, si, unit)"): "the one place that writes a figure in the reader's unit",
    (
        "help/spring.js",
        "figures.rate_n_per_mm / 100",
    ): "a rate written for a hundredth of a millimetre, as people feel it",
    ("shop/devices.js", "code."): "how long the code on the screen still counts, by this device's own clock",
    ("shop/settings.js", ".sort()"): "names of people in alphabetical order",
    ("help/log.js", ".sort()"): "kinds of entry in alphabetical order, as a list to read",
    ("help/help.js", "a.term.localeCompare"): "the glossary in alphabetical order",
    ("help/help.js", "hasIt(b.term)"): "words that have what was sought in their own name come first",
    ("form/bar-clear.js", "LOW_PX"): "how much of the screen a keyboard leaves",
    ("form/pull.js", "FAR_PX"): "how far a thumb goes on purpose",
    ("unit/list.js", "FEW"): "so few units are found by eye",
    ("unit/list-search.js", "FEW"): "so few units are found by eye",
    ("unit/units-table.js", "FEW"): "so few units are found by eye",
    ("unit/list.js", "PAGE"): LONG_LIST,
    ("unit/page-history.js", "NEWEST"): LONG_LIST,
    ("unit/all-history.js", "PAGE"): LONG_LIST,
    ("check/choose.js", "> 5"): "so few units are found by eye",
    ("check/choose.js", "SHOWN"): LONG_LIST,
    ("shop/import.js", "LISTED"): LONG_LIST,
    ("shop/history.js", "LISTED"): LONG_LIST,
    ("shop/customers.js", "FEW"): "so few customers are found by eye",
    ("shop/owner-choice.js", "OFFERED"): LONG_LIST,
    ("shop/letterhead.js", "MARK_PX"): "how finely a mark is printed, which is no measure of a unit",
    ("shop/outbox.js", "LISTED"): LONG_LIST,
    ("bench/paste.js", "LISTED"): LONG_LIST,
    ("bench/paste.js", "FIRST"): LONG_LIST,
    ("bench/paste.js", "SAMPLES"): LONG_LIST,
    ("bench/paste-rows.js", "LISTED"): LONG_LIST,
    ("bench/paste-kit.js", "MOST_TOOLS"): "more tools than anybody has, each written by itself; no form states it",
}


class Work(NamedTuple):
    """A piece of work found in a script."""

    file: str
    line: int
    kind: str
    code: str


def work_in(*files: Path) -> list[Work]:
    """What the program finds in these scripts."""
    command = [*vendor.find_command("node"), str(PROGRAM), *map(str, files)]
    result = subprocess.run(command, capture_output=True, text=True)
    assert result.returncode == 0, result.stderr
    return [Work(**row) for row in json.loads(result.stdout)]


@cache
def in_screens() -> list[Work]:
    """What it finds in all screens, each with its path in their folder."""
    found = work_in(*sorted(SCREENS.rglob("*.js")))
    return [work._replace(file=Path(work.file).relative_to(SCREENS).as_posix()) for work in found]


def excused(work: Work) -> list[tuple[str, str]]:
    """The exceptions that a piece of work falls under."""
    return [(file, code) for file, code in EXCEPTIONS if work.file == file and code in work.code]


def test_screens_leave_the_engines_work_to_the_engine() -> None:
    assert [work for work in in_screens() if not excused(work)] == []


def test_no_exception_has_outlived_its_use() -> None:
    used = {exception for work in in_screens() for exception in excused(work)}
    assert set(EXCEPTIONS) - used == set()


def test_no_key_or_field_is_ever_disabled() -> None:
    """It would drop the focus that it has: `actKey` and `saveKey` say that they cannot act, and lead on."""
    disabled = re.compile(r"(?<!aria-)(?<!\w)\??disabled=|<(?:button|input|select|textarea)[^>]*\sdisabled[\s>]")
    found = {
        file.name
        for file in WEBUI.rglob("*.js")
        if not {"node_modules", "vendor"} & set(file.parts) and disabled.search(file.read_text(encoding="utf-8"))
    }
    assert found == set()


# A line of a script with the kind of work in it; none where there is none.
LINES = {
    "export const a1 = result.value_nm - 5;": "arithmetic",
    "export const a2 = result.value_nm > 5 ? 1 : 2;": "arithmetic",
    "export const a3 = Math.max(result.u_nm, 0.5);": "arithmetic",
    "export const a4 = row.share * 100;": "arithmetic",
    "export const a5 = (({ share }) => share / 2)(row);": "arithmetic",
    "export const a6 = ((/** @type {number} */ depth_mm) => depth_mm + 1)(3);": "arithmetic",
    "export const a7 = result.low_nm === result.high_nm;": "arithmetic",
    'export const a8 = Number(typed.replace(",", ".")) * 25.4;': "arithmetic",
    "const half = result.value_nm; export const a9 = half / 2;": "arithmetic",
    'export const a10 = (/** @type {"u_nm" | "value_nm"} */ name) => result[name] + 1;': "arithmetic",
    "export const a11 = (result.high_nm ?? 0) + 1;": "arithmetic",
    "export const a12 = -Math.abs(result.value_nm);": "arithmetic",
    "export const b1 = result.value_nm.toFixed(1) + ' N·m';": None,
    "export const b2 = Math.round(result.value_nm);": None,
    "export const b3 = result.high_nm === null ? 'none' : 'some';": None,
    "export const b4 = result.dof === 1 ? 'degree' : 'degrees';": None,
    "export const b5 = typed.length + 1;": None,
    "export const b6 = [1, 2].indexOf(typed.length) - 1;": None,
    "export const c1 = entries.sort();": "time",
    "export const c2 = entries.map(({ at }) => Date.parse(at));": "time",
    "export const c3 = entries.filter(({ at }) => at < typed);": "time",
    "export const c4 = entries.toSorted((a, b) => a.at.localeCompare(b.at));": "time",
    "export const c5 = entries.find((entry) => entry.calibration_due < today());": "time",
    "export const c6 = new Intl.Collator();": "time",
    "export const d1 = entries.map(({ at }) => new Date(at).toLocaleString());": None,
    "export const d2 = entries.find(({ at }) => at === typed);": None,
    "export const e1 = typed.length > 12;": "limit",
    "const MOST = 50; export const e2 = entries.length < MOST;": "limit",
    "export const e3 = entries.slice(0, 20);": "limit",
    "export const e4 = Math.min(entries.length, 30);": "limit",
    "const SERIES = { wrench: { least: 3 } };": "limit",
    'export const e5 = html`<input type="text" class=${typed} maxlength="200" />`;': "limit",
    'export const e6 = html`<input type="number" min=1 step="5" value=${typed} />`;': "limit",
    "export const f1 = entries.length > 1;": None,
    "export const f2 = entries.length >= READINGS.least;": None,
    "export const f3 = entries.slice(0, -1);": None,
    "export const f4 = entries.slice(1);": None,
    'export const f5 = html`<meter min="0" max="100" value=${result.value_nm}></meter>`;': None,
}

HEAD = """\
// @ts-check
import {{ READINGS }} from "{webui}/log/limits.js";
import {{ today }} from "{webui}/log/store.js";
import {{ html }} from "{webui}/vendor/lit-html/lit-html.js";
/** @typedef {{import("{webui}/engine/calculations.js").BreakawayResult}} Result */
const result = /** @type {{Result}} */ (JSON.parse("{{}}"));
const row = result.budget[0];
const typed = /** @type {{string}} */ (JSON.parse('""'));
const entries = /** @type {{{{at: string, calibration_due: string}}[]}} */ (JSON.parse("[]"));
"""


@pytest.fixture(scope="module")
def tried(tmp_path_factory: pytest.TempPathFactory) -> dict[str, set[str]]:
    """Kinds of work found in each of `LINES`."""
    head = HEAD.format(webui=WEBUI.as_posix())
    file = tmp_path_factory.mktemp("screens") / "tried.js"
    file.write_text(head + "\n".join(LINES), encoding="utf-8")
    first = head.count("\n") + 1
    found: dict[str, set[str]] = {line: set() for line in LINES}
    for work in work_in(file):
        found[list(LINES)[work.line - first]].add(work.kind)
    return found


@pytest.mark.parametrize("line", LINES)
def test_work_is_told_from_showing(line: str, tried: dict[str, set[str]]) -> None:
    kind = LINES[line]
    assert tried[line] == ({kind} if kind else set())
