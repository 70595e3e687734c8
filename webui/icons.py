"""Draws the app's icons from style/icon.svg with the Chromium that is on PATH: `python webui/icons.py`."""

import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

STYLE = Path(__file__).resolve().parent / "style"
BROWSERS = ("chromium", "chromium-browser", "google-chrome", "chrome")
GROUND = "#123c3a"

# Name, size in pixels, and how much of it the drawing fills: a mask may take the rounded corners, so they get a ground.
ICONS = [("icon-192", 192, 1.0), ("icon-512", 512, 1.0), ("icon-maskable-512", 512, 0.98)]


def page(size: int, fills: float) -> str:
    """An HTML page that shows the icon at its size, on the app's colour where it does not fill all."""
    side = round(size * fills)
    drawing = (
        (STYLE / "icon.svg").read_text(encoding="utf-8").replace("<svg ", f'<svg width="{side}" height="{side}" ', 1)
    )
    ground = "transparent" if fills == 1.0 else GROUND
    return f'<body style="margin:0;height:100vh;display:grid;place-items:center;background:{ground}">{drawing}'


def main() -> None:
    """Draw every icon anew."""
    browser = next(filter(None, map(shutil.which, BROWSERS)), None)
    if browser is None:
        sys.exit("Drawing the icons needs a Chromium on PATH: install one.")
    with tempfile.TemporaryDirectory() as folder:
        for name, size, fills in ICONS:
            source = Path(folder) / f"{name}.html"
            source.write_text(page(size, fills), encoding="utf-8")
            order = [browser, "--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars"]
            order += ["--default-background-color=00000000", f"--window-size={size},{size}"]
            order += [f"--screenshot={STYLE / name}.png", source.as_uri()]
            subprocess.run(order, check=True, capture_output=True)


if __name__ == "__main__":
    main()
