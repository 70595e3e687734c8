"""The story of a restore: what phones delivered after the backup comes back from them, entries and photos.

python -m tests.phone.restore_story   # every way in which it can go; prints what is missing anywhere
"""

import argparse
import itertools
import shutil
import sys
import tempfile
import time
import traceback
from collections.abc import Callable
from pathlib import Path

from playwright.sync_api import Browser, Route, expect, sync_playwright

from server.log.files import FolderLog
from server.log.intake import receive
from tests import browsers
from tests.server.sample_logs import entry

from .conftest import until
from .mended_pc import ADDED_ANEW, DELIVER, LARGE, Missing, Story

MEANWHILE = (0, 3, 6, 20)
# More than go home at once after so many failures.
MANY = 16
BREAK_OFF = """async () => {
    const { deliver } = await slipbook.part("log/delivery.js");
    for (let time = 0; time < 5; time += 1) if (await deliver()) throw new Error("it was delivered");
}"""


def plainly(story: Story, meanwhile: int, order: tuple[int, ...], anew: bool) -> Missing:
    """The PC dies after a backup; the bench writes so many entries, and the phones return in this order."""
    story.all_write("before the backup")
    story.back_up("only")
    story.all_write("after the backup")
    story.writes_alone(len(story.pages) - 1)
    story.stop()
    for number in range(len(story.pages)):
        story.write(number, "while the PC was dead")
    story.restore("only", anew)
    story.bench_writes(meanwhile)
    story.note_acknowledged()
    story.come_back(order, anew)
    came_back = story.outbox_report()
    assert all(any(f"Phone {number + 1}" in line for line in came_back) for number in order), came_back
    now = story.entries().values()
    assert sum(entry["body"].get("text") == "while the PC was dead" for entry in now) == len(order)
    return story.missing()


def twice(story: Story) -> Missing:
    """Two restores, the second from a backup made after the first; one phone misses the first."""
    story.all_write("before the backup")
    story.back_up("first")
    story.all_write("after the backup")
    story.restore("first", anew=True)
    story.bench_writes(6)
    story.note_acknowledged()
    story.comes_back(0, anew=True)
    story.back_up("second")
    story.bench_writes(3)
    story.comes_back(0, anew=False)
    story.note_acknowledged()
    story.restore("second", anew=True)
    story.bench_writes(6)
    story.note_acknowledged()
    story.come_back(tuple(reversed(range(len(story.pages)))), anew=True)
    return story.missing()


def older(story: Story) -> Missing:
    """The last backup was on the disk that died: an older one is restored."""
    story.all_write("before the older backup")
    story.back_up("older")
    story.all_write("between the backups")
    story.back_up("newer")
    story.all_write("after both")
    story.restore("newer", anew=False)
    story.bench_writes(3)
    story.come_back(tuple(range(len(story.pages))), anew=False)
    story.note_acknowledged()
    story.restore("older", anew=False)
    story.bench_writes(6)
    story.note_acknowledged()
    story.come_back(tuple(reversed(range(len(story.pages)))), anew=False)
    return story.missing()


def by_hand(story: Story, meanwhile: int) -> Missing:
    """Somebody puts an old copy of the data folder in its place: the log cannot know, and uses numbers again."""
    story.all_write("before the copy")
    story.stop()
    shutil.copytree(story.data, story.folder / "copy")
    story.start(story.data)
    story.all_write("after the copy")
    story.stop()
    story.start(story.folder / "copy")
    story.bench_writes(meanwhile)
    story.note_acknowledged()
    story.come_back(tuple(range(len(story.pages))), anew=False)
    return story.missing(frozenset({"seq", "receipt"}) if meanwhile else frozenset())


def while_delivering(story: Story, what: str) -> Missing:
    """The PC is restored between two requests of a phone that delivers: of entries ("log") or of a photo ("photos")."""
    story.all_write("before the backup")
    story.back_up("only")
    page, count = story.pages[0], itertools.count(1)
    method = {"log": "POST", "photos": "PUT"}[what]

    def between(route: Route) -> None:
        if route.request.method == method and next(count) == 2:
            story.note_acknowledged()
            story.restore("only", anew=False)
            story.bench_writes(3)
            story.note_acknowledged()
        route.continue_()

    page.route("**/api/**", lambda route: route.abort())
    if what == "log":
        story.write_many(0, [f"on the way {number}" for number in range(MANY)])
        # Over a connection that breaks off again and again a phone sends few at once.
        page.evaluate(BREAK_OFF)
    else:
        story.write(0, "on the way", photo=LARGE)
    # Counted before anything gets through: the app tries again by itself as soon as it can.
    page.route(f"**/api/{what}**", between)
    page.route(f"**/api/{what}/**", between)
    page.unroute("**/api/**")
    until(page, DELIVER)
    assert next(count) > 2
    page.unroute_all(behavior="wait")
    story.come_back(tuple(range(len(story.pages))), anew=False)
    now = story.entries().values()
    assert sum(str(entry["body"].get("text")).startswith("on the way") for entry in now) == (
        MANY if what == "log" else 1
    )
    # What was on its way when the PC died was acknowledged by the PC, perhaps, but not to the phone.
    return story.missing(ADDED_ANEW)


