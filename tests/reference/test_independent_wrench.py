"""What a wrench reads, from the unit to the scale and back: random units, held in every way, with every tool.

Sources: statics, as in `test_independent_drive`: with the case free the outputs share the packs' torque and the pins
carry the case's drag; with the case held the pins carry twice what the free output takes. JCGM 100:2008, 4.3.7 and
5.1.2, for the parts of the doubt.
"""

import math
import random
from typing import Any

import pytest

from server.engine import calc

from .test_independent_drive import pushes, random_ramps

HELD = ["bench_case_held", "bench_output_held", "car_both_wheels_up", "car_one_wheel_down"]


class Held:
    """A unit whose preload alone gives each pack a torque, and how it is held; N·m."""

    def __init__(self, chance: random.Random) -> None:
        faces = chance.choice([2, 4, 6, 8])
        ramps = random_ramps(chance)
        layout = chance.choice(["between_rings", "in_line", "two_springs"])
        radius, mu = round(chance.uniform(30, 60), 1), round(chance.uniform(0.05, 0.14), 3)
        self.build = {"layout": layout, "first_faces": faces, "second_faces": faces, "radius_mm": radius, "mu": mu}
        self.build["ramps"] = ramps
        self.adds = layout == "between_rings"
        both = 2 * faces * mu * radius / 1000
        # Turned forward the pins are pushed as on coast.
        flanks = {"forward": ramps["coast_deg"], "reverse": ramps["drive_deg"]}
        self.locking = {way: float(pushes(ramps, angle)) * both for way, angle in flanks.items()}
        self.held, self.torque = chance.choice(HELD), chance.uniform(15, 150)
        self.both_up, self.free = self.held == "car_both_wheels_up", self.held in (HELD[1], HELD[3])
        self.ratio = round(chance.uniform(0.5, 3), 2) if self.held in HELD[2:] and chance.random() < 0.5 else 1.0
        self.drag: dict[str, float] = {"wheel_nm": round(chance.uniform(0, 6), 1)}
        if self.both_up:
            self.drag["other_wheel_nm"] = round(chance.uniform(0, 6), 1)
        if self.free:
            self.drag["case_nm"] = round(chance.uniform(0, 8), 1)

    def slope(self, way: str) -> float:
        """How fast the packs' torque goes with that at the wheel."""
        if self.free:
            return 1 / self.ratio
        return (1 - self.locking[way] if self.adds else 1) / 2 / self.ratio

    def at_wheel(self, way: str) -> float | None:
        """Torque at the turned wheel or output; None where the ramps hold whatever the spring gives."""
        locking, other = self.locking[way], self.drag.get("other_wheel_nm", 0.0) / self.ratio
        if self.free:
            case = self.drag["case_nm"]
            pressed = locking * case / 2
            # What the pins carry presses both packs.
            pack = self.torque + pressed if self.adds else max(self.torque, pressed)
            return None if pack == pressed else (pack + case / 2) * self.ratio + self.drag["wheel_nm"]
        # The ramps may lock somewhat more than is most likely, and nothing can be told then.
        if locking >= 0.6:
            return None
        pack = (self.torque + locking * other) / (1 - locking) if self.adds else self.torque
        if not self.adds and locking * (self.torque + other) >= 0.6 * self.torque:
            return None
        return (2 * pack + other) * self.ratio + self.drag["wheel_nm"]


