"""What goes over the wire: the first visit, and a season's outbox on its way home."""

import json
import os
import signal
import subprocess
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, NamedTuple

from playwright.sync_api import Page, sync_playwright

from server.log.files import FolderLog
from server.log.judging import judge
from tests import browsers
from tests.phone.conftest import RunningServer, open_phone

from .counted import counting
from .figures import Figure, median
from .phone import browsing, serving, visit
from .sizes import Sizes
from .tools import install
from .workshop import Workshop

UNITS = 40
QUEUED = 1000
RIVAL = Path(__file__).with_name("rival")

# Straight into the phone's store, as `save` writes each of them.
QUEUE = """async (text) => {
    const { database } = await slipbook.part("log/store.js");
    const change = (await database()).transaction(["entries", "outbox"], "readwrite");
    for (const entry of JSON.parse(text)) {
        change.objectStore("entries").add(entry);
        change.objectStore("outbox").add({ id: entry.id, unit: entry.unit, tries: 0 });
    }
    await change.done;
}"""

# All answers are noted once the phone asks for what is new.
DELIVER = """async () => {
    const { deliver } = await slipbook.part("log/delivery.js");
    const { outbox } = await slipbook.part("log/store.js");
    const own = window.fetch;
    let home;
    window.fetch = (path, ...rest) => {
        if (String(path).startsWith("/api/log?")) home ??= performance.now();
        return own(path, ...rest);
    };
    const start = performance.now();
    const good = await deliver();
    const end = performance.now();
    window.fetch = own;
    return { good, left: (await outbox()).length, home: home - start, whole: end - start };
}"""

# The same, where a workshop would answer at once and had nothing new: what the phone takes by itself.
DELIVER_ALONE = """async () => {
    const { deliver } = await slipbook.part("log/delivery.js");
    const own = window.fetch;
    const answered = (content) => new Response(JSON.stringify(content));
    let seq = 1e9;
    let home;
    window.fetch = async (path, options) => {
        if (String(path).startsWith("/api/log?")) {
            home ??= performance.now();
            return answered({ entries: [], next: seq, more: false });
        }
        if (path !== "/api/log") return own(path, options);
        const added = { answer: "stored", agrees: true, receipt: "0".repeat(64) };
        const answers = JSON.parse(options.body).entries.map(({ id, at }) => {
            seq += 1;
            return { id, seq, received: at, ...added };
        });
        return answered({ answers });
    };
    const start = performance.now();
    await deliver();
    window.fetch = own;
    return home - start;
}"""

# Screens are drawn anew once all is home; nobody else is measured while this phone is at work.
SETTLED = """async (units) => {
    const { database } = await slipbook.part("log/store.js");
    while ((await (await database()).count("standings")) < units) await new Promise((go) => setTimeout(go, 100));
}"""

REPLICATE = """async ([text, name]) => {
    const local = new PouchDB(name);
    await local.info();
    await local.bulkDocs(JSON.parse(text).map((entry) => ({ _id: entry.id, ...entry })));
    const remote = new PouchDB(`${location.origin}/db/${name}`);
    await remote.info();
    const start = performance.now();
    const done = await local.replicate.to(remote);
    const took = performance.now() - start;
    const there = (await remote.info()).doc_count;
    await local.destroy();
    await remote.destroy();
    return { took, written: done.docs_written, there };
}"""


def first_visit(sizes: Sizes) -> Iterator[Figure]:
    """Bytes until the app works offline, with a log that is still empty."""
    with (
        RunningServer(sizes.folder / "first visit", program=sizes.installed().command) as server,
        counting(server.port) as counter,
        sync_playwright() as playwright,
    ):
        browser = playwright.chromium.launch(executable_path=browsers.find(), args=browsers.ARGUMENTS)
        context = open_phone(browser)
        page = context.new_page()
        page.goto(f"http://127.0.0.1:{counter.port}/")
        page.evaluate("() => navigator.serviceWorker.ready.then(() => null)")
        page.get_by_role("link", name="up to date").wait_for(timeout=60000)
        page.wait_for_timeout(1000)
        browser.close()
        amount = counter.bytes / 1000
    carried = dict(parts(sizes))
    least = carried["MicroPython"] + carried["the engine's bytecode"]
    yield Figure(
        "first visit, over the wire",
        f"{amount:.0f} KB",
        f"MicroPython and the engine, without which nothing is judged: {least:.0f} KB",
        f"{amount / least:.2f}x",
        "<= 400 KB",
        amount <= 400,
        "heads included, counted between browser and an installed Slipbook until the app works offline; an empty log; "
        f"brotli makes {', '.join(f'{kilobytes:.0f} KB of {what}' for what, kilobytes in carried.items())}",
        f"at most twice what MicroPython and the engine weigh ({amount / least:.2f} times now)",
    )


# The largest files that a phone keeps.
PARTS = {
    "MicroPython": ("vendor/micropython-webassembly-pyscript/micropython.*",),
    "the engine's bytecode": ("engine/files.bin",),
    "the first screens": ("app.js", "first-screens.js"),
    # What is not in the rows above.
    "all other screens, pages of Help aside": ("*.js",),
}


def parts(sizes: Sizes) -> list[tuple[str, float]]:
    """What the first visit mostly brings, and how many KB each is as the build compressed it."""
    web = sizes.installed().package / "webui"
    counted: set[Path] = set()
    found = []
    for what, names in PARTS.items():
        files = {file for name in names for file in web.glob(f"{name}.br")} - counted
        counted |= files
        found.append((what, sum(file.stat().st_size for file in files) / 1000))
    return found


def processor_s(process: int) -> float:
    """The processor time that a process has used, in seconds."""
    fields = Path(f"/proc/{process}/stat").read_text().rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


