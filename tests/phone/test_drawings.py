"""Drawings can be read: the trend in the sun, the others at their limits on the narrowest phone."""

from pathlib import Path

from playwright.sync_api import Browser, Page

from .conftest import RunningServer, until
from .screens import go, opened, unit_path
from .test_story import ready

DRAWINGS = Path(__file__).with_name("drawings.js")

# What the chart draws, by what it draws it with: axe does not see into a canvas.
NOTED = """() => {
    globalThis.drawn = [];
    const dark = matchMedia("(prefers-color-scheme: dark)");
    const paper = CanvasRenderingContext2D.prototype;
    for (const name of ["fillText", "fillRect", "fill", "stroke"]) {
        const [draw, style] = [paper[name], name === "stroke" ? "strokeStyle" : "fillStyle"];
        paper[name] = function (...all) {
            drawn.push([name, this[style], name === "fillText" ? String(all[0]) : "", dark.matches ? "dark" : "light"]);
            return draw.apply(this, all);
        };
    }
}"""
COLOURS = """() => {
    const style = getComputedStyle(document.documentElement);
    const names = [...document.styleSheets].flatMap((sheet) => [...sheet.cssRules])
        .flatMap((rule) => [...(rule.style ?? [])]).filter((name) => name.startsWith("--"));
    return Object.fromEntries(names.map((name) => [name, style.getPropertyValue(name).trim()]));
}"""


def contrast(first: str, second: str) -> float:
    """Contrast ratio of two colours as #rrggbb (WCAG 2.2, relative luminance and contrast ratio)."""

    def luminance(colour: str) -> float:
        parts = (int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5))
        linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
        return sum(weight * part for weight, part in zip((0.2126, 0.7152, 0.0722), linear, strict=True))

    low, high = sorted((luminance(first), luminance(second)))
    return (high + 0.05) / (low + 0.05)


def the_trend_is_read_in_the_sun(page: Page, unit: str) -> None:
    """Whatever is written keeps 7:1 on every ground of the chart, every line 3:1, in the colours of the style."""
    assert round(contrast("#ffffff", "#000000"), 6) == 21
    page.evaluate(NOTED)
    for scheme in ("light", "dark"):
        page.evaluate("drawn.splice(0)")
        if scheme == "light":
            go(page, unit)
        else:
            page.emulate_media(color_scheme="dark")
        page.locator("trend-chart").scroll_into_view_if_needed()
        # What was still to be drawn in the light comes among the rest.
        opening = "scheme => drawn.some(([, , text, lit]) => text.startsWith('next opening') && lit === scheme)"
        until(page, opening, scheme)
        colours = page.evaluate(COLOURS)
        grounds = [colours[name] for name in ("--sheet", "--go-ground", "--again-ground")]
        drawn = {(name, colour, text) for name, colour, text, lit in page.evaluate("drawn") if lit == scheme}
        words = {(colour, text) for name, colour, text in drawn if name == "fillText"}
        assert len(words) > 5
        assert {colour for _, colour, _ in drawn} <= set(colours.values())
        faint = [
            (scheme, text, colour, ground)
            for colour, text in words
            for ground in grounds
            if contrast(colour, ground) < 7
        ]
        assert faint == []
        lines = {colour for name, colour, _ in drawn if name == "stroke"} - {colours["--hair"]}
        assert len(lines) > 3
        assert [line for line in lines if min(contrast(line, ground) for ground in grounds) < 3] == []


def the_others_at_their_limits(page: Page) -> None:
    """No word meets another, is crossed by a line or cut off, and none is faint."""
    page.add_script_tag(path=DRAWINGS)
    # What is inside a card of a phone 320 px wide.
    page.set_viewport_size({"width": 320, "height": 568})
    page.evaluate("drawings.draw(268)")
    assert page.locator("#drawings svg text").count() > 150
    assert page.evaluate("drawings.faults()") == []
    for scheme in ("light", "dark"):
        page.emulate_media(color_scheme=scheme)
        assert page.evaluate("inPage.faint()") == [], scheme
    # Words on words, and on a line, are seen where there are some.
    page.evaluate("drawings.spoil()")
    faults = " ".join(page.evaluate("drawings.faults()"))
    assert all(fault in faults for fault in ("is cut off", "meets", "is crossed by a line"))


def test_every_drawing_can_be_read(demo: RunningServer, chromium: Browser) -> None:
    with opened(chromium, demo.address, in_reach=True) as page:
        ready(page)
        the_trend_is_read_in_the_sun(page, unit_path(demo.address))
        the_others_at_their_limits(page)
