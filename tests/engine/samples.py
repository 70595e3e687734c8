"""The requests that every host has to answer alike, by calculation, and the answers recorded beside them.

    python -m tests.engine.samples --record

writes the answers anew, so that a change of an answer is a change of `answers/`, to be read before it is committed.
"""

import argparse
import json
import math
from pathlib import Path
from typing import Any

from server.engine import CALCULATIONS, BadInput, calc

FOLDER = Path(__file__).parent / "requests"
ANSWERS = Path(__file__).parent / "answers"


def samples(calculation: str) -> list[dict[str, Any]]:
    """All of one calculation: about and request. What begins with "bad" has to be refused."""
    rows: list[dict[str, Any]] = json.loads((FOLDER / f"{calculation}.json").read_text(encoding="utf-8"))
    return rows


def sample(calculation: str, about: str) -> dict[str, Any]:
    """The request of one of them."""
    request: dict[str, Any] = next(row["request"] for row in samples(calculation) if row["about"] == about)
    return request


def answered(calculation: str, request: Any) -> dict[str, Any]:
    """The engine's answer as it travels: "ok" with the result, or "bad" with the refusal's field and reason."""
    try:
        return {"ok": json.loads(json.dumps(calc(calculation, request), allow_nan=False))}
    except BadInput as refusal:
        return {"bad": {"field": refusal.field, "reason": refusal.reason}}


def recorded(calculation: str) -> list[dict[str, Any]]:
    """The answers on record to one calculation's samples, in order: about, and "ok" or "bad" as `answered` gives."""
    rows: list[dict[str, Any]] = json.loads((ANSWERS / f"{calculation}.json").read_text(encoding="utf-8"))
    return rows


def as_recorded(calculation: str) -> str:
    """The text of one calculation's record as the engine answers now: one value a line, keys in order."""
    rows = [{"about": row["about"], **answered(calculation, row["request"])} for row in samples(calculation)]
    return json.dumps(rows, indent=1, sort_keys=True, ensure_ascii=False, allow_nan=False) + "\n"


def record() -> None:
    """Write every calculation's record anew, and take away that of a calculation that is gone."""
    ANSWERS.mkdir(exist_ok=True)
    for file in ANSWERS.glob("*.json"):
        if file.stem not in CALCULATIONS:
            file.unlink()
    for name in sorted(CALCULATIONS):
        (ANSWERS / f"{name}.json").write_text(as_recorded(name), encoding="utf-8", newline="\n")


def differences(first: Any, two: Any, path: str = "") -> list[str]:
    """Where two answers differ: in words at all, in numbers by more than 1e-12 relative."""
    if isinstance(first, dict) and isinstance(two, dict):
        missing = [f"{path}: {name} on first side only" for name in first.keys() ^ two.keys()]
        return missing + [
            row for name in first.keys() & two.keys() for row in differences(first[name], two[name], f"{path}.{name}")
        ]
    if isinstance(first, list) and isinstance(two, list):
        if len(first) != len(two):
            return [f"{path}: {len(first)} and {len(two)} long"]
        return [
            row
            for place, pair in enumerate(zip(first, two, strict=True))
            for row in differences(*pair, f"{path}.{place}")
        ]
    if all(isinstance(value, int | float) and not isinstance(value, bool) for value in (first, two)):
        # Figures that are a difference of large ones keep the large ones' rounding.
        return [] if math.isclose(first, two, rel_tol=1e-12, abs_tol=1e-12) else [f"{path}: {first!r} and {two!r}"]
    same = type(first) is type(two) and first == two
    return [] if same else [f"{path}: {first!r} and {two!r}"]


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description="The engine's answers to the sample requests.")
    parser.add_argument("--record", action="store_true", required=True, help="write the answers anew")
    parser.parse_args()
    record()