@contextmanager
def rival(folder: Path) -> Iterator[tuple[str, int]]:
    """The in-memory PouchDB server, installed into a temporary folder; its address, and the number of its process."""
    install(RIVAL, folder)
    process = subprocess.Popen(["node", "server.js"], cwd=folder, stdout=subprocess.PIPE, text=True)
    try:
        assert process.stdout is not None
        told = process.stdout.readline().split()
        if not told:
            raise RuntimeError("the PouchDB server did not start")
        # What is called `node` may be a program that starts Node and waits for it: Node says its own number.
        address, number = told[0], int(told[1])
        try:
            yield address, number
        finally:
            os.kill(number, signal.SIGTERM)
    finally:
        process.terminate()
        process.wait(timeout=20)


def delivered(page: Page, entries: list[dict[str, Any]]) -> tuple[float, float]:
    """Seconds until a queue is home and noted, and until what is new was read as well."""
    page.evaluate(QUEUE, json.dumps(entries))
    measured = page.evaluate(DELIVER)
    if not measured["good"] or measured["left"]:
        raise RuntimeError(f"not everything went home: {measured}")
    page.evaluate(SETTLED, UNITS)
    return measured["home"] / 1000, measured["whole"] / 1000


def judged_s(entries: list[dict[str, Any]]) -> float:
    """Seconds of processor that judging alone takes."""
    start = time.process_time()
    for entry in entries:
        judge(entry)
    return time.process_time() - start


def alone(page: Page, entries: list[dict[str, Any]]) -> float:
    """Seconds that the phone takes by itself to read, send and note a queue; the log never gets it."""
    page.evaluate(QUEUE, json.dumps(entries))
    return float(page.evaluate(DELIVER_ALONE)) / 1000


def replicated(page: Page, entries: list[dict[str, Any]], name: str) -> float:
    """Seconds in which PouchDB brings the same over."""
    measured = page.evaluate(REPLICATE, [json.dumps(entries), name])
    if measured["there"] != len(entries):
        raise RuntimeError(f"PouchDB did not bring everything over: {measured}")
    return float(measured["took"]) / 1000


class Times(NamedTuple):
    """Seconds until a queue is home, until what is new was read as well, and of PouchDB; processor time of both
    servers, and of judging alone; and seconds that the phone takes by itself.
    """

    ours: float
    whole: float
    theirs: float
    own_server: float
    other_server: float
    judging: float
    by_itself: float


def delivery(sizes: Sizes) -> Iterator[Figure]:
    """A thousand entries of forty units from the phone into the log, and from PouchDB to PouchDB, in turns."""
    workshop = Workshop(UNITS, 5)
    turns = 2 if sizes.quick else 5
    ours, whole, theirs = [], [], []
    # Processor time of either server in each turn.
    own_s, other_s = [], []
    with (
        rival(sizes.folder / "rival") as (other, other_process),
        serving(sizes, "delivery", workshop, 200) as server,
        browsing(sizes.folder / "delivery profile") as context,
    ):
        page = visit(context, server.address, UNITS)
        pouch = context.new_page()
        pouch.goto(f"{other}/page")
        # Each on the page that is in front, since browsers slow the one behind.
        for turn in range(turns):
            entries = workshop.fresh(QUEUED)
            page.bring_to_front()
            assert server.process is not None
            before = processor_s(server.process.pid)
            home, all_of_it = delivered(page, entries)
            own_s.append(processor_s(server.process.pid) - before)
            pouch.bring_to_front()
            before = processor_s(other_process)
            theirs.append(replicated(pouch, entries, f"turn{turn}"))
            other_s.append(processor_s(other_process) - before)
            ours.append(home)
            whole.append(all_of_it)
        page.bring_to_front()
        judging = median([judged_s(workshop.fresh(QUEUED)) for _ in range(turns)])
        by_itself = median([alone(page, workshop.fresh(QUEUED)) for _ in range(turns)])
        server.stop()
        with FolderLog(server.folder) as log:
            there = log.last
    if there != 200 + turns * QUEUED:
        raise RuntimeError(f"{there} entries are in the log")
    ratio = median([their_time / our_time for their_time, our_time in zip(theirs, ours, strict=True)])
    times = Times(
        median(ours),
        median(whole),
        median(theirs),
        median(own_s),
        median(other_s),
        judging=judging,
        by_itself=by_itself,
    )
    yield went_home(turns, ratio, times)


def went_home(turns: int, ratio: float, times: Times) -> Figure:
    """The figure of some deliveries."""
    # What PouchDB does, and the one thing more that a log of verdicts has to do.
    limit = times.theirs + times.judging
    return Figure(
        f"{QUEUED} queued entries of {UNITS} units, phone to durable",
        f"{times.ours:.2f} s",
        f"PouchDB to an in-memory PouchDB server: {times.theirs:.2f} s",
        f"{ratio:.2f}x faster",
        ">= 2x faster",
        ratio >= 2,
        f"until the phone has noted every answer; {times.whole:.2f} s with what is new read back; median ratio of "
        f"{turns} turns; {os.cpu_count()} cores for browser and server together. Floors, measured here: judging again "
        f"takes {times.judging:.2f} s of processor, and the phone alone, with answers at once, {times.by_itself:.2f} "
        f"s, which is {times.theirs / times.by_itself:.2f}x of PouchDB: below that no answer is noted. The server "
        f"takes {times.own_server:.2f} s of its processor in all; theirs, in memory and without judging, "
        f"{times.other_server:.2f} s",
        f"no longer than PouchDB takes and judging after it, {limit:.2f} s: "
        f"{'kept' if times.ours <= limit else 'missed'}",
    )
