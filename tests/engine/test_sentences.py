"""Sentences call a field what stands beside it on the screens, and never by its name in the interface.

What is made up is looked at in `test_whole_request_space`.
"""

import ast
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from server.engine import CALCULATIONS, KINDS, BadInput, calc
from server.engine.request.fields import Choice, Field, Group, Listing, Number
from server.engine.request.units import UNITS

from .checks import keys_in
from .samples import recorded

SERVER = Path(__file__).resolve().parents[2] / "server"

# Calls whose arguments are read by people who send something that cannot be used.
REFUSALS = {"BadInput", "once_each", "problem", "abort", "ValidationError", "Refused", "LogFault"}


@pytest.mark.parametrize(
    ("sentence", "keys"),
    [
        ("With a wrench, put the readings in steady_nm.", ["steady_nm"]),
        ("See readings.0.steady: correct it.", ["readings.0"]),
        ("Choose one of: case_held, free.", ["case_held"]),
        ("This must be above “Scale starts at”, 2.5 N·m. Type 'a_b' again, e.g. as .xlsx.", ["e.g"]),
        ("Type a number, for example 72.5; got 'what_ever'.", []),
    ],
)
def test_what_counts_as_a_name_of_the_interface(sentence: str, keys: list[str]) -> None:
    assert keys_in(sentence) == keys


@pytest.mark.parametrize("name", sorted(CALCULATIONS))
def test_of_what_the_samples_are_refused_for(name: str) -> None:
    refusals = [row["bad"]["reason"] for row in recorded(name) if "bad" in row]
    assert [reason for reason in refusals if keys_in(reason)] == []


def words_of(node: ast.AST) -> Iterator[str]:
    """The texts in an expression, without what is put into them."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield node.value
    elif isinstance(node, ast.JoinedStr):
        yield " … ".join(str(part.value) for part in node.values if isinstance(part, ast.Constant))
    elif isinstance(node, (ast.IfExp, ast.BinOp, ast.BoolOp)):
        for inner in ast.iter_child_nodes(node):
            yield from words_of(inner)


def sentences() -> Iterator[tuple[str, str]]:
    """Every sentence of the engine and the server that is written as one, with its file."""
    for file in sorted(SERVER.rglob("*.py")):
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            arguments: list[ast.AST] = []
            if isinstance(node, ast.Call) and getattr(node.func, "id", getattr(node.func, "attr", "")) in REFUSALS:
                arguments = [*node.args, *[keyword.value for keyword in node.keywords]]
            elif isinstance(node, ast.Assign) and isinstance(node.targets[0], ast.Name):
                # Constants: sentences by themselves, and tables of them.
                value = node.value
                arguments = list(value.values) if isinstance(value, ast.Dict) else [value]
            for argument in arguments:
                for words in words_of(argument):
                    if " " in words.strip() and words.rstrip().endswith("."):
                        yield str(file.relative_to(SERVER)), words


def test_of_every_sentence_as_it_is_written() -> None:
    found = list(sentences())
    assert len(found) > 230
    assert [(file, words) for file, words in found if keys_in(words)] == []


def fields_of(form: Field, path: str = "") -> Iterator[tuple[str, Field]]:
    """Every field of a form, with the way to it; an empty step leads into a list."""
    if isinstance(form, Group):
        for name, field in form.in_order:
            inner = f"{path}.{name}" if path else name
            yield inner, field
            yield from fields_of(field, inner)
    elif isinstance(form, Listing):
        yield f"{path}.", form.of
        yield from fields_of(form.of, f"{path}.")


def test_labels_are_words() -> None:
    for kind in KINDS.values():
        for path, field in fields_of(CALCULATIONS[kind.calculation].form):
            assert not keys_in(field.label), path
            assert field.label == field.label.strip(), path


def test_every_field_of_an_entry_has_a_name_in_words() -> None:
    for kind in KINDS.values():
        for path, field in fields_of(CALCULATIONS[kind.calculation].form):
            at = path.replace("..", ".0.")
            at += "0" if at.endswith(".") else ""
            name = calc("field_name", {"calculation": kind.calculation, "field": at})["name"]
            assert name, (path, field.meaning)
            assert not keys_in(name.replace("w_M", "").replace("w_R", "")), (path, name)


def test_units_and_choices_are_told_by_their_signs() -> None:
    for name in sorted(CALCULATIONS):
        for path, field in fields_of(CALCULATIONS[name].form):
            value: Any = {"typed": "1", "unit": "furlong"} if isinstance(field, Number) else "none_of_these"
            if not isinstance(field, (Number, Choice)):
                continue
            with pytest.raises(BadInput) as refused:
                field.read(value, path)
            assert keys_in(refused.value.reason) == [], path
    assert any("_" in unit for unit, _, _ in UNITS["nm"])


def test_a_row_is_called_by_its_name_and_a_reading_by_its_number() -> None:
    fitted = [{"slot": "A2", "mm": "x"}, {"piece": "F25"}]
    for field, name in (
        ("fitted.0.mm", "A2, Thickness"),
        ("fitted.1.minimum_mm", "F25, Limit of this piece"),
        ("fitted.4.minimum_mm", "No. 5, Limit of this piece"),
        ("hours", "Hours of work"),
        ("", ""),
    ):
        request = {"calculation": "rebuild", "field": field, "body": {"fitted": fitted}}
        assert calc("field_name", request)["name"] == name
