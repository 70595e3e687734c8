"""A workshop on its network with some phones, whose PC dies and comes back: the stories of a restore are of it."""

import shutil
from pathlib import Path
from typing import Any, NamedTuple, Self

from playwright.sync_api import Browser, expect

from server.cli import main
from server.log import ADDED
from server.log.intake import receive
from server.log.postgres import workshops
from server.log.receipts import RECEIPT
from tests.server.lan_server import network_server
from tests.server.sample_logs import UNIT_ID, entry
from tests.server.stores import open_log, over_postgres, place_of, shared

from .conftest import free_port, open_phone, until

ROLES = ("trackside", "trackside", "bench")
WRITE = """async ([text, photo]) => {
    const { write } = await slipbook.part("log/outbox.js");
    const { addPhoto } = await slipbook.part("log/photos.js");
    const { database, remember } = await slipbook.part("log/store.js");
    await remember("who", "Jo");
    const { unit } = (await (await database()).getAll("entries")).find((one) => one.kind === "unit");
    if (!photo) return write({ unit, kind: "note", body: { text }, shown: { verdict: null } });
    const canvas = Object.assign(document.createElement("canvas"), photo);
    const context = canvas.getContext("2d");
    const noise = context.createImageData(canvas.width, canvas.height);
    for (let place = 0; place < noise.data.length; place += 65536)
        crypto.getRandomValues(noise.data.subarray(place, place + 65536));
    for (let place = 3; place < noise.data.length; place += 4) noise.data[place] = 255;
    context.putImageData(noise, 0, 0);
    return addPhoto(await new Promise((resolve) => canvas.toBlob(resolve, "image/png")), { unit, text });
}"""
DELIVER = """async () => {
    const { deliver } = await slipbook.part("log/delivery.js");
    const { outbox, database } = await slipbook.part("log/store.js");
    await deliver();
    const photos = (await (await database()).getAll("photos")).filter(({ home }) => !home);
    return !(await outbox()).length && !photos.length && document.querySelector("#bar .state.idle") !== null;
}"""
# A photo that goes home in one piece, and one that needs several.
SMALL = {"width": 320, "height": 240}
LARGE = {"width": 900, "height": 700}
PAIR = """async ([code, name]) => {
    const { pair } = await slipbook.part("log/access.js");
    await pair(code, name);
}"""
ENTRIES = """async () => {
    const { database } = await slipbook.part("log/store.js");
    return (await (await database()).getAll("entries")).map(({ id, seq, receipt }) => [id, seq, receipt]);
}"""
# What the log adds to an entry that a phone has to deliver again.
ADDED_ANEW = frozenset({*ADDED, RECEIPT})


def with_command(*arguments: str) -> None:
    """Do what `slipbook` does with these arguments."""
    assert main(list(arguments)) == 0


class Missing(NamedTuple):
    """What is missing after all came together again: entries in the log, entries on phones, photos in the log."""

    in_log: int
    on_phones: int
    photos: int


