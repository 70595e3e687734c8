"""Every screen in every state, light and dark, for people who see, hear or touch otherwise than most."""

import re
from collections.abc import Iterator
from functools import partial
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, TimeoutError

from .conftest import PATIENCE_MS, RunningServer, until
from .hands import IN_PAGE, PHONE
from .screens import STATES, State, Stop, go, in_use, opened, routes

AXE = Path(__file__).resolve().parents[2] / "webui" / "node_modules" / "axe-core" / "axe.min.js"

# Colours, of links as well, and the size of targets are measured by the rules of the house, which find all that axe's
# own do. Axe takes long for colours, and takes what the fixed tabs cover for small. The sheets of styles are read by
# none of its rules that are asked for here, and what a fault is called by is its HTML, not the selector that axe makes
# for every element.
BARRIERS = """() => axe.run(document, { resultTypes: ["violations"], preload: { assets: ["media"] }, selectors: false,
    reporter: "no-passes", elementRef: true,
    rules: Object.fromEntries(
        ["target-size", "color-contrast", "link-in-text-block"].map((rule) => [rule, { enabled: false }])),
    runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] }).then(({ violations }) =>
    violations.map((one) =>
        `${one.id}: ${one.nodes.map(({ element }) => element.outerHTML.slice(0, 110)).join(" | ")}`))"""
# Where the boxes around a text do not say what it stands on, axe is asked.
PALE = """async ([values, how]) => {
    const { found, unsure } = inPage.pale(how);
    if (!unsure.length) return found;
    const { violations } = await axe.run({ include: unsure }, { resultTypes: ["violations"], selectors: false,
        reporter: "no-passes", elementRef: true, runOnly: { type: "rule", values } });
    const more = violations.flatMap(({ nodes }) => nodes.map(({ element }) => element.outerHTML.slice(0, 110)));
    return [...found, ...more];
}"""
# At least 4.5:1, and 3:1 for large text; in the sun 7:1 for every text, of keys that cannot act yet as well.
USUAL = [["color-contrast"], {}]
STRONG = [["color-contrast", "color-contrast-enhanced"], {"least": 7, "large": 4.5, "every": True}]

# Text that is hard to read in the colours that the screen has now, which are named where it is dark.
FAINT = f"""async (usual) => {{
    const where = matchMedia("(prefers-color-scheme: dark)").matches ? "dark, " : "";
    const pale = (await ({PALE})(usual)).map((one) => `${{where}}pale: ${{one}}`);
    return [...pale, ...inPage.faint().map((one) => `${{where}}faint: ${{one}}`)];
}}"""
# All that is hard on somebody in these colours, asked for at once: each question has its way to the browser and back.
# Then the colours that are to be looked at next.
HARD = f"""async (usual) => {{
    if (!globalThis.axe) return null;
    const barriers = await ({BARRIERS})();
    const small = inPage.small().map((one) => `small target: ${{one}}`);
    const other = matchMedia("(prefers-color-scheme: dark)").matches ? "light" : "dark";
    return [[...barriers, ...small, ...(await ({FAINT})(usual))], other];
}}"""

# Each lesson is gone through by `test_help.py`, with all of it unfolded; here one of a form stands for all.
LESSONS = ("/help/stack", "/help/words", "/help/words/guard-band")
WALKS: dict[str, State] = STATES | {"in use": partial(in_use, lessons=False, more=LESSONS)}

# By then a page that is at rest has drawn anew what its window's size or its colours change.
SETTLED_MS = 5000

# A definition opens folded but for the field that was followed to; of these addresses the walk opens the first.
TO_A_FIELD = re.compile("/change/at/")

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


def with_axe(page: Page) -> None:
    """Have axe in a page, which keeps it while it goes from screen to screen."""
    if not page.evaluate("Boolean(globalThis.axe)"):
        # In an element of the page its text would be read with the page's, again and again.
        page.evaluate(AXE.read_text(encoding="utf-8"))
        # What a fault is called by is read where there is one, and not of every element that was looked at.
        page.evaluate("axe.configure({ noHtml: true })")


