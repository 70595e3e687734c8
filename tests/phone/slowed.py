"""Pages on a slow phone: `--slowed 4` gives each a quarter of this processor, and the engine's answers come late.

What holds only because the machine is quick fails there, as it would now and then on a busy one.
"""

from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, BrowserContext, BrowserType, Page

# A worker has the processor to itself, however slow its page is: what it answers is held back for so long.
LATE_MS = 30
ANSWERS_LATE = """(() => {
    const Own = globalThis.Worker;
    globalThis.Worker = class extends Own {
        postMessage(...all) { setTimeout(() => super.postMessage(...all), %s); }
    };
})()"""


def throttle(page: Page, rate: float) -> None:
    """Give a page a part of the processor, whatever it opens afterwards."""
    page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": rate})


def slow_down(rate: float) -> None:
    """Have every page of a Chromium that is opened from here on be so many times slower.

    Parameters
    ----------
    rate : float
        1 is this machine's own speed.
    """
    new_page, new_context, launched = (
        BrowserContext.new_page,
        Browser.new_context,
        BrowserType.launch_persistent_context,
    )
    late = ANSWERS_LATE % (LATE_MS * rate)

    def page_of(context: BrowserContext) -> Page:
        page = new_page(context)
        throttle(page, rate)
        return page

    def context_of(browser: Browser, **more: Any) -> BrowserContext:
        context = new_context(browser, **more)
        context.add_init_script(late)
        return context

    def profile_of(kind: BrowserType, folder: str | Path, **more: Any) -> BrowserContext:
        context = launched(kind, folder, **more)
        context.add_init_script(late)
        for page in context.pages:
            throttle(page, rate)
        return context

    BrowserContext.new_page = page_of  # type: ignore[method-assign, assignment]
    Browser.new_context = context_of  # type: ignore[method-assign, assignment]
    BrowserType.launch_persistent_context = profile_of  # type: ignore[method-assign, assignment]
