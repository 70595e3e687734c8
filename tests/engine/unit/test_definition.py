"""What a user gets from a unit's definition."""

import pytest

from server.engine import BadInput, calc
from server.engine.unit.spring import FIELDS, disc_of, load

from ..checks import UNIT, chain, changed


def refused(**changes: object) -> BadInput:
    """How a changed definition is refused."""
    with pytest.raises(BadInput) as refusal:
        calc("unit", changed(UNIT, **changes))
    return refusal.value


def test_faces_crush_preload_and_torque_follow_from_each_other() -> None:
    result = calc("unit", UNIT)
    solid = 2 * (3 * 2.0 + 2 * 2.5) + 2 * 18.0
    assert result["crush_mm"] == pytest.approx(solid + 6.3 - 62.9)
    assert result["faces"] == {"first": 4, "second": 4}
    force = load(disc_of(FIELDS.read(UNIT["spring"], "spring")), result["crush_mm"])
    assert result["preload_n"] == pytest.approx(force)
    # Mean of two packs of four faces at a friction of 0.1 on a radius of 44 mm.
    assert result["breakaway_nm"] == pytest.approx(4 * 0.1 * 0.044 * force)


def test_two_springs_share_the_crush_and_stated_for_the_sum_is_twice_as_much() -> None:
    result = calc("unit", UNIT)
    request = changed(UNIT, layout="two_springs", chain=chain("two_springs"), cavity_mm=62.9 + 6.3 - result["crush_mm"])
    two = calc("unit", request)
    assert two["crush_mm"] == pytest.approx(2 * result["crush_mm"])
    assert two["deflection_mm"] == pytest.approx(result["deflection_mm"])
    assert two["preload_n"] == pytest.approx(result["preload_n"])
    summed = calc("unit", changed(UNIT, stated_for="case_held"))
    assert summed["breakaway_nm"] == pytest.approx(2 * result["breakaway_nm"])


def test_a_spring_between_the_rings_presses_as_hard() -> None:
    inside = calc("unit", changed(UNIT, layout="between_rings", chain=chain("between_rings")))
    assert inside["preload_n"] == pytest.approx(calc("unit", UNIT)["preload_n"])


def test_every_plate_counts_one_to_one_on_either_side() -> None:
    base = calc("unit", UNIT)["crush_mm"]
    for place, part in enumerate(UNIT["chain"]):
        if part["part"] != "spring":
            thicker = changed(UNIT, **{f"chain__{place}__new_mm": part["new_mm"] + 0.05})
            assert calc("unit", thicker)["crush_mm"] == pytest.approx(base + 0.05)


def test_two_separators_side_by_side_make_two_faces_fewer_than_a_friction_plate_between() -> None:
    swapped = chain()
    swapped[2], swapped[3] = swapped[3], swapped[2]
    result = calc("unit", changed(UNIT, chain=swapped))
    # separator, separator, friction, friction, separator: two friction plates side by side do not slide either.
    assert result["faces"] == {"first": 2, "second": 4}


def test_a_pack_that_ends_on_a_friction_plate_rubs_on_cover_floor_and_rings_as_well() -> None:
    # Two friction plates have four faces, each against a part that turns with the case: cover, separator, ring.
    outer = [
        {"slot": f"{side}{place}", "part": kind, "new_mm": 2.5 if kind == "friction" else 2.0}
        for side in "AB"
        for place, kind in enumerate(("friction", "separator", "friction"), 1)
    ]
    rings = [part for part in chain("between_rings") if part["part"] in ("ring", "spring")]
    ends = [*outer[:3], *rings, *outer[3:]]
    request = changed(UNIT, layout="between_rings", chain=ends, cavity_mm=62.9 - 8.0)
    result = calc("unit", request)
    assert result["faces"] == {"first": 4, "second": 4}
    assert result["breakaway_nm"] == pytest.approx(calc("unit", UNIT)["breakaway_nm"])


