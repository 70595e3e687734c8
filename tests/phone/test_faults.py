"""Killed browsers, new versions and full phones: nothing that was typed is lost."""

import contextlib
import os
import shutil
import signal
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, Playwright, expect

from tests import browsers

from .conftest import PHONE, RunningServer, becomes, draft_is_kept, open_phone
from .hands import CHECK_TORQUE
from .test_story import UNIT, begin_check, entries_on_disk, fill_readings, ready, ready_offline

ROOT = Path(__file__).resolve().parents[2]
OLD_NOTE = "Written by the old version"


def killed(profile: Path) -> int:
    """Kill every browser process of a profile with signal 9, and wait until none is left; how many there were."""
    known: set[int] = set()
    while running := processes(profile):
        for number in running - known:
            with contextlib.suppress(ProcessLookupError):
                os.kill(number, signal.SIGKILL)
        known |= running
        time.sleep(0.02)
    return len(known)


def processes(profile: Path) -> set[int]:
    """The browser processes of a profile, by their numbers; one that is dead has no command line any more."""
    found = set()
    for status in Path("/proc").glob("[0-9]*/cmdline"):
        with contextlib.suppress(OSError):
            if str(profile).encode() in status.read_bytes():
                found.add(int(status.parent.name))
    return found


@pytest.mark.skipif(not Path("/proc").is_dir(), reason="finds the browser's processes in /proc")
def test_a_browser_that_is_killed_in_the_middle_loses_nothing(
    demo: RunningServer, playwright: Playwright, tmp_path: Path, request: pytest.FixtureRequest
) -> None:
    profile = tmp_path / "profile"

    def opened() -> BrowserContext:
        return playwright.chromium.launch_persistent_context(
            profile,
            executable_path=browsers.find(),
            args=browsers.ARGUMENTS,
            viewport=PHONE,  # type: ignore[arg-type]
        )

    context = opened()
    page = context.new_page()
    page.goto(demo.address)
    ready_offline(page)
    demo.stop()
    for number in range(1, max(2, request.config.getoption("--rounds") // 3) + 1):
        page.goto(f"{demo.address}/#/")
        page.get_by_role("link", name=UNIT).click()
        page.get_by_role("link", name=CHECK_TORQUE).click()
        page.get_by_label("Bench: one output held").check()
        page.get_by_label("With what?").select_option(label="Bench dial")
        fill_readings(page, [str(90 + number), "91"], ["92"])
        draft_is_kept(page, '"reverse":["92"')
        assert killed(profile) > 0
        context = opened()
        page = context.new_page()
        page.goto(f"{demo.address}/#/")
        page.get_by_role("link", name=UNIT).click()
        page.get_by_role("link", name="Go on with the check").click()
        for label, value in (("forward reading 1", str(90 + number)), ("reverse reading 1", "92")):
            expect(page.get_by_label(label, exact=True)).to_have_value(value)
        fill_readings(page, [str(90 + number), "91"], ["92", "91"])
        # Asked once; after that the phone knows who writes, through every kill.
        if number == 1:
            page.get_by_label("Checked by").fill("Joss Tarn")
        page.get_by_role("button", name="Save the check").click()
        expect(page.get_by_role("link", name=f"Outbox, {number} waiting")).to_be_visible()
        assert killed(profile) > 0
        context = opened()
        page = context.new_page()
    demo.start()
    page.goto(demo.address)
    expect(page.get_by_role("link", name="Outbox", exact=True)).to_be_visible()
    expect(page.get_by_role("link", name="up to date")).to_be_visible()
    context.close()
    fresh = [
        entry
        for entry in entries_on_disk(demo)
        if entry["who"] == "Joss Tarn" and entry["body"].get("held") == "bench_output_held"
    ]
    assert len(fresh) == len({entry["id"] for entry in fresh}) == number


@pytest.fixture
def copied(tmp_path: Path) -> Iterator[RunningServer]:
    """The demo from a copy of this tree, so that a new version can be put in its place."""
    tree = tmp_path / "tree"
    for name in ("server", "webui", "demo_units"):
        shutil.copytree(
            ROOT / name, tree / name, ignore=shutil.ignore_patterns("node_modules", "__pycache__", ".vendor-*")
        )
    with RunningServer(tmp_path / "log", "demo", tree) as server:
        server.command = "serve"
        yield server


def write_note_offline(phone: Page, server: RunningServer, text: str) -> None:
    """Save a note on a unit after the server has stopped."""
    phone.goto(server.address)
    ready_offline(phone)
    server.stop()
    phone.get_by_role("link", name=UNIT).click()
    phone.get_by_label("Note", exact=True).fill(text)
    phone.get_by_label("Written by").fill("Joss Tarn")
    phone.get_by_role("button", name="Save the note").click()


@pytest.mark.about_files("serves a folder by a copy of this tree")
def test_a_new_version_waits_for_the_tap_and_keeps_the_outbox_and_the_draft(copied: RunningServer, phone: Page) -> None:
    write_note_offline(phone, copied, OLD_NOTE)
    expect(phone.get_by_role("link", name="Outbox, 1 waiting")).to_be_visible()
    phone.get_by_role("link", name=CHECK_TORQUE).click()
    phone.get_by_label("Bench: one output held").check()
    phone.get_by_label("forward reading 1", exact=True).fill("88,5")
    draft_is_kept(phone, "88,5")

    # The workshop brings in a new version; the phone comes home with the old one open.
    help_screen = Path(copied.folder).parent / "tree" / "webui" / "screens" / "help" / "help.js"
    help_screen.write_text(help_screen.read_text().replace("<h1>Help</h1>", "<h1>Help, renewed</h1>"))
    # Nothing may go home before the new version is in: it is the new one that has to bring the old outbox.
    phone.route("**/api/log*", lambda route: route.abort())
    copied.start()
    phone.evaluate("() => navigator.serviceWorker.getRegistration().then((one) => one.update()).then(() => null)")
    expect(phone.get_by_text("A new version is ready")).to_be_visible()
    expect(phone.get_by_label("forward reading 1", exact=True)).to_have_value("88,5")
    phone.get_by_role("button", name="Use it now").click()
    expect(phone.get_by_label("forward reading 1", exact=True)).to_have_value("88,5")
    expect(phone.get_by_text("A new version is ready")).to_have_count(0)
    phone.unroute("**/api/log*")
    phone.goto(f"{copied.address}/#/help")
    expect(phone.get_by_role("heading", name="Help, renewed")).to_be_visible()
    phone.evaluate("dispatchEvent(new Event('online'))")
    # Just after a start the tabs have not counted what waits.
    assert becomes(phone, lambda: [entry["body"].get("text") for entry in entries_on_disk(copied)].count(OLD_NOTE) == 1)
    expect(phone.get_by_role("link", name="Outbox", exact=True)).to_be_visible()


@pytest.mark.in_reach
@pytest.mark.knows_the_demo
def test_a_full_phone_says_so_and_keeps_what_is_on_the_screen(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    ready(phone)
    begin_check(phone)
    # Every write fails from here on, as it does when the browser's share of the phone is used up.
    phone.evaluate(
        """() => { IDBObjectStore.prototype.put = IDBObjectStore.prototype.add = () => {
            throw new DOMException("The quota has been exceeded.", "QuotaExceededError"); }; }"""
    )
    phone.get_by_label("With what?").select_option(label="Bench dial")
    fill_readings(phone, ["99", "100", "101"], ["100", "99"])
    expect(phone.get_by_text("This phone cannot store what you type").first).to_be_visible()
    expect(phone.get_by_role("region", name="Verdict")).to_contain_text("go")
    expect(phone.get_by_label("forward reading 3", exact=True)).to_have_value("101")
    phone.get_by_label("Checked by").fill("Joss Tarn")
    phone.get_by_role("button", name="Save the check").click()
    expect(phone.get_by_text("could not be saved").first).to_be_visible()
    expect(phone.get_by_label("forward reading 3", exact=True)).to_have_value("101")


def test_a_dead_phones_outbox_comes_home_by_file(
    demo: RunningServer, phone: Page, chromium: Browser, tmp_path: Path
) -> None:
    write_note_offline(phone, demo, "By file")
    phone.get_by_role("link", name="Outbox, 1 waiting").click()
    with phone.expect_download() as download:
        phone.get_by_role("button", name="Save the outbox to a file").click()
    file = tmp_path / "outbox.json"
    download.value.save_as(file)
    # From here on this phone is dead.
    phone.context.set_offline(True)
    phone.goto("about:blank")

    demo.start()
    context = open_phone(chromium)
    other = context.new_page()
    other.goto(f"{demo.address}/#/outbox")
    wrong = tmp_path / "wrong.json"
    wrong.write_text('{"entries": []}')
    other.get_by_label("Import another phone's outbox").set_input_files(wrong)
    expect(other.get_by_text("no outbox that Slipbook saved")).to_be_visible()
    for fresh in (1, 0):
        other.get_by_label("Import another phone's outbox").set_input_files(file)
        expect(other.get_by_text(f"1 entry was in the file, {fresh} of them new here")).to_be_visible()
    expect(other.get_by_role("link", name="up to date")).to_be_visible()
    expect(other.get_by_role("link", name="Outbox", exact=True)).to_be_visible()
    context.close()
    assert [entry["body"].get("text") for entry in entries_on_disk(demo)].count("By file") == 1
