"""Units of which only a part is known, beside sums of their own: what is answered, and what is refused.

Sources: the axial chain is a sum of lengths, and a disc is flat at its free height less its thickness (DIN EN 16984,
as in `random_units`); faces, radius and torque as there. Two thousand units were compared once; forty are kept.
"""

import random
from typing import Any

import pytest

from server.engine import BadInput, calc

from .random_units import (
    column_height,
    crush_of,
    faces_of,
    most_crush,
    places,
    preload_at,
    radius_of,
    random_unit,
    solids,
    torque_per_newton,
)

SECTIONS = ("order", "service", "chain", "spring", "cavity_mm", "friction", "layout")


@pytest.mark.parametrize("seed", range(40))
def test_what_is_known_comes_to_what_it_comes_to_in_the_whole(seed: int) -> None:
    chance = random.Random(seed)
    unit = random_unit(chance)
    hidden = [name for name in SECTIONS if chance.random() < 0.4]
    known = {name: value for name, value in unit.items() if name not in hidden}
    result = calc("unit", known)

    def near(figure: float | None, wanted: float, *needs: str) -> None:
        if any(name in hidden for name in needs):
            assert figure is None
        else:
            assert figure == pytest.approx(wanted, rel=1e-9, abs=1e-9)

    crush = crush_of(unit)
    force = preload_at(unit, crush)
    near(result["radius_mm"], radius_of(unit), "friction")
    near(result["free_mm"], solids(unit) + places(unit) * column_height(unit["spring"]), "chain", "spring")
    near(result["crush_mm"], crush, "chain", "spring", "cavity_mm")
    near(result["preload_n"], force, "chain", "spring", "cavity_mm")
    torque = force * torque_per_newton(unit, unit["friction"]["mu"])
    near(result["breakaway_nm"], torque, "chain", "spring", "cavity_mm", "friction")
    assert result["faces"] == (
        None if "chain" in hidden else dict(zip(("first", "second"), faces_of(unit), strict=True))
    )
    lacking = {row["name"] for row in calc("so_far", {"unit": known})["lacks"]}
    assert ("check" in lacking) == ("order" in hidden and "service" in hidden)
    assert ("preload" in lacking) == any(name in hidden for name in ("chain", "spring", "cavity_mm"))


@pytest.mark.parametrize("seed", range(40))
def test_a_cover_that_could_not_close_is_refused_just_from_where_the_spring_is_flat(seed: int) -> None:
    chance = random.Random(1000 + seed)
    unit = random_unit(chance)
    share = chance.choice([chance.uniform(0.9, 0.999), chance.uniform(1.001, 1.6)])
    crush = share * most_crush(unit)
    unit["cavity_mm"] = solids(unit) + places(unit) * column_height(unit["spring"]) - crush
    if crush > 0.25 * unit["cavity_mm"] or not 5 <= unit["cavity_mm"] <= 500:
        return
    refused: dict[str, Any] = {}
    try:
        calc("unit", unit)
    except BadInput as refusal:
        refused = {"field": refusal.field, "percent": f"{100 * share:.0f} %" in refusal.reason}
    assert refused == ({} if share < 1 else {"field": "spring.l0_mm", "percent": True})


@pytest.mark.parametrize("seed", range(40))
def test_plates_and_rings_alone_must_leave_room_for_the_spring(seed: int) -> None:
    chance = random.Random(2000 + seed)
    unit = random_unit(chance)
    over = chance.choice([-1, 1]) * round(chance.uniform(0.001, 3), 3)
    bare = {"name": "Made up", "chain": unit["chain"], "cavity_mm": solids(unit) - over}
    if over < 0:
        assert calc("unit", bare)["crush_mm"] is None
    else:
        with pytest.raises(BadInput) as refusal:
            calc("unit", bare)
        assert refusal.value.field == "cavity_mm"
