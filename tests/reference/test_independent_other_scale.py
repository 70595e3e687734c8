"""Figures read on the other scale of a wrench or balance, beside a working of its own: what each unit would come to.

Sources: NIST Special Publication 811 (2008), appendix B.8, for the units; statics for lever, drag and way of holding,
as in `test_independent_wrench`. What is asked when is first principles: a figure that makes no sense as it was typed,
and would make sense in another unit that the tool's scale has. How far off counts: common practice, no source.
"""

import json
import math
import random
from typing import Any

import pytest

from server.engine import calc

# NIST SP 811, B.8: the pound-force, the foot and the inch; standard gravity.
POUND, GRAVITY = 0.45359237, 9.80665
NEWTONS = {"n": 1.0, "kgf": GRAVITY, "lbf": POUND * GRAVITY}
TORQUES = {"nm": 1.0, "lbf_ft": NEWTONS["lbf"] * 0.3048, "lbf_in": NEWTONS["lbf"] * 0.0254, "kgf_m": GRAVITY}
# So far apart that a unit which was not touched would not come to it, and so near that it is the same again.
MOVED, SAME = 1.2, 1.08


class Bench:
    """One check: how it was held, the tool, and figures that were read in one unit and perhaps typed in another."""

    def __init__(self, chance: random.Random) -> None:
        self.si = chance.choice(["nm", "nm", "n"])
        self.sizes = TORQUES if self.si == "nm" else NEWTONS
        self.read_in = chance.choice(sorted(self.sizes))
        self.typed_in = chance.choice(sorted(self.sizes))
        self.held = chance.choice(["bench_case_held", "bench_output_held", "car_both_wheels_up", "car_one_wheel_down"])
        self.packs = 1 if self.held in ("bench_output_held", "car_one_wheel_down") else 2
        self.lever, self.moment = 1.0, 0.0
        true = chance.uniform(20, 180)
        self.drag = round(chance.uniform(0, 6), 1) if chance.random() < 0.5 else 0.0
        self.request: dict[str, Any] = {"held": self.held, "write_in": chance.choice(sorted(TORQUES))}
        if self.drag:
            self.request["drag"] = {"wheel_nm": self.drag}
            if self.held == "car_both_wheels_up":
                self.request["drag"]["other_wheel_nm"] = 0
        if self.si == "n":
            self.lever, self.moment = chance.randrange(300, 1200) / 1000, round(chance.uniform(-3, 4), 1)
            self.request["bar"] = {"length_mm": self.lever * 1000, "moment_nm": self.moment}
        elif chance.random() < 0.4:
            self.request["adapter"] = {"wrench_mm": 500, "adapter_mm": 100, "angle_deg": 0}
            self.lever = 1.2
        self.request["write_in" if self.si == "nm" else "write_forces_in"] = self.typed_in
        reading = max(0.05, (true * self.packs + self.drag - self.moment) / self.lever)
        figure = reading / self.sizes[self.read_in]
        each = [(f"{figure * share:.6g}") for share in (1, 1.004, 0.997)]
        self.figures = [float(typed) for typed in each] * (2 if chance.random() < 0.7 else 1)
        rows = [{"typed": typed, "unit": self.typed_in} for typed in each]
        self.request["steady_" + self.si] = {
            "forward": rows,
            "reverse": rows if len(self.figures) == 6 else None,
        }
        highest = max(self.figures) * self.sizes[self.typed_in]
        self.top = max(1.5, highest * 1.001, chance.choice([1, 1.1, 3]) * max(reading, highest))
        self.tool = {"kind": "dial" if self.si == "nm" else "pull_scale", f"division_{self.si}": highest / 200}
        self.tool[f"high_{self.si}"] = self.top
        self.request["wrench" if self.si == "nm" else "scale"] = self.tool
        about = chance.choice([true, true, max(0.5, self.stated(self.typed_in)), true * chance.uniform(0.5, 2)])
        low, high = about * chance.uniform(0.5, 1.02), about * chance.uniform(1.03, 1.8)
        self.low: float | None = round(low, 2) if chance.random() < 0.9 else None
        self.high: float | None = round(high, 2) if self.low is None or chance.random() < 0.7 else None
        self.request["limits"] = {"low_nm": self.low, "high_nm": self.high}
        self.last: float | None = None
        if chance.random() < 0.6:
            near = chance.choice([true, true, max(0.5, self.stated(self.typed_in))])
            self.last = round(max(0.5, near * chance.uniform(0.75, 1.33)), 2)
            self.request["last_nm"] = self.last
        figures = [self.top, *[figure or 0 for figure in (self.low, self.high, self.last)]]
        self.fits = max(figures) <= 5000 and self.stated(self.typed_in) > 0

    def stated(self, unit: str) -> float:
        """What the figures come to if they were read in this unit, N·m."""
        mean = sum(self.figures) / len(self.figures) * self.sizes[unit]
        return (mean * self.lever + self.moment - self.drag) / self.packs

    def passes(self, torque: float) -> bool:
        """Whether a torque lies within the limits."""
        return (self.low or 0) <= torque <= (math.inf if self.high is None else self.high)

    def off(self, torque: float) -> float:
        """How many times off the last check a torque is, up or down; 1 where there was none."""
        return 1.0 if self.last is None else max(torque / self.last, self.last / torque)

    def candidates(self) -> dict[str, str]:
        """Other units that make sense of the figures, and by what."""
        typed, found = self.stated(self.typed_in), {}
        for unit, size in self.sizes.items():
            torque = self.stated(unit)
            if unit == self.typed_in or torque <= 0 or max(self.figures) * size > self.top:
                continue
            if self.last is not None and self.off(typed) > MOVED and self.off(torque) < SAME:
                found[unit] = "last"
            elif not self.passes(typed) and self.passes(torque):
                found[unit] = "limits"
        return found


