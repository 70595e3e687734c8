"""Figures as text: as CPython's own format has them, which rounds exactly."""

import ast
import random
from pathlib import Path

from server import engine
from server.engine import calc
from server.engine.request.rounded import fixed
from tests.engine.history.entries import entry

from ..checks import UNIT


def test_every_figure_is_as_pythons_own_format_has_it() -> None:
    chance = random.Random(7)
    figures = [0.0, -0.0, 0.5, 1.5, 2.5, -0.04, 1e-300, 5e-324, 1e22, 123456789.125, 2.0**60]
    figures += [eighths / 8 for eighths in range(-800, 800)]
    figures += [thousandths / 1000 + 0.0005 for thousandths in range(1000)]
    figures += [chance.uniform(-1, 1) * 10 ** chance.uniform(-9, 9) for _ in range(5000)]
    for figure in figures:
        for places in range(5):
            assert fixed(figure, places) == f"{figure:.{places}f}", figure


def test_what_ran_is_told_with_a_half_to_the_even_digit() -> None:
    outing = {"day": "2026-03-02", "minutes": 15, "km": 38.5}
    entries = [
        entry(1, "unit", UNIT, "2026-03-01T09:00:00Z", seq=1),
        entry(2, "outing", outing, "2026-03-02T09:00:00Z", seq=2),
    ]
    assert "0.2 h, 38 km" in calc("standing", {"entries": entries})["used"]["text"]


def test_no_figure_is_left_to_the_hosts_own_rounding() -> None:
    for file in Path(engine.__file__).parent.rglob("*.py"):
        for node in ast.walk(ast.parse(file.read_text("utf-8"))):
            if isinstance(node, ast.FormattedValue) and node.format_spec:
                spec = ast.unparse(node.format_spec).strip("'\"")
                assert not spec.endswith("f"), f"{file.name}, line {node.lineno}: by request/rounded.py"
