"""The requests that every host has to answer alike, by calculation."""

import json
from pathlib import Path
from typing import Any

FOLDER = Path(__file__).parent / "requests"


def samples(calculation: str) -> list[dict[str, Any]]:
    """All of one calculation: about and request. What begins with "bad" has to be refused."""
    rows: list[dict[str, Any]] = json.loads((FOLDER / f"{calculation}.json").read_text(encoding="utf-8"))
    return rows


def sample(calculation: str, about: str) -> dict[str, Any]:
    """The request of one of them."""
    request: dict[str, Any] = next(row["request"] for row in samples(calculation) if row["about"] == about)
    return request
