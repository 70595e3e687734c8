"""A guided strip and close: cautions at their steps, and a spring that nobody leaves in a vice without being asked."""

import re

import pytest
from playwright.sync_api import Page, expect

from server.engine import calc

from .conftest import RunningServer, until
from .hands import Thumbs
from .test_bench import at_the_bench
from .test_story import UNIT, delivered, entries_on_disk

pytestmark = [pytest.mark.in_reach, pytest.mark.knows_the_demo]

SIZES = [(360, 640), (1280, 800)]


def open_guide(phone: Page, demo: RunningServer, name: str, size: tuple[int, int]) -> None:
    phone.set_viewport_size({"width": size[0], "height": size[1]})
    phone.goto(demo.address)
    phone.get_by_role("link", name=UNIT).click()
    at_the_bench(Thumbs(phone), name)


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
        expect(card.get_by_role("heading")).to_be_in_viewport(ratio=1)
        done.click()
    expect(phone.locator(".guided .now")).to_have_count(0)


def test_a_spring_in_a_vice_is_not_left_without_a_question(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    phone.evaluate("slipbook.part('log/store.js').then(({ remember }) => remember('who', 'Mara Quill'))")
    open_guide(phone, demo, "Strip it", SIZES[0])
    until_step(phone, "strip", "relieved")
    expect(phone.get_by_text("A vice alone holds the spring.").first).to_be_visible()
    guide = phone.url
    phone.get_by_role("link", name="Help").click()
    question = phone.get_by_role("dialog")
    expect(question).to_contain_text("Don't walk away")
    question.get_by_role("button", name="Stay and finish").click()
    expect(question).to_be_hidden()
    expect(phone).to_have_url(guide)
    phone.go_back()
    expect(question).to_be_visible()
    expect(phone).to_have_url(guide)
    question.get_by_role("button", name="Leave it held").click()
    expect(phone.get_by_role("heading", name=UNIT)).to_be_visible()
    # The unit says it, with the way back, and so does the list.
    expect(phone.get_by_role("alert").first).to_contain_text("Spring held by a vice: screws are out")
    phone.get_by_role("link", name="Units", exact=True).first.click()
    in_list = phone.get_by_role("link", name=UNIT)
    expect(in_list).to_contain_text(re.compile(r"Spring held by a vice: screws are out, since .+ by Mara Quill"))
    phone.get_by_role("link", name=UNIT).click()
    phone.get_by_role("link", name="go on with it").click()
    phone.get_by_role("button", name="Done: step 8", exact=True).click()
    phone.get_by_role("link", name="Help").click()
    expect(phone.get_by_role("heading", name="Help").first).to_be_visible()


def test_a_strip_that_is_signed_half_way_says_so_everywhere(demo: RunningServer, phone: Page) -> None:
    open_guide(phone, demo, "Strip it", SIZES[0])
    until_step(phone, "strip", "relieved")
    phone.get_by_label("Done and signed by").fill("Mara Quill")
    phone.get_by_role("button", name="Sign what is done so far").click()
    expect(phone.get_by_text("Spring held by a vice: screws are out, left so by Mara Quill")).to_be_visible()
    delivered(phone)
    [signed] = [entry for entry in entries_on_disk(demo) if entry["who"] == "Mara Quill"]
    assert signed["body"]["guide"] == 2
    assert signed["shown"]["held_by_vice"] is True


@pytest.mark.parametrize("size", SIZES)
def test_the_clamp_left_is_told_with_the_torque_at_the_case(
    demo: RunningServer, phone: Page, size: tuple[int, int]
) -> None:
    open_guide(phone, demo, "Close it", size)
    expect(phone.get_by_text("more than the spring alone needs")).to_be_visible()
    phone.goto(phone.url.replace("/close", "/change"))
    phone.locator("[data-section=cover] > summary").click()
    field = phone.get_by_label("Greatest torque at the case", exact=True)
    field.fill("lots")
    expect(phone.get_by_text("Type a number, for example 72.5; got 'lots'.").first).to_be_visible()
    field.fill("1800")
    expect(phone.get_by_text("Type a number, for example 72.5; got 'lots'.")).to_have_count(0)
    phone.get_by_label("Entered by").fill("Mara Quill")
    phone.get_by_role("button", name="Save the change").click()
    expect(phone.get_by_role("heading", name=UNIT)).to_be_visible()
    phone.goto(f"{phone.url}/close")
    expect(phone.get_by_text("At 1800.0 N·m into the case spring and ramps push the cover")).to_be_visible()
    expect(phone.get_by_text("since a nut factor is known to a quarter either way")).to_be_visible()
    assert phone.evaluate("document.documentElement.scrollWidth") <= size[0]


# Counts how often the screen is asked to stay on, and let go.
WAKE = """
globalThis.awake = { asked: 0, released: 0 };
const request = async () => {
  awake.asked += 1;
  return { release: async () => { awake.released += 1; } };
};
Object.defineProperty(navigator, "wakeLock", { value: { request } });
"""


@pytest.mark.parametrize("key", ["Strip it", "Close it"])
def test_the_screen_stays_awake_as_long_as_the_guide_is_open(demo: RunningServer, phone: Page, key: str) -> None:
    phone.add_init_script(WAKE)
    open_guide(phone, demo, key, SIZES[0])
    expect(phone.locator(".guided .now")).to_be_visible()
    until(phone, "() => awake.asked === 1 && awake.released === 0")
    phone.get_by_role("link", name=UNIT).click()
    expect(phone.get_by_role("heading", name=UNIT)).to_be_visible()
    until(phone, "() => awake.asked === 1 && awake.released === 1")


def test_a_strip_and_a_close_are_gone_through_with_enter_alone(demo: RunningServer, phone: Page) -> None:
    phone.set_viewport_size({"width": 1280, "height": 800})
    phone.goto(demo.address)
    phone.get_by_role("link", name=UNIT).click()
    expect(phone.get_by_role("heading", name=UNIT)).to_be_visible()
    unit = phone.url
    for procedure, steps in (("strip", 10), ("close", 12)):
        phone.goto(f"{unit}/{procedure}")
        phone.get_by_role("button", name="Done: step 1", exact=True).focus()
        for step in range(1, steps + 1):
            expect(phone.get_by_role("button", name=f"Done: step {step}", exact=True)).to_be_focused()
            phone.keyboard.press("Enter")
        expect(phone.get_by_role("button", name="Sign it off")).to_be_focused()
