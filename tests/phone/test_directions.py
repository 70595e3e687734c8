"""Names from right to left, and control characters in a typed text, turn nothing round that stands beside them.

How a line is laid out is the browser's own answer, which goes by the Unicode Standard, Annex 9.
"""

import pytest
from playwright.sync_api import Page, expect

from server.log.directions import closed, steady
from tests.engine.checks import UNIT, changed
from tests.server.hostile_text import HOSTILE

from .conftest import RunningServer
from .test_unit_findings import ID, written

pytestmark = [pytest.mark.in_reach, pytest.mark.knows_the_demo]

HONEST = ("דני", "דני כהן", "أحمد", "גל (קדמי)", "אבי 2", "צה״ל-3")
CONTROLLED = ("\u202eback to front", "a\u2067b", "\u202bleft open\u2066", "\u2069\u202e", "דני\u202e", "\u200f")
# How far each letter and figure stands from the left; "" where it takes no room.
PLACES = """text => {
    document.body.innerHTML = "<p style='white-space: pre; width: max-content'></p>";
    const [line] = document.body.children;
    line.textContent = text;
    const range = document.createRange();
    return [...text].map((letter, place) => {
        range.setStart(line.firstChild, place);
        range.setEnd(line.firstChild, place + 1);
        const { left, width } = range.getBoundingClientRect();
        return width ? left : "";
    });
}"""


def is_in_order(page: Page, text: str, before: int, after: int) -> bool:
    """Whether so many letters at the beginning and at the end of a line stand left and right of all that is between."""
    places = page.evaluate(PLACES, text)
    assert len(places) == len(text)
    ours = [place for place in (*places[:before], *places[-after:]) if place != ""]
    assert len(ours) > 3
    inner = [place for place in places[before:-after] if place != ""]
    return ours == sorted(ours) and all(places[before - 1] < place < places[-after] for place in inner)


def test_what_stands_beside_a_name_keeps_its_place(demo: RunningServer, phone: Page) -> None:
    phone.goto(f"{demo.address}/manifest.webmanifest")
    turned = []
    for text in (*HONEST, *CONTROLLED):
        sentence = f"84.6 {text}: 90.1 N·m, 3 x"
        shown = steady(sentence)
        assert steady(shown) == shown
        assert is_in_order(phone, shown, 5, len(": 90.1 N·m, 3 x")), ascii(text)
        if not is_in_order(phone, sentence, 5, len(": 90.1 N·m, 3 x")):
            turned.append(text)
    assert len(turned) > 8, "without that they would not"


def test_what_a_text_leaves_open_ends_with_its_cell(demo: RunningServer, phone: Page) -> None:
    phone.goto(f"{demo.address}/manifest.webmanifest")
    turned = []
    for text in CONTROLLED:
        assert closed(text).startswith(text)
        for cell in (closed(text), text):
            line = f"84.6,{cell},x,"
            places = phone.evaluate(PLACES, f"{line}90.1,85.0")[len(line) :]
            if places != sorted(places):
                turned.append(cell)
    assert set(turned) <= {text for text in CONTROLLED if closed(text) != text}
    assert len(turned) > 2, "without that it would not"


def test_the_phone_and_the_server_show_the_same(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    texts = [f"{text}: 84.6 N·m" for text in (*HONEST, *CONTROLLED, *HOSTILE)]
    shown = phone.evaluate(
        "texts => slipbook.part('screens/frame/directions.js').then(({ steady }) => texts.map(steady))", texts
    )
    assert shown == [steady(text) for text in texts]


def test_a_name_stays_as_it_was_typed_where_it_is_changed_and_stored(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    name = "דני \u202e2"
    written(phone, ("unit", "unit", changed(UNIT, name=name)))
    expect(phone.get_by_role("link", name="דני")).to_contain_text(steady(name))
    phone.goto(f"{demo.address}/#/unit/{ID}")
    expect(phone.get_by_role("heading", level=1)).to_contain_text(steady(name))
    phone.goto(f"{demo.address}/#/unit/{ID}/change")
    expect(phone.get_by_label("Name").first).to_have_value(name)
    stored = phone.evaluate("id => slipbook.part('log/stands.js').then(({ standing }) => standing(id))", ID)
    assert stored["unit"]["name"] == name
