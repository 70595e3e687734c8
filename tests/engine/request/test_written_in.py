"""Sentences are written in the units that were asked for, and nothing else changes with them."""

import json
from typing import Any

import pytest

from server.engine import CALCULATIONS, BadInput, calc

from ..samples import samples

NAMES = {"write_in": "lbf_ft", "write_lengths_in": "thou", "write_forces_in": "lbf"}
WITH_WORDS = {name for name, calculation in CALCULATIONS.items() if "write_lengths_in" in calculation.form.fields}


def numbers(value: Any) -> Any:
    """A result without its sentences."""
    if isinstance(value, dict):
        return {name: numbers(part) for name, part in value.items()}
    if isinstance(value, list):
        return [numbers(part) for part in value]
    return None if isinstance(value, str) else value


@pytest.mark.parametrize("name", sorted(WITH_WORDS))
def test_units_of_sentences_change_only_the_sentences(name: str) -> None:
    form = CALCULATIONS[name].form
    changed = 0
    for entry in samples(name):
        try:
            plain = calc(name, entry["request"])
        except BadInput:
            continue
        wanted = {field: unit for field, unit in NAMES.items() if field in form.fields}
        other = calc(name, {**entry["request"], **wanted})
        assert numbers(other) == numbers(plain)
        text = json.dumps(other, ensure_ascii=False)
        changed += text != json.dumps(plain, ensure_ascii=False)
        for sign in (" mm ", " mm.", " mm:", " N·m", " N,"):
            assert sign not in text
    assert changed