class Story:
    """A workshop on its network with some phones, whose PC dies and comes back out of a backup.

    Parameters
    ----------
    folder : Path
        Where its data folders and backups are; empty at first.
    browser : Browser
        Where the phones are.
    phones : int
        How many phones there are; the first two are paired for trackside, the third for the bench.
    """

    def __init__(self, folder: Path, browser: Browser, phones: int) -> None:
        self.folder, self.data, self.port = folder, folder / "Moorfield", free_port()
        with open_log(self.data) as log:
            receive(log, [entry("unit"), entry("torque_check"), entry("kit")])
        self.restored = 0
        self.server = network_server(self.data, port=self.port)
        # All that was ever acknowledged, by its id.
        self.acknowledged: dict[str, dict[str, Any]] = {}
        self.contexts = [open_phone(browser, ignore_https_errors=True) for _ in range(phones)]
        self.pages = [context.new_page() for context in self.contexts]
        for number in range(phones):
            self.pages[number].goto(self.address)
            self.pair(number)

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        for context in self.contexts:
            context.close()
        self.stop()

    @property
    def address(self) -> str:
        """Where phones find it."""
        return self.server.address

    def ask(self, method: str, path: str, body: Any = None) -> Any:
        """What the workshop's own PC asks."""
        status, answer = self.server.ask(method, path, body)
        assert status == 200, answer
        return answer

    def entries(self) -> dict[str, dict[str, Any]]:
        """Every entry of the log by its id."""
        found: dict[str, dict[str, Any]] = {}
        more, after = True, 0
        while more:
            page = self.ask("GET", f"/api/log?most=500&after={after}")
            found |= {entry["id"]: entry for entry in page["entries"]}
            more, after = page["more"], page["next"]
        return found

    def note_acknowledged(self) -> None:
        """Remember what the log has now: none of it may ever be missing again."""
        for entry_id, log_entry in self.entries().items():
            self.acknowledged.setdefault(entry_id, log_entry)

    def pair(self, number: int) -> None:
        """Let a phone in with a code."""
        code = self.ask("POST", "/api/pairing", {"role": ROLES[number]})["code"]
        self.pages[number].evaluate(PAIR, [code, f"Phone {number + 1}"])
        until(self.pages[number], DELIVER)

    def write(self, number: int, text: str, photo: dict[str, int] | None = None) -> None:
        """Write a note, or a photo of some size, on a phone."""
        self.pages[number].evaluate(WRITE, [text, photo])

    def write_many(self, number: int, texts: list[str]) -> None:
        """Write notes on a phone, one after another, without waiting for the test in between."""
        self.pages[number].evaluate(f"async (texts) => {{ for (const text of texts) await ({WRITE})([text]); }}", texts)

    def bench_writes(self, many: int) -> None:
        """Write at the PC itself: every third entry changes the unit, which no trackside phone may."""
        entries = [entry("note" if number % 3 else "unit", UNIT_ID) for number in range(many)]
        if entries:
            answers = self.ask("POST", "/api/log", {"entries": entries})["answers"]
            assert [answer["answer"] for answer in answers] == ["stored"] * many

    def all_write(self, when: str) -> None:
        """Two notes and a photo on each phone and two entries at the bench, delivered and read by all."""
        for number in range(len(self.pages)):
            self.write(number, f"{when}, first")
            self.write(number, f"{when}, second")
            self.write(number, f"{when}, a photo", photo=SMALL)
        self.bench_writes(2)
        for _ in range(2):
            for page in self.pages:
                until(page, DELIVER)
        self.note_acknowledged()

    def writes_alone(self, number: int) -> None:
        """One phone delivers a note and a photo that no other phone reads."""
        self.write(number, "read by no other")
        self.write(number, "read by no other, a photo", photo=SMALL)
        until(self.pages[number], DELIVER)
        self.note_acknowledged()

    def back_up(self, name: str) -> None:
        """A backup while it runs."""
        with_command("backup", *place_of(self.data), str(self.folder / f"{name}.zip"))

    def stop(self) -> None:
        """The PC is switched off."""
        if self.server.process.poll() is None:
            self.server.stop()

    def start(self, data: Path, port: int | None = None) -> None:
        """The PC serves a data folder."""
        self.data = data
        self.server = network_server(data, port=self.port if port is None else port)

    def restore(self, backup: str, anew: bool) -> None:
        """The PC dies with its disk, and a folder made of a backup takes its place; it may know the phones still.

        A workshop of a database is removed, and made of the backup.
        """
        self.stop()
        self.restored += 1
        data = self.folder / f"restored {self.restored}"
        if over_postgres():
            assert anew, "A workshop's devices go with it."
            workshops.remove(shared().owner, shared().workshop(str(self.data)))
        with_command("restore", str(self.folder / f"{backup}.zip"), *place_of(data, is_made=False))
        if not anew:
            shutil.copytree(self.data / "lan", data / "lan")
        self.start(data)

    def comes_back(self, number: int, anew: bool) -> None:
        """One phone returns and is paired anew, unless the PC knows it still."""
        page = self.pages[number]
        page.goto("about:blank")
        page.goto(f"{self.address}/#/outbox")
        if anew:
            expect(page.locator("#bar .state")).to_have_text("not paired")
            self.pair(number)
        until(page, DELIVER)

    def come_back(self, order: tuple[int, ...], anew: bool) -> None:
        """The phones return one after another; then each looks once more."""
        for number in order:
            self.comes_back(number, anew)
        for page in self.pages:
            until(page, DELIVER)

    def outbox_report(self) -> list[str]:
        """What the Outbox page says came back, and from where."""
        page = self.pages[0]
        page.goto("about:blank")
        page.goto(f"{self.address}/#/outbox")
        section = page.get_by_role("region", name="What came back")
        expect(section).to_be_visible()
        expect(page.get_by_text("All is delivered.")).to_be_visible()
        return section.locator("li").all_inner_texts()

    def missing(self, apart: frozenset[str] = frozenset()) -> Missing:
        """What is missing where, of all that was ever acknowledged, with every field but for those set apart."""
        now = self.entries()
        lost = [
            entry_id
            for entry_id, log_entry in self.acknowledged.items()
            if entry_id not in now
            or any(now[entry_id].get(name) != log_entry[name] for name in log_entry.keys() - apart)
        ]
        here = {(entry_id, stored["seq"], stored["receipt"]) for entry_id, stored in now.items()}
        on_phones = sum(len(here ^ {tuple(kept) for kept in page.evaluate(ENTRIES)}) for page in self.pages)
        photos = [stored["body"]["sha256"] for stored in now.values() if stored["kind"] == "photo"]
        gone = [name for name in photos if not self.ask("GET", f"/api/photos/{name}/progress")["whole"]]
        assert self.ask("GET", "/api/health")["problems"] == []
        return Missing(len(lost), on_phones, len(gone))