def barriers(page: Page) -> list[str]:
    """What is hard on people who see, hear or touch otherwise than most, in the light and in the dark.

    The colours that come second stay: the next screen begins with them.
    """
    hard = page.evaluate(HARD, USUAL)
    if hard is None:
        with_axe(page)
        hard = page.evaluate(HARD, USUAL)
    found: list[str]
    found, other = hard
    # Only colours differ in the dark.
    page.emulate_media(color_scheme=other)
    return found + list(page.evaluate(FAINT, USUAL))


def faults(page: Page) -> list[str]:
    """What is wrong with the screen that is open."""
    found = barriers(page)
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


@pytest.mark.parametrize("state", WALKS)
def test_no_screen_has_a_fault(state: str, running: str, chromium: Browser, tmp_path: Path) -> None:
    wrong: dict[str, list[str]] = {}
    seen: list[Stop] = []
    unsaid: list[str] = []
    for stop in WALKS[state](chromium, running, tmp_path):
        seen.append(stop)
        if state == "wrong" and not is_said(stop.page):
            unsaid.append(stop.path)
        found = faults(stop.page)
        if TO_A_FIELD.search(stop.path):
            stop.page.evaluate("inPage.unfold()")
            found += [f"unfolded, {fault}" for fault in faults(stop.page)]
        if found:
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


# Text that axe finds too pale, each by itself on a page: by WCAG's 4.5:1, or 3:1 where it is large.
PALE_TEXTS = {
    "a colour": '<p style="color: #888">Pale</p>',
    "a colour that is half seen": '<p style="color: rgb(0 0 0 / 45%)">Pale</p>',
    "a ground of its own": '<p style="color: #000; background: #555">Pale</p>',
    "a ground around it": '<div style="background: #222"><p><b style="color: #555">Pale</b></p></div>',
    "a ground that is half seen": '<div style="background: #000">'
    '<p style="background: rgb(255 255 255 / 40%)">Pale</p></div>',
    "a veil": '<div style="opacity: 0.5"><p style="color: #333">Pale</p></div>',
    "two veils": '<div style="opacity: 0.7"><p style="color: #222; opacity: 0.7">Pale</p></div>',
    "large": '<p style="color: #aaa; font-size: 24px">Pale</p>',
    "large and bold": '<p style="color: #aaa; font-size: 19px; font-weight: 700">Pale</p>',
    "bold, and not large": '<p style="color: #888; font-size: 18px; font-weight: 700">Pale</p>',
    "a field": '<label>Name <input value="Pale" style="color: #888; background: #fff"></label>',
    "a list": '<label>Name <select style="color: #888; background: #fff"><option>Pale</option></select></label>',
    "a long text": '<label>Note <textarea style="color: #888; background: #fff">Pale</textarea></label>',
    "a key": '<button style="color: #888; background: #ddd">Pale</button>',
    "a link": '<a href="#/" style="color: #88f">Pale</a>',
    "beside its box": '<div style="background: #fff; width: 9px; height: 9px; position: relative">'
    '<b style="position: absolute; left: 50px; color: #333">Pale</b></div>'
    '<div style="background: #111; width: 300px; height: 99px; margin-top: -9px">.</div>',
    "pushed over another": '<div style="background: #222; height: 60px"></div>'
    '<p style="margin-top: -50px; position: relative; color: #111">Pale</p>',
    "laid over another": '<div style="display: grid"><i style="grid-area: 1 / 1; background: #222"></i>'
    '<p style="grid-area: 1 / 1; color: #111; position: relative">Pale</p></div>',
}
# Clear enough but for the sun.
DULL_TEXTS = {
    "a colour": '<p style="color: #666">Dull</p>',
    "a ground around it": '<div style="background: #222"><p><b style="color: #999">Dull</b></p></div>',
    "a veil": '<div style="opacity: 0.6"><p style="color: #000">Dull</p></div>',
    "large": '<p style="color: #888; font-size: 24px">Dull</p>',
    "pushed over another": '<div style="background: #777; height: 60px"></div>'
    '<p style="margin-top: -50px; position: relative; color: #000">Dull</p>',
}
PLAIN_TEXTS = {
    "black on white": "<p>Clear</p>",
    "large": '<p style="color: #888; font-size: 24px">Clear</p>',
    "a veil": '<div style="opacity: 0.9"><p>Clear</p></div>',
    "beside its box": '<div style="background: #111; width: 9px; height: 9px; position: relative">'
    '<b style="position: absolute; left: 50px; color: #333">Clear</b></div>',
    "a link": '<p>See <a href="#/">Clear</a> there</p>',
}
RULE = """(values) => axe.run(document, { runOnly: { type: "rule", values } })
    .then(({ violations }) => violations.length > 0)"""


