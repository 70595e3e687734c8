"""What each kind of field takes and refuses, and what is said at its limits: the sentence names the limit as typed."""

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.engine import BadInput, calc, calc_text
from server.engine.request.errors import once_each
from server.engine.request.fields import (
    Answered,
    Checked,
    Choice,
    Field,
    Group,
    Listing,
    Number,
    Text,
    Whole,
    YesNo,
    show,
)
from server.engine.request.units import UNITS, factor, say

LENGTH = Number(0.5, 50.8, "mm", "a length")
PLAIN = Number(-2, 3, "", "a number")
WORDS = Text(5, "a word")
MAY_BE_BLANK = Text(5, "a word", default="")
LINES = Text(2000, "a note")
GROUP = Group({"first": Number(0, 9, "", "one"), "second": Number(0, 9, "", "two", default=4.0)}, "both")
LIST = Listing(Number(0, 9, "", "one"), 2, 4, "some", nouns="points")


def refused(field: Field, value: object) -> tuple[str, str]:
    """Where and in which words a field refuses a value."""
    with pytest.raises(BadInput) as caught:
        field.read(value, "here")
    return caught.value.field, caught.value.reason


@pytest.mark.parametrize(
    ("field", "value", "read"),
    [
        (LENGTH, 0.5, 0.5),
        (LENGTH, 50.8, 50.8),
        (LENGTH, {"typed": "2", "unit": "inch"}, 50.8),
        (LENGTH, {"typed": "1,5"}, 1.5),
        (LENGTH, "1.5", 1.5),
        (PLAIN, "-2", -2.0),
        (PLAIN, "\u22121", -1.0),
        (PLAIN, "+3", 3.0),
        (PLAIN, ",5", 0.5),
        (PLAIN, "2.", 2.0),
        (PLAIN, "0" * 19 + "1", 1.0),
        (Whole(1, 3, "a count"), "3", 3),
        (WORDS, "abcde", "abcde"),
        (MAY_BE_BLANK, "", ""),
        (LINES, "one\ntwo\r\n\tthree", "one\ntwo\r\n\tthree"),
        (WORDS, "\xa0~ä", "\xa0~ä"),
        (YesNo("whether"), False, False),
        (LIST, [1, 2], [1.0, 2.0]),
        (LIST, [1, 2, 3, 4], [1.0, 2.0, 3.0, 4.0]),
        (Checked("a thing"), {"any": ["thing"]}, {"any": ["thing"]}),
        (GROUP, {"first": 1}, {"first": 1.0, "second": 4.0}),
        (GROUP, {"first": 1, "second": " "}, {"first": 1.0, "second": 4.0}),
        (GROUP, {"first": 1, "second": {"typed": "", "unit": ""}}, {"first": 1.0, "second": 4.0}),
        (Answered({"first": WORDS}), {"first": "a", "other": 1}, {"first": "a"}),
    ],
)
def test_what_is_inside_the_limits_is_taken(field: Field, value: object, read: object) -> None:
    assert field.read(value, "here") == read


