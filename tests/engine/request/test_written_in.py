"""Sentences are written in the units that were asked for, and nothing else changes with them."""

import re
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
        changed += other != plain
        stored = sentences(entry["request"])
        text = "\n".join(text for text in sentences(other) if not is_of_log(text, stored))
        for sign in (" mm ", " mm.", " mm:", " N·m", " N,"):
            assert sign not in text
    assert changed


# Refusals of a disc or a stack that cannot be are in millimetres, as definitions are, whatever was asked for.
REFUSE_IN_SI = ("loss", "plan", "spring")
SIGNS = {"lbf_ft": "N·m", "thou": "mm", "lbf": "N"}


def sentences(value: Any) -> list[str]:
    """All text of a result."""
    if isinstance(value, dict):
        return [text for part in value.values() for text in sentences(part)]
    if isinstance(value, list):
        return [text for part in value for text in sentences(part)]
    return [value] if isinstance(value, str) else []


def is_of_log(text: str, stored: list[str]) -> bool:
    """Whether a text is one of the log or goes on with one: it stays as it was said, and is not mixed with other units.

    >>> is_of_log("3 mm is too thin. Found on Monday.", ["3 mm is too thin."]), is_of_log("3 mm.", ["mm"])
    (True, False)
    """
    return text in stored or any(said.endswith(".") and said in text for said in stored)


def asked_in(form: Any) -> dict[str, str]:
    """The fields of a form that choose a unit of sentences, each with one that is not SI."""
    fields = {name: field for name, field in form.fields.items() if name in NAMES}
    return {name: next(unit for unit in SIGNS if unit in field.options) for name, field in fields.items()}


@pytest.mark.parametrize("name", sorted(name for name in CALCULATIONS if asked_in(CALCULATIONS[name].form)))
def test_no_sentence_and_no_refusal_falls_back_on_si(name: str) -> None:
    form, seen = CALCULATIONS[name].form, 0
    wanted = asked_in(form)
    for entry in samples(name):
        try:
            checked = form.read({**entry["request"], **wanted}, "")
        except BadInput:
            continue
        try:
            texts = sentences(CALCULATIONS[name].run(checked))
        except BadInput as refusal:
            texts = [] if name in REFUSE_IN_SI else [refusal.reason]
        stored = sentences(entry["request"])
        for text in texts:
            seen += 1
            if is_of_log(text, stored):
                continue
            found = [sign for sign in map(SIGNS.get, wanted.values()) if re.search(rf"\d {sign}\b", text)]
            assert found == [], f"{entry['about']}: {text}"
    assert seen
