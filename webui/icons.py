"""Draws the app's icons from style/icon.svg with the Chromium on PATH: `python webui/icons.py`."""

import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

STYLE = Path(__file__).resolve().parent / "style"
BROWSERS = ("chromium", "chromium-browser", "google-chrome", "chrome")
BACKGROUND = "#123c3a"

# Name, size in pixels, and the share of it that the drawing fills. A mask may cut the drawing's rounded corners off, so
# that icon has a background.
ICONS = [("icon-192", 192, 1.0), ("icon-512", 512, 1.0), ("icon-maskable-512", 512, 0.98)]


def make_page(size: int, share: float) -> str:
    """An HTML page that shows the icon at its size, on the app's colour if it does not fill the page."""
    side = round(size * share)
    svg = (STYLE / "icon.svg").read_text(encoding="utf-8")
    drawing = svg.replace("<svg ", f'<svg width="{side}" height="{side}" ', 1)
    background = "transparent" if share == 1.0 else BACKGROUND
    return f'<body style="margin:0;height:100vh;display:grid;place-items:center;background:{background}">{drawing}'


def main() -> None:
    """Draw every icon."""
    browser = next(filter(None, map(shutil.which, BROWSERS)), None)
    if browser is None:
        sys.exit("Drawing the icons needs a Chromium on PATH: install one.")
    with tempfile.TemporaryDirectory() as folder:
        for name, size, share in ICONS:
            page = Path(folder) / f"{name}.html"
            page.write_text(make_page(size, share), encoding="utf-8")
            command = [browser, "--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars"]
            command += ["--default-background-color=00000000", f"--window-size={size},{size}"]
            command += [f"--screenshot={STYLE / name}.png", page.as_uri()]
            subprocess.run(command, check=True, capture_output=True)


if __name__ == "__main__":
    main()
