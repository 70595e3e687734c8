"""Figures at the wrong plate, found a second way: whole micrometres, and every pair of plates looked at."""

import random
from typing import Any

from server.engine import calc

CASES = 300
PARTS = ("friction", "separator", "shim")


def random_stack(chance: random.Random) -> list[dict[str, Any]]:
    """A stack with figures that were typed for some of its plates; thicknesses in whole micrometres."""
    classes = [
        (chance.choice(PARTS), new, new - chance.randint(10, 300))
        for new in (chance.randint(400, 4000) for _ in range(chance.randint(1, 4)))
    ]
    plates = []
    for number in range(chance.randint(1, 12)):
        part, new, least = chance.choice(classes)
        others = [size for _, *pair in classes for size in pair]
        many = chance.choice([0, 0, 1, 1, 2, 3])
        typed = [max(0, chance.choice(others) + chance.randint(-260, 80)) for _ in range(many)]
        plates.append({"slot": f"P{number}", "part": part, "new": new, "least": least, "typed": typed})
    return plates


def by_pairs(plates: list[dict[str, Any]]) -> dict[str, tuple[int, list[str], list[str]]]:
    """For each plate with a strange figure: which figure, the plates that it fits, and those that all fit."""

    def may_be(plate: dict[str, Any], figure: int) -> bool:
        return bool(2 * plate["least"] - plate["new"] <= figure <= plate["new"] + 50)

    questions = {}
    for here, plate in enumerate(plates):
        found: dict[int, list[int]] = {}
        for number, figure in enumerate(plate["typed"]):
            if not may_be(plate, figure):
                found[number] = [
                    there
                    for there, other in enumerate(plates)
                    if (other["part"], other["new"]) != (plate["part"], plate["new"]) and may_be(other, figure)
                ]
        first = min((number for number, others in found.items() if others), default=None)
        if first is not None:
            near = []
            for step in range(1, len(plates)):
                near += [there for there in (here - step, here + step) if there in found[first]]
            whole = [there for there in near if all(may_be(plates[there], figure) for figure in plate["typed"])]
            questions[plate["slot"]] = (first, [f"P{there}" for there in near], [f"P{there}" for there in whole])
    return questions


def test_every_strange_figure_is_found_a_second_way() -> None:
    chance = random.Random(20260512)
    some = 0
    for _ in range(CASES):
        plates = random_stack(chance)
        # A tenth of a micrometre inside its bounds, so that no rounding decides.
        request = [
            {
                "slot": plate["slot"],
                "part": plate["part"],
                "new_mm": plate["new"] / 1000 + 1e-7,
                "minimum_mm": plate["least"] / 1000,
                "points_mm": [figure / 1000 for figure in plate["typed"]],
            }
            for plate in plates
        ]
        rows = calc("which_plate", {"plates": request})["asked"]
        answer = {row["slot"]: (row["point"], row["fits"], row["fits_whole"]) for row in rows}
        assert answer == by_pairs(plates)
        some += bool(answer)
    assert some > CASES / 10
