"""Quantiles of Student's t are kept once they are worked out, and are the same ones then."""

from server.engine.doubt import student_t
from server.engine.doubt.student_t import KEPT, KNOWN_NORMAL, MANY, MOST_KEPT, normal_quantile, t_quantile


def test_a_quantile_that_was_kept_is_the_one_that_was_worked_out() -> None:
    asked = [(tail, dof) for tail in (0.05, 0.025, 0.005) for dof in (1, 2.5, 7, MANY - 1, MANY, 1e9, float("inf"))]
    KEPT.clear()
    fresh = [t_quantile(tail, dof) for tail, dof in asked]
    assert [t_quantile(tail, dof) for tail, dof in asked] == fresh
    assert t_quantile(0.005, float("inf")) == normal_quantile(0.005)
    assert t_quantile(0.05, float("inf")) == KNOWN_NORMAL[0.05]


def test_no_more_quantiles_are_kept_than_there_is_room_for() -> None:
    for place in range(3 * MOST_KEPT):
        student_t.t_quantile(0.01 + place / 1e5, 5)
    assert len(KEPT) <= MOST_KEPT
