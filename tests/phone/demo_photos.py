"""The demonstration's photos, made of drawings: `python -m tests.phone.demo_photos` makes them anew."""

from playwright.sync_api import sync_playwright

from server.demo import PICTURES, UNITS
from tests import browsers

SIZE = {"width": 640, "height": 480}
# As small as can be while the scoring still shows.
QUALITY = 40


def main() -> None:
    """Write a JPEG beside each drawing."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=browsers.find(), args=browsers.ARGUMENTS)
        page = browser.new_page(viewport=SIZE)  # type: ignore[arg-type]
        for drawing in sorted((UNITS / PICTURES).glob("*.svg")):
            page.set_content(
                f"<style>body {{ margin: 0 }} svg {{ display: block }}</style>{drawing.read_text('utf-8')}"
            )
            file = drawing.with_suffix(".jpg")
            file.write_bytes(page.screenshot(type="jpeg", quality=QUALITY))
            print(f"{file.name}: {file.stat().st_size / 1000:.0f} KB")
        browser.close()


if __name__ == "__main__":
    main()