def another_log(story: Story) -> Missing:
    """While the PC is being mended, another workshop's log answers at its address."""
    story.all_write("before the backup")
    story.back_up("only")
    story.all_write("after the backup")
    known = story.data
    story.stop()
    other = story.folder / "Fernhill"
    with FolderLog(other) as log:
        receive(log, [entry("unit", who="Fern")])
    shutil.copytree(known / "lan", other / "lan")
    story.start(other)
    for page in story.pages:
        page.goto("about:blank")
        page.goto(f"{story.address}/#/outbox")
        expect(page.get_by_text("up to entry 1.")).to_be_visible()
        until(page, DELIVER)
    assert len(story.entries()) == 1, "nothing crosses"
    story.stop()
    story.data = known
    story.restore("only", anew=False)
    story.bench_writes(6)
    story.note_acknowledged()
    for page in story.pages:
        page.goto("about:blank")
        page.goto(story.address)
        page.wait_for_function("() => document.querySelector('#bar .state')?.textContent.trim() === 'up to date'")
    story.come_back(tuple(range(len(story.pages))), anew=False)
    assert all(entry["who"] != "Fern" for entry in story.entries().values())
    return story.missing()


def without_a_backup(story: Story) -> Missing:
    """The PC and all its backups are gone: people put what is on each phone into a new log, because they say so."""
    story.all_write("before the PC died")
    story.stop()
    story.start(story.folder / "Fernhill")
    for number, page in enumerate(story.pages, 1):
        page.goto("about:blank")
        page.goto(f"{story.address}/#/outbox")
        held = page.get_by_role("region", name="Of Moorfield")
        expect(held).to_be_visible()
        until(page, DELIVER)
        assert number > 1 or not story.acknowledged.keys() & story.entries().keys(), "nothing crosses by itself"
        held.locator("summary").click()
        held.get_by_role("button", name="of Moorfield into Fernhill").click()
        expect(held).to_have_count(0)
        until(page, DELIVER)
    for page in story.pages:
        until(page, DELIVER)
    return story.missing(ADDED_ANEW)


TWICE = "two restores one after the other"
# Stories other than the plain one, each with its name and how many phones it has.
OTHERS: dict[str, tuple[int, Callable[[Story], Missing]]] = {
    TWICE: (2, twice),
    "an older backup": (2, older),
    "restored while entries are delivered": (2, lambda story: while_delivering(story, "log")),
    "restored while a photo is delivered": (2, lambda story: while_delivering(story, "photos")),
    "another log at the address": (2, another_log),
    "no backup at all": (2, without_a_backup),
    **{
        f"an old copy of the folder, {meanwhile} entries meanwhile": (
            2,
            lambda story, meanwhile=meanwhile: by_hand(story, meanwhile),  # type: ignore[misc]
        )
        for meanwhile in MEANWHILE
    },
}


def tell(browser: Browser, phones: int, story: Callable[[Story], Missing]) -> Missing:
    """One story in folders of its own."""
    with tempfile.TemporaryDirectory(prefix="slipbook-story-") as folder, Story(Path(folder), browser, phones) as begun:
        return story(begun)


def all_stories() -> list[tuple[str, int, Callable[[Story], Missing]]]:
    """Every story: what it is called, how many phones it has, and how it goes."""
    stories: list[tuple[str, int, Callable[[Story], Missing]]] = []
    for phones, meanwhile, anew in itertools.product((1, 2, 3), MEANWHILE, (False, True)):
        for order in itertools.permutations(range(phones)):
            returning = ", ".join(str(number + 1) for number in order)
            name = f"{meanwhile} entries meanwhile, phones {returning} return, {'paired anew' if anew else 'known'}"
            stories.append(
                (name, phones, lambda story, how=(meanwhile, order, anew): plainly(story, *how))  # type: ignore[misc]
            )
    return stories + [(name, phones, story) for name, (phones, story) in OTHERS.items()]


def main(arguments: list[str] | None = None) -> int:
    """Tell it in every way and print what is missing; returns 1 if anything is."""
    parser = argparse.ArgumentParser(prog="python -m tests.phone.restore_story")
    parser.add_argument("--only", default="", help="tell the stories alone whose names have these words in them")
    only = parser.parse_args(arguments).only
    missing, failed, stories = 0, 0, 0
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=browsers.find(), args=browsers.ARGUMENTS)
        for name, phones, story in all_stories():
            if only not in name:
                continue
            start, stories = time.monotonic(), stories + 1
            try:
                found = tell(browser, phones, story)
            except Exception as failure:
                failed += 1
                at = traceback.extract_tb(failure.__traceback__)[-1]
                print(f"FAILED  {name}: {type(failure).__name__} {failure}, at {at.line}", flush=True)
                continue
            missing += sum(found)
            print(
                f"{name}: missing {found.in_log} in the log, {found.on_phones} on phones, {found.photos} photos "
                f"({time.monotonic() - start:.0f} s)",
                flush=True,
            )
        browser.close()
    print(f"{stories} stories; missing anywhere: {missing}; not told to the end: {failed}")
    return 1 if missing or failed or not stories else 0


if __name__ == "__main__":
    sys.exit(main())