def bench_of(seed: int) -> Bench:
    """A check at random whose figures the form takes."""
    chance = random.Random(seed)
    bench = Bench(chance)
    while not bench.fits:
        bench = Bench(chance)
    return bench


def ask(seed: int) -> None:
    """Compare what one check asks about its unit, and what that does to its verdict."""
    bench = bench_of(seed)
    found, sure = calc("breakaway", bench.request), calc("breakaway", bench.request | {"sure_of_unit": True})
    typed, candidates = bench.stated(bench.typed_in), bench.candidates()
    assert found["value_nm"] == pytest.approx(typed, rel=1e-9)
    assert sure["perhaps_in"] is None
    questions = [row for row in found["findings"] if row["name"] == "unit"]
    assert [row for row in found["findings"] if row["name"] != "unit"] == sure["findings"]
    if not candidates:
        assert (found["perhaps_in"], questions, found["verdict"]) == (None, [], sure["verdict"])
        return
    unit, [row] = found["perhaps_in"], questions
    # What the last check says comes first; else the unit that is nearest to the one that was typed.
    best = [name for name in candidates if candidates[name] == "last"] or list(candidates)
    size = bench.sizes[bench.typed_in]
    assert unit == min(best, key=lambda name: abs(math.log(bench.sizes[name] / size)))
    assert row["number"] == pytest.approx(bench.sizes[unit] / size, rel=1e-9)
    # A go that the last check speaks against is none; a question alone changes no verdict.
    doubt = candidates[unit] == "last" and bench.passes(typed)
    assert row["weight"] == ("doubt" if doubt else "note")
    assert found["verdict"] == ("measure_again" if doubt else sure["verdict"])
    # Who says so and types the same figures anew gets the torque that was promised, and no refusal.
    again = json.loads(json.dumps(bench.request).replace(f'"unit": "{bench.typed_in}"', f'"unit": "{unit}"'))
    again |= {"sure_of_unit": True, "write_in" if bench.si == "nm" else "write_forces_in": unit}
    assert calc("breakaway", again)["value_nm"] == pytest.approx(bench.stated(unit), rel=1e-9)


@pytest.mark.parametrize("seed", range(60))
def test_another_scale_is_asked_about_where_it_makes_sense_and_nowhere_else(seed: int) -> None:
    ask(seed)
