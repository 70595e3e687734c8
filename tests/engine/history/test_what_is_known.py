"""What is derived from entries that tell less or more than usual: old ones, whole ones, and what two checks share."""

from typing import Any

import pytest

from server.engine import calc, calc_stored
from server.engine.history.built_now import limit_of, when_measured
from server.engine.history.check_sides import scatter_of, sources, written_down

from ..checks import BREAKAWAY, PLATES, UNIT, chain, changed
from .entries import check_near, entry

RAMPS = {"pin_radius_mm": 40, "drive_deg": 45, "coast_deg": 45, "mu": 0.1}
INSIDE = changed(UNIT, layout="between_rings", chain=chain("between_rings"), ramps=RAMPS)
BUILD = {**calc("standing", {"entries": [entry(1, "unit", INSIDE, "2026-03-01T09:00:00+01:00")]})["built"]["for_check"]}


def held_check(low: float, build: dict[str, Any]) -> dict[str, Any]:
    """A check with the case held, where the ramps press beside the spring."""
    steady = {way: [low, low + 1, low] for way in ("forward", "reverse")}
    return changed(BREAKAWAY, held="bench_case_held", steady_nm=steady, wrench__high_nm=300, build=build)


def test_ramps_that_were_taken_alike_are_off_alike_in_both_checks() -> None:
    def expanded(first: dict[str, Any], second: dict[str, Any]) -> float:
        bodies = [held_check(250, first), held_check(180, second)]
        checks = [entry(n, "torque_check", body, f"2026-0{n}-02T09:00:00+01:00") for n, body in enumerate(bodies, 2)]
        taken_in = entry(1, "unit", INSIDE, "2026-03-01T09:00:00+01:00")
        return float(calc("change", {"entries": [taken_in, *checks]})["compared"]["expanded_nm"])

    assert BUILD["ramps"]["mu"] == 0.1
    other = changed(BUILD, ramps__mu=0.1001)
    assert expanded(BUILD, BUILD) < 0.8 * expanded(BUILD, other)


def test_what_a_checks_doubt_comes_from_is_named_by_what_was_typed() -> None:
    body = held_check(180, BUILD)
    assert sources(body) == {
        "tool": written_down(body["wrench"]),
        "ramps": "bench_case_held" + written_down(BUILD),
    }
    assert sources({"scale": {"name": "Spring scale"}, "bar": {"length_mm": 500}}) == {
        "tool": "{name:spring scale}",
        "lengths": "{length_mm:500}",
    }
    assert sources({}) == {}
    assert sources({"wrench": {"name": " "}}) == {}
    assert written_down({"b": " Two  WORDS ", "a": 1, "empty": ""}) == written_down({"a": "1", "b": "two words"})


def test_scatter_is_pooled_over_both_directions() -> None:
    # Pooled variance: (2 · 0.3² + 1 · 0.6²) / 3.
    shown = {
        "directions": {
            "forward": {"count": 3, "scatter_nm": 0.3},
            "reverse": {"count": 2, "scatter_nm": 0.6},
        }
    }
    assert list(scatter_of(shown)) == pytest.approx([(0.54 / 3) ** 0.5, 3.0])
    assert scatter_of({"directions": {"forward": {"count": 1, "scatter_nm": 0.3}, "reverse": None}}) == (0.0, 0.0)
    assert scatter_of({}) == (0.0, 0.0)


@pytest.mark.parametrize(
    ("at", "text"),
    [
        ([None, None], "Plates not measured since they were fitted: taken as fitted or new."),
        (["2026-05-12T10:00:00Z", "2026-05-12T11:00:00Z"], "Plates measured on 2026-05-12."),
        (["2026-05-12T10:00:00Z", "2026-04-30T11:00:00Z"], "Plates measured between 2026-04-30 and 2026-05-12."),
        (
            ["2026-05-12T10:00:00Z", None],
            "1 of 2 plates measured, on 2026-05-12; the others are taken as fitted or new.",
        ),
    ],
)
def test_when_the_plates_were_measured_is_said(at: list[str | None], text: str) -> None:
    places = [{"part": "friction", "at": at[0]}, {"part": "ring", "at": None}, {"part": "shim", "at": at[1]}]
    assert when_measured(places) == text


@pytest.mark.parametrize(
    ("new", "given", "judged_by", "limit"),
    [
        # The definition's 2.5 mm plate, and others that differ from it by less and by more than a tenth.
        (2.5, 2.3, None, 2.3),
        (2.26, 2.2, None, 2.2),
        (2.24, 2.2, None, None),
        (2.74, 2.3, 2.4, 2.3),
        (2.76, 2.3, 2.4, 2.4),
        (2.3, 2.3, None, None),
        # One of another kind keeps the limit that it was judged by, unless that is none or only common practice, 92 %.
        (3.0, 2.3, 2.8, 2.8),
        (3.0, 2.3, 2.76, None),
        (3.0, 2.3, 3.0, None),
        (3.0, None, None, None),
        (2.5, None, 2.4, 2.4),
    ],
)
def test_a_limit_belongs_to_the_plate(
    new: float, given: float | None, judged_by: float | None, limit: float | None
) -> None:
    item = {"new_mm": 2.5, "minimum_mm": given}
    assert limit_of(item, new, {"minimum_mm": judged_by}) == limit
    if judged_by is None:
        assert limit_of(item, new, None) == limit


