"""A phone without room says so wherever something is to be stored, and what to do; it goes on once there is room."""

import pytest
from playwright.sync_api import Page, expect

from .conftest import RunningServer
from .screens import of_log, put
from .test_story import UNIT, begin_check, fill_readings, ready_offline

# How Chromium ends what was to be written: where the browser's share is used up, and where the disk itself is full, as
# seen on a disk of 60 MB.
ENDINGS = [
    ("QuotaExceededError", ""),
    ("UnknownError", "Connection is closing because of: IO error: 000003.log: FILE_ERROR_NO_SPACE"),
    ("AbortError", "AbortError"),
    ("DataError", "Failed to write blobs (IOError)"),
]
# Every transaction that writes is taken, and undone at its end.
FULL = """([name, message]) => {
    window.begin ??= IDBDatabase.prototype.transaction;
    IDBDatabase.prototype.transaction = function (stores, mode, ...rest) {
        const transaction = window.begin.call(this, stores, mode, ...rest);
        if (mode !== "readwrite") return transaction;
        // One that has said all it wants could no longer be undone from here.
        transaction.commit = () => {};
        Object.defineProperty(transaction, "error", { value: new DOMException(message, name) });
        for (const act of ["put", "add", "delete"]) {
            const store = IDBObjectStore.prototype;
            store[`own ${act}`] ??= store[act];
            store[act] = function (...given) {
                const asked = this[`own ${act}`](...given);
                if (this.transaction === transaction) asked.addEventListener("success", () => transaction.abort());
                return asked;
            };
        }
        return transaction;
    };
}"""
ROOM = "() => { IDBDatabase.prototype.transaction = window.begin; }"
SENTENCE = "This phone cannot store anything more"


def news(demo: RunningServer) -> None:
    """Another device writes something that this phone will want to fetch."""
    [unit] = {
        entry["unit"] for entry in of_log(demo.address) if entry["kind"] == "unit" and entry["body"]["name"] == UNIT
    }
    fresh = {
        "id": "01975000-0000-7000-8000-000000000001",
        "at": "2026-11-27T10:00:00.000+00:00",
        "who": "Tove Lind",
        "device": "01975000-0000-7000-8000-0000000000d0",
        "unit": unit,
        "kind": "note",
        "version": 1,
        "engine": "1.9",
        "body": {"text": "From another phone"},
        "shown": {"verdict": None},
    }
    put(demo.address, [fresh])


@pytest.mark.parametrize(("name", "message"), ENDINGS)
def test_delivery_to_a_full_phone_says_what_to_do(demo: RunningServer, phone: Page, name: str, message: str) -> None:
    phone.goto(demo.address)
    ready_offline(phone)
    phone.goto(f"{demo.address}/#/outbox")
    phone.evaluate(FULL, [name, message])
    news(demo)
    phone.get_by_role("button", name="Deliver now").click()
    expect(phone.get_by_text(SENTENCE)).to_be_visible()
    expect(phone.get_by_text("delete photos, films or apps")).to_be_visible()
    expect(phone.get_by_text("The workshop did not accept it")).to_have_count(0)
    phone.evaluate(ROOM)
    phone.get_by_role("button", name="Deliver now").click()
    expect(phone.get_by_role("link", name="up to date")).to_be_visible()
    expect(phone.get_by_text(SENTENCE)).to_have_count(0)


def test_what_cannot_be_saved_on_a_full_phone_says_what_to_do(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    ready_offline(phone)
    begin_check(phone)
    phone.get_by_label("With what?").select_option(label="Bench dial")
    fill_readings(phone, ["99", "100", "101"], ["100", "99"])
    phone.get_by_label("Checked by").fill("Joss Tarn")
    phone.evaluate(FULL, ["QuotaExceededError", ""])
    phone.get_by_role("button", name="Save the check").click()
    expect(phone.get_by_text(SENTENCE).first).to_be_visible()
    expect(phone.get_by_label("forward reading 3", exact=True)).to_have_value("101")
    phone.evaluate(ROOM)
    phone.get_by_role("button", name="Save the check").click()
    expect(phone.get_by_role("heading", name=UNIT)).to_be_visible()


def test_a_note_that_cannot_be_saved_says_what_to_do_and_stays(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    ready_offline(phone)
    phone.get_by_role("link", name=UNIT).click()
    phone.get_by_label("Written by").fill("Joss Tarn")
    phone.evaluate(FULL, ["QuotaExceededError", ""])
    phone.get_by_label("Note", exact=True).fill("Grey oil")
    phone.get_by_role("button", name="Save the note").click()
    expect(phone.get_by_text(SENTENCE)).to_be_visible()
    expect(phone.get_by_label("Note", exact=True)).to_have_value("Grey oil")
