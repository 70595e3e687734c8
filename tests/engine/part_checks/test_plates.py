"""What a user gets from measured plates."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.engine import BadInput, calc

from ..checks import PLATES, changed


def row(**changes: object) -> dict[str, object]:
    """The first plate's row with some of its fields changed."""
    fields = {f"plates__0__{name}": value for name, value in changes.items()}
    result: dict[str, object] = calc("plates", changed(PLATES, **fields))["plates"][0]
    return result


def test_good_plates_may_go() -> None:
    result = calc("plates", PLATES)
    assert result["verdict"] == "go"
    assert result["reason"] == "All 2 measured plates are above their limits."


def test_the_lowest_point_judges() -> None:
    checked = row(points_mm=[2.40, 2.40, 2.38, 2.40])
    assert checked["lowest_mm"] == 2.38
    assert checked["verdict"] == "go"


def test_a_worn_plate_is_to_be_replaced_and_names_the_unit_verdict() -> None:
    result = calc("plates", changed(PLATES, plates__0__points_mm=[2.28, 2.27, 2.28]))
    assert [plate["verdict"] for plate in result["plates"]] == ["replace", "go"]
    assert result["verdict"] == "replace"
    assert result["reason"].startswith("A2: ")
    assert "2.270 mm" in result["reason"]


def test_at_the_limit_a_micrometer_of_four_micrometres_cannot_say() -> None:
    # u = sqrt((4 um / sqrt 3)^2 + (5 um / sqrt 3)^2), guard 1.645 u = 6.1 um.
    assert row(points_mm=[2.306, 2.31, 2.31])["verdict"] == "measure_again"
    assert row(points_mm=[2.307, 2.31, 2.31])["verdict"] == "go"
    assert row(points_mm=[2.294, 2.30, 2.30])["verdict"] == "measure_again"
    assert row(points_mm=[2.293, 2.30, 2.30])["verdict"] == "replace"


def test_a_finer_micrometer_decides_nearer_to_the_limit() -> None:
    fine = {"division_mm": 0.001, "deviation_mm": 0.001}
    request = changed(PLATES, micrometer=fine, plates__0__points_mm=[2.304, 2.31, 2.31])
    assert calc("plates", request)["plates"][0]["verdict"] == "go"


def test_taper_gap_and_marks_condemn_a_thick_plate() -> None:
    assert row(points_mm=[2.48, 2.44, 2.46])["verdict"] == "replace"
    assert row(gap_mm=0.15)["verdict"] == "replace"
    assert row(gap_mm=0.10)["verdict"] == "go"
    assert row(marks="heavy")["verdict"] == "replace"
    slight = row(marks="slight")
    assert slight["verdict"] == "go"
    assert isinstance(slight["findings"], list)
    assert slight["findings"][0]["name"] == "marks"


def test_a_micrometer_out_of_calibration_passes_nothing() -> None:
    result = calc("plates", changed(PLATES, micrometer__calibration_due="2026-05-01"))
    assert result["verdict"] == "measure_again"
    assert "2026-05-01" in result["plates"][0]["reason"]


def test_thousandths_of_an_inch_are_plates_too() -> None:
    typed = [{"typed": text, "unit": "thou"} for text in ("97", "96,5", "97.0")]
    result = calc("plates", changed(PLATES, plates__0__points_mm=typed, write_in="thou"))["plates"][0]
    assert result["lowest_mm"] == pytest.approx(96.5 * 0.0254)
    assert "96.5 thou" in result["reason"]


def test_a_slip_of_the_unit_is_caught_at_the_point() -> None:
    with pytest.raises(BadInput) as refusal:
        row(points_mm=[2.46, {"typed": "2.46", "unit": "thou"}, 2.46])
    assert refusal.value.field == "plates.0.points_mm.1"


@given(st.floats(2.0, 2.5), st.floats(0.0, 0.2))
def test_a_thicker_plate_is_never_judged_worse(thickness: float, more: float) -> None:
    order = ["go", "measure_again", "rework", "replace"]
    thin = row(points_mm=[thickness] * 3)["verdict"]
    thick = row(points_mm=[thickness + more] * 3)["verdict"]
    assert order.index(str(thick)) <= order.index(str(thin))


def test_a_go_on_a_rule_of_thumb_says_so() -> None:
    rule = "only 0.92 of new, by common practice: use the maker's figure"
    plate = {"slot": "A2", "part": "friction", "new_mm": 2.5, "minimum_mm": 2.3, "points_mm": [2.45, 2.46, 2.45]}
    other = {**plate, "slot": "A4"}
    assert rule not in calc("plates", {"plates": [plate, other], "micrometer": {}})["reason"]
    thumb = {**plate, "usual_minimum": True}
    result = calc("plates", {"plates": [thumb], "micrometer": {}})
    assert result["verdict"] == "go"
    assert result["reason"] == f"The lowest point, 2.450 mm, is above its limit of 2.300 mm, which is {rule}."
    assert calc("plates", {"plates": [thumb, other], "micrometer": {}})["reason"] == (
        f"All 2 measured plates are above their limits. The limit of A2 is {rule}."
    )
    both = calc("plates", {"plates": [thumb, {**other, "usual_minimum": True}], "micrometer": {}})
    assert both["reason"] == f"All 2 measured plates are above their limits. These limits are {rule}."
    worn = calc("plates", {"plates": [{**thumb, "points_mm": [2.2, 2.2, 2.2]}], "micrometer": {}})
    assert worn["verdict"] == "replace"
    assert rule in worn["reason"]


def test_one_figure_for_all_round_is_marked_and_differing_ones_are_not_one() -> None:
    checked = row(points_mm=[2.46, 2.46, 2.46], same_all_round=True)
    assert checked["verdict"] == "go"
    assert checked["reason"] == "The one figure, 2.460 mm, is above its limit of 2.300 mm."
    assert isinstance(checked["findings"], list)
    assert [finding["text"] for finding in checked["findings"]] == [
        "A2: one figure for all round, so its taper was not measured."
    ]
    with pytest.raises(BadInput) as refusal:
        row(points_mm=[2.46, 2.45, 2.46], same_all_round=True)
    assert refusal.value.field == "plates.0.points_mm"
