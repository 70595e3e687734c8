"""Requests that the engine's tests start from and change."""

import copy
import re
from typing import Any

BREAKAWAY: dict[str, Any] = {
    "held": "bench_output_held",
    "wrench": {"name": "Long beam", "kind": "beam", "high_nm": 150, "division_nm": 2},
    "steady_nm": {"forward": [98, 101, 100], "reverse": [99, 102, 100]},
    "limits": {"low_nm": 70, "high_nm": 130},
    "day": "2026-05-09",
}

PLATES: dict[str, Any] = {
    "micrometer": {"division_mm": 0.01},
    "day": "2026-05-09",
    "plates": [
        {"slot": "A2", "part": "friction", "new_mm": 2.5, "minimum_mm": 2.3, "points_mm": [2.46, 2.45, 2.46]},
        {"slot": "A3", "part": "separator", "new_mm": 1.5, "minimum_mm": 1.4, "points_mm": [1.49, 1.48, 1.49]},
    ],
}


# A unit as it is built, with the spring between its rings; each test gives it ramps.
SPRING_BETWEEN_RINGS: dict[str, Any] = {
    "layout": "between_rings",
    "first_faces": 6,
    "second_faces": 6,
    "radius_mm": 42.0,
    "mu": 0.1,
}


def chain(layout: str = "in_line") -> list[dict[str, Any]]:
    """A small stack with two friction plates a side."""
    spring = {"part": "spring"}

    def pack(side: str) -> list[dict[str, Any]]:
        kinds = ("separator", "friction", "separator", "friction", "separator")
        return [
            {
                "slot": f"{side}{place}",
                "part": kind,
                "new_mm": 2.5 if kind == "friction" else 2.0,
                "minimum_mm": 2.3 if kind == "friction" else 1.9,
            }
            for place, kind in enumerate(kinds, 1)
        ]

    rings = [{"slot": "R1", "part": "ring", "new_mm": 18.0}, {"slot": "R2", "part": "ring", "new_mm": 18.0}]
    if layout == "between_rings":
        return [*pack("A"), rings[0], {"slot": "S1", **spring}, rings[1], *pack("B")]
    end = [{"slot": "S2", **spring}] if layout == "two_springs" else []
    return [{"slot": "S1", **spring}, *pack("A"), *rings, *pack("B"), *end]


UNIT: dict[str, Any] = {
    "name": "Test unit",
    "order": {"torque_nm": 100, "tolerance_nm": 10},
    "service": {"low_nm": 70, "high_nm": 130},
    "layout": "in_line",
    "spring": {"de_mm": 100, "di_mm": 51, "t_mm": 3.5, "l0_mm": 6.3},
    "cavity_mm": 62.9,
    "chain": chain(),
    "friction": {"inner_mm": 72, "outer_mm": 104, "mu": 0.1},
}


def changed(request: dict[str, Any], **changes: Any) -> dict[str, Any]:
    """A copy of `request` in which "a__b" names field b of group a; None takes the field away."""
    answer = copy.deepcopy(request)
    for path, value in changes.items():
        *groups, last = path.split("__")
        place = answer
        for group in groups:
            place = place[int(group)] if isinstance(place, list) else place.setdefault(group, {})
        if value is None:
            place.pop(last, None)
        else:
            place[int(last) if isinstance(place, list) else last] = value
    return answer


# "steady_nm", "readings.0.steady": names with an underscore, and the way to a field.
KEY = re.compile(r"[A-Za-z0-9]+_[A-Za-z0-9_]+|\b[a-z][a-z0-9]*\.[a-z0-9]+\b")
# What was typed is quoted as it was typed, and a command by its name; files are called what they are called.
QUOTED = re.compile(r"'[^']*'|\"[^\"]*\"|“[^”]*”|`[^`]*`|[\w-]+\.(lock|json|csv|xlsx)\b")


def keys_in(sentence: str) -> list[str]:
    """Names of the interface in a sentence, which is for people."""
    return KEY.findall(QUOTED.sub("", sentence))
