"""What Lighthouse says of the demo: speed, accessibility and good practice, on a phone of its own making."""

import json
import os
import subprocess
from collections.abc import Iterator
from pathlib import Path

from tests import browsers
from tests.phone.conftest import RunningServer

from .figures import Figure, median
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
CATEGORIES = {"performance": "performance", "accessibility": "accessibility", "best-practices": "best practices"}

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
    subprocess.run(order, env=environment, check=True, capture_output=True, timeout=180)
    told = json.loads(report.read_text("utf-8"))
    scores = {name: 100 * float(told["categories"][name]["score"]) for name in CATEGORIES}
    return scores | {name: float(told["audits"][name]["numericValue"]) for name in TIMES}


def audit(sizes: Sizes) -> Iterator[Figure]:
    """The first visit to some screens of the demo, several times each."""
    install(AUDIT, sizes.folder / "audit")
    turns = 1 if sizes.quick else 2
    with RunningServer(sizes.folder / "audited", "demo", program=sizes.installed().command) as server:
        for page, path in PAGES.items():
            scores = [audited(sizes.folder / "audit", server.address + path) for _ in range(turns)]
            middle = {name: median(score[name] for score in scores) for name in scores[0]}
            yield Figure(
                f"Lighthouse on the demo, {page}",
                " · ".join(f"{words} {middle[name]:.0f}" for name, words in CATEGORIES.items()),
                "",
                "",
                "100 each, aimed at",
                # Lighthouse itself shows whole points.
                all(round(middle[name]) == 100 for name in CATEGORIES),
                f"medians of {turns} first visits as a slowed phone on a slow network: largest content after "
                f"{middle['largest-contentful-paint']:.0f} ms, blocked for {middle['total-blocking-time']:.0f} ms, "
                f"layout shift {middle['cumulative-layout-shift']:.3f}",
            )
