"""Screens that are not in the first script come with the scripts of their rooms, and with no others."""

import re
from typing import Any

import pytest
from playwright.sync_api import Page, Route, expect

from tests.built import built_web

from .conftest import RunningServer, until
from .screens import unit_path

pytestmark = pytest.mark.in_reach

LOADED = """() => performance.getEntriesByType("resource").map(({ name }) => new URL(name).pathname)
    .filter((path) => /^\\/(help\\/)?[\\w-]+\\.js$/.test(path)).map((path) => path.slice(1)).sort()"""
ASKED = re.compile(r'slipbook\.part\("([^"]+)"((?:,"[^"]+")+)\)')

# What comes at once, whichever screen is asked for.
AT_ONCE = ("app.js", "first-screens.js")

# Runs a module with new copies of the scripts that it names, beside the shell, which is here. What it wants and does
# not have is an error, and so is a script that it names in vain.
RUN_ALONE = """([asked, shell]) => {
    const own = Object.fromEntries(shell.map((path) => [path, globalThis.slipbook.shared[path]]));
    return asked.flatMap(({ path, names }) => {
        const used = new Set();
        const parts = {};
        const run = (wanted) => own[wanted] ?? parts[wanted]();
        for (const name of names) {
            const entered = {};
            const shared = {};
            scripts[name]({ shared, parts: entered, run });
            for (const [wanted, module] of Object.entries(entered))
                parts[wanted] = () => { used.add(name); return module(); };
            for (const [wanted, module] of Object.entries(shared))
                parts[wanted] = () => { used.add(name); return module; };
        }
        try {
            const wrong = Object.keys(run(path)).length ? [] : [`${path} exports nothing`];
            return [...wrong, ...names.filter((name) => !used.has(name)).map((name) => `${path} needs no ${name}`)];
        } catch (error) {
            return [`${path} with ${names}: ${error}`];
        }
    });
}"""


def asked() -> list[dict[str, Any]]:
    """Each module that the built app asks for later, and the scripts that it says it needs."""
    text = "".join(path.read_text("utf-8") for path in sorted(built_web().glob("*.js")))
    return [
        {"path": path, "names": re.findall(r'"([^"]+)"', names)} for path, names in sorted(set(ASKED.findall(text)))
    ]


def shell() -> list[str]:
    """What the built shell enters for others."""
    return re.findall(r'slipbook\.shared\["([^"]+)"\]=', (built_web() / "app.js").read_text("utf-8"))


def test_each_module_runs_with_the_scripts_that_it_names_and_needs_them_all(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    phone.get_by_role("link", name="Bramble 1").wait_for()
    wanted = asked()
    for name in {name for one in wanted for name in one["names"]}:
        text = (built_web() / name).read_text("utf-8")
        # What a script calls `slipbook` is what it is given.
        phone.evaluate(f"() => {{ (window.scripts ??= {{}})['{name}'] = (slipbook) => {{ {text} }}; }}")
    assert len({one["path"] for one in wanted}) == len(wanted) > 80
    assert phone.evaluate(RUN_ALONE, [wanted, shell()]) == []
    # The check sees what is missing, and what is too much.
    [refit] = [one for one in wanted if one["path"] == "screens/parts/refit.js"]
    assert phone.evaluate(RUN_ALONE, [[refit | {"names": ["parts.js"]}], shell()]) != []
    assert phone.evaluate(RUN_ALONE, [[refit | {"names": [*refit["names"], "help.js"]}], shell()]) != []


@pytest.mark.parametrize(
    ("path", "heading", "scripts"),
    [
        ("/", "Units", set()),
        ("UNIT", "Bramble 1", set()),
        ("UNIT/check", "", set()),
        ("UNIT/plates", "Measure plates", set()),
        ("UNIT/refit", "", {"common.js", "parts.js"}),
        ("UNIT/plan", "", {"bench.js", "common.js"}),
        ("UNIT/sheet", "", {"common.js", "unit.js"}),
        ("/help", "Help", {"help.js"}),
        ("/help/verdict", "", {"help.js", "help/verdict.js"}),
        ("/settings", "Settings", {"common.js", "shop.js"}),
        ("/costs", "", {"shop.js"}),
    ],
)
def test_a_screen_comes_with_its_own_scripts_alone(
    demo: RunningServer, phone: Page, path: str, heading: str, scripts: set[str]
) -> None:
    phone.goto(f"{demo.address}/#{path.replace('UNIT', unit_path(demo.address))}")
    expect(phone.get_by_role("heading", level=1, name=heading or re.compile("."))).to_be_visible()
    expect(phone.get_by_role("heading", name="This screen did not open")).to_have_count(0)
    for name in scripts:
        until(phone, f"() => ({LOADED})().includes('{name}')")
    assert set(phone.evaluate(LOADED)) == {*AT_ONCE, *scripts}


def test_a_chart_brings_what_the_first_screens_ask_for_and_no_room(demo: RunningServer, phone: Page) -> None:
    phone.goto(f"{demo.address}/#{unit_path(demo.address)}")
    phone.locator("trend-chart").scroll_into_view_if_needed()
    expect(phone.locator("trend-chart canvas")).to_be_visible()
    assert set(phone.evaluate(LOADED)) == {*AT_ONCE, "app-more.js"}


@pytest.mark.parametrize(
    ("path", "held_up", "scripts", "seen"),
    [
        (path, held_up, scripts, seen)
        for path, scripts, seen in (
            ("UNIT/refit", {"common.js", "parts.js"}, "main input"),
            ("/help/verdict", {"help.js", "help/verdict.js"}, "main .lead"),
        )
        for held_up in sorted(scripts)
    ],
)
def test_a_script_that_does_not_come_is_told_of_and_asked_for_again(
    demo: RunningServer, phone: Page, path: str, held_up: str, scripts: set[str], seen: str
) -> None:
    asked_for: list[str] = []

    def refuse(route: Route) -> None:
        asked_for.append(route.request.url)
        route.abort()

    phone.goto(demo.address)
    phone.get_by_role("link", name="Bramble 1").wait_for()
    wanted = f"{demo.address}/#{path.replace('UNIT', unit_path(demo.address))}"
    phone.route(f"{demo.address}/{held_up}", refuse)
    phone.goto(wanted)
    expect(phone.get_by_role("heading", name="This screen did not open")).to_be_visible()
    expect(phone.get_by_text("This part of the app could not be loaded.")).to_be_visible()
    phone.unroute(f"{demo.address}/{held_up}")
    phone.get_by_role("link", name="To the units").click()
    phone.get_by_role("link", name="Bramble 1").wait_for()
    phone.goto(wanted)
    expect(phone.locator(seen).first).to_be_visible()
    assert len(asked_for) == 1
    assert scripts <= set(phone.evaluate(LOADED))
