"""What is typed and saved is asked to be on the phone's disk, not only in its memory: an empty battery clears that."""

from typing import Any

from playwright.sync_api import Page, expect

from .conftest import RunningServer, until
from .hands import CHECK_TORQUE
from .test_story import UNIT, begin_check, fill_readings, ready_offline

# Notes every transaction that wrote: to which stores, how durable the browser says that it is, and what of.
WATCH = """
(() => {
    window.wrote = [];
    for (const name of ["put", "add", "delete"]) {
        const act = IDBObjectStore.prototype[name];
        IDBObjectStore.prototype[name] = function (...given) {
            const row = { store: this.name, how: this.transaction.durability, what: JSON.stringify(given[0]) };
            this.transaction.addEventListener("complete", () => window.wrote.push(row));
            return act.apply(this, given);
        };
    }
})()
"""
WROTE = "([store, how, what]) => wrote.some((one) => one.store === store && one.how === how && one.what.includes(what))"


def wrote(page: Page, store: str, how: str, what: str) -> None:
    """Wait until a transaction of this durability wrote something."""
    until(page, WROTE, [store, how, what])


def began(page: Page, address: str) -> None:
    """Begin a check, with every write noted."""
    page.add_init_script(WATCH)
    page.goto(address)
    ready_offline(page)
    begin_check(page)
    page.get_by_label("With what?").select_option(label="Bench dial")


def test_after_a_pause_what_was_typed_is_on_the_disk(demo: RunningServer, phone: Page) -> None:
    began(phone, demo.address)
    fill_readings(phone, ["99", "100"], ["98"])
    wrote(phone, "drafts", "default", '"98"')
    wrote(phone, "drafts", "strict", '"98"')
    strict: list[Any] = phone.evaluate("wrote.filter((one) => one.store === 'drafts' && one.how === 'strict')")
    assert '"forward":["99","100"' in strict[-1]["what"]


def test_a_page_that_is_put_away_does_not_wait_for_the_pause(demo: RunningServer, phone: Page) -> None:
    began(phone, demo.address)
    # After what was chosen last there is a pause still; a pause after what is typed never comes.
    wrote(phone, "drafts", "strict", "Bench dial")
    phone.clock.install()
    phone.clock.pause_at(phone.evaluate("Date.now() + 1000"))
    fill_readings(phone, ["97,5"], [])
    wrote(phone, "drafts", "default", '"97,5"')
    assert not phone.evaluate(WROTE, ["drafts", "strict", '"97,5"'])
    phone.evaluate(
        """() => {
            Object.defineProperty(document, "visibilityState", { value: "hidden", configurable: true });
            document.dispatchEvent(new Event("visibilitychange"));
        }"""
    )
    wrote(phone, "drafts", "strict", '"97,5"')


def test_an_entry_is_on_the_disk_before_it_counts_as_saved(demo: RunningServer, phone: Page) -> None:
    began(phone, demo.address)
    demo.stop()
    fill_readings(phone, ["99", "100", "101"], ["100", "99", "98"])
    phone.get_by_label("Checked by").fill("Joss Tarn")
    phone.clock.install()
    phone.get_by_role("button", name="Save the check").click()
    expect(phone.get_by_role("link", name="Outbox, 1 waiting")).to_be_visible()
    for store in ("entries", "outbox"):
        wrote(phone, store, "strict", '"id"')
    # The draft went with it, in the same transaction, and no later pause brought it back.
    wrote(phone, "drafts", "strict", '"check/')
    phone.clock.run_for(3000)
    phone.goto(f"{demo.address}/#/")
    phone.get_by_role("link", name=UNIT).click()
    expect(phone.get_by_role("link", name=CHECK_TORQUE)).to_be_visible()


def test_a_photo_is_on_the_disk_before_its_entry(demo: RunningServer, phone: Page) -> None:
    phone.add_init_script(WATCH)
    phone.goto(demo.address)
    ready_offline(phone)
    phone.evaluate(
        """async () => {
            const canvas = Object.assign(document.createElement("canvas"), { width: 40, height: 30 });
            const blob = await new Promise((resolve) => canvas.toBlob(resolve));
            const { addPhoto } = await slipbook.part("log/photos.js");
            const { database, remember } = await slipbook.part("log/store.js");
            await remember("who", "Jo");
            const [unit] = (await (await database()).getAll("entries")).filter((one) => one.kind === "unit");
            await addPhoto(blob, { unit: unit.unit, text: "A plate" });
        }"""
    )
    wrote(phone, "photos", "strict", "sha256")
    stores = phone.evaluate("wrote.filter((one) => one.how === 'strict').map((one) => one.store)")
    assert stores.index("photos") < stores.index("entries")
