"""Help: every method's page stands, is reached by keyboard, says its sources, and has its figures from the engine."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from server.demo import entry_id
from server.engine import calc

from .conftest import RunningServer, draft_is_kept
from .hands import PHONE
from .screens import go, of_log, opened, put, unit_path
from .test_access import faults
from .test_conditions import HIGH
from .test_story import UNIT, fill_readings, ready, ready_offline

# What a mistake in a page would show in place of a figure.
SPOILT = re.compile(r"undefined|NaN|\bnull\b|\[object|Infinity")

OPEN_ALL = "() => document.querySelectorAll('main details').forEach((one) => (one.open = true))"
TOPICS = """async () => (await slipbook.part("screens/help/topics.js")).GROUPS
    .flatMap((group) => group.topics).map(({ name, title }) => ({ name, title }))"""
ANATOMY = """() => {
    const main = document.querySelector("main");
    const all = (selector) => [...main.querySelectorAll(selector)];
    const after = (one, start) => one.hash.slice(start.length);
    const under = (title) => all("section, details")
        .find((one) => one.querySelector("h2, summary")?.textContent.trim() === title)
        ?.querySelectorAll("li").length ?? 0;
    return {
        drawings: main.querySelectorAll("figure svg").length,
        formulas: main.querySelectorAll(".formula math").length,
        silent: all("math").filter((one) => !one.getAttribute("aria-label")?.trim()).length,
        unnamed: all("figure svg[role=img]").filter((one) => !one.getAttribute("aria-label")).length,
        sources: under("Where it comes from"),
        limits: under("When not to trust it"),
        terms: all("a[href^='#/help/words/']").map((one) => after(one, "#/help/words/")),
        links: all("a[href^='#/help/']").map((one) => after(one, "#/help/")),
        text: main.innerText,
    };
}"""
WIDE = """() => [
    ...[...document.querySelectorAll("html, .formula")]
        .filter((one) => one.scrollWidth > one.clientWidth + 1)
        .map((one) => `too wide: ${one.className} ${one.textContent.slice(0, 60)}`),
    ...[...document.querySelectorAll("figure svg")].flatMap((svg) => [...svg.querySelectorAll("text")]
        .filter((text) => text.getBoundingClientRect().right > svg.getBoundingClientRect().right + 2
            || text.getBoundingClientRect().left < svg.getBoundingClientRect().left - 2)
        .map((text) => `cut off: ${text.textContent}`)),
]"""


@pytest.fixture(scope="module")
def running(tmp_path_factory: pytest.TempPathFactory) -> Iterator[RunningServer]:
    """One demo for all of these."""
    with RunningServer(tmp_path_factory.mktemp("help") / "log", "demo") as server:
        yield server


@pytest.fixture(scope="module")
def shared(running: RunningServer, chromium: Browser) -> Iterator[tuple[Page, list[str]]]:
    """A phone on the demo for all of these, and the errors in its page."""
    errors: list[str] = []
    with opened(chromium, running.address, in_reach=True) as phone:
        phone.on("pageerror", lambda error: errors.append(str(error)))
        ready(phone)
        yield phone, errors


@pytest.fixture
def page(shared: tuple[Page, list[str]]) -> Iterator[Page]:
    """A phone on the demo; an error in the page fails the test in which it comes."""
    phone, errors = shared
    yield phone
    assert errors == []


@pytest.fixture
def page_kept(running: RunningServer, chromium: Browser) -> Iterator[Page]:
    """A phone on the demo that goes on without it."""
    with opened(chromium, running.address) as phone:
        ready_offline(phone)
        yield phone


def topics(page: Page) -> list[dict[str, str]]:
    """Name and title of every method's page."""
    pages: list[dict[str, str]] = page.evaluate(TOPICS)
    assert len({topic["name"] for topic in pages}) == len(pages) >= 16
    return pages


@dataclass
class Unfolded:
    """What stands on a lesson with all of it unfolded, and what is wrong with how that is shown."""

    name: str
    heading: str
    has: dict[str, Any]
    wrong: list[str]


@pytest.fixture(scope="module")
def lessons(running: RunningServer, chromium: Browser) -> list[Unfolded]:
    """Every method's page, and the glossary after them: each is opened once for all that is asked of it."""
    found = []
    with opened(chromium, running.address, in_reach=True) as page:
        ready(page)
        for name in [*(topic["name"] for topic in topics(page)), "words"]:
            go(page, f"/help/{name}")
            page.evaluate(OPEN_ALL)
            heading = page.locator("main h1").inner_text()
            lesson = Unfolded(name, heading, page.evaluate(ANATOMY), faults(page))
            page.set_viewport_size({"width": 320, "height": 568})
            # What a drawing takes is measured one frame after its room has changed.
            page.evaluate(HIGH)
            lesson.wrong += page.evaluate(WIDE)
            page.set_viewport_size(PHONE)  # type: ignore[arg-type]
            found.append(lesson)
    return found