@pytest.fixture(scope="module")
def blank(chromium: Browser) -> Iterator[Page]:
    """An empty page with the measures."""
    context = chromium.new_context(viewport=PHONE)  # type: ignore[arg-type]
    context.add_init_script(path=IN_PAGE)
    page = context.new_page()
    page.goto("about:blank")
    page.add_script_tag(path=AXE)
    yield page
    context.close()


def show(page: Page, text: str) -> None:
    page.evaluate("(text) => { document.body.innerHTML = text; document.body.style.background = '#fff'; }", text)


@pytest.mark.parametrize("text", PALE_TEXTS.values(), ids=PALE_TEXTS)
def test_what_axe_finds_pale_is_found(blank: Page, text: str) -> None:
    show(blank, text)
    assert blank.evaluate(RULE, USUAL[0])
    assert blank.evaluate(PALE, USUAL)
    assert blank.evaluate(PALE, STRONG)


@pytest.mark.parametrize("text", DULL_TEXTS.values(), ids=DULL_TEXTS)
def test_what_axe_finds_dull_in_the_sun_is_found(blank: Page, text: str) -> None:
    show(blank, text)
    assert blank.evaluate(RULE, STRONG[0])
    assert blank.evaluate(PALE, USUAL) == []
    assert blank.evaluate(PALE, STRONG)


@pytest.mark.parametrize("text", PLAIN_TEXTS.values(), ids=PLAIN_TEXTS)
def test_what_can_be_read_is_let_through(blank: Page, text: str) -> None:
    show(blank, text)
    assert not blank.evaluate(RULE, USUAL[0])
    assert blank.evaluate(PALE, USUAL) == []


# Links in a sentence, each with nothing but its colour to tell it apart.
COLOURED = 'style="color: #007; text-decoration: none"'
LINKS = {
    "in a paragraph": f'See <a href="#/" {COLOURED}>there</a> for it.',
    "at its end": f'All of it is over <a href="#/" {COLOURED}>there</a>',
    "within another element": f'See <span><a href="#/" {COLOURED}>there</a></span> for it.',
    "deep within": f'See <span><span><a href="#/" {COLOURED}>there</a></span></span> for it.',
}


@pytest.mark.parametrize("text", LINKS.values(), ids=LINKS)
def test_a_link_that_its_colour_alone_tells_apart_is_found(blank: Page, text: str) -> None:
    show(blank, f'<p style="color: #000">{text}</p>')
    assert blank.evaluate(RULE, ["link-in-text-block"])
    assert "its colour alone" in str(blank.evaluate(PALE, USUAL))


def test_a_key_that_cannot_act_is_measured_in_the_sun(blank: Page) -> None:
    show(blank, '<button disabled style="color: #888; background: #ddd">Pale</button>')
    assert blank.evaluate(PALE, USUAL) == []
    assert blank.evaluate(PALE, STRONG)
