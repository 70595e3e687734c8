"""Strip and close: which step follows which, what is said at each, and a spring that is left in a vice."""

from typing import Any

import pytest

from server.engine import BadInput, calc

STEPS = calc("steps", {})
FIRST_STRIP = ["drained", "out", "marked", "held", "screws", "relieved", "laid"]
FIRST_CLOSE = ["clean", "oiled", "order", "held", "flush", "screws", "opened", "turned"]


def names(procedure: str) -> list[str]:
    return [step["name"] for step in STEPS[procedure]]


def words(procedure: str, name: str) -> str:
    [step] = [step for step in STEPS[procedure] if step["name"] == name]
    return " ".join([step["text"], *step["how"], *step["cautions"]])


def signed(procedure: str, done: list[str], **more: Any) -> dict[str, Any]:
    return dict(calc(procedure, {"done": done, "signed": "Mara", "guide": STEPS["guide"], **more}))


# A caution helps only where the hand is: these words stand at these steps, and nowhere else is enough.
SAID = [
    ("strip", "drained", ["Hot oil", "gloves", "used oil"]),
    ("strip", "lifted", ["stands", "chocks", "both sides", "Nobody under the car"]),
    ("strip", "caps", ["left and right", "shims", "kept"]),
    ("strip", "out", ["two people or a hoist"]),
    (
        "strip",
        "held",
        ["safety glasses", "twice the force", "tube and a guard", "through the middle", "solid rim", "bearing seat"]
        + ["within reach", "Soft jaws slip", "No single clamp", "no jack under a bench", "walk away"],
    ),
    ("strip", "screws", ["crosswise", "will not come", "leave the vice on"]),
    ("strip", "relieved", ["slowly", "by hand, through gloves", "soft hammer"]),
    ("strip", "laid", ["photo"]),
    ("strip", "cleaned", ["solvent", "No compressed air on bearings or on skin", "dust"]),
    ("close", "inside", ["cross pins", "washer"]),
    ("close", "order", ["sheet", "Coast ramps press on the way into a corner", "drive ramps on the way out"]),
    ("close", "cone", ["right way round", "sheet"]),
    ("close", "cover", ["to its mark"]),
    ("close", "held", ["safety glasses", "twice the force", "no jack", "walk away"]),
    ("close", "flush", ["feeler", "even", "Never force", "tilts"]),
    ("close", "started", ["by hand", "three turns", "Locking compound", "Never pull the cover down"]),
    (
        "close",
        "screws",
        ["crosswise", "two rounds", "The vice stays on", "compound that has cured", "not clicked again"],
    ),
    ("close", "opened", ["Not before every screw"]),
]


@pytest.mark.parametrize(("procedure", "name", "expected"), SAID)
def test_what_to_heed_stands_at_its_step(procedure: str, name: str, expected: list[str]) -> None:
    assert [word for word in expected if word not in words(procedure, name)] == []


def test_the_spring_is_held_before_the_screws_and_let_go_after_them() -> None:
    for procedure in ("strip", "close"):
        order = names(procedure)
        assert order.index("held") < order.index("screws")
    assert names("strip").index("screws") < names("strip").index("relieved")
    close = names("close")
    assert close.index("flush") < close.index("started") < close.index("screws") < close.index("opened")
    with pytest.raises(BadInput, match="before the screws are touched"):
        signed("close", ["started"])
    with pytest.raises(BadInput, match="before the vice is opened"):
        signed("close", ["held", "started", "opened"])


@pytest.mark.parametrize("procedure", ["strip", "close"])
def test_every_step_tells_whether_a_vice_alone_holds_the_spring(procedure: str) -> None:
    done: list[str] = []
    for step in STEPS[procedure]:
        done.append(step["name"])
        assert signed(procedure, done)["held_by_vice"] is step["holds"]
    holding = [step["name"] for step in STEPS[procedure] if step["holds"]]
    assert holding == (["held", "screws"] if procedure == "strip" else ["held", "flush", "started"])


@pytest.mark.parametrize(("procedure", "done"), [("strip", FIRST_STRIP), ("close", FIRST_CLOSE)])
def test_what_was_signed_by_the_first_guide_stays_complete(procedure: str, done: list[str]) -> None:
    by_first = calc(procedure, {"done": done, "signed": "Mara"})
    assert by_first["complete"]
    assert by_first["left"] == []
    assert not signed(procedure, done)["complete"]


def test_all_steps_done_leave_nothing() -> None:
    for procedure in ("strip", "close"):
        result = signed(procedure, names(procedure))
        assert result["complete"]
        assert result["left"] == []
        assert not result["held_by_vice"]
