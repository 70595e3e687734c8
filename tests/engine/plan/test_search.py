"""The exact search against going through every arrangement."""

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from server.engine.plan import search
from server.engine.plan.bitsets import bits_of
from server.engine.plan.reachable import Kind
from server.engine.plan.search import Arrangements, Best

from . import brute


def few_kinds(chance: random.Random) -> list[Kind]:
    """One to three kinds with a few places, plates and pieces; coarse sizes, so that ties are common."""
    kinds = []
    for _ in range(chance.choice([1, 2, 2, 3])):
        places = (chance.randint(0, 2), chance.randint(0, 2))
        step = chance.choice([1, 1, 5, 10])
        sizes = [step * chance.randint(0, 30) for _ in range(chance.randint(1, 4))]
        fitted: tuple[dict[int, int], dict[int, int]] = ({}, {})
        for side in (0, 1):
            for _ in range(chance.randint(0, places[side])):
                size = chance.choice(sizes)
                fitted[side][size] = fitted[side].get(size, 0) + 1
        stock = [(step * chance.randint(0, 30), chance.randint(1, 3)) for _ in range(chance.randint(0, 3))]
        kinds.append(Kind(places, fitted, stock))
    return kinds


def sums_of(plates: Arrangements) -> list[int]:
    """All sums that any number of changes gives."""
    return [plates.base + plates.unit * bit for row in plates.sums.values() for bit in bits_of(row)]


def cost(found: Best | None) -> tuple[int, int, float] | None:
    """What a plan is judged by."""
    return None if found is None else (found.changes, abs(found.apart), found.miss)


def check(chance: random.Random) -> bool:
    """Compare one case with going through all; whether anything was possible in it, and proven to be the best."""
    kinds = few_kinds(chance)
    plates = Arrangements(kinds)
    low = chance.choice(sums_of(plates) or [0]) - chance.randint(0, 30)
    high, lean = low + chance.randint(0, 60), chance.randint(-50, 50)
    ideal = chance.uniform(low, high)

    def miss(total: int) -> float:
        return abs(total - ideal)

    found = plates.best(low, high, miss, lean)
    count, best = brute.best(kinds, low, high, miss, lean)
    assert plates.count == count
    if found is None or found.proven:
        assert cost(found) == best
    else:
        assert best is not None
        assert found.changes == best[0]
        assert (abs(found.apart), found.miss) >= best[1:]
    if found is not None:
        assert low <= found.total <= high
        adds_up(kinds, found, lean)
    return found is not None and found.proven


def adds_up(kinds: list[Kind], found: Best, lean: int) -> None:
    """What the plan says it takes is there, fills the places, and gives its sums."""
    first = second = changes = 0
    filled = [[0, 0] for _ in kinds]
    for (kind, side, what), one, two in found.taken:
        if side is None:
            size, count = kinds[kind].stock[what]
            assert one + two <= count
            changes += one + two
        else:
            size = what
            assert (one, two)[side] <= kinds[kind].fitted[side][size]
            assert (one, two)[1 - side] == 0
        first, second = first + one * size, second + two * size
        filled[kind][0] += one
        filled[kind][1] += two
    assert [tuple(places) for places in filled] == [kind.places for kind in kinds]
    assert (changes, first + second, first - second + lean) == (found.changes, found.total, found.apart)


def test_four_thousand_small_cases_equal_going_through_all() -> None:
    chance = random.Random(20261125)
    possible = sum(check(chance) for _ in range(4000))
    # The cases are worth something only if many are possible, and some are not.
    assert 1500 < possible < 3500


def test_sweeping_through_the_window_equals_going_through_all(monkeypatch: pytest.MonkeyPatch) -> None:
    # Without patience every case with more than one state is swept, whatever its size.
    monkeypatch.setattr(search, "PATIENCE", 0)
    chance = random.Random(4)
    assert sum(check(chance) for _ in range(1500)) > 500


def test_a_sweep_that_grows_too_large_leaves_it_to_the_search(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(search, "PATIENCE", 0)
    monkeypatch.setattr(search, "MOST_STATES", 1)
    chance = random.Random(5)
    assert sum(check(chance) for _ in range(500)) > 150


def test_a_search_that_gives_up_has_the_fewest_changes_and_says_what_it_did_not_prove(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    for name, value in (("PATIENCE", 0), ("MOST_STATES", 1), ("LAST_PATIENCE", 0), ("FEW_STATES", 4)):
        monkeypatch.setattr(search, name, value)
    chance = random.Random(6)
    proven = sum(check(chance) for _ in range(500))
    # Possible are more than 300 of them; some need no more than a few states.
    assert 20 < proven < 250


@settings(max_examples=300)
@given(st.integers(0, 2**32))
def test_any_seed_does(seed: int) -> None:
    check(random.Random(seed))


def classes(start: int, many: int) -> list[tuple[int, int]]:
    """Thickness classes 50 apart, plenty of each."""
    return [(start + 50 * step, 20) for step in range(many)]


FITTED_FRICTION = ({2460: 2, 2440: 1, 2450: 1}, {2470: 1, 2430: 1, 2460: 1, 2450: 1})
FITTED_SEPARATORS = ({1490: 2, 1480: 2, 1470: 1}, {1500: 2, 1490: 2, 1480: 1})


@pytest.mark.parametrize(
    ("kinds", "at_least"),
    [
        ([Kind((4, 4), ({}, {}), classes(2400, 8)), Kind((5, 5), ({}, {}), classes(1400, 6))], 10**14),
        (
            [
                Kind((4, 4), FITTED_FRICTION, classes(2400, 6)),
                Kind((5, 5), FITTED_SEPARATORS, classes(1400, 5)),
            ],
            10**14,
        ),
        (
            [
                Kind((4, 4), ({}, {}), [(2400 + 13 * piece, 1) for piece in range(14)]),
                Kind((5, 5), ({}, {}), [(1400 + 11 * piece, 1) for piece in range(14)]),
            ],
            10**9,
        ),
    ],
    ids=["classes, all go", "classes, some stay", "measured pieces"],
)
def test_more_than_a_billion_arrangements_are_covered(kinds: list[Kind], at_least: int) -> None:
    plates = Arrangements(kinds)
    assert plates.count >= at_least
    sums = sorted(sums_of(plates))
    middle = sums[len(sums) * 3 // 4]
    found = plates.best(middle - 30, middle + 30, lambda total: abs(total - middle))
    assert found is not None
    adds_up(kinds, found, 0)
    # Nothing with fewer changes lies in the window: said by the sums alone, which know nothing of sides.
    for changes, row in plates.sums.items():
        if changes < found.changes:
            assert not [1 for bit in bits_of(row) if abs(plates.base + plates.unit * bit - middle) <= 30]


def test_scarce_pieces_are_not_used_twice() -> None:
    # Both sides want the one piece of 30; the second best difference has to do.
    plates = Arrangements([Kind((1, 1), ({}, {}), [(30, 1), (20, 1), (24, 1)])])
    found = plates.best(50, 50, lambda total: 0.0)
    assert cost(found) == (2, 10, 0.0)


def test_no_stock_and_no_place_is_one_arrangement() -> None:
    plates = Arrangements([Kind((0, 0), ({}, {}), [])])
    found = plates.best(0, 0, lambda total: 0.0, lean=7)
    assert plates.count == 1
    assert cost(found) == (0, 7, 0.0)


def test_places_that_nothing_fills_cannot_be_had() -> None:
    plates = Arrangements([Kind((1, 1), ({}, {}), [(30, 1)])])
    assert plates.count == 0
    assert plates.best(0, 100, lambda total: 0.0) is None
