"""Torque checks of a unit whose truth is known, drawn as JCGM 101 does: what a tool would read, and what is then said.

Nothing here asks the engine how a reading comes about: the wrench feels the torque by statics, the tool is off by what
it may be, the hand scatters, and the reading falls on the nearest division of the scale.
"""

import math
from collections import Counter
from typing import Any
from unittest.mock import patch

import numpy
from numpy.typing import NDArray

from server.engine import calc
from server.engine.torque_check import breakaway

from ..checks import BREAKAWAY

Draws = NDArray[numpy.float64]

SEED = 20261125

# Mean pack torques that the wrench feels.
PACKS = {"bench_output_held": 1, "bench_case_held": 2, "car_one_wheel_down": 1, "car_both_wheels_up": 2}


def tool_gain(generator: numpy.random.Generator, tool: dict[str, Any], trials: int) -> Draws:
    """What each trial's tool reads for a true 1."""
    certificate = tool.get("certificate_percent")
    if certificate is not None:
        return 1 + generator.normal(0.0, float(certificate) / 200, trials)
    return 1 + generator.uniform(-1, 1, trials) * float(tool["deviation_percent"]) / 100


def lever(generator: numpy.random.Generator, way: dict[str, Any], trials: int) -> tuple[Draws, float]:
    """Torque at the shaft for one unit on the tool's scale in each trial, and the bar's own torque, N·m."""

    def near(value: float, off: float) -> Draws:
        return value + generator.uniform(-1, 1, trials) * off

    adapter, bar = way.get("adapter"), way.get("bar")
    if bar is not None:
        return near(bar["length_mm"], bar["doubt_mm"]) / 1000, bar.get("moment_nm", 0.0)
    if adapter is None:
        return numpy.ones(trials), 0.0
    length, arm = near(adapter["wrench_mm"], adapter["doubt_mm"]), near(adapter["adapter_mm"], adapter["doubt_mm"])
    angle = numpy.radians(near(adapter.get("angle_deg", 0.0), adapter["doubt_deg"]))
    return (length + arm * numpy.cos(angle)) / length, 0.0


def locking(generator: numpy.random.Generator, build: dict[str, Any] | None, flank: str, trials: int) -> Draws:
    """Torque of both packs for each N·m of the pins in each trial, where that adds to the preload.

    Friction of plates and ramps is drawn from what is known of it; the wedge is resolved by its face.
    """
    if build is None or build["layout"] != "between_rings":
        return numpy.zeros(trials)
    # The same friction in both directions: its own generator, which starts alike for each flank.
    drawn = numpy.random.default_rng(generator.bit_generator.seed_seq.entropy)  # type: ignore[attr-defined]
    plates = build["mu"] * (1 + 0.2 * drawn.uniform(-1, 1, trials))
    slip = build["ramps"]["mu"] + 0.03 * drawn.uniform(-1, 1, trials)
    tilt = math.radians(build["ramps"][flank + "_deg"])
    wedge = (math.cos(tilt) - slip * math.sin(tilt)) / (math.sin(tilt) + slip * math.cos(tilt))
    arm = float(build["first_faces"] * build["radius_mm"] / build["ramps"]["pin_radius_mm"])
    return numpy.asarray(arm * plates * wedge)


def felt(
    generator: numpy.random.Generator, truth: float | Draws, way: dict[str, Any], flank: str, drags: dict[str, Draws]
) -> Draws:
    """Torque at the wheel in each trial, N·m, where the mean pack torque from preload alone is `truth`."""
    turned, other, case = drags["turned"], drags["other"], drags["case"]
    hub = float(way.get("hub_ratio", 1.0))
    lock = locking(generator, way.get("build"), flank, len(turned))
    if PACKS[way.get("held", "bench_output_held")] == 1:
        # The case turns half as fast as the output where it is free, and its drag goes through the pins.
        return (truth + lock * case / 2 + case / 2) * hub + turned
    each = (truth + lock * other / hub) / (1 - lock)
    return 2 * each * hub + turned + other


def drags_of(generator: numpy.random.Generator, way: dict[str, Any], trials: int) -> dict[str, Draws]:
    """The drag of each part in each trial, N·m."""
    drag = way.get("drag", {})

    def near(value: float) -> Draws:
        off = drag.get("doubt_nm", 0.25 * value)
        return numpy.maximum(0.0, value + generator.uniform(-1, 1, trials) * off) if value else numpy.zeros(trials)

    wheel = drag.get("wheel_nm", 0.0)
    both = way.get("held") == "car_both_wheels_up"
    return {
        "turned": near(wheel),
        "other": near(drag.get("other_wheel_nm", wheel)) if both else numpy.zeros(trials),
        "case": near(drag.get("case_nm", 0.0)),
    }


def readings(
    truth: float | Draws, way: dict[str, Any], trials: int, seed: int = SEED, gain: Draws | None = None
) -> list[Draws]:
    """What the tool reads, trial by trial, in each direction: arrays of trials x readings.

    Parameters
    ----------
    truth : float or array
        Mean pack torque of the unit, N·m.
    gain : array, optional
        What each trial's tool reads for a true 1; drawn where none is given.
    way : dict
        The request's own fields, and counts (readings of each direction), scatter (of a reading, in the tool's unit) or
        scatter_percent; rounded, False for a scale that is read between its divisions.
    """
    generator = numpy.random.default_rng(seed)
    tool = way.get("wrench") or way["scale"]
    division = tool.get("division_nm") or tool["division_n"]
    own = tool_gain(generator, tool, trials)
    gain = own if gain is None else gain
    arm, weight = lever(generator, way, trials)
    drags = drags_of(generator, way, trials)
    found = []
    for count, flank in zip(way["counts"], ("coast", "drive"), strict=False):
        clean = (felt(generator, truth, way, flank, drags) - weight) / arm * gain
        scatter = way["scatter"] if "scatter" in way else way["scatter_percent"] / 100 * float(numpy.mean(clean))
        noisy = clean[:, None] + generator.normal(0.0, scatter, (trials, count))
        found.append(numpy.maximum(division, numpy.round(noisy / division) * division))
    return found


def request_of(way: dict[str, Any], limits: dict[str, float]) -> dict[str, Any]:
    """The request of a way of reading, its readings still to come."""
    own = {name: value for name, value in way.items() if name not in ("counts", "scatter", "scatter_percent")}
    base = {name: value for name, value in BREAKAWAY.items() if name not in ("wrench", "steady_nm")}
    return {**base, **own, "limits": limits}


def verdicts(truth: float, way: dict[str, Any], limits: dict[str, float], trials: int) -> dict[str, float]:
    """Shares of the verdicts over trials."""
    request = request_of(way, limits)
    field = "steady_nm" if "wrench" in way else "steady_n"
    counts: Counter[str] = Counter()
    # What would help to a verdict comes after it and takes as long as all the rest.
    with patch.object(breakaway, "remedies", lambda *_: []):
        for series in zip(*[taken.tolist() for taken in readings(truth, way, trials)], strict=True):
            request[field] = dict(zip(("forward", "reverse"), series, strict=False))
            counts[calc("breakaway", request)["verdict"]] += 1
    return {verdict: count / trials for verdict, count in counts.items()}


def sampling(trials: int, share: float = 0.05) -> float:
    """Three standard deviations of a share that was counted over trials."""
    return 3 * math.sqrt(share * (1 - share) / trials)
