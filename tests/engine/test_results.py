"""Forms of results: they fit what the engine answers and nothing else, and what older entries keep of it."""

import copy
import json
from collections.abc import Iterator
from datetime import UTC, datetime
from typing import Any

import pytest

from server.demo import UNITS, read_seasons
from server.engine import CALCULATIONS, KINDS, BadInput, calc, result_form
from server.engine.request.fields import Field, Group, Listing
from server.engine.results import RESULTS, SHAPES
from server.engine.results.fields import Cases, Count, Either, Figure, Mapping, Maybe, Result, Sometimes, Typed
from server.engine.results.from_forms import as_stored

from .samples import samples


def answers(name: str) -> list[dict[str, Any]]:
    """What the engine answers to the good samples of a calculation, as JSON hands it on."""
    good = [row["request"] for row in samples(name) if not row["about"].startswith("bad:")]
    return [json.loads(json.dumps(calc(name, request))) for request in good]


def inner_forms(form: Field) -> list[tuple[str, Field]]:
    """The forms inside a form, with their names; those of other requests left out."""
    if isinstance(form, Group):
        return list(form.fields.items())
    if isinstance(form, (Listing, Mapping, Maybe, Sometimes)):
        return [("", form.of)]
    if isinstance(form, Cases):
        return [("", case) for case in form.cases.values()]
    return [("", form_inside) for form_inside in form.forms] if isinstance(form, Either) else []


def test_every_calculation_says_what_its_result_holds() -> None:
    assert set(RESULTS) == set(CALCULATIONS)
    for name in CALCULATIONS:
        described(result_form(name), name, name)


def described(form: Field, path: str, name: str) -> None:
    """A field and all that it holds say what they mean, and a name says its unit."""
    assert form.meaning.strip(), path
    if isinstance(form, Figure) and form.unit:
        assert any(f"_{step}".endswith(f"_{form.unit}") for step in path.split(".")), path
    elif isinstance(form, Figure) and not isinstance(form, Count):
        assert name.rsplit("_", 1)[-1] not in ("nm", "mm", "n", "percent", "deg", "j"), path
    for inner, part in inner_forms(form):
        described(part, f"{path}.{inner}" if inner else path, inner or name)


def test_what_several_results_hold_is_held_by_some() -> None:
    held = set()

    def look(form: Field) -> None:
        held.add(id(form))
        for _, part in inner_forms(form):
            look(part)

    for form in RESULTS.values():
        look(form)
    assert [name for name, form in SHAPES.items() if id(form) not in held] == []


def broken(form: Field, value: Any) -> Iterator[tuple[str, Any]]:
    """A result with one thing changed that its form does not allow, each with where; every place once."""
    if isinstance(form, Maybe):
        if value is not None:
            yield from broken(form.of, value)
        return
    if isinstance(form, Sometimes):
        yield from broken(form.of, value)
        return
    yield "", {} if isinstance(value, (list, str, float, int)) or value is None else "other"
    if isinstance(form, (Either, Typed)):
        return
    if isinstance(form, Cases):
        rest = {name: changed for name, changed in value.items() if name != form.by}
        yield form.by, rest
        yield from ((where, {form.by: value[form.by], **changed}) for where, changed in broken_group(form, value, rest))
    elif isinstance(form, Result):
        yield from broken_group(form, value, value)
    elif isinstance(form, Listing):
        for place, item in enumerate(value[:2]):
            for where, changed in broken(form.of, item):
                yield f"{place}.{where}", [*value[:place], changed, *value[place + 1 :]]
    elif isinstance(form, Mapping):
        for name in list(value)[:2]:
            yield from (
                (f"{name}.{where}", {**value, name: changed}) for where, changed in broken(form.of, value[name])
            )


def broken_group(form: Any, value: Any, fields: dict[str, Any]) -> Iterator[tuple[str, Any]]:
    """The same for named fields: one missing, one beside them, one of the wrong kind."""
    group = form.cases[value[form.by]] if isinstance(form, Cases) else form
    yield "beside", {**fields, "beside": 1}
    for name, field in group.fields.items():
        if name not in fields:
            continue
        if not isinstance(field, Sometimes):
            yield name, {other: changed for other, changed in fields.items() if other != name}
        yield from ((f"{name}.{where}", {**fields, name: changed}) for where, changed in broken(field, fields[name]))


@pytest.mark.parametrize("name", sorted(CALCULATIONS))
def test_an_answer_fits_its_form_and_nothing_else_does(name: str) -> None:
    form, tried = result_form(name), 0
    for answer in answers(name):
        assert form.read(answer, "") == answer
        for where, other in broken(form, answer):
            tried += 1
            with pytest.raises(BadInput):
                pytest.fail(f"{where} of {form.read(other, '')}")
    assert tried >= 3