def test_plates_read_with_a_micrometer_that_forms_refuse_today_are_compared_all_the_same() -> None:
    checks = [entry(n, "torque_check", held_check(200, BUILD), f"2026-0{n}-02T09:00:00+01:00") for n in (2, 4)]
    measured = entry(3, "plate_check", PLATES, "2026-03-02T09:00:00+01:00")
    taken_in = entry(1, "unit", INSIDE, "2026-01-01T09:00:00+01:00")
    measured["body"] = changed(PLATES, micrometer__division_mm=7)
    result = calc("change", {"entries": [taken_in, checks[0], measured, checks[1]]})
    assert result["fault"] == ""
    assert result["loss"] is not None


def test_a_definition_of_long_ago_that_is_refused_today_goes_on_as_it_stands() -> None:
    old = entry(1, "unit", UNIT, "2026-03-01T09:00:00+01:00")
    old["shown"] = changed(old["shown"], checked__colour="red")
    result = calc("standing", {"entries": [old]})["built"]
    assert result["unit"]["colour"] == "red"
    assert result["crush_mm"] == old["shown"]["crush_mm"]


def test_a_definition_that_kept_no_figures_is_no_unit_as_built() -> None:
    old = entry(1, "unit", UNIT, "2026-03-01T09:00:00+01:00")
    del old["shown"]["checked"]
    check = entry(2, "torque_check", BREAKAWAY, "2026-03-02T09:00:00+01:00")
    result = calc("standing", {"entries": [old, check]})
    assert result["built"] is None
    assert result["torque"]["verdict"] == "go"


def test_no_go_stands_while_the_definition_contradicts_itself() -> None:
    # Engines before 1.17 accepted a spring that would be flat; its entry is as they wrote it.
    body = changed(UNIT, cavity_mm=60.4)
    accepted = calc_stored("unit", body, "1.10")
    flat = entry(1, "unit", UNIT, "2026-03-01T09:00:00Z", seq=1) | {"body": body, "shown": accepted, "engine": "1.10"}
    check = entry(2, "torque_check", check_near(100), "2026-04-01T09:00:00Z", seq=2)
    found = calc("standing", {"entries": [flat, check]})
    assert found["torque"]["verdict"] == "go"
    assert found["verdict"] is None
    assert "139 % of its travel" in found["reason"]
    assert found["contradiction"]["field"] == "spring.l0_mm"
    assert found["due"][0]["name"] == "definition"
    mended = entry(3, "unit", UNIT, "2026-04-02T09:00:00Z", seq=3)
    assert calc("standing", {"entries": [flat, check, mended]})["verdict"] == "go"


def test_ramps_that_lock_solid_are_found_without_the_spring() -> None:
    ramps = {"pin_radius_mm": 20, "drive_deg": 10, "coast_deg": 80}
    for hidden in ({}, {"spring": None, "cavity_mm": None}):
        unit = entry(1, "unit", changed(UNIT, ramps=ramps, **hidden), "2026-03-01T09:00:00Z", seq=1)
        found = calc("standing", {"entries": [unit]})
        assert [row["name"] for row in found["findings"]] == ["solid_drive"]
        assert found["verdict"] == "rework"


def test_a_highest_torque_of_0_is_none() -> None:
    unit = changed(UNIT, service={"high_nm": 0})
    found = calc("standing", {"entries": [entry(1, "unit", unit, "2026-03-01T09:00:00+01:00", seq=1)]})
    assert found["contradiction"] is None
    assert found["limits"]["service"] is None
    bare = {"name": "Bare", "service": {"high_nm": 0}}
    assert "check" in {row["name"] for row in calc("so_far", {"unit": bare})["lacks"]}
    more = bare | {"service": {"high_nm": 90}}
    assert "check" not in {row["name"] for row in calc("so_far", {"unit": more})["lacks"]}


def test_a_measured_torque_stands_for_the_spring_in_what_a_unit_lacks_for_its_lock() -> None:
    half = {name: value for name, value in INSIDE.items() if name not in ("spring", "cavity_mm")}
    taken_in = entry(1, "unit", half, "2026-03-01T09:00:00+01:00")
    check = entry(2, "torque_check", BREAKAWAY, "2026-03-02T09:00:00+01:00")
    lacking = {row["name"]: row for row in calc("standing", {"entries": [taken_in]})["lacks"]}
    assert lacking["lock"]["field"] == "spring.de_mm"
    stands = calc("standing", {"entries": [taken_in, check]})
    assert {row["name"] for row in stands["lacks"]} == set(lacking) - {"lock"}
    assert "lock" not in next(row["text"] for row in stands["opens"] if row["name"] == "spring")
    answer = calc("ramps", {"built": stands["built"]})
    assert answer["breakaway_nm"] == pytest.approx(stands["built"]["measured"]["torque_nm"], rel=1e-12)
    assert "spring or the depth is not known" in answer["basis"]
