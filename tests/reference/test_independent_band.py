"""The line of few readings and its band against dense matrices: all ratios of the variances integrated by Gauss's rule.

Nothing of the engine's is used but what is asked. The model of J. Laird and H. Ware, Biometrics 38 (1982) 963, as one
covariance matrix of all readings; the restricted likelihood of D. Harville, Biometrika 61 (1974) 383, as its
determinants; the prediction by numpy's inverses, Student's t by scipy, and Gauss's rule by numpy.
"""

import random
from typing import Any

import numpy as np
import pytest
import scipy.optimize
import scipy.stats

from server.engine.experience.band import SEEN, Band
from server.engine.experience.pooled import FREE, NONE, POOLED

Units = list[list[tuple[float, float]]]

# As wide as the band may be off, in parts of it: far less than what the scatter taken beforehand is sure to. Where the
# likelihood has a narrow peak and a long tail, 3 of 2 100 sets are off by more, by 6 % at the most.
WITHIN = 0.01
AT_MOST, HOW_MANY = 0.1, 0.01


def spread_of(units: Units, levels: str) -> float:
    """What x is scaled by: its deviation within units, of all where none has two, or its size where through 0."""
    every = np.array([x for unit in units for x, _ in unit])
    if levels == NONE:
        return float(np.sqrt((every**2).mean()))
    squares = sum(len(unit) * np.var([x for x, _ in unit]) for unit in units)
    free = sum(len(unit) - 1 for unit in units)
    return float(np.sqrt(squares / free) if squares else every.std(ddof=1))


class Dense:
    """A line among its kind, for every pair of ratios on a grid by Gauss's rule."""

    def __init__(self, units: Units, own: int, scatter: float, levels: str, nodes: int = 48) -> None:
        x, y = (np.array([point[place] for unit in units for point in unit]) for place in (0, 1))
        who = np.array([place for place, unit in enumerate(units) for _ in unit])
        self.middle = 0.0 if levels == NONE else x.mean()
        self.levels, self.count, self.own = levels, len(units), own
        x = (x - self.middle) / spread_of(units, levels)
        self.spread = spread_of(units, levels)
        same = (who[:, None] == who).astype(float)
        free = [(who == place).astype(float) for place in range(self.count)]
        columns = {POOLED: [np.ones(len(x)), x], FREE: [*free, x], NONE: [x]}[levels]
        self.design = np.column_stack(columns)
        places, shares = np.polynomial.legendre.leggauss(nodes)
        # A half Cauchy distribution is even in the angle.
        ratios, shares = np.tan(0.25 * np.pi * (places + 1)), shares / 2
        rise, rise_share = (ratios, shares) if self.count > 1 else (np.zeros(1), np.ones(1))
        level, level_share = (rise, rise_share) if levels == POOLED else (np.zeros(1), np.ones(1))
        self.a, self.b = (grid.ravel() ** 2 for grid in np.meshgrid(level, rise, indexing="ij"))
        matrix = np.eye(len(x)) + self.a[:, None, None] * same + self.b[:, None, None] * same * np.outer(x, x)
        self.inverse = np.linalg.inv(matrix)
        self.weighted = self.design.T @ self.inverse
        self.doubt = np.linalg.inv(self.weighted @ self.design)
        self.fixed = np.einsum("gpq,gqi,i->gp", self.doubt, self.weighted, y)
        self.rest = y - self.fixed @ self.design.T
        self.dof = SEEN + len(x) - self.design.shape[1]
        left = SEEN * scatter**2 + np.einsum("gi,gij,gj->g", self.rest, self.inverse, self.rest)
        log = -0.5 * (np.linalg.slogdet(matrix)[1] - np.linalg.slogdet(self.doubt)[1] + self.dof * np.log(left))
        weight = np.exp(log - log.max()) * np.outer(level_share, rise_share).ravel()
        self.weight, self.scatter = weight / weight.sum(), np.sqrt(left / self.dof)
        self.mine, self.mine_x = (who == own).astype(float), (who == own) * x

    def ahead(self, weight: float, z: float) -> tuple[Any, Any]:
        """Level times `one` plus rise times `z` of the unit's own line, and its squared doubt for a scatter of 1."""
        free = [weight * (place == self.own) for place in range(self.count)]
        wanted = np.array({POOLED: [weight, z], FREE: [*free, z], NONE: [z]}[self.levels])
        shared = np.outer(self.a * weight, self.mine) + np.outer(self.b * z, self.mine_x)
        drawn = np.einsum("gi,gij->gj", shared, self.inverse)
        off = wanted - drawn @ self.design
        doubt = self.a * weight**2 + self.b * z**2 - (drawn * shared).sum(1)
        doubt += np.einsum("gp,gpq,gq->g", off, self.doubt, off)
        return self.fixed @ wanted + (drawn * self.rest).sum(1), doubt.clip(0)

    def half(self, middles: Any, squares: Any) -> float:
        """Half width about the mixture's mean that holds 95 %."""
        off, scale = middles - self.weight @ middles, self.scatter * np.sqrt(squares)
        t = scipy.stats.t(self.dof)

        def short(half: float) -> float:
            return float(self.weight @ (t.cdf((half - off) / scale) - t.cdf((-half - off) / scale))) - 0.95

        far = float(np.sqrt(self.weight @ (off**2 + scale**2)))
        return float(scipy.optimize.brentq(short, 0, 100 * far, xtol=1e-9 * far))

    def answers(self, x: float) -> tuple[float, float, float, float]:
        """Expected value at x and its band for the next reading, the rise and its band."""
        middles, squares = self.ahead(1.0, (x - self.middle) / self.spread)
        rises, doubts = self.ahead(0.0, 1.0)
        next_half, rise_half = self.half(middles, squares + 1), self.half(rises, doubts)
        return (
            float(self.weight @ middles),
            next_half,
            float(self.weight @ rises) / self.spread,
            rise_half / self.spread,
        )


