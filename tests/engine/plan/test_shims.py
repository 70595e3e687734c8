"""Shims in a plan: what is laid in or taken out is told."""

import pytest

from server.engine import calc

from ..checks import UNIT, changed


def test_a_shim_that_has_to_come_out_is_among_what_there_is_to_do() -> None:
    """Thin as it is: whoever builds by the plan would leave it in if the plan did not name it."""
    thin = {"slot": "A0", "part": "shim", "new_mm": 0.3}
    roomy = changed(UNIT, cavity_mm=UNIT["cavity_mm"] + 0.6)
    shimmed = changed(roomy, chain=[UNIT["chain"][0], thin, *UNIT["chain"][1:]])
    wanted = calc("unit", roomy)["breakaway_nm"]
    assert calc("unit", shimmed)["breakaway_nm"] > wanted + 5
    order = {"torque_nm": wanted, "tolerance_nm": 2}
    result = calc("plan", {"unit": shimmed, "wanted": order, "shelf": [], "most_apart_mm": 0.3})
    assert [
        (row["slot"], row["was_mm"], row["mm"], row["piece"]) for row in result["stack"] if row["action"] == "fit"
    ] == [("A0", 0.3, 0.0, "no shim")]
    assert result["torque_nm"] == pytest.approx(wanted, rel=1e-9)
