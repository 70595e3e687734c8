"""Clocks that fall, jump and lose their power, on a phone and on the workshop's PC: what stands, and what is said."""

import json
import re
import sys
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.engine.checks import BREAKAWAY, UNIT, changed

from .conftest import RunningServer, open_phone, until
from .test_story import entries_on_disk

pytestmark = pytest.mark.about_files("the PC's clock is moved in a program that serves a folder")

ROOT = Path(__file__).resolve().parents[2]
UNIT_ID = "01930000-0000-7000-8000-00000000c001"
GO, AGAIN, REWORK = 100, 71, 40

# Slipbook on a PC whose clock and ticks are moved by what a file says.
PC = """#!{python}
import json, sys
from datetime import timedelta
sys.path.insert(0, {root!r})
from server.log import clock
wall, ticks = clock.wall, clock.ticks
def moved(name):
    with open({file!r}) as file:
        return json.load(file)[name]
clock.PcClock.__init__.__defaults__ = (
    lambda: wall() + timedelta(seconds=moved("passed") + moved("set")), lambda: ticks() + moved("passed"), True
)
from server import app
from server.cli import main
from tests.built import built_web
app.WEB = built_web()
sys.exit(main())
"""

WRITE = """async ({unit, kind, body, who}) => {
    const { calc, engine } = await slipbook.part("engine/door.js");
    const { write } = await slipbook.part("log/outbox.js");
    const { remember } = await slipbook.part("log/store.js");
    await remember("who", who);
    const { kinds } = await engine();
    return write({ unit, kind, body, shown: await calc(kinds[kind].calculation, body) });
}"""
# What was written while a delivery is under way goes with the next one.
DELIVER = """async () => {
    const { deliver } = await slipbook.part("log/delivery.js");
    const { outbox } = await slipbook.part("log/store.js");
    for (let tries = 0; tries < 20; tries += 1)
        if ((await deliver()) && !(await outbox()).length) return deliver();
    return false;
}"""
# While a page holds the lock of delivery, it asks the PC for nothing.
HOLD = """() => new Promise((held) => {
    navigator.locks.request("slipbook-delivery", () => {
        held();
        return new Promise((release) => { window.release = release; });
    });
})"""
RELEASE = "() => window.release()"


