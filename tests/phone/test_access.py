"""Every screen in every state, light and dark, for people who see, hear or touch otherwise than most."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, TimeoutError

from .conftest import PATIENCE_MS, RunningServer, until
from .hands import PHONE
from .screens import STATES, Stop, go, opened, routes

AXE = Path(__file__).resolve().parents[2] / "webui" / "node_modules" / "axe-core" / "axe.min.js"

# Target size is measured by the rule of the house, which is stricter; axe takes what the fixed tabs cover for small.
IN_LIGHT = """{ rules: { "target-size": { enabled: false } },
    runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] }"""
# Only colours differ in the dark.
IN_DARK = '{ runOnly: { type: "rule", values: ["color-contrast", "link-in-text-block"] } }'

CHECKS = """() => axe.run(document, { resultTypes: ["violations"], ...%s }).then(({ violations }) =>
    violations.map((one) => `${one.id}: ${one.nodes.map((node) => node.html.slice(0, 110)).join(" | ")}`))"""

# By then a page that is at rest has drawn anew what its window's size or its colours change.
SETTLED_MS = 5000

# The narrowest phone, and a bench screen of 1 280 at 200 %.
WIDTHS = (320, 640)


@pytest.fixture(scope="module")
def running(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The address of one demo for all states: none of them changes its log."""
    with RunningServer(tmp_path_factory.mktemp("access") / "log", "demo") as server:
        yield server.address


def too_wide(page: Page, width: int) -> list[str]:
    """How much wider than its window the page is, and stays: what a drawing takes is measured one frame later."""
    wide = "most => document.documentElement.scrollWidth <= most"
    try:
        page.wait_for_function(wide, arg=width, timeout=SETTLED_MS)
    except TimeoutError:
        return [f"{page.evaluate('document.documentElement.scrollWidth')} px wide on {width}"]
    return []


def faults(page: Page) -> list[str]:
    """What is wrong with the screen that is open."""
    if not page.evaluate("Boolean(globalThis.axe)"):
        page.add_script_tag(path=AXE)
    found: list[str] = page.evaluate(CHECKS % IN_LIGHT)
    found += [f"small target: {fault}" for fault in page.evaluate("inPage.small()")]
    found += [f"faint: {fault}" for fault in page.evaluate("inPage.faint()")]
    page.emulate_media(color_scheme="dark")
    found += [f"dark, {fault}" for fault in page.evaluate(CHECKS % IN_DARK)]
    found += [f"dark, faint: {fault}" for fault in page.evaluate("inPage.faint()")]
    page.emulate_media(color_scheme="light")
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": PHONE["height"]})
        found += too_wide(page, width)
    page.set_viewport_size({"width": PHONE["width"], "height": PHONE["height"]})
    found += [f"moves: {fault}" for fault in page.evaluate("moved.splice(0)")]
    return found


def is_said(page: Page) -> bool:
    """Whether something is said about what was typed, once the engine has answered."""
    try:
        page.get_by_role("alert").first.wait_for(timeout=PATIENCE_MS)
    except TimeoutError:
        return False
    return True


@pytest.mark.parametrize("state", STATES)
def test_no_screen_has_a_fault(state: str, running: str, chromium: Browser, tmp_path: Path) -> None:
    wrong: dict[str, list[str]] = {}
    seen: list[Stop] = []
    unsaid: list[str] = []
    for stop in STATES[state](chromium, running, tmp_path):
        seen.append(stop)
        if state == "wrong" and not is_said(stop.page):
            unsaid.append(stop.path)
        if found := faults(stop.page):
            wrong[f"{stop.state} {stop.path}"] = found
    assert not wrong, "\n".join(f"{where}: {fault}" for where, texts in wrong.items() for fault in texts)
    assert seen
    if state == "wrong":
        assert not unsaid, f"nothing is said about the nonsense on {unsaid}"
    if state == "in use":
        missed = [route.pattern for route in routes() if not any(route.search(stop.path) for stop in seen)]
        assert not missed, f"no link leads to {missed}: give the walk an address to start from"


def test_what_moves_is_noticed_where_movement_is_wanted(running: str, chromium: Browser) -> None:
    with opened(chromium, running) as page:
        go(page, "/help")
        assert page.evaluate("moved") == []
        page.emulate_media(reduced_motion="no-preference")
        go(page, "/settings")
        until(page, "() => moved.some((fault) => fault.includes('settle'))")
