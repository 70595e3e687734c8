"""The engine reads what a question needs, and no more: a phone starts with the least of it."""

import subprocess
import sys
from pathlib import Path

import pytest

from server.engine import CALCULATIONS
from server.engine.request.calculation import Calculation, Calculations
from server.engine.request.fields import Group

ROOT = Path(__file__).resolve().parents[2]

ASK = """
import sys
from server import engine
print(*sorted({module.split(".")[2] for module in sys.modules if module.startswith("server.engine.")}))
engine.calc("about", {})
engine.read_for("no such calculation")
print(*sorted({module.split(".")[2] for module in sys.modules if module.startswith("server.engine.")}))
engine.calc("note", {"text": "Oil was weeping at the left output."})
print("server.engine.plan.plan" in sys.modules, "server.engine.history.standing" in sys.modules)
engine.read_for("standing")
print("server.engine.history.standing" in sys.modules, "server.engine.corner.corner" in sys.modules)
while engine.read_more():
    pass
print("server.engine.corner.corner" in sys.modules, "server.engine.results" in sys.modules)
"""


@pytest.mark.parametrize("place", range(len(CALCULATIONS.groups)))
def test_a_group_reads_what_it_is_entered_for(place: int) -> None:
    names, reader = CALCULATIONS.groups[place]
    assert sorted(calculation.name for calculation in reader()) == sorted(names)


def test_an_app_that_opens_reads_the_records_and_their_words_alone() -> None:
    done = subprocess.run([sys.executable, "-c", ASK], cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stdout.splitlines() == [
        # Of the room of doubt only the names of the verdicts.
        "doubt records request torque_check",
        "doubt records request torque_check",
        "False False",
        "True False",
        "True False",
    ]


def test_each_group_is_read_once_and_the_rest_in_order() -> None:
    read: list[str] = []

    def group(*names: str) -> tuple[tuple[str, ...], object]:
        def reader() -> list[Calculation]:
            read.append(names[0])
            return [Calculation(name, "Something.", Group({}), lambda _: {}) for name in names]

        return names, reader

    calculations = Calculations([group("a", "b"), group("c"), group("d", "e")])
    assert sorted(calculations) == ["a", "b", "c", "d", "e"]
    assert ("e" in calculations, "f" in calculations, read) == (True, False, [])
    assert calculations["e"].name == calculations["e"].name == "e"
    assert [calculations.read_more() for _ in range(4)] == [True, True, False, False]
    assert read == ["d", "a", "c"]
