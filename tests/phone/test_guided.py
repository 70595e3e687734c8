"""A guided strip and close: cautions at their steps, and a spring that nobody leaves in a vice without being asked."""

import pytest
from playwright.sync_api import Page, expect

from server.engine import calc

from .conftest import RunningServer
from .test_story import UNIT, entries_on_disk

SIZES = [(360, 640), (1280, 800)]


def open_guide(phone: Page, demo: RunningServer, name: str, size: tuple[int, int]) -> None:
    phone.set_viewport_size({"width": size[0], "height": size[1]})
    phone.goto(demo.address)
    phone.get_by_role("link", name=UNIT).click()
    # Folded on a phone, open at the bench.
    expect(phone.get_by_text("At the bench: measure")).to_be_visible()
    if not phone.evaluate("document.querySelector('details').open"):
        phone.get_by_text("At the bench: measure").click()
    phone.get_by_role("link", name=name, exact=True).click()


def until_step(phone: Page, procedure: str, name: str) -> None:
    """Do all steps up to one, which is then the one to be done."""
    for number, step in enumerate(calc("steps", {})[procedure], 1):
        if step["name"] == name:
            expect(phone.locator(".guided .now h2")).to_contain_text(step["text"])
            return
        phone.get_by_role("button", name=f"Done: step {number}", exact=True).click()


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize(("procedure", "key"), [("strip", "Strip it"), ("close", "Close it")])
def test_what_to_heed_is_on_the_screen_beside_the_key(
    demo: RunningServer, phone: Page, procedure: str, key: str, size: tuple[int, int]
) -> None:
    open_guide(phone, demo, key, size)
    for number, step in enumerate(calc("steps", {})[procedure], 1):
        card = phone.locator(".guided .now")
        for sentence in [*step["how"], *step["cautions"]]:
            expect(card).to_contain_text(sentence)
        done = phone.get_by_role("button", name=f"Done: step {number}", exact=True)
        if step["cautions"]:
            expect(card.get_by_role("note", name="Caution")).to_be_in_viewport()
        expect(done).to_be_in_viewport()
        done.click()
    expect(phone.locator(".guided .now")).to_have_count(0)


def test_a_spring_in_a_vice_is_not_left_without_a_question(demo: RunningServer, phone: Page) -> None:
    open_guide(phone, demo, "Strip it", SIZES[0])
    until_step(phone, "strip", "relieved")
    expect(phone.get_by_text("A vice alone holds the spring.").first).to_be_visible()
    guide = phone.url
    phone.get_by_role("link", name="Help").click()
    question = phone.get_by_role("dialog")
    expect(question).to_contain_text("Don't walk away")
    question.get_by_role("button", name="Stay and finish").click()
    expect(question).to_be_hidden()
    assert phone.url == guide
    phone.go_back()
    expect(question).to_be_visible()
    assert phone.url == guide
    question.get_by_role("button", name="Leave it held").click()
    expect(phone.get_by_role("heading", name=UNIT)).to_be_visible()
    # The unit says it, with the way back, and so does the list.
    expect(phone.get_by_role("alert").first).to_contain_text("Spring held by a vice: screws are out")
    phone.get_by_role("link", name="Units", exact=True).first.click()
    expect(phone.get_by_role("link", name=UNIT)).to_contain_text("Spring held by a vice since")
    phone.get_by_role("link", name=UNIT).click()
    phone.get_by_role("link", name="go on with it").click()
    until = phone.get_by_role("button", name="Done: step 8", exact=True)
    until.click()
    phone.get_by_role("link", name="Help").click()
    expect(phone.get_by_role("heading", name="Help").first).to_be_visible()


def test_a_strip_that_is_signed_half_way_says_so_everywhere(demo: RunningServer, phone: Page) -> None:
    open_guide(phone, demo, "Strip it", SIZES[0])
    until_step(phone, "strip", "relieved")
    phone.get_by_label("Done and signed by").fill("Mara Quill")
    phone.get_by_role("button", name="Sign what is done so far").click()
    expect(phone.get_by_text("Spring held by a vice: screws are out, left so by Mara Quill")).to_be_visible()
    expect(phone.get_by_role("link", name="up to date")).to_be_visible()
    [signed] = [entry for entry in entries_on_disk(demo) if entry["who"] == "Mara Quill"]
    assert signed["body"]["guide"] == 2
    assert signed["shown"]["held_by_vice"] is True