def test_every_page_has_its_parts_and_every_word_its_meaning(page: Page, lessons: list[Unfolded]) -> None:
    go(page, "/help/words")
    known = set(page.evaluate("[...document.querySelectorAll('.words [id^=word-]')].map((one) => one.id.slice(5))"))
    *methods, words = lessons
    pages = {lesson.name for lesson in lessons}
    assert set(words.has["links"]) <= pages
    assert len(known) > 60
    used: set[str] = set()
    assert [lesson.heading for lesson in methods] == [topic["title"] for topic in topics(page)]
    for lesson in methods:
        name, has = lesson.name, lesson.has
        assert has["drawings"] >= 1, name
        assert has["formulas"] >= 1 or name == "log", name
        assert (has["sources"], has["limits"]) > (0, 0), name
        assert has["limits"] >= 2, name
        assert (has["silent"], has["unnamed"]) == (0, 0), name
        assert not SPOILT.search(has["text"]), (name, SPOILT.findall(has["text"]))
        assert set(has["terms"]) <= known, (name, set(has["terms"]) - known)
        assert {link for link in has["links"] if "/" not in link} <= pages, name
        used |= set(has["terms"])
    assert used, "no page leads to the glossary"


def test_nothing_is_wrong_with_a_page_unfolded_in_light_and_dark_on_the_narrowest_phone(
    lessons: list[Unfolded],
) -> None:
    wrong = [f"{lesson.name}: {fault}" for lesson in lessons for fault in lesson.wrong]
    assert not wrong, "\n".join(wrong)


def test_every_page_is_reached_from_the_index_by_keyboard(page: Page) -> None:
    wanted = {f"#/help/{topic['name']}": topic["title"] for topic in topics(page)} | {"#/help/words": "Words"}
    go(page, "/help")
    page.locator("main h1").evaluate("(one) => { one.tabIndex = -1; one.focus(); }")
    reached: set[str] = set()
    for _ in range(3 * len(wanted)):
        page.keyboard.press("Tab")
        link = page.evaluate("document.activeElement.matches('.topics a') && document.activeElement.hash")
        if not link or link in reached:
            continue
        reached.add(link)
        # Each stop is taken where Tab has come to it, and the index is gone through from there on.
        page.keyboard.press("Enter")
        expect(page.locator("main h1"), link).to_have_text(wanted[link])
        page.go_back()
        index = page.locator(f".topics a[href='{link}']")
        expect(index).to_be_visible()
        index.focus()
        if len(reached) == len(wanted):
            break
    assert reached == set(wanted)


def test_formulas_are_drawn_as_such(page: Page) -> None:
    go(page, "/help/held")
    high, low = (page.locator(f".formula {name}").first.bounding_box() for name in ("mfrac", "mn"))
    assert high
    assert low
    assert high["height"] > 1.5 * low["height"]
    expect(page.get_by_label("T equals (T 1 plus T 2) over 2").first).to_be_visible()


def test_figures_are_the_engines(page: Page) -> None:
    unit: dict[str, Any] = page.evaluate("slipbook.part('screens/help/example.js').then(({ UNIT }) => UNIT)")
    new, closed, ramps = calc("unit", unit), calc("closing", {"unit": unit}), calc("ramps", {"unit": unit})
    teeth = {"points_mm": [0.12, 0.13, 0.16, 0.18], "low_mm": 0.1, "high_mm": 0.2, "gauge": {}}
    uneven = calc("refit", {"backlash": teeth})
    for name, figures in {
        "stack": [f"{new['crush_mm']:.3f} mm", f"{new['preload_n']:.0f} N", f"{new['breakaway_nm']:.1f} N·m"],
        "friction": [f"{new['breakaway_nm']:.1f} N·m", f"{new['radius_mm']:.3f} mm"],
        "closing": [
            *(f"{closed[name]:.0f} N" for name in ("flush_n", "vice_most_n", "clamp_left_n")),
            f"{closed['energy_j']:.1f} J, at most {closed['energy_most_j']:.1f} J",
        ],
        "refit": [uneven["reason"]],
        "ramps": [
            ramps["text"],
            ramps["fittings"][0]["drive"]["locking"],
            ramps["fittings"][0]["drive"]["bias_range"],
        ],
    }.items():
        go(page, f"/help/{name}")
        page.evaluate(OPEN_ALL)
        for figure in figures:
            expect(page.locator("main")).to_contain_text(figure)


def test_help_works_offline_and_nothing_waits_for_it(
    page_kept: Page, running: RunningServer, chromium: Browser
) -> None:
    page = page_kept
    page.context.set_offline(True)
    page.goto("about:blank")
    page.goto(f"{running.address}/#/help/spring")
    expect(page.locator("main h1")).to_have_text("Disc spring")
    expect(page.locator("figure svg").first).to_be_visible()
    # Without a service worker only what the page itself needs is fetched.
    context = chromium.new_context(service_workers="block")
    other = context.new_page()
    addresses: list[str] = []
    other.on("request", lambda request: addresses.append(request.url))
    other.goto(running.address)
    expect(other.get_by_role("link", name=UNIT)).to_be_visible()
    assert addresses
    assert [url for url in addresses if re.search("/help[./]", url)] == []
    context.close()