class Workshop:
    """A PC and its phones, with time that a test lets pass.

    Attributes
    ----------
    passed, set : dict of str to timedelta
        How much time passed since the start, and by how much each clock is set besides; the PC's under "pc".
    """

    def __init__(self, folder: Path, browser: Browser) -> None:
        self.file = folder / "moved.json"
        program = folder / "slipbook"
        program.write_text(PC.format(python=sys.executable, root=str(ROOT), file=str(self.file)))
        program.chmod(0o755)
        self.passed = timedelta()
        self.set: dict[str, timedelta] = {"pc": timedelta()}
        self.phones: dict[str, Page] = {}
        self.browser = browser
        self.start = datetime.now(UTC)
        self.server = RunningServer(folder / "log", "serve", program=program)
        self.tell()

    def tell(self) -> None:
        """Tell the PC how late it is."""
        pc = {"passed": self.passed.total_seconds(), "set": self.set["pc"].total_seconds()}
        self.file.write_text(json.dumps(pc))

    def phone(self, name: str, **more: Any) -> Page:
        """A phone with a clock of its own."""
        page = open_phone(self.browser, **more).new_page()
        page.clock.install(time=datetime.now(UTC) + self.passed)
        page.goto(self.server.address)
        self.phones[name], self.set[name] = page, timedelta()
        page.evaluate(DELIVER)
        # Whoever leaves has the app: the engine may have to start again meanwhile.
        until(page, "() => navigator.serviceWorker.controller !== null")
        return page

    def pass_by(self, **length: float) -> None:
        """Let time pass for all: clocks go on, wherever they are set.

        A question that was on its way meanwhile would see one clock before, and the other after.
        """
        for page in self.phones.values():
            page.evaluate(HOLD)
        self.passed += timedelta(**length)
        self.tell()
        for page in self.phones.values():
            page.clock.fast_forward(round(timedelta(**length).total_seconds() * 1000))
        for page in self.phones.values():
            page.evaluate(RELEASE)

    def set_clock(self, name: str, **by: float) -> None:
        """Set a clock forward, or back, from what it shows."""
        self.set[name] += timedelta(**by)
        if name == "pc":
            self.tell()
            return
        page = self.phones[name]
        # Here too a question on its way would see both clocks; an empty page asks none.
        asks = page.url != "about:blank"
        if asks:
            page.evaluate(HOLD)
        shown = page.evaluate("Date.now()") / 1000
        page.clock.set_system_time(datetime.fromtimestamp(shown, UTC) + timedelta(**by))
        if asks:
            page.evaluate(RELEASE)

    def write(self, name: str, kind: str, body: dict[str, Any]) -> str:
        """Somebody writes an entry on a phone; returns its id."""
        entry: str = self.phones[name].evaluate(WRITE, {"unit": UNIT_ID, "kind": kind, "body": body, "who": name})
        return entry

    def check(self, name: str, low: float) -> str:
        """Somebody checks the torque."""
        steady = {way: [low, low + 1, low] for way in ("forward", "reverse")}
        return self.write(name, "torque_check", changed(BREAKAWAY, steady_nm=steady))

    def away(self, name: str, is_away: bool = True) -> None:
        """A phone leaves the network, or comes home and delivers."""
        self.phones[name].context.set_offline(is_away)
        if not is_away:
            assert self.phones[name].evaluate(DELIVER)

    def shows(self, name: str, verdict: str) -> Page:
        """A phone shows this verdict on the unit."""
        page = self.phones[name]
        page.goto(f"{self.server.address}/#/unit/{UNIT_ID}")
        expect(page.locator("section.card.judged.full").first).to_contain_text(verdict)
        return page

    def stored(self, entry: str) -> dict[str, Any]:
        """An entry as the log has it."""
        return next(row for row in entries_on_disk(self.server) if row["id"] == entry)


@pytest.fixture
def workshop(tmp_path: Path, chromium: Browser) -> Iterator[Workshop]:
    """A PC, and the phones of Ilse and Joss, who both have the unit."""
    opened = Workshop(tmp_path, chromium)
    with opened.server:
        opened.phone("Ilse")
        opened.write("Ilse", "unit", UNIT)
        assert opened.phones["Ilse"].evaluate(DELIVER)
        opened.phone("Joss")
        yield opened
        for page in opened.phones.values():
            page.context.close()


@pytest.mark.parametrize("restarted", [False, True])
def test_a_pc_that_fell_by_thirty_days_leaves_no_old_go_standing(workshop: Workshop, restarted: bool) -> None:
    workshop.check("Ilse", GO)
    workshop.away("Ilse", False)
    workshop.pass_by(days=7)
    workshop.set_clock("pc", days=-30)
    if restarted:
        workshop.server.stop()
        workshop.server.start()
    workshop.away("Joss", False)
    workshop.pass_by(minutes=1)
    rework = workshop.check("Joss", REWORK)
    workshop.away("Joss", False)
    stored = workshop.stored(rework)
    assert stored["received_unsure"] is True
    assert "clock_off_s" not in stored, "no phone is blamed"
    workshop.away("Ilse", False)
    for name in ("Joss", "Ilse"):
        page = workshop.shows(name, "rework")
        expect(page.get_by_text("its clock was wrong")).to_have_count(0)
    page.goto(f"{workshop.server.address}/#/outbox")
    banner = page.get_by_role("region", name="Clocks")
    expect(banner).to_contain_text("The PC's clock shows" if restarted else "The PC's clock was set back by 30 days")
    workshop.set_clock("pc", days=30)
    workshop.away("Ilse", False)
    expect(banner).to_have_count(0)