@pytest.mark.parametrize(
    ("field", "value", "where", "sentence"),
    [
        (LENGTH, 0.4999, "here", "This must be at least 0.5 mm; got 0.4999 mm."),
        (LENGTH, "50,81", "here", "This must be at most 50.8 mm; got 50.81 mm."),
        (LENGTH, {"typed": "3", "unit": "inch"}, "here", "This must be at most 2 inch; got 3 inch."),
        (LENGTH, {"typed": "19", "unit": "thou"}, "here", "This must be at least 19.685 thou; got 19 thou."),
        (
            LENGTH,
            {"typed": "1", "unit": "kg"},
            "here",
            "That is not a unit for this. Use one of these: mm, inch, thou.",
        ),
        (LENGTH, {"typed": "1", "in": 2}, "here.in", "A typed quantity holds only 'typed' and 'unit'."),
        (LENGTH, {"typed": None}, "here", "Fill this in."),
        (PLAIN, {"typed": "1", "unit": "mm"}, "here", "This is a plain number: leave its unit out."),
        (PLAIN, -3, "here", "This must be at least -2; got -3."),
        (PLAIN, 1e15, "here", "This must be at most 3; got 1000000000000000."),
        (PLAIN, 1.1e15, "here", "Type a number, for example 72.5; this one is far too large."),
        (PLAIN, -1.1e15, "here", "Type a number, for example 72.5; this one is far too large."),
        (PLAIN, float("-inf"), "here", "Type a number, for example 72.5."),
        (PLAIN, False, "here", "Type a number, for example 72.5."),
        (PLAIN, "one point five and a half", "here", "Type a number, for example 72.5; got 'one point five and a'."),
        (PLAIN, "-", "here", "Type a number, for example 72.5; got '-'."),
        (PLAIN, "--1", "here", "Type a number, for example 72.5; got '--1'."),
        (PLAIN, "1e3", "here", "Type a number, for example 72.5; got '1e3'."),
        (PLAIN, "1,000.5", "here", "Use one decimal sign only, comma or point; got '1,000.5'."),
        (PLAIN, "1,2.x", "here", "Type a number, for example 72.5; got '1,2.x'."),
        (PLAIN, "\u2212x", "here", "Type a number, for example 72.5; got '\u2212x'."),
        (PLAIN, "9 é’s 'm'\x00", "here", "Type a number, for example 72.5; got '9 é’s 'm'\ufffd'."),
        (PLAIN, "1" * 21, "here", "Type at most 20 digits."),
        (Whole(1, 3, "a count"), 1.5, "here", "Type a whole number; got 1.5."),
        (Choice({"b": "second", "a_1": "first"}, "one of two"), "c", "here", "Choose one of these: first; second."),
        (Choice({"b": "second", "a_1": "first"}, "one of two"), ["a"], "here", "Choose one of these: first; second."),
        (WORDS, "abcdef", "here", "Shorten this to 5 characters; it has 6."),
        (WORDS, 3, "here", "Type text here."),
        (WORDS, "  ", "here", "Fill this in."),
        (WORDS, "ab\n", "here", "Character 3 cannot be shown in this text: delete it."),
        (LINES, "ab\x00", "here", "Character 3 cannot be shown in this text: delete it."),
        (LINES, "\x7f", "here", "Character 1 cannot be shown in this text: delete it."),
        (LINES, "a\x9f", "here", "Character 2 cannot be shown in this text: delete it."),
        (Text(200, "a line"), "a\tb", "here", "Character 2 cannot be shown in this text: delete it."),
        (YesNo("whether"), 1, "here", "Answer true or false."),
        (LIST, (1, 2), "here", "Give a list here."),
        (LIST, [1], "here", "Give at least 2 points here; there is 1."),
        (LIST, [], "here", "Give at least 2 points here; there are 0."),
        (LIST, [1] * 5, "here", "Give at most 4 points here; there are 5."),
        (LIST, [1, "x"], "here.1", "Type a number, for example 72.5; got 'x'."),
        (Listing(WORDS, 1, 2, "words"), [], "here", "Give some entries here; there are 0."),
        (Checked("a thing"), [], "here", "Give named fields here."),
        (Answered({"first": WORDS}), "first", "here", "Give named fields here."),
        (Answered({"first": WORDS}), {"other": 1}, "here.first", "Fill this in."),
        (GROUP, [], "here", "Give named fields here."),
        (GROUP, {"second": 1}, "here.first", "Fill this in."),
        (GROUP, {"first": 1, "third": 1}, "here.third", "This is not asked for here: leave it out."),
        (GROUP, {"first": 1, "second": "x"}, "here.second", "Type a number, for example 72.5; got 'x'."),
    ],
)
def test_what_is_outside_is_refused_where_it_is(field: Field, value: object, where: str, sentence: str) -> None:
    assert refused(field, value) == (where, sentence)


