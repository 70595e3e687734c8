"""Stresses, contact flats and tolerances of disc springs against published values."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.engine.unit.spring import FIELDS, Column, Disc, cone_height, disc_of, flat_at, load
from server.engine.unit.spring_stress import flat_stress, stresses
from server.engine.unit.spring_tolerance import height_tolerance, load_tolerance, most_to_expect


def disc(de: float, di: float, t: float, l0: float, flats: float | None = None) -> Disc:
    return disc_of(FIELDS.read({"de_mm": de, "di_mm": di, "t_mm": t, "l0_mm": l0, "flats_t_mm": flats}, "spring"))


def test_stress_at_the_outer_edge() -> None:
    # DIN 2093:2013-12, corrections named in its foreword: series A, 25 x 12.2 x 1.5, sigma III at 0.75 h0.
    spring = disc(25, 12.2, 1.5, 2.05)
    assert stresses(spring, 0.75 * cone_height(spring)).iii == pytest.approx(1091, abs=0.5)


@pytest.mark.parametrize(
    ("de", "di", "t", "l0", "flats"),
    [(180, 92, 10, 14, 9.4), (200, 102, 12, 16.2, 11.25), (250, 127, 14, 19.6, 13.1)],
)
def test_discs_with_contact_flats_are_stressed_in_the_middle_as_their_series_is(
    de: float, di: float, t: float, l0: float, flats: float
) -> None:
    # DIN 2093, series A, group 3: made for about 1 600 N/mm2 at h0 = l0 - t; from memory.
    assert flat_stress(disc(de, di, t, l0, flats)) == pytest.approx(-1600, rel=0.02)


def test_stress_in_the_middle_when_flat() -> None:
    # The same: sigma OM when flat, in compression.
    assert flat_stress(disc(25, 12.2, 1.5, 2.05)) == pytest.approx(-1622, abs=0.5)


@pytest.mark.parametrize(
    ("de", "di", "t", "l0", "flats", "expected"),
    [
        (180, 92, 10, 14, 9.4, 125000),
        (200, 102, 12, 16.2, 11.25, 183000),
        (225, 112, 12, 17, 11.25, 171000),
        (250, 127, 14, 19.6, 13.1, 249000),
    ],
)
def test_discs_with_contact_flats_carry_their_load(
    de: float, di: float, t: float, l0: float, flats: float, expected: float
) -> None:
    # DIN EN 16983, dimension table, series A, group 3, load at 0.75 h0: from memory.
    spring = disc(de, di, t, l0, flats)
    assert load(spring, 0.75 * cone_height(spring)) == pytest.approx(expected, rel=0.005)


@pytest.mark.parametrize(
    ("t", "l0", "flats", "to_flat"), [(10, 14, 9.4, 4.6), (12, 16.2, 11.25, 4.95), (14, 19.6, 13.1, 6.5)]
)
def test_a_disc_with_contact_flats_is_flat_at_its_free_height_less_the_reduced_thickness(
    t: float, l0: float, flats: float, to_flat: float
) -> None:
    # DIN EN 16984, h0' = l0 - t', with the sizes of DIN EN 16983, series A, group 3: from memory.
    spring = disc(20 * t, 10 * t, t, l0, flats)
    assert flat_at(spring) == pytest.approx(to_flat)
    assert cone_height(spring) == pytest.approx(l0 - t)
    assert flat_at(disc(20 * t, 10 * t, t, l0)) == cone_height(spring)


@pytest.mark.parametrize(
    ("t", "above", "below"),
    [(1.24, 25, 7.5), (1.25, 15, 7.5), (3.0, 15, 7.5), (3.1, 10, 5), (6, 10, 5)],
)
def test_tolerance_on_the_load(t: float, above: float, below: float) -> None:
    # DIN EN 16983 as given in a spring maker's table.
    assert load_tolerance(t) == (above, below)


@pytest.mark.parametrize(
    ("t", "above", "below"),
    [(1.0, 0.10, 0.05), (1.25, 0.15, 0.08), (2.0, 0.15, 0.08), (2.1, 0.20, 0.10), (3.0, 0.20, 0.10), (6.0, 0.30, 0.15)],
)
def test_tolerance_on_the_free_height(t: float, above: float, below: float) -> None:
    # DIN EN 16983 as given in a spring maker's table.
    assert height_tolerance(t) == (above, below)


@pytest.mark.parametrize(
    ("de", "di", "t", "l0", "tabled"),
    [(50, 25.4, 3, 4.1, 12000), (25, 12.2, 1.5, 2.05, 2910), (100, 51, 3.5, 6.3, 13100)],
)
def test_the_strongest_spring_is_the_table_s_and_its_tolerance(
    de: float, di: float, t: float, l0: float, tabled: float
) -> None:
    # DIN EN 16983, loads at 0.75 h0 of series A and B, as rounded there, and the tolerance on them: from memory.
    spring = disc(de, di, t, l0)
    test = 0.75 * cone_height(spring)
    expected = tabled * (1 + load_tolerance(t)[0] / 100)
    assert most_to_expect(Column(spring, 1, 1), test)[0] == pytest.approx(expected, rel=0.01)


@given(st.sampled_from([(50, 25.4, 3, 4.1), (100, 51, 3.5, 6.3), (40, 20.4, 1, 2.3)]), st.floats(0.1, 0.74))
def test_no_spring_within_its_tolerances_pushes_harder(sizes: tuple[float, ...], travel: float) -> None:
    # DIN EN 16983: free height and load are free within their tolerances, so try them all.
    spring = disc(*sizes)
    test, more = 0.75 * cone_height(spring), 1 + load_tolerance(spring.t)[0] / 100
    largest = 0.0
    for place in range(21):
        up = height_tolerance(spring.t)[0] * place / 20
        tall = disc(spring.de, spring.di, spring.t, spring.l0 + up)
        # The steel may be as stiff as the load at the test's height allows.
        stiff = more * load(spring, test) / load(tall, test + up)
        largest = max(
            [largest, *(stiff * load(tall, travel * cone_height(spring) * step / 40 + up) for step in range(41))]
        )
    assert most_to_expect(Column(spring, 1, 1), travel * cone_height(spring))[0] == pytest.approx(largest, rel=0.002)
    assert most_to_expect(Column(spring, 1, 1), travel * cone_height(spring))[0] >= largest * (1 - 1e-12)