def seasons() -> list[dict[str, Any]]:
    """The invented units, each with its entries as a log has them."""
    found = []
    for season in read_seasons(UNITS, datetime(2026, 6, 1, 12, tzinfo=UTC)):
        entries = []
        for place, row in enumerate(season["entries"]):
            at = f"2026-{1 + place // 28:02d}-{1 + place % 28:02d}T08:00:00+01:00"
            shown = json.loads(json.dumps(calc(KINDS[row["kind"]].calculation, row["body"])))
            heading = {"id": f"entry {place}", "at": at, "who": row["who"], "device": "phone", "unit": season["unit"]}
            entries.append({**heading, "kind": row["kind"], "body": row["body"], "shown": shown, "agrees": True})
        found.append({"unit": season["unit"], "entries": entries})
    return found


@pytest.mark.parametrize("season", seasons(), ids=lambda season: season["unit"] or "kit")
def test_what_stands_after_a_season_fits_its_form(season: dict[str, Any]) -> None:
    name = "standing" if season["unit"] else "kit_standing"
    for upto in range(len(season["entries"]) + 1):
        request = {"entries": season["entries"][:upto], "today": "2027-06-01"}
        answer = json.loads(json.dumps(calc(name, request)))
        assert result_form(name).read(answer, "") == answer


STORED = {kind: as_stored(result_form(record.calculation)) for kind, record in KINDS.items()}


def without_what_is_not_needed(form: Any, value: Any) -> Any:
    """A result as the plainest engine would have shown it."""
    if isinstance(value, dict) and isinstance(form, Result):
        return {name: without_what_is_not_needed(form.fields[name], value[name]) for name in form.needed}
    if isinstance(value, list) and isinstance(form, Listing):
        return [without_what_is_not_needed(form.of, item) for item in value]
    return value


@pytest.mark.parametrize("kind", sorted(KINDS))
def test_what_older_and_newer_engines_showed_may_be_stored(kind: str) -> None:
    calculation = KINDS[kind].calculation
    for answer in answers(calculation):
        for shown in (
            answer,
            without_what_is_not_needed(result_form(calculation), answer),
            {**answer, "from_a_newer_engine": {"of": ["any", "kind"]}},
        ):
            assert STORED[kind].read(copy.deepcopy(shown), "shown") == shown


@pytest.mark.parametrize(
    ("kind", "change", "where"),
    [
        ("torque_check", {"verdict": "fine"}, "shown.verdict"),
        ("torque_check", {"verdict": None}, "shown.verdict"),
        ("torque_check", {"value_nm": "100"}, "shown.value_nm"),
        ("torque_check", {"value_nm": float("inf")}, "shown.value_nm"),
        ("torque_check", {"findings": None}, "shown.findings"),
        ("torque_check", {"findings": [{"text": "?"}]}, "shown.findings.0.name"),
        ("torque_check", {"reason": 5}, "shown.reason"),
        ("plate_check", {"plates": []}, "shown.plates"),
        ("plate_check", {"plates": [{"slot": "A2"}]}, "shown.plates.0.verdict"),
        ("spring_check", {"springs": [{"name": "S1", "verdict": "go"}]}, "shown.springs.0.reason"),
        ("ring_check", {"pins": "none"}, "shown.pins"),
        ("refit", {"checks": [{"name": "backlash"}]}, "shown.checks.0.verdict"),
        ("rebuild", {"fitted": [{"slot": "A2"}]}, "shown.fitted.0.mm"),
        ("shelf", {"pieces": [{"name": "2.50", "part": "friction", "mm": "2.5"}]}, "shown.pieces.0.mm"),
        ("unit", {"checked": {"order": {"torque_nm": 100}}}, "shown.checked.name"),
        ("strip", {"left": 3}, "shown.left"),
        ("note", {"verdict": "go"}, "shown.verdict"),
    ],
)
def test_what_stands_cannot_be_worked_out_from_is_not_stored(kind: str, change: dict[str, Any], where: str) -> None:
    shown = {**answers(KINDS[kind].calculation)[0], **change}
    with pytest.raises(BadInput) as refusal:
        STORED[kind].read(shown, "shown")
    assert refusal.value.field.startswith(where)


@pytest.mark.parametrize("kind", ["torque_check", "plate_check", "spring_check", "ring_check", "refit", "rebuild"])
def test_a_result_without_what_is_needed_is_not_stored(kind: str) -> None:
    with pytest.raises(BadInput):
        STORED[kind].read({}, "shown")