def test_help_leads_back_into_the_form_that_asked(page: Page, running: RunningServer) -> None:
    check = f"{unit_path(running.address)}/check"
    go(page, check)
    page.get_by_label("Bench: one output held").check()
    page.get_by_label("With what?").select_option(label="Long beam")
    fill_readings(page, ["100", "101"], [])
    draft_is_kept(page, '"100","101"')
    page.get_by_role("region", name="Verdict").get_by_role("link", name="How this is worked out").click()
    expect(page.locator("main h1")).to_have_text("Verdict and guard band")
    page.locator("a.term").first.click()
    expect(page.locator("main h1")).to_have_text("Words")
    page.get_by_role("link", name="Back to where you were").click()
    expect(page.get_by_label("forward reading 2", exact=True)).to_have_value("101")


def test_a_word_is_shown_where_it_stands(page: Page) -> None:
    go(page, "/help/words/guard-band")
    expect(page.locator("#word-guard-band")).to_be_focused()
    expect(page.locator("#word-guard-band")).to_be_in_viewport()
    # And found while it is typed.
    names = page.locator(".words dt")
    every = names.count()
    terms = names.all_inner_texts()
    assert terms == sorted(terms, key=str.lower)
    page.get_by_label("Find a word").focus()
    page.keyboard.type("RAMP")
    expect(names.first).to_have_text("coast ramp")
    expect(page.locator("main [role=status]")).to_have_text(re.compile(rf"^\s*\d+ of {every} words\s*$"))
    assert 3 < names.count() < every
    page.keyboard.type("x")
    expect(page.locator("main [role=status]")).to_contain_text("“RAMPx” is not among these words")
    expect(page.locator(".words")).to_be_hidden()
    page.keyboard.press("Backspace")
    expect(names.first).to_have_text("coast ramp")


def test_a_units_trend_looks_ahead_as_the_engine_does(page: Page, running: RunningServer) -> None:
    path = unit_path(running.address)
    own = [entry for entry in of_log(running.address) if entry["unit"] == path.removeprefix("/unit/")]
    service = next(entry for entry in own if entry["kind"] == "unit")["body"]["service"]
    readings = [
        {"use": entry["body"]["circumstances"]["outings"], "torque_nm": entry["shown"]["value_nm"]}
        for entry in own
        if entry["kind"] == "torque_check" and entry["body"].get("circumstances", {}).get("outings")
    ]
    assert len(readings) >= 3
    limits = {name: service[name] for name in ("low_nm", "high_nm")}
    expected = calc("life", {"use": "outings", "torque": readings, "limits": limits})
    assert expected["due_use"] is not None
    go(page, path)
    expect(page.get_by_text(expected["text"])).to_be_visible()
    chart = page.locator("trend-chart")
    expect(chart).to_have_attribute("aria-label", re.compile(re.escape(expected["text"])))
    page.get_by_label("All, by date").check()
    expect(chart).to_have_attribute("aria-label", re.compile("^Breakaway torque over time"))
    expect(page.get_by_text(expected["text"])).to_have_count(0)


@pytest.mark.parametrize(("count", "words"), [(1, "there is one"), (2, "there are two")])
def test_too_few_checks_say_so(page: Page, running: RunningServer, count: int, words: str) -> None:
    own = [
        entry for entry in of_log(running.address) if entry["unit"] == unit_path(running.address).removeprefix("/unit/")
    ]
    [unit] = [entry for entry in own if entry["kind"] == "unit"]
    body = {**unit["body"], "name": f"Teasel {count}"}
    unit = {**unit, "body": body, "shown": calc("unit", body)}
    # The first is fresh from the rebuild, and not counted.
    checks = [entry for entry in own if entry["kind"] == "torque_check"][: count + 1]
    day = datetime.now().astimezone() - timedelta(days=2)
    fresh = entry_id(day, f"few {count}")
    wanted = ("who", "device", "kind", "version", "engine", "body", "shown")
    put(
        running.address,
        [
            {name: entry[name] for name in wanted}
            | {
                "unit": fresh,
                "id": entry_id(day + timedelta(hours=place), f"{count}"),
                "at": (day + timedelta(hours=place)).isoformat(timespec="seconds"),
            }
            for place, entry in enumerate([unit, *checks])
        ],
    )
    page.reload()
    page.evaluate("slipbook.part('log/delivery.js').then(({ deliver }) => deliver())")
    go(page, f"/unit/{fresh}")
    expect(
        page.get_by_text(
            f"No prediction yet: it needs three checks since the rebuild with their outings noted; {words}"
        )
    ).to_be_visible()
    expect(page.get_by_label("All, by date")).to_have_count(0)
