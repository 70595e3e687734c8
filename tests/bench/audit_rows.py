"""What Lighthouse says of the demo: speed, accessibility and good practice, on a phone of its own making."""

import json
import os
import subprocess
from collections.abc import Iterator
from pathlib import Path

from tests import browsers
from tests.phone.conftest import RunningServer

from .figures import Figure, median
from .phone import ServerOfPages
from .sizes import Sizes
from .tools import install

AUDIT = Path(__file__).with_name("audit")
UNIT = "01890a5d-ac96-774b-bcce-b302099a8057"
PAGES = {
    "Units": "/",
    "a unit": f"/#/unit/{UNIT}",
    "Check": f"/#/unit/{UNIT}/check",
    "Plates": f"/#/unit/{UNIT}/plates",
    "Help": "/#/help/verdict",
}
# The least that says what stands for a unit on a first visit: it reads the log and has the engine's worker judge it.
FIRST = "/first.html"
FIRST_PAGE = """<!doctype html>
<html lang="en">
<meta name="viewport" content="width=device-width">
<title>First</title>
<p></p>
<script src="/first.js"></script>
"""
FIRST_SCRIPT = """
(async () => {
    const worker = new Worker("/engine/worker.js", { type: "module" });
    const unit = location.hash.slice(1);
    const log = await (await fetch("/api/log?after=0&most=500")).json();
    const entries = log.entries.filter((entry) => entry.unit === unit);
    const request = { entries, today: new Date().toISOString().slice(0, 10), write_in: "nm" };
    worker.onmessage = ({ data }) => {
        if (data.text) document.querySelector("p").textContent = JSON.parse(data.text).ok.reason;
    };
    worker.postMessage({ id: 1, name: "standing", text: JSON.stringify({ calc: "standing", request }) });
})();
"""
CATEGORIES = {"performance": "performance", "accessibility": "accessibility", "best-practices": "best practices"}

# Now and then it gives up on a visit, without a score.
TRIES = 3
TIMES = ("largest-contentful-paint", "total-blocking-time", "cumulative-layout-shift")


def audited(folder: Path, address: str) -> dict[str, float]:
    """The scores of one visit, 0 to 100, by category, and what they come from."""
    report = folder / "told.json"
    order = [
        str(folder / "node_modules" / ".bin" / "lighthouse"),
        address,
        "--quiet",
        "--output=json",
        f"--output-path={report}",
        f"--only-categories={','.join(CATEGORIES)}",
        f"--chrome-flags={' '.join(['--headless=new', *browsers.ARGUMENTS])}",
    ]
    environment = {**os.environ, "CHROME_PATH": str(browsers.find())}
    for _ in range(TRIES):
        done = subprocess.run(order, env=environment, capture_output=True, text=True, timeout=180)
        if done.returncode == 0:
            break
    else:
        raise RuntimeError(f"Lighthouse gave up {TRIES} times: {done.stderr.strip()[-200:]}")
    told = json.loads(report.read_text("utf-8"))
    scores = {name: 100 * float(told["categories"][name]["score"]) for name in CATEGORIES}
    return scores | {name: float(told["audits"][name]["numericValue"]) for name in TIMES}


def middle_of(turns: int, folder: Path, address: str) -> dict[str, float]:
    """The medians of some visits."""
    scores = [audited(folder, address) for _ in range(turns)]
    return {name: median(score[name] for score in scores) for name in scores[0]}


def floor(turns: int, audit_folder: Path, log: Path, web: Path) -> dict[str, float]:
    """The same of a page that does no more than say what stands for a unit."""
    with ServerOfPages(log, web, {FIRST: FIRST_PAGE, "/first.js": FIRST_SCRIPT}) as server:
        return middle_of(turns, audit_folder, f"{server.address}{FIRST}#{UNIT}")


def audit(sizes: Sizes) -> Iterator[Figure]:
    """The first visit to some screens of the demo, several times each."""
    folder = sizes.folder / "audit"
    install(AUDIT, folder)
    turns = 1 if sizes.quick else 5
    log = sizes.folder / "audited" / "log"
    with RunningServer(log, "demo", program=sizes.installed().command) as server:
        pages = {page: middle_of(turns, folder, server.address + path) for page, path in PAGES.items()}
    least = floor(turns, folder, log, sizes.installed().package / "webui")
    for page, middle in pages.items():
        yield Figure(
            f"Lighthouse on the demo, {page}",
            " · ".join(f"{words} {middle[name]:.0f}" for name, words in CATEGORIES.items()),
            f"a bare page that says a unit's verdict: performance {least['performance']:.0f}",
            "",
            "100 each, aimed at",
            # Lighthouse itself shows whole points.
            all(round(middle[name]) == 100 for name in CATEGORIES),
            f"medians of {turns} first visits as a slowed phone on a slow network: {in_times(middle)}; the bare page, "
            f"which reads the log and has the engine's worker judge it: {in_times(least)}",
        )


def in_times(middle: dict[str, float]) -> str:
    """What a score comes from."""
    largest, blocked, shift = (middle[name] for name in TIMES)
    return f"largest content after {largest:.0f} ms, blocked for {blocked:.0f} ms, layout shift {shift:.3f}"