@pytest.mark.parametrize(("side", "word"), [("A", "first"), ("B", "second")])
def test_a_pack_without_a_friction_plate_is_refused(side: str, word: str) -> None:
    bare = [part for part in chain() if not (part["part"] == "friction" and part["slot"].startswith(side))]
    refusal = refused(chain=bare, cavity_mm=57.9)
    assert refusal.field == "chain"
    assert refusal.reason.startswith(f"The {word} pack has no friction plate")
    one_left = [part for part in chain() if part["slot"] != f"{side}2"]
    assert calc("unit", changed(UNIT, chain=one_left, cavity_mm=60.4))["faces"][word] == 2


def test_warnings_name_what_is_wrong_with_the_spring() -> None:
    def names(cavity: float) -> list[str]:
        return [row["name"] for row in calc("unit", changed(UNIT, cavity_mm=cavity))["warnings"]]

    assert names(62.9) == []
    assert "loose" in names(64.5)
    assert "slight" in names(64.0)
    assert "far" in names(62.0)


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"name": " "}, "name"),
        ({"cavity_mm": 61.4}, "spring.l0_mm"),
        ({"order__tolerance_nm": 100}, "order.tolerance_nm"),
        ({"service__high_nm": 70}, "service.high_nm"),
        ({"friction__outer_mm": 72}, "friction.outer_mm"),
        ({"spring__di_mm": 99}, "spring.di_mm"),
        ({"spring__l0_mm": 3.5}, "spring.l0_mm"),
        ({"chain__1__minimum_mm": 2.0}, "chain.1.minimum_mm"),
        ({"chain__1__new_mm": None}, "chain.1.new_mm"),
        ({"chain__0__new_mm": 3}, "chain.0.new_mm"),
        ({"chain__2__slot": "A1"}, "chain.2.slot"),
        ({"layout": "two_springs"}, "chain"),
        ({"layout": "between_rings"}, "chain.0"),
        ({"cavity_mm": 200}, "cavity_mm"),
        ({"chain__6__part": "shim"}, "chain"),
        ({"chain__1__part": "friction"}, "chain.1"),
        ({"layout": "sideways"}, "layout"),
    ],
)
def test_a_contradiction_is_refused_at_its_field(changes: dict[str, object], field: str) -> None:
    refusal = refused(**changes)
    assert refusal.field == field
    assert refusal.reason.endswith(".")


@pytest.mark.parametrize(
    ("torque", "off", "service", "fields"),
    [
        (90, 5, {"low_nm": 60, "high_nm": 85}, ["service.high_nm"]),
        (90, 5, {"low_nm": 60, "high_nm": 92}, ["service.high_nm"]),
        (90, 5, {"low_nm": 88}, ["service.low_nm"]),
        (90, 5, {"low_nm": 88, "high_nm": 91}, ["service.low_nm", "service.high_nm"]),
        (90, 5, {"low_nm": 85, "high_nm": 95}, []),
        (90, 5, {"low_nm": 0}, []),
    ],
)
def test_an_order_that_its_own_limits_would_turn_down_is_said_at_the_limit(
    torque: float, off: float, service: dict[str, float], fields: list[str]
) -> None:
    order = {"torque_nm": torque, "tolerance_nm": off}
    request = changed(UNIT, order=order, service=service)
    found = [row["name"] for row in calc("unit", request)["warnings"]]
    assert found == fields
    # The check that says so would turn the unit down, or might.
    limits = {"low_nm": service["low_nm"], "high_nm": service.get("high_nm")}
    edges = {"service.low_nm": torque - off, "service.high_nm": torque + off}
    for name, edge in edges.items():
        steady = {"forward": [edge] * 3, "reverse": [edge] * 3}
        beam = {"kind": "beam", "high_nm": 150, "division_nm": 0.01, "certificate_percent": 0.01}
        check = {"held": "bench_output_held", "wrench": beam, "steady_nm": steady, "limits": limits}
        if any(limits.values()):
            assert (calc("breakaway", check)["verdict"] == "rework") == (name in fields)