def readings_of(chance: random.Random, levels: str) -> tuple[Units, float, float]:
    """Readings of up to eight units, what they are taken to scatter by, and an x."""
    size, differ, scatters, level = {
        POOLED: (150.0, (0, 20, 80), (1, 4, 10), chance.choice([0, 2, 8, 20])),
        FREE: (-2.0, (0, 0.3, 1.5), (1, 3, 6), chance.choice([0, 10, 30])),
        NONE: (0.004, (0, 0.001, 0.004), (0.003, 0.01, 0.02), 0),
    }[levels]
    differs, scatter = chance.choice(differ), chance.choice(scatters)

    def place() -> float:
        return chance.uniform(57.8, 58.4) if levels == POOLED else float(chance.randrange(1, 16))

    units: Units = []
    for _ in range(chance.randrange(1, 9)):
        start, rise = (0.0 if levels == NONE else 100) + chance.gauss(0, level), size + chance.gauss(0, differs)
        xs = [place() for _ in range(chance.randrange(1, 6))]
        units.append([(x, start + rise * (x - 58.1 * (levels == POOLED)) + chance.gauss(0, scatter)) for x in xs])
    units[-1] += [(x, x * size + 100 * (levels != NONE) - 58.1 * size * (levels == POOLED)) for x in (place(), place())]
    return units, scatter * chance.uniform(0.5, 2), place()


@pytest.mark.parametrize("levels", [POOLED, FREE, NONE])
def test_all_ratios_are_gone_through_as_by_dense_matrices(levels: str, rounds: int) -> None:
    off = []
    for seed in range(5 * rounds):
        chance = random.Random(f"{levels} {seed}")
        units, scatter, x = readings_of(chance, levels)
        if len({reading[0] for reading in units[-1]}) == 1:
            continue
        own = chance.randrange(len(units))
        band = Band(units, own, scatter, levels=levels)
        value, half, slope, slope_half = Dense(units, own, scatter, levels).answers(x)
        values, widths = (band.value(x) - value) / half, band.half(x) / half - 1
        slopes, slope_widths = (band.slope - slope) / slope_half, band.slope_half() / slope_half - 1
        off.append((max(abs(values), abs(widths), abs(slopes), abs(slope_widths)), seed))
    assert max(off) < (AT_MOST, 0)
    far = [row for row in off if row[0] > WITHIN]
    assert len(far) <= HOW_MANY * len(off), far
