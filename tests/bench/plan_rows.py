"""How good plans are: beside the best that going through everything finds, and beside draws of what is in doubt."""

from collections.abc import Iterator

import numpy as np

from server.engine import calc
from tests.engine.plan import brute, random_units
from tests.engine.plan.test_outcome import draws, hardly_squeezed, planned
from tests.engine.samples import samples

from .figures import Figure
from .sizes import Sizes

UNITS = 200
DEMONSTRATION = "a unit of the demonstration"


def behind(sizes: Sizes) -> Iterator[Figure]:
    """How far the first choice shown lies behind the best there is."""
    gaps = []
    for seed in range(UNITS // 10 if sizes.quick else UNITS):
        request = random_units.small_request(seed)
        result = calc("plan", request)
        _, best = brute.of_all(request, seed)
        if best:
            gaps.append(max(best.values()) - (result["choices"][0]["chance"] if result["possible"] else 0.0))
    drawn = len(gaps)
    for row in samples("plan"):
        if row["about"].startswith(DEMONSTRATION):
            result = calc("plan", row["request"] | {"alternatives": False})
            request, window = row["request"] | {"wanted": result["wanted_nm"]}, result["window_mm"]
            best = brute.best_of_many(request, 5, round(1000 * window["low_mm"]), round(1000 * window["high_mm"]))
            gaps.append(max(best.values()) - result["choices"][0]["chance"])
    worst = max(gaps)
    yield Figure(
        "chance to meet the order, first choice of a plan",
        f"at worst {100 * worst:.1f} points behind",
        "best by brute force, packs within 0.10 mm",
        "",
        "<= 2 points",
        worst <= 0.02,
        f"{drawn} seeded units for which there is any, and {len(gaps) - drawn} of the demonstration; chances by "
        f"{brute.MANY} draws",
    )


def stated(sizes: Sizes) -> Iterator[Figure]:
    """How many of drawn rebuilds come out where the plan says 95 of 100 do."""
    shares = []
    for seed in range(10000, 10050 if sizes.quick else 10400):
        planned_unit = planned(seed)
        if planned_unit is None or hardly_squeezed(*planned_unit):
            continue
        for choice in planned_unit[1]["choices"]:
            low, high = choice["spread_nm"]["low_nm"], choice["spread_nm"]["high_nm"]
            if high - low > 1e-6 * choice["torque_nm"]:
                torques = draws(planned_unit[0], choice, seed)
                shares.append(float(np.mean((torques >= low) & (torques <= high))))
    yield Figure(
        "stated 95 % of a plan, share of 10 000 draws",
        f"{100 * min(shares):.1f} to {100 * max(shares):.1f} %",
        "",
        "",
        "93 to 97 %",
        min(shares) >= 0.93 and max(shares) <= 0.97,
        f"{len(shares)} choices of seeded units whose spring has 15 % of its travel or more",
    )


def plans(sizes: Sizes) -> Iterator[Figure]:
    """Both."""
    yield from behind(sizes)
    yield from stated(sizes)
