"""One picture of every screen in every state, to be looked at: `python -m tests.phone.contact_sheet --to FILE`."""

import argparse
import base64
import html
import math
import struct
import tempfile
from dataclasses import dataclass
from pathlib import Path

from playwright.sync_api import Browser, Page, sync_playwright

from tests import browsers

from .conftest import RunningServer
from .hands import BENCH, PHONE
from .screens import STATES, Stop

SCHEMES = ("light", "dark")

# A longer screen is cut: the rest of it is scrolled to.
MOST_HIGH = 2600
# Browsers draw nothing beyond.
SHEET_HIGH = 15000
GAP = 12

PAGE = """<!doctype html><meta charset="utf-8"><style>
  body {{ margin: {gap}px; background: #777; color: #000; font: 13px/1.3 sans-serif;
    columns: {columns} {each}px; column-gap: {gap}px; width: {width}px; }}
  figure {{ margin: 0 0 {gap}px; break-inside: avoid; }}
  figcaption {{ background: #fff; padding: 3px 6px; overflow-wrap: anywhere; }}
  img {{ display: block; width: {each}px; }}
</style>{figures}"""


@dataclass(frozen=True)
class Shot:
    """One screen as it was seen."""

    name: str
    picture: bytes

    @property
    def shape(self) -> float:
        """Height over width, which stand in a PNG's first chunk (ISO/IEC 15948, 11.2.2)."""
        width, height = struct.unpack(">II", self.picture[16:24])
        return float(height / width)


def photographed(stop: Stop, desktop: bool) -> list[Shot]:
    """The screen that is open, in each colour scheme and size that is wanted."""
    shots = []
    page: Page = stop.page
    for size in (PHONE, BENCH) if desktop else (PHONE,):
        for scheme in SCHEMES:
            page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
            page.set_viewport_size(size)  # type: ignore[arg-type]
            high = min(MOST_HIGH, page.evaluate("document.documentElement.scrollHeight"))
            # As high as its content, or the tabs would lie in the middle of it.
            page.set_viewport_size({"width": size["width"], "height": max(size["height"], high)})
            name = f"{stop.state}, {scheme}{', bench' if size is BENCH else ''}: {stop.path}"
            shots.append(Shot(name, page.screenshot()))
    page.emulate_media(color_scheme="light")
    page.set_viewport_size(PHONE)  # type: ignore[arg-type]
    return shots


def sheet(browser: Browser, shots: list[Shot], to: Path, each: int) -> None:
    """Put them together into one picture, in as many columns as it takes."""
    figures = "".join(
        f"<figure><figcaption>{html.escape(shot.name)}</figcaption>"
        f'<img src="data:image/png;base64,{base64.b64encode(shot.picture).decode()}"></figure>'
        for shot in shots
    )
    # 60 px for the caption and the gap; no column is filled to the last pixel.
    columns = max(4, math.ceil(1.15 * sum(each * shot.shape + 60 for shot in shots) / SHEET_HIGH))
    width = columns * (each + GAP) - GAP
    page = browser.new_page(viewport={"width": width + 2 * GAP, "height": 800})
    page.set_content(PAGE.format(columns=columns, each=each, gap=GAP, width=width, figures=figures))
    page.evaluate("Promise.all([...document.images].map((one) => one.decode()))")
    page.screenshot(path=to, full_page=True, timeout=0)
    page.close()


def main() -> None:
    """Walk through the states that are wanted and write the picture."""
    reader = argparse.ArgumentParser(description=__doc__)
    reader.add_argument("--to", type=Path, required=True, help="the PNG to write")
    reader.add_argument("--state", choices=list(STATES), action="append", help="only this one; may be given again")
    reader.add_argument("--desktop", action="store_true", help="also as wide as at the bench")
    reader.add_argument("--each", type=int, default=240, help="how wide one of them is put in, px")
    options = reader.parse_args()
    with tempfile.TemporaryDirectory() as name, sync_playwright() as playwright:
        folder = Path(name)
        server = RunningServer(folder / "log", "demo")
        server.start()
        browser = playwright.chromium.launch(executable_path=browsers.find(), args=browsers.ARGUMENTS)
        try:
            shots = [
                shot
                for state in options.state or STATES
                for stop in STATES[state](browser, server.address, folder)
                for shot in photographed(stop, options.desktop)
            ]
            sheet(browser, shots, options.to, options.each)
        finally:
            browser.close()
            server.stop()
    print(f"{len(shots)} pictures in {options.to}")


if __name__ == "__main__":
    main()
