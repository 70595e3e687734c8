"""A figure that was typed at the wrong plate is asked about, and a worn plate is not."""

from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from server.engine import calc

# Friction plates of 2.5 mm down to 2.3, separators of 1.5 mm down to 1.4, in turns.
SIZES = {"friction": (2.5, 2.3), "separator": (1.5, 1.4)}


def stack(typed: dict[str, list[object]], sizes: dict[str, tuple[float, float]] = SIZES) -> list[dict[str, Any]]:
    """A1 to A6 in turns of separator and friction plate, with what was typed for some of them."""
    parts = ["separator", "friction"] * 3
    return [
        {
            "slot": f"A{number}",
            "part": part,
            "new_mm": sizes[part][0],
            "minimum_mm": sizes[part][1],
            "points_mm": typed.get(f"A{number}", []),
        }
        for number, part in enumerate(parts, 1)
    ]


def questions(typed: dict[str, list[object]], sizes: dict[str, tuple[float, float]] = SIZES) -> list[dict[str, Any]]:
    rows: list[dict[str, Any]] = calc("which_plate", {"plates": stack(typed, sizes)})["asked"]
    return rows


def test_a_friction_plates_figure_at_a_separator_is_asked_about_after_one_figure() -> None:
    [question] = questions({"A3": [2.46]})
    assert question["slot"] == "A3"
    assert question["fits"] == question["fits_whole"] == ["A2", "A4", "A6"]
    assert question["text"] == (
        "2.460 mm fits A2 and A4 (friction plates, 2.500 mm new), not A3 (1.500 mm new). Which was it?"
    )
    [other] = questions({"A2": [1.49]}, {"friction": (2.5, 2.3), "separator": (1.5, 1.4)})[:1]
    assert other["text"].startswith("1.490 mm fits A1 and A3 (separator plates, 1.500 mm new), not A2")


def test_a_worn_plate_is_not_asked_about() -> None:
    assert questions({"A2": [2.28, 2.2, 2.11], "A3": [1.39, 1.35]}) == []


def test_of_several_figures_the_strange_one_is_named_and_the_plate_cannot_be_moved_whole() -> None:
    [question] = questions({"A2": [2.46, 1.49, 2.45]})
    assert (question["point"], question["fits"][0], question["fits_whole"]) == (1, "A1", [])


def test_a_figure_that_fits_no_plate_is_left_to_the_verdict() -> None:
    assert questions({"A2": [9.9], "A3": [0.2]}) == []


@given(st.floats(0.5, 4), st.floats(0.05, 0.2))
def test_plates_of_one_thickness_are_never_asked_about(new: float, share: float) -> None:
    sizes = dict.fromkeys(SIZES, (new, new * (1 - share)))
    assert questions({"A2": [new], "A3": [new * (1 - share)], "A5": [0.5]}, sizes) == []


@given(st.floats(0.5, 4), st.sampled_from(["A1", "A2", "A3"]))
def test_no_figure_that_is_its_own_is_asked_about(point: float, slot: str) -> None:
    """What lies between its limit and new is a plate's own, whatever else it fits."""
    new, least = SIZES["friction" if slot == "A2" else "separator"]
    found = questions({slot: [point]})
    if least <= point <= new:
        assert found == []
    if found:
        sizes = {1.5: (1.3, 1.55), 2.5: (2.1, 2.55)}
        low, high = sizes[2.5 if new == 1.5 else 1.5]
        assert low - 1e-9 <= point <= high + 1e-9
