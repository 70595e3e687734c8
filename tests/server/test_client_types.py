"""The web side's types are those of the engine's forms, and hold what the engine answers."""

import json
import re
import shutil
import subprocess
from pathlib import Path
from typing import Any

from server.api.client_types import FILE, WIDEST, Types
from server.engine import CALCULATIONS, KINDS, calc
from tests.__main__ import npm
from tests.engine.samples import samples


def test_the_types_are_those_of_the_forms() -> None:
    assert FILE.read_text(encoding="utf-8") == Types().text(), "run `npm run types` in webui"


def test_the_types_are_written_as_the_house_writes() -> None:
    assert [line for line in Types().text().splitlines() if len(line) > WIDEST or line != line.rstrip()] == []


IMPORTS = 'import type { AsTyped, Calculations, Kinds, RequestOf, ResultOf } from "./calculations";'

# Programs that the type checker has to find fault with.
WRONG = [
    'const a: Calculations["note"]["request"] = {};',
    'const b: Calculations["note"]["request"] = { text: 5 };',
    'const c: Calculations["kit"]["request"] = { tool: "hammer" };',
    'const d: Calculations["plates"]["result"]["verdict"] = "fine";',
    'const e = (one: Calculations["plan"]["result"]) => one.stack;',
    'const f = (one: Kinds["torque_check"]["shown"]): number => one.value_nm;',
    'const g: AsTyped<RequestOf<"breakaway">> = { hold: "" };',
    'const h: AsTyped<RequestOf<"breakaway">> = { limits: { low_nm: true } };',
    'const i: ResultOf<"kit"> = { verdict: "go" };',
]

# What is still being typed lacks fields, and has choices that the engine does not know.
TYPED = [
    'const j: AsTyped<RequestOf<"breakaway">> = {};',
    'const k: AsTyped<RequestOf<"breakaway">> = { held: "", limits: { low_nm: { typed: "7", unit: "nm" } } };',
    'const l: AsTyped<RequestOf<"plates">> = { plates: [{ slot: "A1", points_mm: ["2,31", 2.3] }, {}] };',
]


def right() -> list[str]:
    """Every sample as a program: what the engine takes and answers, and what entries keep of both."""
    lines = []
    for name in sorted(CALCULATIONS):
        for place, request in enumerate(good(name)):
            for part, value in (("request", request), ("result", calc(name, request))):
                kind = f'Calculations["{name}"]["{part}"]'
                lines.append(f"const {name}_{place}_{part}: {kind} = {json.dumps(value)};")
    for kind, record in sorted(KINDS.items()):
        body = good(record.calculation)[0]
        for part, value in (("body", body), ("shown", calc(record.calculation, body))):
            lines.append(f'const of_{kind}_{part}: Kinds["{kind}"]["{part}"] = {json.dumps(value)};')
    return lines


def good(calculation: str) -> list[Any]:
    """The samples that the engine answers."""
    return [row["request"] for row in samples(calculation) if not row["about"].startswith("bad:")]


def test_what_the_engine_takes_and_answers_is_of_these_types_and_nothing_else(tmp_path: Path) -> None:
    lines = [IMPORTS, *right(), *TYPED, *WRONG]
    shutil.copy(FILE, tmp_path)
    program = tmp_path / "program.ts"
    program.write_text("\n".join(lines), encoding="utf-8")
    options = ["--noEmit", "--strict", "--target", "es2022", "--module", "es2022", "--moduleResolution", "bundler"]
    order = [*npm(), "exec", "--offline", "--", "tsc", *options, str(program)]
    compiled = subprocess.run(order, cwd=FILE.parents[1], capture_output=True, text=True)
    faulty = {int(number) for number in re.findall(r"program\.ts\((\d+),", compiled.stdout)}
    assert [lines[number - 1] for number in sorted(faulty)] == WRONG, compiled.stdout
