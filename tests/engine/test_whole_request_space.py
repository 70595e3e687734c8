"""Every calculation, asked anything at all: a finite answer, or a refusal that names the field and what to do."""

import json
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from server.engine import CALCULATIONS, BadInput, calc, calc_text, result_form
from server.engine.request.fields import Checked, Group, Listing, Number

from .checks import keys_in
from .samples import FOLDER, samples
from .strategies import groups, near_samples

# Entries are what the log has checked on their way in; garbage in their place is not a request of a user.
OF_ENTRIES = {
    name
    for name, calculation in CALCULATIONS.items()
    if any(isinstance(field, Listing) and isinstance(field.of, Checked) for field in calculation.form.fields.values())
}
ASKED = sorted(set(CALCULATIONS) - OF_ENTRIES)


def answers_or_refuses(name: str, request: Any) -> bool:
    """Whether it was answered; fails on anything but a finite answer of its form, or a proper refusal."""
    try:
        result = calc(name, request)
    except BadInput as refusal:
        is_proper(refusal, name, request)
        return False
    # As JSON hands it on: nothing missing, nothing beside it, each value of its kind.
    result_form(name).read(json.loads(json.dumps(result, allow_nan=False)), name)
    return True


def is_proper(refusal: BadInput, name: str, request: Any) -> None:
    """A refusal says something, at a place that the request or its form has."""
    assert len(refusal.reason) > 10
    assert not keys_in(refusal.reason), refusal.reason
    assert has_field(request, refusal.field, CALCULATIONS[name].form), f"{refusal.field} is no field of {name}"


def has_field(request: Any, path: str, form: Any) -> bool:
    """Whether a path leads through the form, or to something in the request that the form does not know."""
    field = form
    for step in path.split(".") if path else []:
        if isinstance(field, Group) and step in field.fields:
            field = field.fields[step]
        elif isinstance(field, Listing) and step.isdigit():
            field = field.of
        else:
            # A stray name: refused where it is. It may hold dots itself.
            return "not asked for" in refusal_of(request, form) or "holds only" in refusal_of(request, form)
    return True


def refusal_of(request: Any, form: Any) -> str:
    """What the form says to a request."""
    try:
        form.read(request, "")
    except BadInput as refusal:
        return refusal.reason
    return ""


def test_every_calculation_has_samples_good_and_bad() -> None:
    assert {file.stem for file in FOLDER.glob("*.json")} == set(CALCULATIONS)
    for name in CALCULATIONS:
        bad = [entry["about"].startswith("bad:") for entry in samples(name)]
        assert True in bad, name
        assert False in bad, name


def described(field: Any, path: str) -> None:
    """A field and all that it holds say what they mean, and a name says its unit."""
    assert field.meaning.strip(), path
    if isinstance(field, Number) and field.unit:
        assert any(f"_{step}".endswith(f"_{field.unit}") for step in path.split(".")), path
    if isinstance(field, Listing):
        described(field.of, path + ".0")
    if isinstance(field, Group):
        for inner, part in field.fields.items():
            described(part, f"{path}.{inner}")


@pytest.mark.parametrize("name", sorted(CALCULATIONS))
def test_every_field_says_what_it_means_and_in_which_unit(name: str) -> None:
    for inner, field in CALCULATIONS[name].form.fields.items():
        described(field, f"{name}.{inner}")
    assert CALCULATIONS[name].meaning.endswith(".")


@pytest.mark.parametrize("name", sorted(CALCULATIONS))
def test_samples_are_answered_or_refused_as_they_say(name: str) -> None:
    for entry in samples(name):
        assert answers_or_refuses(name, entry["request"]) != entry["about"].startswith("bad:"), entry["about"]


@pytest.mark.parametrize("name", ASKED)
def test_a_request_near_a_known_one_is_answered_or_refused_at_a_field(name: str) -> None:
    answered = []

    # The same requests every time: how many of them are answered is a matter of luck otherwise.
    @settings(max_examples=60 if name == "plan" else 150, suppress_health_check=list(HealthCheck), derandomize=True)
    @given(near_samples(name))
    def check(request: Any) -> None:
        answered.append(answers_or_refuses(name, request))

    check()
    # A strategy that is always refused would test nothing but the form.
    assert any(answered)


@pytest.mark.parametrize("name", ASKED)
def test_a_request_out_of_the_form_alone_is_answered_or_refused_at_a_field(name: str) -> None:
    @settings(max_examples=40, suppress_health_check=list(HealthCheck), deadline=None)
    @given(groups(CALCULATIONS[name].form))
    def check(request: Any) -> None:
        answers_or_refuses(name, request)

    check()


@pytest.mark.parametrize("name", sorted(CALCULATIONS))
@pytest.mark.parametrize("request_", [None, [], "text", 5, True])
def test_what_is_no_request_at_all(name: str, request_: Any) -> None:
    with pytest.raises(BadInput):
        calc(name, request_)


@given(st.text(max_size=40))
def test_the_text_door_never_raises(text: str) -> None:
    assert set(json.loads(calc_text(text))) <= {"ok", "bad"}
