"""Pooled lines beside statsmodels' mixed model and Henderson's equations, and what their band holds.

References
----------
1. S. Seabold, J. Perktold, statsmodels: econometric and statistical modeling with Python, 9th Python in Science
   Conference (2010): `MixedLM`, REML, with the covariance of level and rise held at 0.
2. C. R. Henderson, Best linear unbiased estimation and prediction under a selection model, Biometrics 31 (1975),
   423-447: the inverse of the mixed model's equations holds the variances of prediction.
"""

import math
import warnings
from typing import Any

import numpy
import pytest
import scipy.optimize
import scipy.stats
from statsmodels.regression.mixed_linear_model import MixedLM, MixedLMParams

from server.engine.experience.band import SEEN, Band, half_of
from server.engine.experience.pooled import Pooled

Units = list[list[tuple[float, float]]]

# Data sets for each of --rounds.
EACH = 2


def units_of(seed: int) -> Units:
    """Three to twenty units with one to six builds each, of kinds that differ much, little or not at all."""
    rng = numpy.random.default_rng(seed)
    level, rise, scatter = rng.choice([0, 3, 8]), rng.choice([0, 10, 25]), rng.choice([2, 4])
    units = []
    for _ in range(rng.integers(3, 21)):
        x = numpy.round(20 + rng.normal(0, 0.15, rng.integers(1, 7)), 3)
        y = 80 + level * rng.normal() + (130 + rise * rng.normal()) * (x - 20) + rng.normal(0, scatter, len(x))
        units.append(list(zip(x.tolist(), y.tolist(), strict=True)))
    return units


class Reference:
    """The reference model on the readings of `pooled`."""

    def __init__(self, pooled: Pooled, units: Units) -> None:
        self.y = numpy.array([y - pooled.base for unit in units for _, y in unit])
        x = [pooled.scaled(x) for unit in units for x, _ in unit]
        self.x = numpy.column_stack([numpy.ones(len(x)), x])
        self.units = numpy.repeat(numpy.arange(len(units)), [len(unit) for unit in units])
        self.model = MixedLM(self.y, self.x, self.units, exog_re=self.x)
        # What its fit sets before it asks for a likelihood.
        self.model.reml, self.model.cov_pen, self.model.fe_pen = True, None, None
        self.model._cov_sing = 0

    def params(self, level: float, rise: float) -> Any:
        # Its covariance has to have an inverse: this stands for 0.
        cov = numpy.diag([max(level, 1e-4) ** 2, max(rise, 1e-4) ** 2])
        return MixedLMParams.from_components(fe_params=numpy.zeros(2), cov_re=cov)

    def likelihood(self, level: float, rise: float) -> float:
        return float(self.model.loglike(self.params(level, rise), profile_fe=True))

    def best(self, enough: float) -> tuple[float, float, float]:
        """Its likelihood's highest value, found by another's search, and where that is.

        A search may end on a lower peak: then it starts from elsewhere, until it comes to what is `enough`.
        """
        tops: list[tuple[float, float, float]] = []
        for start in ((0.0, 0.0), (-3.0, 1.0), (1.0, -3.0), (-3.0, -3.0)):
            if tops and max(tops)[0] >= enough:
                break
            found = scipy.optimize.minimize(
                lambda at: -self.likelihood(*numpy.exp(numpy.clip(at, -9, 6))),
                start,
                method="Nelder-Mead",
                options={"xatol": 1e-6, "fatol": 1e-10},
            )
            tops.append((-found.fun, *numpy.exp(numpy.clip(found.x, -9, 6))))
        return max(tops)

    def fitted(self, level: float, rise: float) -> Any:
        free = MixedLMParams.from_components(fe_params=numpy.ones(2), cov_re=numpy.eye(2))
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            return self.model.fit(reml=True, free=free, start_params=self.params(level, rise))

    def henderson(self, level: float, rise: float, unit: int) -> Any:
        """Squared doubt of a unit's own line for a scatter of 1, from the inverse of the whole system."""
        count = int(self.units.max()) + 1
        z = numpy.zeros((len(self.y), 2 * count))
        for row, of in enumerate(self.units):
            z[row, 2 * of : 2 * of + 2] = self.x[row]
        w = numpy.column_stack([self.x, z])
        system = w.T @ w
        system[2:, 2:] += numpy.diag(numpy.tile([level**-2, rise**-2], count))
        pick = numpy.zeros((2, 2 + 2 * count))
        pick[:, :2] = numpy.eye(2)
        pick[:, 2 + 2 * unit : 4 + 2 * unit] = numpy.eye(2)
        return pick @ numpy.linalg.inv(system) @ pick.T


def test_lines_ratios_and_their_doubt_are_those_of_the_reference(rounds: int) -> None:
    inner = better = 0
    for seed in range(EACH * rounds):
        units = units_of(seed)
        pooled = Pooled(units)
        level, rise = pooled.reml()
        reference = Reference(pooled, units)
        # The same likelihood but for a constant.
        off = reference.likelihood(1.0, 1.0) - pooled.likelihood(1.0, 1.0)
        assert reference.likelihood(0.3, 2.0) - pooled.likelihood(0.3, 2.0) == pytest.approx(off, abs=1e-6)
        ours = pooled.likelihood(level, rise) + off
        top, ref_level, ref_rise = reference.best(ours - 1e-7)
        assert ours >= top - 1e-6, seed
        better += ours > top + 1e-6
        if min(level, rise, ref_level, ref_rise) > 0.01 and ours <= top + 1e-6:
            inner += 1
            # A flat top lets the place of the peak go further than its height.
            assert (level, rise) == pytest.approx((ref_level, ref_rise), rel=2e-3), seed
        # Its lines and doubts, at ratios at which its covariance has an inverse that double precision can tell.
        level, rise = (min(max(ratio, 0.05), 50.0) for ratio in (level, rise))
        fit = pooled.fit(level, rise)
        assert fit is not None
        model = reference.model
        cov = numpy.diag([level**2, rise**2])
        fixed = model.get_fe_params(cov, numpy.array([]))[0]
        assert (fit.level, fit.rise) == pytest.approx(tuple(fixed), rel=1e-6, abs=1e-7), seed
        scale = float(model.get_scale(fixed, cov, numpy.array([])))
        assert fit.left / (pooled.count - 2) == pytest.approx(scale, rel=1e-8)
        line = pooled.predict(fit, 0, level, rise)
        doubt = reference.henderson(level, rise, 0)
        assert line.doubt == pytest.approx((doubt[0, 0], doubt[0, 1], doubt[1, 1]), rel=1e-7, abs=1e-10), seed
    print(f"{EACH * rounds} data sets, {inner} of them with both ratios above 0; ours likelier in {better}")


