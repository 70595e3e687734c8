"""How fast the machine was while it measured: processors that others share are slower at some times than at others."""

from .figures import median, seconds

STEPS = 500_000
TURNS = 9


def work() -> int:
    """A fixed piece of plain Python."""
    total = 0
    for step in range(STEPS):
        total += step * step % 7
    return total


def pace() -> float:
    """Seconds that a fixed piece of plain Python takes now, the middle of a few turns."""
    return median(seconds(work) for _ in range(TURNS))


def told(paces: list[float]) -> str:
    """The paces of a run, in words.

    >>> told([0.05, 0.04, 0.06])
    'a fixed piece of plain Python, timed before each measure, took 50 ms (40 to 60)'
    """
    least, middle, most = (f"{1000 * value:.0f}" for value in (min(paces), median(paces), max(paces)))
    return f"a fixed piece of plain Python, timed before each measure, took {middle} ms ({least} to {most})"
