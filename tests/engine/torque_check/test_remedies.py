"""What would help a check that cannot say: a remedy that is promised to decide does, and no fewer readings would."""

import re
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from server.engine import calc
from server.engine.torque_check.remedies import MOST_REPEATS, OTHER_WAY, SURE, WORTH_WHILE

from ..checks import BREAKAWAY, changed

WRENCH = {"kind": "beam", "high_nm": 200, "division_nm": 0.5, "deviation_percent": 1}


def spread(count: int, middle: float, scatter: float) -> list[float]:
    """Readings with just this mean and standard deviation, and without a trend that could be taken for a drift."""
    pairs = [1.0, -1.0, -1.0, 1.0] * (count // 4)
    rest = {0: [], 1: [0.0], 2: [1.0, -1.0], 3: [1.0, -2.0, 1.0]}[count % 4]
    values = [*pairs, *rest]
    size = (sum(value * value for value in values) / (count - 1)) ** 0.5
    return [middle + scatter * value / size for value in values]


def checked(counts: list[int], middle: float, scatter: float, **changes: Any) -> dict[str, Any]:
    """The answer to so many readings each way of this mean and scatter."""
    steady = dict(zip(("forward", "reverse"), [spread(count, middle, scatter) for count in counts], strict=False))
    return calc("breakaway", changed(BREAKAWAY, **{"steady_nm": steady, "wrench": WRENCH, **changes}))


def helps(result: dict[str, Any]) -> dict[str, dict[str, Any]]:
    """The remedies by name."""
    return {row["name"]: row for row in result["helps"]}


COUNTS = st.lists(st.integers(3, 8), min_size=1, max_size=2)


# What the wrench reads for each N·m of the order, which is stated for one output held and the case free.
READS = {"bench_output_held": 1.0, "bench_case_held": 2.0}


@pytest.mark.parametrize("held", sorted(READS))
@settings(max_examples=60, derandomize=True)
@given(COUNTS, st.floats(1, 5), st.floats(0.2, 5), st.sampled_from(["low_nm", "high_nm"]))
def test_as_many_more_readings_as_are_named_decide_and_one_fewer_does_not(
    held: str, counts: list[int], scatter: float, gap: float, limit: str
) -> None:
    at = 100 - gap if limit == "low_nm" else 100 + gap
    # Half of the longer wrench's range, so that both ways are read alike.
    wrench = {**WRENCH, "high_nm": 200 * READS[held], "division_nm": 0.5 * READS[held]}

    def read(counts: list[int]) -> dict[str, Any]:
        middle, spreads = 100 * READS[held], scatter * READS[held]
        return checked(counts, middle, spreads, held=held, wrench=wrench, limits={limit: at})

    result = read(counts)
    assume("more_repeats" in helps(result))
    row = helps(result)["more_repeats"]
    [number] = [int(text) for text in re.findall(r"^Take (\d+) more reading", row["text"])]
    assert ("readings" in row["text"]) == (number > 1)
    assert ("each way" in row["text"]) == (len(counts) == 2)
    after = read([count + number for count in counts])
    assert after["guard_nm"] == pytest.approx(row["guard_nm"], rel=1e-9)
    assert row["decides"] == (after["guard_nm"] < SURE * gap)
    if not row["decides"]:
        assert number == max(1, MOST_REPEATS - min(counts))
        assert "that alone would not decide" in row["text"]
        return
    assert after["verdict"] == "go"
    assert "that would decide" in row["text"]
    if number > 1:
        fewer = read([count + number - 1 for count in counts])
        assert fewer["guard_nm"] >= SURE * gap


def test_every_kind_of_remedy_leaves_the_guard_band_that_it_names() -> None:
    adapter = {"wrench_mm": 400, "adapter_mm": 300, "angle_deg": 40, "doubt_deg": 20, "doubt_mm": 40}
    drag = {"wheel_nm": 30, "doubt_nm": 16}
    limits = {"low_nm": 120}

    def answer(**changes: Any) -> dict[str, Any]:
        return checked([4, 4], 100, 4, **{"adapter": adapter, "drag": drag, "limits": limits, **changes})

    result = answer()
    assert result["verdict"] == "measure_again"
    better = {
        "measure_drag": answer(drag={**drag, "doubt_nm": 4}),
        "measure_lengths": answer(adapter={**adapter, "doubt_mm": 10}),
        "measure_angle": answer(adapter={**adapter, "doubt_deg": 5}),
    }
    for name, after in better.items():
        assert helps(result)[name]["guard_nm"] == pytest.approx(after["guard_nm"]), name
    assert [row["guard_nm"] for row in result["helps"]] == sorted(row["guard_nm"] for row in result["helps"])
    now = result["guard_nm"]
    assert all(row["guard_nm"] < WORTH_WHILE * now for row in result["helps"])
    for row in result["helps"]:
        assert f"falls from {now:.1f} N·m to {row['guard_nm']:.1f} N·m" in row["text"]


def test_a_tool_twice_as_good_is_that_in_deviation_and_scale() -> None:
    coarse = {"kind": "dial", "high_nm": 200, "division_nm": 8, "deviation_percent": 6}
    fine = {**coarse, "division_nm": 4, "deviation_percent": 3}
    steady = {"forward": spread(4, 100, 1), "reverse": spread(4, 100, 1)}

    def answer(wrench: dict[str, Any]) -> dict[str, Any]:
        return calc("breakaway", changed(BREAKAWAY, steady_nm=steady, limits={"low_nm": 97}, wrench=wrench))

    assert helps(answer(coarse))["finer_tool"]["guard_nm"] == pytest.approx(answer(fine)["guard_nm"])


@pytest.mark.parametrize("held", sorted(OTHER_WAY))
def test_the_other_way_of_holding_is_offered_only_where_the_tool_reads_that_far(held: str) -> None:
    def offered(high: float) -> bool:
        wrench = {"kind": "dial", "high_nm": high, "division_nm": 10}
        steady = {"forward": [100, 102, 101], "reverse": [101, 102, 100]}
        return "hold_other_way" in helps(
            calc("breakaway", changed(BREAKAWAY, held=held, steady_nm=steady, limits={"low_nm": 99}, wrench=wrench))
        )

    # 101 N·m on average, twice as much with the case held.
    assert offered(202)
    assert not offered(201.9)
    assert not any(other in OTHER_WAY for other in OTHER_WAY.values()), "the sum cannot be doubled once more"
