"""Wear from earlier builds beside generalized least squares on whole matrices, and what its bands hold."""

import math
from typing import Any

import numpy
import pytest

from server.engine.experience.band import SEEN, Band
from server.engine.experience.pooled import APART, FREE, NONE, Pooled

Lives = list[list[tuple[float, float]]]


def lives_of(seed: int, through: bool) -> Lives:
    """Two to eight lives with one to five readings after one to twelve outings."""
    rng = numpy.random.default_rng(seed)
    lives = []
    for _ in range(rng.integers(2, 9)):
        use = rng.choice(numpy.arange(1, 13), rng.integers(1, 6), replace=False)
        rise = -1.5 + 0.6 * rng.normal()
        start = 0.0 if through else rng.uniform(60, 130)
        lives.append([(float(x), float(start + rise * x + 2 * rng.normal())) for x in numpy.sort(use)])
    if all(len(life) < 2 for life in lives):
        lives[-1].append((20.0, 50.0))
    return lives


class Dense:
    """The same model with a column for each life's own level, on matrices of all readings."""

    def __init__(self, lives: Lives, rise: float, step: float, through: bool) -> None:
        rows = [(life, x, y) for life, points in enumerate(lives) for x, y in points]
        self.y = numpy.array([y for _, _, y in rows])
        x = numpy.array([x for _, x, _ in rows])
        of = numpy.array([life for life, _, _ in rows])
        self.told = [] if through else sorted(set(of.tolist()))
        self.fixed = numpy.column_stack([*[(of == life).astype(float) for life in self.told], x])
        same = (of[:, None] == of[None, :]).astype(float)
        self.v = numpy.eye(len(x)) + (rise / step) ** 2 * numpy.outer(x, x) * same
        self.inverse = numpy.linalg.inv(self.v)
        self.cov = numpy.linalg.inv(self.fixed.T @ self.inverse @ self.fixed)
        self.beta = self.cov @ self.fixed.T @ self.inverse @ self.y
        self.rest = self.y - self.fixed @ self.beta
        self.left = float(self.rest @ self.inverse @ self.rest)
        self.x, self.of, self.size = x, of, (rise / step) ** 2

    def ahead(self, use: float) -> tuple[float, float]:
        """What the first life's line gives at `use`, and its squared doubt for a scatter of 1."""
        row = numpy.array([*[1.0 if life == 0 else 0.0 for life in self.told], use])
        c = self.size * use * self.x * (self.of == 0)
        value = row @ self.beta + c @ self.inverse @ self.rest
        off = row - self.fixed.T @ self.inverse @ c
        return float(value), float(self.size * use * use - c @ self.inverse @ c + off @ self.cov @ off)


@pytest.mark.parametrize("levels", [FREE, NONE])
@pytest.mark.parametrize("rise", [0.0, 0.3, 2.0])
def test_lines_and_doubts_are_those_of_whole_matrices(levels: str, rise: float, rounds: int) -> None:
    for seed in range(40 * rounds):
        lives = lives_of(seed, levels == NONE)
        pooled = Pooled(lives, levels)
        level = 0.0 if levels == NONE else APART
        fit = pooled.fit(level, rise)
        assert fit is not None
        dense = Dense(shifted(lives, pooled), rise, pooled.step, levels == NONE)
        # A level that draws others by a hundred-millionth leaves that much of its square.
        assert fit.left == pytest.approx(dense.left, rel=1e-5, abs=1e-3), seed
        assert pooled.count - pooled.fixed == len(dense.y) - dense.fixed.shape[1]
        line = pooled.predict(fit, 0, level, rise)
        d11, d12, d22 = line.doubt
        for use in (2.0, 9.0, 15.0):
            z = pooled.scaled(use)
            value, doubt = dense.ahead(use - pooled.middle)
            assert pooled.base + line.level + line.rise * z == pytest.approx(value, rel=1e-5, abs=1e-4), seed
            assert d11 + 2 * d12 * z + d22 * z * z == pytest.approx(doubt, rel=1e-5, abs=1e-5), seed


def shifted(lives: Lives, pooled: Pooled) -> Lives:
    """Use about the middle, where the random rise turns."""
    return [[(x - pooled.middle, y) for x, y in life] for life in lives]


def coverage(own: int, others: int, sets: int) -> float:
    """Share, in percent, of torques three outings ahead that lie within the band of 95 %."""
    rng = numpy.random.default_rng(100 * own + others)
    held = 0
    for _ in range(sets):
        scatter = 2.5 * math.sqrt(SEEN / rng.chisquare(SEEN))

        def life(readings: int, scatter: float = scatter) -> tuple[Any, Any]:
            use = numpy.sort(rng.choice(numpy.arange(1, 11), readings, replace=False)).astype(float)
            torque = rng.uniform(70, 120) + (-1.5 + 0.5 * rng.normal()) * use + scatter * rng.normal(size=readings)
            return use, torque

        use, torque = life(own + 1)
        lives = [list(zip(use[:-1].tolist(), torque[:-1].tolist(), strict=True))]
        lives += [
            list(zip(*(row.tolist() for row in life(int(rng.integers(2, 5)))), strict=True)) for _ in range(others)
        ]
        band = Band(lives, 0, 2.5, levels=FREE)
        held += abs(torque[-1] - band.value(use[-1])) <= band.half(use[-1])
    return 100 * held / sets


@pytest.mark.parametrize("own", [1, 2, 3])
@pytest.mark.parametrize("others", [2, 5, 20])
def test_the_band_holds_its_share_of_what_comes(own: int, others: int, rounds: int) -> None:
    sets = 20 * rounds
    assert 93 - 300 * math.sqrt(0.0475 / sets) <= coverage(own, others, sets) <= 100