@pytest.mark.parametrize(("number", "written"), [(-0.00001, "0"), (100.0, "100"), (0.12345, "0.1235"), (-0.5, "-0.5")])
def test_a_number_is_written_as_a_person_does(number: float, written: str) -> None:
    assert show(number) == written


@given(st.sampled_from([(si, unit) for si in ("nm", "mm", "n") for unit, _, _ in UNITS[si]]), st.floats(-1e4, 1e4))
def test_a_sentences_figure_is_the_value_in_the_readers_unit(unit: tuple[str, str], value: float) -> None:
    figure, _, sign = say(value, *unit).partition(" ")
    places = len(figure.partition(".")[2])
    assert float(figure) * factor(unit[1], unit[0]) == pytest.approx(
        value, abs=0.501 * 10**-places * factor(*unit[::-1])
    )
    assert sign == {name: written for name, written, _ in UNITS[unit[0]]}[unit[1]]


def test_every_switch_offers_units_with_sign_and_places() -> None:
    offered = calc("units", {})
    assert set(offered) == {si for si, choices in UNITS.items() if len(choices) > 1}
    assert offered["kg"][1] == {"unit": "lb", "label": "lb", "factor": 0.45359237, "places": 2}
    for si in ("nm", "mm", "n"):
        for row in offered[si]:
            figure, _, sign = say(1.0, si, row["unit"]).partition(" ")
            assert (row["places"], row["label"]) == (len(figure.partition(".")[2]), sign)


@pytest.mark.parametrize(
    ("request_", "text"),
    [
        ({"torque_nm": 0}, "0.0 N·m"),
        ({"length_mm": {"typed": "1", "unit": "inch"}, "write_lengths_in": "mm"}, "25.400 mm"),
        ({"length_mm": 25.4, "write_lengths_in": "thou", "write_in": "lbf_ft"}, "1000.0 thou"),
    ],
)
def test_one_figure_is_put_into_words(request_: dict[str, Any], text: str) -> None:
    assert calc("in_words", request_) == {"text": text}


@pytest.mark.parametrize("request_", [{}, {"torque_nm": 1, "length_mm": 1}])
def test_no_figure_or_two_are_refused(request_: dict[str, Any]) -> None:
    with pytest.raises(BadInput) as refusal:
        calc("in_words", request_)
    assert (refusal.value.field, refusal.value.reason) == ("torque_nm", "Give one figure: a torque or a length.")


def test_the_text_door_says_what_the_plain_one_says() -> None:
    request = {"calc": "in_words", "request": {"torque_nm": 1}}
    assert json.loads(calc_text(json.dumps(request))) == {"ok": {"text": "1.0 N·m"}}
    refusal = {"field": "torque_nm", "reason": "Type a number, for example 72.5; got 'x'."}
    assert json.loads(calc_text(json.dumps({**request, "request": {"torque_nm": "x"}}))) == {"bad": refusal}
    for text in ("{", "[]", '{"calc": "note"}'):
        bad = json.loads(calc_text(text))["bad"]
        assert bad["field"] == ""
        assert bad["reason"].startswith("The request cannot be read: ")
    unknown = json.loads(calc_text('{"calc": "x", "request": {}}'))["bad"]
    assert unknown["reason"].startswith("There is no calculation of this name")


def test_the_second_of_two_rows_with_one_name_is_refused() -> None:
    rows = [{"slot": "A1"}, {"slot": "A2"}, {"slot": "A1"}]
    with pytest.raises(BadInput) as refusal:
        once_each(rows, "plates", "slot", "is there twice.")
    assert (refusal.value.field, refusal.value.reason) == ("plates.2.slot", "A1 is there twice.")
    assert str(refusal.value) == "plates.2.slot: A1 is there twice."
    assert str(BadInput("", "Choose.")) == "Choose."
    once_each(rows[:2], "plates", "slot", "is there twice.")
