"""A phone says what it may not write before anybody types it, and what it may do instead."""

import json
from collections.abc import Callable

import pytest
from playwright.sync_api import Locator, Page, Route, expect

from server.engine import KINDS
from server.engine.records.kinds import SHOP
from server.lan import TRACKSIDE

from .conftest import RunningServer
from .test_pairing import Workshop, pair, visitors, workshop  # noqa: F401
from .test_story import UNIT, ready_offline

# Every screen on which a kind of entry is written, and whether a trackside phone may do so.
SCREENS = {kind.corrected_on: TRACKSIDE in kind.writers for kind in KINDS.values() if kind.corrected_on}
OF_SHOP = {kind.corrected_on for kind in KINDS.values() if kind.corrected_on and kind.about == SHOP}


def note_on_rights(page: Page) -> Locator:
    return page.get_by_role("note", name="What this phone may write")


def open_screen(page: Page, unit: str, screen: str) -> None:
    """Open a screen by its address, as its key does."""
    path = f"/{screen}" if screen in OF_SHOP else f"{unit}/{screen}".rstrip("/")
    page.evaluate("path => { location.hash = path; }", path)
    expect(page.locator("main h1").first).to_be_visible()


def unit_of(page: Page) -> str:
    """The address of the unit's page, from the list."""
    return (page.get_by_role("link", name=UNIT).get_attribute("href") or "").removeprefix("#")


def test_trackside_is_told_before_it_types_what_is_the_benchs(
    workshop: Workshop,  # noqa: F811
    visitors: Callable[[], Page],  # noqa: F811
) -> None:
    page = visitors()
    pair(page, workshop, "Jo's phone")
    page.get_by_role("link", name="To the units").click()
    expect(page.locator("#bar .state")).to_have_text("up to date")
    unit = unit_of(page)
    # Nothing is written on the list, nor on the page of a unit what only the bench may write.
    expect(note_on_rights(page)).to_have_count(0)
    open_screen(page, unit, "")
    expect(page.get_by_role("heading", name=UNIT)).to_be_visible()
    expect(note_on_rights(page)).to_have_count(0)
    page.locator("summary", has_text="At the bench").click()
    for screen in SCREENS.keys() - {*OF_SHOP, "note"}:
        link = page.locator(f"a.button[href='#{unit}/{screen}']").first
        expect(link).to_be_visible()
        expect(link.get_by_text("bench only")).to_have_count(0 if SCREENS[screen] else 1)
    # Where something may be written comes after where it may not: the notice has to go again.
    for screen in sorted(set(SCREENS) - {"note"}, key=lambda screen: SCREENS[screen]):
        open_screen(page, unit, screen)
        if SCREENS[screen]:
            expect(note_on_rights(page)).to_have_count(0)
            continue
        [kind] = [kind for kind in KINDS.values() if kind.corrected_on == screen]
        expect(note_on_rights(page)).to_contain_text(
            f"The workshop takes {kind.nouns} from the bench alone, and this phone is paired for trackside."
        )
    page.goto(f"{workshop.address}/#/unit/new")
    expect(note_on_rights(page)).to_contain_text("The workshop takes units from the bench alone")
    # Without a connection it knows as well.
    page.evaluate("navigator.serviceWorker.ready")
    workshop.stop()
    page.goto(f"{workshop.address}/#{unit}/rebuild")
    page.reload()
    expect(note_on_rights(page)).to_contain_text("The workshop takes rebuilds from the bench alone")


def test_where_a_phone_is_let_in_its_role_is_said_in_a_line_and_what_is_kept_from_it_one_by_one(
    workshop: Workshop,  # noqa: F811
    visitors: Callable[[], Page],  # noqa: F811
) -> None:
    page = visitors()
    page.goto(f"{workshop.address}/#/devices")
    kept = page.locator("details", has_text="What is kept to the bench")
    expect(
        page.get_by_text("trackside: reads all, writes all but the build of units and the workshop's lists")
    ).to_be_visible()
    expect(kept.locator("p").first).to_be_hidden()
    kept.locator("summary").click()
    lines = kept.locator("p").all_inner_texts()
    areas: dict[str, set[str]] = {}
    for kind in KINDS.values():
        if TRACKSIDE not in kind.writers:
            areas.setdefault(kind.area.words, set()).add(kind.nouns)
    assert len(lines) == len(areas) == 2
    for words, nouns in areas.items():
        [line] = [line for line in lines if line.lower().startswith(f"{words}: ")]
        assert set(line.removesuffix(".")[len(words) + 2 :].replace(" and ", ", ").split(", ")) == nouns
    page.get_by_role("radio", name="bench").check(force=True)
    expect(page.get_by_text("bench: may do all, also let devices in")).to_be_visible()
    expect(kept).to_have_count(0)


def test_the_bench_sees_no_note_about_what_it_may_write(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    ready_offline(phone)
    unit = unit_of(phone)
    for screen in ("", "rebuild", "kit"):
        open_screen(phone, unit, screen)
        expect(note_on_rights(phone)).to_have_count(0)
        expect(phone.get_by_text("bench only")).to_have_count(0)


def test_a_phone_that_was_never_paired_is_told_where_its_work_waits(
    workshop: Workshop,  # noqa: F811
    visitors: Callable[[], Page],  # noqa: F811
) -> None:
    page = visitors()
    page.goto(workshop.address)
    # Whoever comes from the PC itself needs no code: this one shows that it is none of those.
    page.evaluate("slipbook.part('log/store.js').then(({ remember }) => remember('token', '0'.repeat(43)))")
    page.reload()
    expect(page.locator("#bar .state")).to_have_text("not paired")
    page.goto(f"{workshop.address}/#/unit/new")
    expect(note_on_rights(page)).to_contain_text("This phone is not paired: what you write waits here until it is")
    expect(note_on_rights(page)).to_contain_text("takes units only from one that is paired for the bench")
    note_on_rights(page).get_by_role("link", name="Pair it").click()
    expect(page.get_by_role("heading", name="Pair this phone")).to_be_visible()
    expect(note_on_rights(page)).to_have_count(0)


@pytest.mark.parametrize(("before", "after"), [("trackside", "bench"), ("bench", "trackside")])
def test_a_role_that_changed_while_the_phone_was_away_is_said_where_it_is(
    demo: RunningServer, phone: Page, before: str, after: str
) -> None:
    role = [before]

    def answer(route: Route) -> None:
        health = route.fetch()
        route.fulfill(response=health, body=json.dumps({**health.json(), "role": role[0]}))

    phone.context.route("**/api/health*", answer)
    phone.goto(demo.address)
    ready_offline(phone)
    unit = unit_of(phone)
    go_to = f"{unit}/rebuild"
    phone.context.set_offline(True)
    role[0] = after
    phone.evaluate("path => { location.hash = path; }", go_to)
    expect(phone.get_by_role("heading", name="Rebuild")).to_be_visible()
    expect(note_on_rights(phone)).to_have_count(1 if before == "trackside" else 0)
    phone.context.set_offline(False)
    expect(note_on_rights(phone)).to_have_count(1 if after == "trackside" else 0)
    phone.context.unroute_all(behavior="ignoreErrors")
