"""What is lacking of a partly known unit, what each further figure would open, and closing it as far as it is known.

Sources: first principles, what a figure rests on: a push at the cover on the stack, the spring and the depth; a torque
on the rubbing ring besides; a lock on the ramps besides that; what the screws have left on the push and the screws.
Forces and energies as in `test_independent_closing` and `random_units`.
"""

import random
from typing import Any

import pytest

from server.engine import calc
from tests.engine.history.entries import entry

from .random_units import column_energy, crush_of, places, preload_at, random_unit
from .test_independent_closing import strongest
from .test_independent_drive import random_ramps

# Each section of a definition, in the order of the job, with the field at which it is begun.
FIELDS = {
    "limits": "service.low_nm",
    "chain": "chain",
    "spring": "spring.de_mm",
    "cavity_mm": "cavity_mm",
    "friction": "friction.inner_mm",
    "ramps": "ramps.pin_radius_mm",
    "cover": "cover.screws",
}
PUSH = {"chain", "spring", "cavity_mm"}
RESTS_ON = {
    "check": {"limits"},
    "stack": {"chain"},
    "spring": {"spring"},
    "preload": PUSH,
    "torque": PUSH | {"friction"},
    "lock": PUSH | {"friction", "ramps"},
    "screws": PUSH | {"cover"},
}
# A word of what each gives, by which a sentence is known again.
GIVES = {
    "check": "with a verdict",
    "stack": "sliding faces",
    "spring": "danger zones",
    "preload": "crush, preload",
    "torque": "a plan",
    "lock": "traction",
    "screws": "what the screws hold",
}


def random_limits(chance: random.Random) -> dict[str, Any]:
    """An order, limits for running, both, or what limits nothing."""
    order = {"torque_nm": 90.0, "tolerance_nm": 8.0}
    service = chance.choice(
        [
            {"low_nm": 60},
            {"high_nm": 140},
            {"low_nm": 60, "high_nm": 140},
            {"low_nm": 0},
            {"high_nm": 0},
            {"plates_every_days": 90},
            {},
        ]
    )
    return chance.choice([{}, {"order": order}, {"service": service}, {"order": order, "service": service}])


def limits_anything(definition: dict[str, Any]) -> bool:
    """Whether a torque can be judged by it: a lowest torque of 0 lets everything pass, a highest of 0 is none."""
    service = definition.get("service") or {}
    return "order" in definition or bool(service.get("low_nm")) or bool(service.get("high_nm"))


class Known:
    """A unit of which some sections are known, and the whole of it."""

    def __init__(self, seed: int) -> None:
        chance = random.Random(seed)
        whole = random_unit(chance)
        while crush_of(whole) > 0.25 * whole["cavity_mm"]:
            whole = random_unit(chance)
        whole["ramps"] = random_ramps(chance)
        whole["cover"] = {"screws": 8, "screw_mm": 8, "torque_nm": round(chance.uniform(5, 60), 1)}
        if chance.random() < 0.5:
            whole["cover"]["start_mm"] = round(chance.uniform(0, 6), 2)
        if chance.random() < 0.5:
            whole["cover"]["case_nm"] = 2000
        for name in ("order", "service"):
            whole.pop(name)
        self.whole = whole
        share = chance.choice([0.1, 0.3, 0.6])
        hidden = [name for name in FIELDS if chance.random() < share]
        if chance.random() < 0.3:
            hidden.append("layout")
        self.given = {name: value for name, value in whole.items() if name not in hidden} | random_limits(chance)
        self.missing = [
            name for name in FIELDS if (name not in self.given if name != "limits" else not limits_anything(self.given))
        ]

    def lacks(self, ability: str) -> list[str]:
        """What is missing for something, in the order of the job."""
        return [name for name in self.missing if name in RESTS_ON[ability]]