def test_a_phone_that_fell_during_the_day_does_not_move_what_it_wrote_before(workshop: Workshop) -> None:
    workshop.away("Ilse")
    workshop.pass_by(hours=2)
    before = workshop.check("Ilse", GO)
    workshop.pass_by(hours=1)
    middle = workshop.check("Joss", REWORK)
    workshop.away("Joss", False)
    workshop.pass_by(hours=1)
    workshop.set_clock("Ilse", hours=-24)
    workshop.pass_by(hours=1)
    note = workshop.write("Ilse", "note", {"text": "Oil looked at."})
    workshop.pass_by(hours=1)
    workshop.away("Ilse", False)
    workshop.away("Joss", False)
    assert workshop.stored(before)["clock_off_s"] == pytest.approx(86400, abs=120)
    assert workshop.stored(before)["clock_fell_s"] == pytest.approx(86400, abs=120)
    for name in ("Joss", "Ilse"):
        page = workshop.shows(name, "rework")
        rows = page.locator("section[aria-labelledby=history] li a")
        expect(rows.first).to_be_visible()
        ids = [str(row.get_attribute("href")).rpartition("/")[2] for row in rows.all()]
        assert ids[:3] == [note, middle, before]
        page.goto(f"{workshop.server.address}/#/unit/{UNIT_ID}/entry/{note}")
        sentence = re.compile("The clock of Ilse.s device was (1 day|24 hours) slow against the workshop.s PC\\.")
        expect(page.get_by_text(sentence)).to_be_visible()
        page.goto(f"{workshop.server.address}/#/unit/{UNIT_ID}/entry/{before}")
        expect(page.get_by_text("by this device's clock")).to_be_visible()
        expect(page.get_by_text("The clock of")).to_have_count(0)
    page = workshop.phones["Ilse"]
    page.goto(f"{workshop.server.address}/#/outbox")
    expect(page.get_by_role("region", name="Clocks")).to_contain_text(
        re.compile("This device.s clock is (1 day|24 hours) slow")
    )


def test_where_clocks_cannot_tell_the_worse_stands_and_a_new_check_settles_it(workshop: Workshop) -> None:
    for name in ("Ilse", "Joss"):
        workshop.away(name)
    workshop.pass_by(hours=1)
    # Set forward by three hours, which nobody sees: it looks like sleep.
    workshop.set_clock("Ilse", hours=3)
    workshop.check("Ilse", GO)
    workshop.pass_by(hours=1)
    workshop.check("Joss", REWORK)
    workshop.pass_by(hours=2)
    for name in ("Ilse", "Joss", "Ilse"):
        workshop.away(name, False)
    for name in ("Ilse", "Joss"):
        page = workshop.shows(name, "rework")
        expect(page.get_by_text("Nobody can tell which was last")).to_be_visible()
        expect(page.get_by_text("Read the torque again to settle it.")).to_be_visible()
    workshop.check("Joss", GO)
    page = workshop.shows("Joss", "go")
    expect(page.get_by_text("Nobody can tell")).to_have_count(0)


def test_a_phone_without_power_and_a_pc_in_the_year_2000_keep_what_was_done_in_order(workshop: Workshop) -> None:
    workshop.server.stop()
    workshop.away("Ilse")
    started = datetime.now(UTC) + workshop.passed
    workshop.set_clock("pc", seconds=-(started - datetime(2000, 1, 1, tzinfo=UTC)).total_seconds())
    workshop.set_clock("Ilse", seconds=-(started - datetime(1970, 1, 1, tzinfo=UTC)).total_seconds())
    workshop.server.start()
    workshop.check("Joss", GO)
    workshop.away("Joss", False)
    workshop.away("Ilse", False)
    worse = workshop.check("Ilse", REWORK)
    workshop.away("Ilse", False)
    assert workshop.stored(worse)["at"].startswith(("1970-01-01", "1969-12-31"))
    workshop.away("Joss", False)
    for name in ("Ilse", "Joss"):
        workshop.shows(name, "rework")
    page = workshop.phones["Joss"]
    page.goto(f"{workshop.server.address}/#/outbox")
    expect(page.get_by_role("region", name="Clocks")).to_contain_text("The PC's clock shows 2000-01-0")


