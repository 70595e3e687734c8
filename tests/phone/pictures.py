"""README's pictures, taken of the demo: `python -m tests.phone.pictures` writes them anew."""

import argparse
import base64
import re
import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, Page, expect, sync_playwright

from tests import browsers

from .conftest import RunningServer
from .hands import CHECK_TORQUE, Hands, Keyboard
from .screens import go, opened, unit_path
from .test_story import UNIT, ready

FOLDER = Path(__file__).with_name("pictures")

# A phone of today is taller than the one of the tests.
PHONE = (360, 720)
UNIT_AT_THE_BENCH = (960, 1100)
SHEET_AT_THE_BENCH = (960, 900)

# The tabs at the foot of the window; at the bench the picture ends above them.
TABS = 64

# Far below it text gets fringes, far above it nobody sees what the bytes are for.
QUALITY = 60


@dataclass(frozen=True)
class Picture:
    """What is to be seen, and how it is brought about on the unit's page."""

    show: Callable[[Page, str], None]
    # What comes to the top of the screen; without it the screen's own top stays there.
    top: str | None = None
    size: tuple[int, int] = PHONE
    dark: bool = False

    @property
    def scale(self) -> int:
        """Pixels of the picture to one of the page, each way."""
        return 2 if self.size == PHONE else 1

    @property
    def pixels(self) -> tuple[int, int]:
        """Width and height of the picture."""
        return self.scale * self.size[0], self.scale * self.size[1]


# Words of the screen, as README's first check has them.
HELD = "Car: one wheel down, neutral"
TOOL = "Long beam"
FORWARD = ["84", "86", "85.5"]
REVERSE = ["83", "85", "84"]


def first_check(hands: Hands) -> None:
    """README's first check, from the list of units up to the verdict."""
    hands.link(UNIT)
    hands.link(CHECK_TORQUE)
    hands.choose(HELD)
    hands.pick("With what?", TOOL)
    hands.readings(FORWARD, REVERSE)
    expect(hands.page.get_by_role("region", name="Verdict").get_by_role("img")).to_have_count(1)


def check(page: Page, unit: str) -> None:
    go(page, "/")
    first_check(Keyboard(page))


def plates(page: Page, unit: str) -> None:
    go(page, f"{unit}/plates")
    for slot, points in (("A2", ["2.28", "2.27", "2.28"]), ("A4", ["2.48", "2.49", "2.48"])):
        page.get_by_role("button", name=re.compile(f"^{slot} ")).tap()
        for number, point in enumerate(points, 1):
            page.get_by_label(f"{slot} point {number}", exact=True).fill(point)
    page.get_by_role("button", name=re.compile("^A2 .* replace")).tap()
    expect(page.get_by_label("A2 point 1", exact=True)).to_be_visible()


def screen(name: str) -> Callable[[Page, str], None]:
    """A screen of the unit's that is worth a picture as it opens."""
    return lambda page, unit: go(page, f"{unit}/{name}")


def at_the_bench(page: Page, unit: str) -> None:
    go(page, unit)
    expect(page.locator(".job-steps")).to_be_visible()


PICTURES = {
    "unit": Picture(at_the_bench, size=UNIT_AT_THE_BENCH),
    "check": Picture(check, ".stage.way"),
    "plates": Picture(plates, ".plate-head"),
    "plan": Picture(screen("plan"), ".card:has(h2:text('Before and after'))"),
    "ramps": Picture(screen("ramps"), ".card:has(h2:text('As fitted'))", dark=True),
    "sheet": Picture(screen("sheet"), ".card", size=SHEET_AT_THE_BENCH),
}


def taken(browser: Browser, address: str, name: str) -> bytes:
    """One of them, as WebP."""
    picture = PICTURES[name]
    wide, high = picture.size
    scheme = "dark" if picture.dark else "light"
    look: dict[str, Any] = {"color_scheme": scheme, "device_scale_factor": picture.scale, "locale": "en-GB"}
    with opened(browser, address, in_reach=True, **look) as page:
        page.set_viewport_size({"width": wide, "height": high if picture.size == PHONE else high + TABS})
        ready(page)
        picture.show(page, unit_path(address))
        page.evaluate("document.activeElement?.blur()")
        if picture.top:
            # The one page turn of a card that was not drawn yet may move what comes after it.
            for _ in range(2):
                page.locator(picture.top).first.evaluate("one => scrollBy(0, one.getBoundingClientRect().top - 12)")
                page.wait_for_timeout(300)
        page.wait_for_timeout(300)
        x, y = page.evaluate("[scrollX, scrollY]")
        clip = {"x": x, "y": y, "width": wide, "height": high, "scale": picture.scale}
        order = {"format": "webp", "quality": QUALITY, "clip": clip}
        shot = page.context.new_cdp_session(page).send("Page.captureScreenshot", order)
        return base64.b64decode(shot["data"])


def main() -> None:
    """Take those that are wanted and write them."""
    reader = argparse.ArgumentParser(description=__doc__)
    reader.add_argument("--only", choices=list(PICTURES), action="append", help="only this one; may be given again")
    reader.add_argument("--to", type=Path, default=FOLDER, help="the folder to write them to")
    options = reader.parse_args()
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        server = RunningServer(Path(folder) / "log", "demo")
        server.start()
        browser = playwright.chromium.launch(executable_path=browsers.find(), args=browsers.ARGUMENTS)
        try:
            for name in options.only or PICTURES:
                file = options.to / f"{name}.webp"
                file.write_bytes(taken(browser, server.address, name))
                print(f"{file.name}: {file.stat().st_size / 1000:.0f} KB")
        finally:
            browser.close()
            server.stop()


if __name__ == "__main__":
    main()
