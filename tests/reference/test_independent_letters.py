"""Second opinions: letters and days as people type them, and quantiles of Student's t.

References
----------
1. The Unicode Standard, 4.2 and 4.5: small forms and categories, as CPython's `str` and `unicodedata` have them.
2. ISO 8601-1:2019, 5.2.2.1: a calendar day in its extended form, as `datetime.date` reads it.
3. Student's t as SciPy works it out.
"""

import datetime
import math
import random
import re
import sys
import unicodedata
from collections import Counter

import pytest
import scipy.stats

from server.engine.doubt.student_t import t_quantile
from server.engine.request.errors import BadInput
from server.engine.request.fields import Day, Text
from server.engine.request.letters import are_digits, folded, is_blank, spaced, trimmed

CASES = 2000
# Python takes these for spaces; here they are characters that a text may not have.
CONTROLS = "\x0b\x0c\x1c\x1d\x1e\x1f\x85"
SPACES = [chr(code) for code in range(sys.maxunicode + 1) if chr(code).isspace() and chr(code) not in CONTROLS]
BLOCKS = {
    "ASCII": range(0x80),
    "Latin-1": range(0x80, 0x100),
    "Latin Extended-A": range(0x100, 0x180),
    "Greek": range(0x370, 0x400),
    "Cyrillic": range(0x400, 0x500),
}


def letters_of(block: str) -> list[str]:
    """Characters of a block; left out is a capital whose small form is two characters or in none of the blocks."""
    known = [chr(code) for code in BLOCKS[block] if unicodedata.category(chr(code)) != "Cn"]
    inside = [one for one in known if len(one.lower()) == 1 and any(ord(one.lower()) in at for at in BLOCKS.values())]
    return [one for one in inside if one not in CONTROLS]


def test_a_control_character_is_no_space_and_is_refused_in_a_text() -> None:
    for control in CONTROLS:
        assert not is_blank(control)
        with pytest.raises(BadInput):
            Text(50, "a name").read(f"a{control}", "name")


def some_texts(block: str) -> list[str]:
    """Texts of a block's characters and of spaces."""
    chance, letters = random.Random(f"letters {block}"), letters_of(block)
    sizes = [(chance.randrange(12), chance.choice([0, 0.3, 0.7])) for _ in range(CASES // len(BLOCKS))]
    return ["".join(chance.choice(letters if chance.random() < few else SPACES) for _ in range(n)) for n, few in sizes]


@pytest.mark.parametrize("block", BLOCKS)
def test_spaces_are_those_of_unicode(block: str) -> None:
    texts = some_texts(block)
    for text in texts:
        assert (trimmed(text), spaced(text)) == (text.strip(), " ".join(text.split())), ascii(text)
        assert is_blank(text) == (not text.strip()), ascii(text)
    assert 20 <= sum(map(is_blank, texts)) <= 0.8 * len(texts)


@pytest.mark.parametrize("block", BLOCKS)
def test_capitals_count_for_nothing_in_each_block(block: str) -> None:
    # Each letter by itself [1]_: a sigma that ends a word is as any other.
    assert [one for one in letters_of(block) if not one.isspace() and folded(one) != one.lower()] == []
    for text in some_texts(block):
        assert folded(text) == "".join(one.lower() for one in " ".join(text.split())), ascii(text)


def in_other_digits(text: str, chance: random.Random) -> str:
    """A text with one of its characters exchanged for one that is, or looks like, another."""
    place = chance.randrange(len(text))
    other = chance.choice("0123456789\xb2\xb3\xb9\u2075\uff11\uff12\u0661\u0662\u0967\u2160\xbd-/+ \u2010\n")
    return text[:place] + other + text[place + chance.choice([0, 1, 1, 1]) :]


def test_digits_are_those_of_ascii() -> None:
    chance, seen = random.Random("digits"), Counter[bool]()
    for _ in range(CASES):
        text = str(chance.randrange(10 ** chance.randrange(1, 9)))
        text = chance.choice(["", text, text, in_other_digits(text, chance), in_other_digits(text, chance)])
        assert are_digits(text) == (re.fullmatch(r"[0-9]+", text) is not None), ascii(text)
        seen[are_digits(text)] += 1
    assert min(seen[True], seen[False]) >= 200, seen


def is_day(text: str) -> bool:
    """Whether a text is a day [2]_, in ASCII with its two hyphens."""
    try:
        return datetime.date.fromisoformat(text).isoformat() == text
    except ValueError:
        return False


@pytest.mark.parametrize("years", [(1, 9999), (1900, 2100), (0, 0)])
def test_a_day_is_one_of_the_calendar_or_is_refused(years: tuple[int, int]) -> None:
    chance, seen = random.Random(f"days {years}"), Counter[bool]()
    for _ in range(CASES):
        text = f"{chance.randint(*years):04}-{chance.randrange(14):02}-{chance.choice([0, 1, 28, 29, 30, 31, 32]):02}"
        text = chance.choice([text, text, text, in_other_digits(text, chance), text.replace("-", "")])
        real = is_day(text)
        try:
            taken = Day("when").read(text, "day") == text
        except BadInput:
            taken = False
        assert taken == real, ascii(text)
        seen[real] += 1
    assert seen[False] >= 200, seen
    assert seen[True] >= 200 or years == (0, 0), seen


def test_quantiles_are_scipys_and_stay_the_same_when_asked_again() -> None:
    chance, answers = random.Random("quantiles"), dict[tuple[float, float], float]()
    for _ in range(CASES):
        tail = chance.choice([0.05, 0.025, chance.uniform(0.001, 0.2)])
        few = chance.choice([chance.randrange(1, 120), chance.uniform(1, 120)])
        dof = chance.choice([few, few, few, chance.uniform(120, 1e4), math.inf])
        if answers and chance.random() < 0.5:
            tail, dof = chance.choice(list(answers))
        value = t_quantile(tail, dof)
        assert answers.setdefault((tail, dof), value) == value, (tail, dof)
        # Of fewer than 120 a fraction is cut off.
        exact = scipy.stats.t.isf(tail, dof if dof >= 120 else math.floor(dof))
        assert value == pytest.approx(exact, rel=1e-7), (tail, dof)