def compare_known(seed: int) -> None:
    """What is lacking, and what each section would open."""
    unit = Known(seed)
    # A unit that lacks limits has none to judge by, and one that has some does.
    stands = calc("standing", {"entries": [entry(1, "unit", unit.given, "2026-03-01T09:00:00Z", seq=1)]})
    assert (stands["limits"]["running"] is None) == ("limits" in unit.missing)
    result = calc("so_far", {"unit": unit.given})
    wanted = [(name, FIELDS[unit.lacks(name)[0]]) for name in RESTS_ON if unit.lacks(name)]
    assert [(row["name"], row["field"]) for row in result["lacks"]] == wanted
    opens = {row["name"]: row for row in stands["opens"]}
    assert list(opens) == unit.missing
    for name, row in opens.items():
        at_once = [ability for ability in RESTS_ON if unit.lacks(ability) == [name]]
        together = [ability for ability in RESTS_ON if name in unit.lacks(ability) and ability not in at_once]
        assert (row["field"], row["at_once"]) == (FIELDS[name], bool(at_once))
        promised = {ability for ability, words in GIVES.items() if words in row["text"]}
        assert promised == {*at_once, *together[:1]}, row
    assert stands["lacks"] == result["lacks"]
    assert [row["name"] for row in result["sections"] if not row["known"]] == unit.missing


def compare_closing(seed: int) -> None:
    """What is known of closing it, and no more than that."""
    unit = Known(seed)
    result = calc("closing", {"unit": unit.given, "nut_factor": 0.15})
    lacking = unit.lacks("preload") or unit.lacks("screws")
    assert (result["lack"] or {"field": None})["field"] == (FIELDS[lacking[0]] if lacking else None)
    held = [row["text"] for steps in result["at_steps"].values() for row in steps if row["step"] == "held"]
    assert result["known"] == (not unit.lacks("preload"))
    if not result["known"]:
        # No figure at all, and whoever holds it in a vice is told to expect the worst.
        assert set(result) == {"known", "lack", "cautions", "at_steps"}
        assert any("is not known" in caution for caution in result["cautions"])
        assert len(held) >= 2
        return
    whole = unit.whole
    crush = crush_of(whole)
    push, discs = preload_at(whole, crush), places(whole) * int(whole["spring"].get("series") or 1)
    most, _ = strongest(whole["spring"], crush / discs)
    assert result["flush_n"] == pytest.approx(push, rel=1e-9)
    assert result["energy_j"] == pytest.approx(
        places(whole) * column_energy(whole["spring"], crush / places(whole)), rel=1e-9
    )
    assert result["vice_most_n"] == pytest.approx(int(whole["spring"].get("parallel") or 1) * most, rel=1e-4)
    if "cover" in unit.missing:
        names = ("start_mm", "start_n", "start_most_n", "per_screw_n", "screw_n", "clamp_left_n", "left_n")
        assert [result[name] for name in names] == [None] * len(names)
        return
    cover = unit.given["cover"]
    clamp = 8 * cover["torque_nm"] / (0.15 * 0.008)
    assert result["per_screw_n"] == pytest.approx(push / 8, rel=1e-9)
    assert result["clamp_left_n"] == pytest.approx(clamp - push, rel=1e-9, abs=1e-6)
    assert result["start_assumed"] == ("start_mm" not in cover)
    assert result["start_n"] == pytest.approx(preload_at(whole, max(0.0, crush - result["start_mm"])), rel=1e-9)
    # What the ramps push needs them, the greatest torque, and where the spring sits.
    tells = "case_nm" in cover and "ramps" not in unit.missing
    assert (result["push_most_n"] is None, result["left_n"] is None) == (not tells, not tells)


@pytest.mark.parametrize("seed", range(50))
def test_what_is_lacking_and_what_would_open_is_what_figures_rest_on(seed: int) -> None:
    compare_known(seed)


@pytest.mark.parametrize("seed", range(50))
def test_closing_a_partly_known_unit_says_what_is_known_and_no_more(seed: int) -> None:
    compare_closing(seed)