CLOCK = """async () => (await slipbook.part("log/clock.js")).lookAtClock()"""


def test_a_fall_is_seen_across_a_restart_and_sleep_is_none(workshop: Workshop) -> None:
    page = workshop.phones["Joss"]
    assert page.evaluate(CLOCK)["fell_s"] == 0
    # The app is kept on the phone.
    page.evaluate("() => navigator.serviceWorker.ready.then(() => null)")
    page.reload()
    page.wait_for_function("() => navigator.serviceWorker.controller !== null")
    assert page.evaluate(DELIVER)
    workshop.away("Joss")
    # Asleep for a night: the page's ticks may stand still, and the clock goes on.
    workshop.set_clock("Joss", hours=9)
    assert page.evaluate(CLOCK)["fell_s"] == 0
    page.reload()
    slept = page.evaluate(CLOCK)
    assert slept["fell_s"] == 0
    # It falls while the page is open, by less than it has gone on since the last look.
    workshop.pass_by(hours=3)
    workshop.set_clock("Joss", hours=-2)
    fell = page.evaluate(CLOCK)
    assert fell["fell_s"] == pytest.approx(7200, abs=60)
    # It falls while the phone is off, whose ticks begin anew.
    page.goto("about:blank")
    workshop.set_clock("Joss", days=-40)
    page.goto(workshop.server.address)
    fallen = page.evaluate(CLOCK)
    assert fallen["fell_s"] == pytest.approx(7200 + 40 * 86400, abs=120)
    # A delivery that was under way when it left may have met the workshop once more, so this is read after it.
    assert fallen["met"] == slept["met"]
    assert page.evaluate(CLOCK)["fell_s"] == fallen["fell_s"], "once"
    entry = workshop.write("Joss", "note", {"text": "Dry."})
    workshop.away("Joss", False)
    stored = workshop.stored(entry)
    assert stored["clock"]["met"] == slept["met"]
    assert stored["clock"]["met_fell_s"] == 0
    assert stored["clock"]["fell_s"] == fallen["fell_s"]
    assert page.evaluate(CLOCK)["met_fell_s"] == fallen["fell_s"]


def test_two_tabs_count_a_fall_once(workshop: Workshop) -> None:
    page = workshop.phones["Joss"]
    other = page.context.new_page()
    other.goto(workshop.server.address)
    for tab in (page, other):
        assert tab.evaluate(CLOCK)["fell_s"] == 0
    workshop.pass_by(hours=3)
    workshop.set_clock("Joss", hours=-2)
    seen = [tab.evaluate(CLOCK)["fell_s"] for tab in (page, other, page, other)]
    assert seen == [pytest.approx(7200, abs=60)] * 4


def test_another_time_zone_is_another_clock_face_and_the_same_time(workshop: Workshop) -> None:
    abroad = workshop.phone("Mara", timezone_id="America/New_York")
    entry = workshop.check("Mara", GO)
    workshop.away("Mara", False)
    stored = workshop.stored(entry)
    assert stored["at"][-6:] in ("-05:00", "-04:00")
    assert stored["clock_checked"] is True
    assert "clock_off_s" not in stored
    abroad.goto(f"{workshop.server.address}/#/unit/{UNIT_ID}/entry/{entry}")
    expect(abroad.get_by_text("by this device's clock")).to_be_visible()
    expect(abroad.get_by_text("The clock of")).to_have_count(0)
