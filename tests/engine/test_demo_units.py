"""The invented units hang together: the engine finds the figures that their seasons tell of."""

from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest

from server.demo import UNITS, make_season, read_seasons
from server.engine import KINDS, calc

NOW = datetime(2026, 6, 1, 12, tzinfo=UTC)
SEASONS = dict(zip([path.stem for path in sorted(UNITS.glob("*.json"))], read_seasons(UNITS, NOW), strict=True))
DIFFERENTIALS = [name for name in SEASONS if name != "kit"]
of_each_unit = pytest.mark.parametrize("name", DIFFERENTIALS)

# What happens at the start of a season, in the order of the job.
STORY = ["unit", "strip", "plate_check", "spring_check", "ring_check", "rebuild", "close", "torque_check", "refit"]


def rows(name: str, kind: str | None = None) -> list[dict[str, Any]]:
    """The rows of a season, or those of one kind."""
    return [row for row in SEASONS[name]["entries"] if kind in (None, row["kind"])]


def definition(name: str) -> dict[str, Any]:
    [row] = rows(name, "unit")
    body: dict[str, Any] = row["body"]
    return body


def stands(name: str) -> dict[str, Any]:
    """What stands for a unit at the end of its season."""
    return calc("standing", {"entries": make_season(SEASONS[name], NOW), "today": NOW.date().isoformat()})


def day_of(row: dict[str, Any]) -> date:
    return (NOW - timedelta(days=row["days_ago"])).date()


def test_every_layout_is_there() -> None:
    assert {definition(name)["layout"] for name in DIFFERENTIALS} == {"in_line", "two_springs", "between_rings"}


def tools_in(value: Any) -> list[dict[str, Any]]:
    """Every tool that an entry was made with."""
    if isinstance(value, list):
        return [tool for item in value for tool in tools_in(item)]
    if not isinstance(value, dict):
        return []
    is_tool = "name" in value and ("division_mm" in value or "division_nm" in value or "division_n" in value)
    return ([value] if is_tool else []) + [tool for item in value.values() for tool in tools_in(item)]


def test_what_was_read_with_is_in_the_kit() -> None:
    kit = {tool["name"]: tool for row in rows("kit", "kit") for tool in tools_in(row["body"])}
    read = [tool for name in DIFFERENTIALS for row in rows(name) for tool in tools_in(row["body"])]
    assert len({tool["name"] for tool in read}) > 3
    for tool in read:
        kept = kit[tool["name"]]
        assert {field: kept[field] for field in tool if field in kept} == {
            field: value for field, value in tool.items() if field in kept
        }, tool["name"]


def test_one_unit_says_where_it_sits() -> None:
    told = {name: stands(name)["sits"]["text"] for name in DIFFERENTIALS}
    assert sorted(told.values()) == ["", "", "rear axle"]


@pytest.mark.parametrize("name", SEASONS)
def test_the_engine_takes_every_entry(name: str) -> None:
    for row in rows(name):
        calc(KINDS[row["kind"]].calculation, row["body"])


@of_each_unit
def test_new_parts_give_what_was_ordered_and_the_first_check_says_so(name: str) -> None:
    unit = definition(name)
    figures = calc("unit", unit)
    assert figures["warnings"] == []
    assert figures["breakaway_nm"] == pytest.approx(unit["order"]["torque_nm"], abs=unit["order"]["tolerance_nm"])
    checked = calc("breakaway", rows(name, "torque_check")[0]["body"])
    assert checked["verdict"] == "go"
    assert checked["value_nm"] == pytest.approx(figures["breakaway_nm"], rel=0.06)


@of_each_unit
def test_every_check_could_be_read_on_the_unit_as_it_is_built(name: str) -> None:
    unit = definition(name)
    log = [
        {"id": "u", "unit": "u", "kind": "unit", "at": "2026-03-01T09:00:00Z", "body": unit}
        | {"shown": calc("unit", unit)}
    ]
    build = calc("standing", {"entries": log})["built"]["for_check"]
    for row in rows(name, "torque_check"):
        result = calc("breakaway", row["body"])
        known = calc("breakaway", {**row["body"], "build": build})
        assert (known["verdict"], known["value_nm"]) == (result["verdict"], pytest.approx(result["value_nm"]))
        assert "layout" not in {finding["name"] for finding in result["findings"]}


def test_the_three_seasons_end_in_three_verdicts() -> None:
    ends = {name: stands(name)["verdict"] for name in DIFFERENTIALS}
    assert ends == {"bramble_1": "go", "sorrel": "measure_again", "thistle_4": "replace"}


@of_each_unit
def test_a_season_tells_the_whole_job_in_its_order(name: str) -> None:
    season = rows(name)
    times = [(-row["days_ago"], row["clock"]) for row in season]
    assert times == sorted(times)
    kinds = [row["kind"] for row in season]
    places = [kinds.index(kind) for kind in STORY]
    assert places == sorted(places)
    assert kinds.index("rebuild") < len(kinds) - kinds[::-1].index("plate_check")
    outings = rows(name, "torque_check")[1:]
    assert len(outings) >= 4
    assert all(row["body"]["held"].startswith("car_") for row in outings)


@of_each_unit
def test_what_was_signed_is_every_step_of_the_newest_guide(name: str) -> None:
    steps = calc("steps", {})
    for kind in ("strip", "close"):
        for row in rows(name, kind):
            signed = calc(kind, row["body"])
            assert (row["body"]["guide"], signed["left"], signed["held_by_vice"]) == (steps["guide"], [], False)
            assert row["body"]["done"] == [step["name"] for step in steps[kind]]