@pytest.mark.parametrize("seed", range(100))
def test_the_preload_is_found_behind_lever_drag_and_ramps(seed: int) -> None:
    chance = random.Random(seed)
    read: dict[str, float | None] = {"forward": None}
    while read["forward"] is None:
        unit = Held(chance)
        read = {way: unit.at_wheel(way) for way in ("forward", "reverse")}
    wheel = {way: torque for way, torque in read.items() if torque is not None}
    stated = chance.choice(["case_held", "one_output_held"])
    packs = 2 if stated == "case_held" else 1
    request: dict[str, Any] = {
        "held": unit.held,
        "stated_for": stated,
        "hub_ratio": unit.ratio,
        "limits": {"low_nm": 1},
    }
    request |= {"build": unit.build, "drag": unit.drag}
    certified = chance.random() < 0.5
    tool: dict[str, Any] = {"division_nm": 1, "certificate_percent" if certified else "deviation_percent": 4}
    tool |= {"kind": "dial", "high_nm": 5000}
    lever, bar_moment, unit_of = 1.0, 0.0, "nm"
    if chance.random() < 0.3:
        lever, bar_moment, unit_of = chance.randrange(300, 1500) / 1000, round(chance.uniform(0, 5), 1), "n"
        tool |= {"kind": "pull_scale", "high_n": 20000, "division_n": tool.pop("division_nm")}
        tool.pop("high_nm")
        request["bar"] = {"length_mm": lever * 1000, "moment_nm": bar_moment, "doubt_mm": 3}
        request["scale"] = tool
    else:
        request["wrench"] = tool
        if chance.random() < 0.5:
            long, arm, angle = chance.randrange(300, 900), chance.randrange(50, 250), chance.choice([0, 30, 75])
            lever = (long + arm * math.cos(math.radians(angle))) / long
            request["adapter"] = {"wrench_mm": long, "adapter_mm": arm, "angle_deg": angle, "doubt_mm": 0}
    request["steady_" + unit_of] = {way: [(torque - bar_moment) / lever] * 2 for way, torque in wheel.items()}
    result = calc("breakaway", request)
    assert result["value_nm"] == pytest.approx(packs * unit.torque, rel=1e-9)
    assert result["felt"]["one_output_held_nm"] == pytest.approx(unit.torque, rel=1e-9)

    # Parts that go with every reading move both directions alike.
    budget = {row["name"]: row["u_nm"] for row in result["budget"]}
    pulled = sum(packs * unit.slope(way) * (torque - bar_moment) for way, torque in wheel.items()) / len(wheel)
    assert budget["tool"] == pytest.approx(pulled * 0.04 / (2 if certified else math.sqrt(3)), rel=1e-9)
    slope = sum(packs * unit.slope(way) for way in wheel) / len(wheel)
    assert budget["division"] == pytest.approx(0.5 / math.sqrt(3) * lever * slope, rel=1e-9)
    if unit_of == "n":
        assert budget["lengths"] == pytest.approx(pulled / lever * 0.003 / math.sqrt(3), rel=1e-9)


@pytest.mark.parametrize(("locking", "drag", "low"), [(0.7, 10, 25), (0.75, 6, 30), (0.8, 10, 50), (0.85, 6, 30)])
def test_half_of_the_lowest_torque_is_hardly_ever_a_go_though_the_ramps_may_hold(
    locking: float, drag: float, low: float
) -> None:
    """A spring in line and both wheels up: friction, drag and wrench are drawn anew, and the ramps often hold alone."""
    ramps = {"pin_radius_mm": 30.0, "drive_deg": 45, "coast_deg": 45, "mu": 0.1}
    ramps["pin_radius_mm"] = 30 * float(pushes(ramps, 45)) * 12 * 0.1 * 0.042 / locking
    build = {"layout": "in_line", "first_faces": 6, "second_faces": 6, "radius_mm": 42, "mu": 0.1, "ramps": ramps}
    request = {"held": "car_both_wheels_up", "limits": {"low_nm": low}, "build": build, "drag": {"wheel_nm": drag}}
    request["wrench"] = {"kind": "dial", "high_nm": 1000, "division_nm": 1}
    wrong, turned = 0, 0
    for seed in range(60):
        chance = random.Random(seed)
        mu = 0.1 * (1 + chance.triangular(-0.2, 0.2, 0))
        true = float(pushes(ramps, 45, ramp_off=chance.triangular(-0.03, 0.03, 0))) * 12 * mu * 0.042
        drags = [drag * (1 + chance.uniform(-0.25, 0.25)) for _ in range(2)]
        if true >= 0.95:
            continue
        turned += 1
        pack = max(low / 2, true * drags[1] / (1 - true))
        off = 1 + chance.uniform(-0.04, 0.04)
        reads = [[round((2 * pack + sum(drags)) * off + chance.gauss(0, 0.5)) for _ in range(3)] for _ in range(2)]
        result = calc("breakaway", request | {"steady_nm": {"forward": reads[0], "reverse": reads[1]}})
        wrong += result["verdict"] == "go"
    assert turned > 30
    assert wrong <= 0.05 * turned
