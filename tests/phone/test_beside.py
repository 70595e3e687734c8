"""At a bench and on a tablet the drawing and the answer stand beside what is typed, and stay in sight."""

import contextlib
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from .conftest import NEVER_KEPT, RunningServer, until
from .hands import IN_PAGE, PHONE
from .screens import go, opened, unit_path
from .test_story import ready

SIZES = {"bench": (1280, 800), "large": (1920, 1080), "tablet": (820, 1180)}

# Where something lies in the window: how much of it can be seen, and its left and right edge.
SEEN = """element => {
    const { left, right, top, bottom, height } = element.getBoundingClientRect();
    const bars = [...document.querySelectorAll(".verdict-bar, #tabs")].map((one) => one.getBoundingClientRect());
    const over = element.matches(".verdict-bar") ? [] : bars.filter((bar) => bar.left < right && bar.right > left);
    const floor = Math.min(innerHeight, ...over.map((bar) => bar.top));
    return { left, right, share: (Math.min(bottom, floor) - Math.max(top, 0)) / height };
}"""


@contextlib.contextmanager
def shown(browser: Browser, address: str, size: str) -> Iterator[Page]:
    """A page of this size, with the demonstration there; a tablet is touched."""
    touched = {"has_touch": True, "is_mobile": True} if size == "tablet" else {}
    width, height = SIZES[size]
    context = browser.new_context(viewport={"width": width, "height": height}, reduced_motion="reduce", **touched)  # type: ignore[arg-type]
    context.add_init_script(path=IN_PAGE)
    context.add_init_script(NEVER_KEPT)
    page = context.new_page()
    page.goto(address)
    ready(page)
    yield page
    context.close()


def seen(what: Locator) -> dict[str, Any]:
    expect(what).to_be_visible()
    found: dict[str, Any] = what.evaluate(SEEN)
    return found


def in_sight(page: Page, *all_of: Locator) -> None:
    """All of these can be seen whole, as soon as the page has come to rest."""
    for what in all_of:
        expect(what).to_be_visible()
        until(page, f"element => ({SEEN})(element).share > 0.97", what.element_handle())


@pytest.mark.parametrize("size", SIZES)
def test_a_check_shows_how_it_is_held_and_its_verdict_beside_the_readings(
    demo: RunningServer, chromium: Browser, size: str
) -> None:
    with shown(chromium, demo.address, size) as page:
        go(page, f"{unit_path(demo.address)}/check")
        page.get_by_label("Bench: one output held").check()
        drawing = page.get_by_role("img", name="From the left: held, case free, wrench here.")
        first = page.get_by_label("forward reading 1", exact=True)
        assert seen(drawing)["left"] > seen(page.get_by_label("reverse reading 3", exact=True))["right"]
        for direction in ("forward", "reverse"):
            for number, figure in enumerate(("84", "86", "85"), 1):
                page.get_by_label(f"{direction} reading {number}", exact=True).fill(figure)
        verdict = page.locator(".judged > p").first
        expect(page.locator(".judged")).to_contain_text("Good to run")
        in_sight(page, first, drawing, verdict, page.locator(".verdict-bar"))
        # The lever as it is typed, to scale; what is typed last is far down.
        page.get_by_text("Adapter on the wrench", exact=True).click()
        page.get_by_label("Grip to drive, mm").fill("500")
        page.get_by_label("Drive to shaft, mm").fill("100,5")
        expect(page.get_by_role("img", name="A wrench of 500 mm with an adapter of 101 mm")).to_be_attached()
        page.get_by_label("Angle may be off by, degrees").focus()
        in_sight(page, drawing, page.get_by_label("Angle may be off by, degrees"))


@pytest.mark.parametrize("size", SIZES)
def test_a_plan_keeps_its_stacks_and_its_torque_beside_what_is_typed(
    demo: RunningServer, chromium: Browser, size: str
) -> None:
    with shown(chromium, demo.address, size) as page:
        go(page, f"{unit_path(demo.address)}/plan")
        stacks = page.locator(".pictures .stack")
        expect(stacks).to_have_count(2)
        torques = page.locator(".pictures .figure")
        before = torques.nth(1).inner_text()
        wanted = page.get_by_label("Breakaway torque", exact=True)
        assert seen(stacks.first)["left"] > seen(wanted)["right"]
        in_sight(page, wanted, stacks.nth(0), stacks.nth(1), torques.nth(1))
        wanted.fill("90")
        expect(torques.nth(1)).not_to_have_text(before)
        # From the last of what can be changed the answer is still in sight.
        page.get_by_role("button", name="B5", exact=True).press("Enter")
        page.get_by_role("link", name="Look at the shelf").focus()
        in_sight(page, page.get_by_role("link", name="Look at the shelf"), stacks.nth(1), torques.nth(1))


def test_a_unit_on_a_tablet_shows_its_verdict_torque_and_stack_before_the_steps_of_the_job(
    demo: RunningServer, chromium: Browser
) -> None:
    with shown(chromium, demo.address, "tablet") as page:
        go(page, unit_path(demo.address))
        torque = page.locator(".torque-now .figure").first
        stack, step = page.locator(".beside .stack"), page.locator(".job-steps").get_by_role("link", name="Strip it")
        in_sight(page, page.locator(".judged .verdict"), torque, stack)
        tops = [part.evaluate("part => part.getBoundingClientRect().top") for part in (torque, step)]
        assert tops == sorted(tops)
        # What is read first comes first at a keyboard too.
        place = "(one, other) => one.compareDocumentPosition(other) & Node.DOCUMENT_POSITION_FOLLOWING"
        assert page.evaluate(
            f"([one, other]) => ({place})(one, other)", [torque.element_handle(), step.element_handle()]
        )
        expect(page.locator(".job-steps > li.done").first).to_contain_text("Check torque")
        for name in ("Measure plates", "Log an outing", "Log service", "Change the unit"):
            expect(page.locator(".next").get_by_role("link", name=name)).to_be_visible()
        # Turned, it has the layout of a bench.
        page.set_viewport_size({"width": 1180, "height": 820})
        expect(page.locator(".job > details .job-steps")).to_be_visible()
        expect(page.locator(".next")).to_have_count(0)


def test_a_phone_has_them_as_before(demo: RunningServer, chromium: Browser) -> None:
    with opened(chromium, demo.address, in_reach=True) as page:
        ready(page)
        page.set_viewport_size(PHONE)  # type: ignore[arg-type]
        unit = unit_path(demo.address)
        go(page, f"{unit}/check")
        page.get_by_label("Bench: one output held").check()
        expect(page.locator(".large-drawing")).to_be_hidden()
        go(page, f"{unit}/plan")
        expect(page.locator(".pictures h3 .figure").first).to_be_hidden()
        order = page.locator(".answer > section").evaluate_all(
            "all => all.map((one) => one.getBoundingClientRect().top)"
        )
        assert order == sorted(order)
