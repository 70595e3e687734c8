"""Every screen, light and dark, for people who see, hear or touch otherwise: axe finds nothing, targets are large."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from .conftest import RunningServer, open_phone
from .test_story import UNIT, ready_offline

AXE = Path(__file__).resolve().parents[2] / "webui" / "node_modules" / "axe-core" / "axe.min.js"
UNIT_SCREENS = [
    "",
    "check",
    "plates",
    "springs",
    "rings",
    "changed",
    "plan",
    "rebuild",
    "strip",
    "close",
    "ramps",
    "sheet",
    "change",
]
SCREENS = ["/", "/unit/new", "/kit", "/shelf", "/outbox", "/settings", "/help"]

TARGETS = """() => [...document.querySelectorAll("a, button, input, select, textarea, summary, [role=button]")]
    .filter((one) => one.offsetParent !== null || one instanceof SVGElement)
    .filter((one) => !one.matches(".skip, p a, li > a:not(.button), td a, .choices input, label.photo input"))
    .map((one) => [one.getBoundingClientRect(), one])
    .filter(([box]) => box.height > 0 && box.height < 47.5)
    .map(([box, one]) => `${one.outerHTML.slice(0, 90)}: ${box.height.toFixed(0)} px`)"""

# Target size is measured by the rule of the house above; axe takes what the fixed tabs cover for small.
CHECKS = """() => axe
    .run(document, { rules: { "target-size": { enabled: false } },
        runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] })
    .then(({ violations }) =>
        violations.map((one) => `${one.id}: ${one.nodes.map((node) => node.html.slice(0, 110)).join(" | ")}`))"""


@pytest.fixture(params=["light", "dark"])
def seen(request: pytest.FixtureRequest, demo: RunningServer, chromium: Browser) -> Iterator[tuple[Page, str, str]]:
    """A phone in a colour scheme, the demo's address, and a unit's path."""
    # The checks are put into the page by the test; the app's own policy would keep them out.
    context = open_phone(chromium, color_scheme=request.param, bypass_csp=True, reduced_motion="reduce")
    page = context.new_page()
    page.goto(demo.address)
    ready_offline(page)
    path = page.get_by_role("link", name=UNIT).get_attribute("href") or ""
    yield page, demo.address, path.removeprefix("#")
    context.close()


def faults(page: Page) -> list[str]:
    """What axe finds, targets that are too small, and a page that is wider than the phone."""
    page.add_script_tag(path=AXE)
    found: list[str] = page.evaluate(CHECKS)
    found += [f"small target: {one}" for one in page.evaluate(TARGETS)]
    width = page.evaluate("document.documentElement.scrollWidth")
    return found + ([f"{width} px wide"] if width > page.evaluate("innerWidth") else [])


def test_no_screen_has_a_fault(seen: tuple[Page, str, str]) -> None:
    page, address, unit = seen
    wrong: dict[str, Any] = {}
    for path in SCREENS + [f"{unit}/{name}".rstrip("/") for name in UNIT_SCREENS]:
        page.goto("about:blank")
        page.goto(f"{address}/#{path}")
        page.locator("main h1").first.wait_for(timeout=15000)
        page.wait_for_timeout(500)
        if found := faults(page):
            wrong[path] = found
    assert not wrong, "\n".join(f"{path}: {one}" for path, found in wrong.items() for one in found)


@pytest.mark.parametrize("wide", [320, 640])
def test_the_narrowest_phone_and_a_tablet_at_twice_the_size_fit(
    demo: RunningServer, chromium: Browser, wide: int
) -> None:
    # Zoomed to 200 %, a screen of 1 280 is 640 wide to the page.
    context = chromium.new_context(viewport={"width": wide, "height": 568})
    page = context.new_page()
    page.goto(demo.address)
    ready_offline(page)
    unit = (page.get_by_role("link", name=UNIT).get_attribute("href") or "").removeprefix("#")
    found = {}
    for path in SCREENS + [f"{unit}/{name}".rstrip("/") for name in UNIT_SCREENS]:
        page.goto("about:blank")
        page.goto(f"{demo.address}/#{path}")
        page.locator("main h1").first.wait_for(timeout=15000)
        page.wait_for_timeout(300)
        width = page.evaluate("document.documentElement.scrollWidth")
        if width > wide:
            found[path] = width
    context.close()
    assert found == {}