def test_a_units_own_line_is_the_references(rounds: int) -> None:
    compared = 0
    for seed in range(4 * EACH * rounds):
        units = units_of(seed)
        pooled = Pooled(units)
        level, rise = pooled.reml()
        if min(level, rise) < 0.1:
            continue
        found = Reference(pooled, units).fitted(level, rise)
        ratios = [math.sqrt(found.cov_re[place, place] / found.scale) for place in (0, 1)]
        fit = pooled.fit(*ratios)
        assert fit is not None
        assert tuple(found.fe_params) == pytest.approx((fit.level, fit.rise), rel=1e-6, abs=1e-7)
        for unit in range(len(units)):
            line = pooled.predict(fit, unit, *ratios)
            own = found.random_effects[unit]
            assert tuple(found.fe_params + own) == pytest.approx((line.level, line.rise), rel=1e-6, abs=1e-7)
        compared += 1
    assert compared


def test_a_unit_alone_has_its_own_least_squares_and_students_band() -> None:
    x, y = [19.9, 20.0, 20.1, 20.25], [70.0, 80.0, 98.0, 111.0]
    band = Band([list(zip(x, y, strict=True))], 0, 1.0, seen=0)
    line = scipy.stats.linregress(x, y)
    assert band.slope == pytest.approx(line.slope, rel=1e-9)
    assert band.value(20.05) == pytest.approx(line.intercept + 20.05 * line.slope, rel=1e-9)
    left = sum((b - line.intercept - line.slope * a) ** 2 for a, b in zip(x, y, strict=True))
    middle = sum(x) / 4
    spread = math.sqrt(left / 2 * (1 + 1 / 4 + (20.05 - middle) ** 2 / sum((a - middle) ** 2 for a in x)))
    assert band.half(20.05) == pytest.approx(scipy.stats.t.isf(0.025, 2) * spread, rel=1e-7)


def test_a_mixture_of_ts_is_held_to_its_share() -> None:
    parts = [(0.5, -2.0, 1.0), (0.3, 1.0, 3.0), (0.2, 3.5, 0.5)]
    half = half_of(parts, 5, 0.95)
    t = scipy.stats.t(5)
    held = sum(weight * (t.cdf((half - off) / scale) - t.cdf((-half - off) / scale)) for weight, off, scale in parts)
    assert held == pytest.approx(0.95, abs=1e-6)


def coverage(own: int, others: int, ratio: float | None, sets: int, together: float = 0.0) -> float:
    """Share, in percent, of next builds within the band of 95 %.

    Parameters
    ----------
    own, others : int
        Builds of the unit, and other units with one to four builds each.
    ratio : float or None
        Scatter of builds as a multiple of what it is taken to be; None: drawn anew for each set, from just what the
        band takes it to be beforehand.
    together : float
        Correlation of a unit's level and rise, which the model takes to be 0.
    """
    rng = numpy.random.default_rng(1000 * own + others)
    held = 0
    for _ in range(sets):
        scatter = 4 * (math.sqrt(SEEN / rng.chisquare(SEEN)) if ratio is None else ratio)

        def unit(builds: int, scatter: float = scatter) -> tuple[Any, Any]:
            first, second = rng.normal(size=2)
            second = together * first + math.sqrt(1 - together**2) * second
            x = rng.normal(20, 0.12, builds)
            return x, 80 + 8 * first + (130 + 20 * second) * (x - 20) + rng.normal(0, scatter, builds)

        x, y = unit(own + 1)
        units = [list(zip(x[1:].tolist(), y[1:].tolist(), strict=True))]
        for _ in range(others):
            units.append(list(zip(*(row.tolist() for row in unit(int(rng.integers(1, 5)))), strict=True)))
        band = Band(units, 0, 4)
        held += abs(y[0] - band.value(x[0])) <= band.half(x[0])
    return 100 * held / sets


@pytest.mark.parametrize("own", [2, 3, 6])
@pytest.mark.parametrize("others", [0, 5, 20])
def test_the_band_holds_its_share_of_the_next_builds(own: int, others: int, rounds: int) -> None:
    sets = 20 * rounds
    # 93 to 97, and what so few sets may be off.
    more = 3 * math.sqrt(95 * 5 / sets)
    assert 93 - more <= coverage(own, others, None, sets) <= 97 + more


@pytest.mark.parametrize(("own", "others"), [(3, 5), (6, 20)])
def test_level_and_rise_that_go_together_leave_the_band_honest(own: int, others: int, rounds: int) -> None:
    sets = 20 * rounds
    assert coverage(own, others, 1.0, sets, together=0.7) >= 93 - 3 * math.sqrt(95 * 5 / sets)