@of_each_unit
def test_the_vice_held_what_the_guide_showed_then(name: str) -> None:
    season = make_season(SEASONS[name], NOW)
    for place, entry in enumerate(season):
        if entry["kind"] in ("strip", "close"):
            built = calc("standing", {"entries": season[:place]})["built"]
            most = calc("closing", {"unit": built["strongest"]})["vice_most_n"]
            assert entry["body"]["vice_n"] == pytest.approx(most, abs=1)


@of_each_unit
def test_the_torque_is_what_the_measured_parts_come_to(name: str) -> None:
    """Friction of plates in oil: 0.04 to 0.25 is what a plan takes for possible; a unit keeps its own to a fifth."""
    season = make_season(SEASONS[name], NOW)
    frictions: list[float] = []
    for place, entry in enumerate(season):
        if entry["kind"] == "plate_check" and "torque_check" in [earlier["kind"] for earlier in season[:place]]:
            stands = calc("standing", {"entries": season})
        elif entry["kind"] == "torque_check" and not frictions:
            stands = calc("standing", {"entries": season[: place + 1]})
        else:
            continue
        built, torque = stands["built"], stands["torque"]["value_nm"]
        figures = calc("unit", definition(name))
        each = figures["breakaway_nm"] / figures["preload_n"] / definition(name)["friction"]["mu"]
        frictions.append(torque / built["preload_n"] / each)
    assert all(0.08 < mu < 0.15 for mu in frictions), frictions
    assert max(frictions) < 1.2 * min(frictions)


@of_each_unit
def test_the_worn_plates_are_those_that_were_replaced(name: str) -> None:
    before, after = rows(name, "plate_check")[:2]
    judged = {row["slot"]: row["verdict"] for row in calc("plates", before["body"])["plates"]}
    [rebuild] = [row["body"] for row in rows(name, "rebuild")]
    fitted = {part["slot"]: float(part["mm"]) for part in rebuild["fitted"]}
    assert "replace" in judged.values()
    assert {slot for slot, verdict in judged.items() if verdict != "go"} <= fitted.keys()
    measured = calc("plates", after["body"])
    assert measured["verdict"] == "go"
    for row in measured["plates"]:
        if row["slot"] in fitted:
            assert row["mean_mm"] == pytest.approx(fitted[row["slot"]], abs=0.011)


@of_each_unit
def test_springs_rings_and_axle_are_as_the_story_has_them(name: str) -> None:
    for kind in ("spring_check", "ring_check", "refit"):
        assert rows(name, kind)
        assert {calc(KINDS[kind].calculation, row["body"])["verdict"] for row in rows(name, kind)} == {"go"}


@of_each_unit
def test_one_kind_of_plate_has_one_limit_within_a_unit(name: str) -> None:
    parts = list(definition(name)["chain"])
    parts += [plate for row in rows(name, "plate_check") for plate in row["body"]["plates"]]
    limits: dict[tuple[str, float], set[float]] = {}
    for part in parts:
        if part["part"] in ("friction", "separator"):
            limits.setdefault((part["part"], part["new_mm"]), set()).add(part["minimum_mm"])
    assert all(len(found) == 1 for found in limits.values()), limits
    by_slot = {part["slot"]: part for part in parts}
    for row in rows(name, "rebuild"):
        for part in row["body"]["fitted"]:
            assert float(part["minimum_mm"]) == by_slot[part["slot"]]["minimum_mm"]


def due_days(value: Any) -> set[str]:
    """Every day on which a calibration of a body ends."""
    if isinstance(value, dict):
        here = {value["calibration_due"]} if value.get("calibration_due") else set()
        return here.union(*map(due_days, value.values()))
    return set().union(*map(due_days, value)) if isinstance(value, list) else set()


@pytest.mark.parametrize("name", SEASONS)
def test_every_calibration_ends_within_a_year_of_its_use(name: str) -> None:
    for row in rows(name):
        for due in due_days(row["body"]):
            assert timedelta() < date.fromisoformat(due) - day_of(row) <= timedelta(days=365)


@of_each_unit
def test_oil_and_outings_go_with_the_rebuild(name: str) -> None:
    [rebuild] = rows(name, "rebuild")
    all_circumstances = [row["body"]["circumstances"] for row in rows(name, "torque_check")]
    assert {circumstances["oil"] for circumstances in all_circumstances} == {rebuild["body"]["oil"]}
    outings = [circumstances["outings"] for circumstances in all_circumstances]
    assert outings[0] == 0
    assert outings == sorted(outings)


def test_the_slip_is_the_same_figures_read_in_another_unit() -> None:
    [slip] = [row for row in rows("sorrel") if row.get("name") == "slip"]
    [correction] = [row for row in rows("sorrel") if row.get("replaces") == "slip"]
    wrong, right = slip["body"]["steady_nm"], correction["body"]["steady_nm"]
    for way in wrong:
        assert [reading["typed"] for reading in wrong[way]] == [reading["typed"] for reading in right[way]]
        assert {reading["unit"] for reading in wrong[way]} == {"nm"}
        assert {reading["unit"] for reading in right[way]} == {"lbf_ft"}
    assert calc("breakaway", slip["body"])["verdict"] == "rework"
    assert calc("breakaway", correction["body"])["verdict"] == "go"
    assert any("N·m chosen" in row["body"]["text"] for row in rows("sorrel", "note"))


@of_each_unit
def test_ramps_lock_solid_only_where_the_story_is_about_it(name: str) -> None:
    [as_fitted, _] = calc("ramps", {"unit": definition(name)})["fittings"]
    solid = as_fitted["drive"]["locking_high"] >= 1 or as_fitted["coast"]["locking_high"] >= 1
    noted = any("lock this unit solid" in row["body"]["text"] for row in rows(name, "note"))
    assert (solid, noted) == (name == "thistle_4", name == "thistle_4")
