"""Plate families: no piece of another one is offered, and a blank one is said."""

from typing import Any

from server.engine import calc

from ..checks import changed
from ..samples import sample

PLAN = sample("plan", "classes, measured plates, measured torque")


def with_family(unit: str, *pieces: str) -> dict[str, Any]:
    """The plan's request with a plate family on the unit, and on the first pieces of the shelf."""
    request = changed(PLAN, alternatives=False, buying=False)
    request["unit"]["plate_family"] = unit
    for piece, family in zip(request["shelf"], pieces, strict=False):
        piece["family"] = family
    return request


def test_no_piece_of_another_plate_family_is_offered() -> None:
    names = [piece["name"] for piece in PLAN["shelf"]]
    result = calc("plan", with_family("71/98 lugs, bronze", *["splines"] * len(names)))
    assert [row for row in result.get("stack", []) if row["piece"] in names] == []
    warnings = {row["name"]: row["text"] for row in result["warnings"]}
    assert warnings["other_family"].endswith(f"another plate family: {', '.join(names)}.")
    assert "unsure_family" not in warnings


def test_a_family_that_is_blank_on_one_side_fits_and_is_said_once() -> None:
    plain = calc("plan", changed(PLAN, alternatives=False, buying=False))
    first, *others = [piece["name"] for piece in PLAN["shelf"]]
    for request, unsure in (
        (with_family("Lugs"), [first, *others]),
        (with_family("", "lugs"), [first, *others]),
        (with_family("Lugs ", "lugs"), others),
    ):
        result = calc("plan", request)
        assert result["stack"] == plain["stack"]
        [warning] = [row["text"] for row in result["warnings"] if row["name"] == "unsure_family"]
        assert f": {', '.join(unsure)}. Taken to fit; check" in warning
    assert not [row for row in plain["warnings"] if "family" in row["name"]]
