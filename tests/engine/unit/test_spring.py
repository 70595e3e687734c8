"""What a disc spring gives, held to laws that do not come from its formula."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.engine import BadInput, calc
from server.engine.unit.spring import (
    FIELDS,
    Column,
    Disc,
    column_energy,
    column_load,
    column_squeeze,
    cone_height,
    deflection_for,
    disc_of,
    energy,
    flat_at,
    free_height,
    k4,
    load,
    peak,
    rate,
    rising_until,
)
from server.engine.unit.spring_stress import stresses


def disc(de: float, di: float, t: float, h0: float, flats: float | None = None) -> Disc:
    """A disc of spring steel with cone height h0."""
    fields = {"de_mm": de, "di_mm": di, "t_mm": t, "l0_mm": t + h0, "flats_t_mm": flats}
    return disc_of(FIELDS.read(fields, "spring"))


@st.composite
def discs(draw: st.DrawFn, most: float = 3.0) -> Disc:
    """Discs of every shape that the form takes, up to this ratio of cone height to thickness."""
    de = draw(st.floats(40, 120))
    di = de / draw(st.floats(1.4, 2.8))
    t = (de - di) * draw(st.floats(0.03, 0.1))
    h0 = t * draw(st.floats(0.1, most))
    # Above h0/t of about 1.5 no disc with flats is made.
    flats = draw(st.none() | st.floats(0.93, 0.97)) if h0 < 1.5 * t else None
    return disc(de, di, t, h0, None if flats is None else flats * t)


SHARES = st.floats(0.01, 0.99)


@given(discs(), SHARES)
def test_the_load_is_the_slope_of_the_energy(spring: Disc, share: float) -> None:
    s, step = share * flat_at(spring), 1e-4 * flat_at(spring)
    # J over mm is 1 000 N.
    slope = 1000 * (energy(spring, s + step) - energy(spring, s - step)) / (2 * step)
    scale = max(abs(load(spring, place * cone_height(spring) / 8)) for place in range(1, 9))
    assert slope == pytest.approx(load(spring, s), abs=1e-6 * scale)


@given(discs(), SHARES)
def test_the_rate_is_the_slope_of_the_load(spring: Disc, share: float) -> None:
    s, step = share * flat_at(spring), 1e-4 * flat_at(spring)
    slope = (load(spring, s + step) - load(spring, s - step)) / (2 * step)
    assert slope == pytest.approx(rate(spring, s), abs=1e-6 * rate(spring, 0.0))


@given(discs(), SHARES)
def test_a_load_leads_back_to_its_deflection(spring: Disc, share: float) -> None:
    s = share * rising_until(spring)
    back = deflection_for(spring, load(spring, s))
    assert load(spring, back) == pytest.approx(load(spring, s), rel=1e-12)
    # At the very top of a peak many deflections give the same load to the last bit.
    if share < 0.95:
        assert back == pytest.approx(s, rel=1e-9)


@given(discs())
def test_more_than_the_spring_has_is_refused(spring: Disc) -> None:
    with pytest.raises(BadInput, match="at most"):
        deflection_for(spring, 1.0001 * load(spring, rising_until(spring)), "load_n")


@given(discs(), SHARES, SHARES)
def test_the_load_rises_up_to_the_peak_and_falls_after_it(spring: Disc, first: float, second: float) -> None:
    top, flat = rising_until(spring), flat_at(spring)
    low, high = sorted((first * top, second * top))
    assert load(spring, low) <= load(spring, high) + 1e-9 * load(spring, top)
    if peak(spring) is not None:
        beyond = min(flat, top + first * (flat - top))
        assert load(spring, beyond) <= load(spring, top) * (1 + 1e-12)


@given(discs(1.4))
def test_without_flats_and_below_the_root_of_two_there_is_no_peak(spring: Disc) -> None:
    if spring.reduced == spring.t:
        assert peak(spring) is None


def test_just_above_the_root_of_two_there_is_a_peak() -> None:
    assert peak(disc(100, 50, 2, 2 * 1.42)) is not None
    assert peak(disc(100, 50, 2, 2 * 1.41)) is None


@given(discs(), SHARES, st.floats(0.5, 3))
def test_lengths_times_k_give_load_times_k_squared_and_the_same_stress(spring: Disc, share: float, k: float) -> None:
    large = Disc(
        k * spring.de, k * spring.di, k * spring.t, k * spring.l0, spring.elastic, spring.poisson, k * spring.reduced
    )
    s = share * cone_height(spring)
    assert load(large, k * s) == pytest.approx(k**2 * load(spring, s), rel=1e-9, abs=1e-6)
    assert energy(large, k * s) == pytest.approx(k**3 * energy(spring, s), rel=1e-9)
    for small_stress, large_stress in zip(stresses(spring, s), stresses(large, k * s)):
        assert large_stress == pytest.approx(small_stress, rel=1e-9, abs=1e-6)


@given(discs(1.3), st.integers(1, 6), st.integers(1, 6), SHARES)
def test_parallel_multiplies_the_load_and_series_shares_the_travel(
    spring: Disc, parallel: int, nests: int, share: float
) -> None:
    # Flats can give even a flat cone a peak; beyond it the same load belongs to less travel.
    s = share * 0.99 * min(peak(spring) or cone_height(spring), cone_height(spring))
    column = Column(spring, parallel, nests)
    assert column_load(column, nests * s) == pytest.approx(parallel * load(spring, s), rel=1e-12)
    assert column_energy(column, nests * s) == pytest.approx(parallel * nests * energy(spring, s), rel=1e-12)
    assert column_squeeze(column, parallel * load(spring, s)) == pytest.approx(nests * s, rel=1e-8)


@given(discs(), SHARES)
def test_without_load_there_is_no_stress_and_om_is_compression(spring: Disc, share: float) -> None:
    assert all(value == 0 for value in stresses(spring, 0.0))
    assert stresses(spring, share * cone_height(spring)).om < 0


def test_flats_that_take_nothing_away_change_nothing() -> None:
    assert k4(disc(180, 92, 10, 4, 9.999999)) == pytest.approx(1.0, abs=1e-5)
    assert k4(disc(180, 92, 10, 4)) == 1.0


SPRING = {"de_mm": 100, "di_mm": 51, "t_mm": 3.5, "l0_mm": 6.3}
PEAKING = {"de_mm": 125, "di_mm": 64, "t_mm": 2, "l0_mm": 5.6}


def names(result: dict[str, object]) -> set[str]:
    """Names of the warnings in a result."""
    warnings = result["warnings"]
    assert isinstance(warnings, list)
    return {warning["name"] for warning in warnings}


def test_the_curve_runs_from_loose_to_flat_and_its_zones_lie_on_it() -> None:
    result = calc("spring", {"spring": PEAKING, "points": 25})
    assert len(result["curve"]) == 25
    assert result["curve"][0] == {"deflection_mm": 0.0, "load_n": 0.0}
    assert result["curve"][-1]["deflection_mm"] == pytest.approx(3.6)
    zones = {zone["name"]: (zone["from_mm"], zone["to_mm"]) for zone in result["zones"]}
    assert zones["slight"] == (0.0, pytest.approx(0.15 * 3.6))
    assert zones["far"] == (pytest.approx(0.75 * 3.6), pytest.approx(3.6))
    assert zones["past_peak"][0] == result["peak_mm"] == result["most_mm"]
    assert max(row["load_n"] for row in result["curve"]) <= result["most_n"]


@pytest.mark.parametrize(
    ("spring", "deflection", "name"),
    [
        (SPRING, 0.2, "slight"),
        (SPRING, 2.3, "far"),
        (SPRING, 2.8, "solid"),
        (PEAKING, 1.0, "peak"),
        (PEAKING, 3.0, "past_peak"),
        ({"de_mm": 25, "di_mm": 12.2, "t_mm": 1.5, "l0_mm": 2.05}, 0.3, "sets"),
    ],
)
def test_each_danger_is_named(spring: dict[str, float], deflection: float, name: str) -> None:
    assert name in names(calc("spring", {"spring": spring, "deflection_mm": deflection}))


def test_a_spring_in_its_best_range_has_no_warning() -> None:
    assert names(calc("spring", {"spring": SPRING, "deflection_mm": 1.4})) == set()


FLATS = {"de_mm": 200, "di_mm": 102, "t_mm": 12, "l0_mm": 16.2, "flats_t_mm": 11.25}


def test_a_spring_with_contact_flats_may_be_squeezed_until_it_is_flat_and_no_further() -> None:
    # 16.2 less 12 is 4.2 mm; the flats leave 16.2 less 11.25.
    assert calc("spring", {"spring": FLATS})["flat_mm"] == pytest.approx(4.95)
    between = calc("spring", {"spring": FLATS, "deflection_mm": 4.5})
    assert between["at"]["load_n"] > calc("spring", {"spring": FLATS, "deflection_mm": 4.2})["at"]["load_n"]
    assert "solid" not in names(between)
    assert [warning["text"] for warning in between["warnings"] if warning["name"] == "far"] == [
        "The spring is past three quarters of its cone height: the real load is above this figure."
    ]
    with pytest.raises(BadInput, match=r"flat at 4\.950 mm"):
        calc("spring", {"spring": FLATS, "deflection_mm": 4.96})


def test_a_measured_disc_with_contact_flats_may_stand_lower_than_its_full_thickness() -> None:
    sunk = {"slot": "S1", "spring": FLATS, "points_mm": [11.6, 11.6, 11.6], "minimum_mm": 11.5, "fitted_mm": 11.3}
    assert calc("spring_check", {"gauge": {}, "springs": [sunk]})["springs"][0]["load_new_n"] > 0
    with pytest.raises(BadInput, match="cannot stand"):
        calc("spring_check", {"gauge": {}, "springs": [{**sunk, "points_mm": [11.2, 11.6, 11.6]}]})


def test_asking_by_load_and_by_travel_is_the_same() -> None:
    by_travel = calc("spring", {"spring": {**SPRING, "parallel": 2, "series": 3}, "deflection_mm": 4.5})["at"]
    by_load = calc("spring", {"spring": {**SPRING, "parallel": 2, "series": 3}, "load_n": by_travel["load_n"]})["at"]
    assert by_load["deflection_mm"] == pytest.approx(4.5, rel=1e-9)
    assert by_load["energy_j"] == pytest.approx(by_travel["energy_j"], rel=1e-9)


def test_nested_discs_with_flats_lie_on_the_thickness_that_they_have() -> None:
    # DIN EN 16984, height of a column, with t' in place of t for discs with contact flats; from memory.
    flat = disc(200.0, 102.0, 12.0, 4.2, 11.2)
    assert free_height(Column(flat, 3, 2)) == pytest.approx(2 * (16.2 + 2 * 11.2))


def test_what_a_spring_cannot_do_is_refused_in_the_readers_units() -> None:
    disc = {"de_mm": 100, "di_mm": 51, "t_mm": 3.5, "l0_mm": 6.3}
    # Flat at 6.3 - 3.5 = 2.8 mm, which is 110.2 thou.
    with pytest.raises(BadInput) as refusal:
        calc("spring", {"spring": disc, "deflection_mm": 3, "write_lengths_in": "thou"})
    assert refusal.value.reason == "The spring is flat at 110.2 thou: it goes no further."
    with pytest.raises(BadInput) as refusal:
        calc("spring", {"spring": disc, "load_n": 20000, "write_lengths_in": "thou"})
    assert refusal.value.reason.endswith(" thou.")
    assert " mm" not in refusal.value.reason
