"""A unit travels in a file from one workshop's book to another's, and both books are merged."""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.server.sample_logs import entry as made_entry
from tests.server.stores import photos_kept, place_of

from .conftest import RunningServer, open_phone
from .screens import put
from .test_photo import png
from .test_story import UNIT, delivered, entries_on_disk, ready_offline


@pytest.fixture
def other(tmp_path: Path) -> Iterator[RunningServer]:
    """Another workshop, with an empty book."""
    with RunningServer(tmp_path / "other") as server:
        yield server


def unit_name(server: RunningServer, unit: str) -> str:
    """What a unit is called in a workshop's files."""
    rows = [row for row in entries_on_disk(server) if row["kind"] == "unit" and row["unit"] == unit]
    return str(rows[-1]["body"]["name"])


def saved(page: Page, folder: Path) -> Path:
    """Save the unit that is shown to a file."""
    fold = page.locator("details", has_text="At the bench")
    if fold.get_attribute("open") is None:
        fold.locator("summary").click()
    with page.expect_download() as download:
        page.get_by_role("button", name="Save the unit to a file").click()
    file = folder / download.value.suggested_filename
    download.value.save_as(file)
    expect(page.get_by_text("On another phone: Units, Import a unit from a file.")).to_be_visible()
    return file


def choose(page: Page, file: Path, screen: str = "Import a unit from a file") -> None:
    """Choose a file on a screen once it is there: the screen before it may take a file as well, as for a photo."""
    expect(page.get_by_role("heading", name=screen, exact=True)).to_be_visible()
    page.locator("input[type=file]").set_input_files(file)


def open_import(page: Page, address: str) -> None:
    """From the units to the import screen, with the app kept for offline use."""
    page.goto(address)
    page.evaluate("() => navigator.serviceWorker.ready.then(() => null)")
    page.wait_for_function("() => navigator.serviceWorker.controller !== null")
    expect(page.get_by_role("link", name="up to date")).to_be_visible()
    page.get_by_role("link", name="Import a unit from a file").click()


@pytest.mark.both_stores
def test_a_unit_goes_offline_from_one_book_into_another(
    demo: RunningServer, other: RunningServer, phone: Page, chromium: Browser, tmp_path: Path
) -> None:
    picture = tmp_path / "plate.png"
    picture.write_bytes(png(300, 200))
    phone.goto(demo.address)
    ready_offline(phone)
    phone.get_by_role("link", name=UNIT).click()
    phone.get_by_label("What the photo shows").fill("B4, blue")
    phone.get_by_label("Taken by").fill("Joss Tarn")
    phone.get_by_label("Take or choose a photo").set_input_files(picture)
    expect(phone.get_by_role("link", name="photo", exact=False).filter(has_text="B4, blue")).to_be_visible()
    expect(phone.get_by_role("link", name="up to date")).to_be_visible()
    file = saved(phone, tmp_path)
    assert file.name.startswith("slipbook-bramble-1-")
    content = json.loads(file.read_text("utf-8"))
    here = {entry["id"]: entry for entry in content["units"][0]["entries"]}
    assert (content["slipbook_export"], content["units"][0]["name"]) == (1, UNIT)

    context = open_phone(chromium)
    page = context.new_page()
    open_import(page, other.address)
    other.stop()
    choose(page, file)
    expect(page.get_by_role("region", name=UNIT)).to_contain_text(f"{len(here)} entries new here; 0 already here")
    # The one that was taken, and the one of the demonstration.
    expect(page.get_by_text("2 photos come with it")).to_be_visible()
    page.get_by_role("button", name=f"Import {len(here)} entries").click()
    expect(page.get_by_text("It is in the book")).to_be_visible()
    expect(page.get_by_role("link", name=f"Outbox, {len(here)} waiting")).to_be_visible()
    page.get_by_role("link", name=f"Open {UNIT}").click()
    expect(page.locator(".card.judged").first).to_contain_text("go")

    other.start()
    page.evaluate("dispatchEvent(new Event('online'))")
    delivered(page)
    expect(page.get_by_role("link", name="Outbox", exact=True)).to_be_visible()
    stored = entries_on_disk(other)
    assert {entry["id"] for entry in stored} == set(here)
    for entry in stored:
        assert (entry["body"], entry["shown"]) == (here[entry["id"]]["body"], here[entry["id"]]["shown"])
    assert len(photos_kept(other.folder)) == 2

    # A second time nothing is new; and what was changed on its way is refused, the rest of it taken in.
    page.goto(f"{other.address}/#/import")
    choose(page, file)
    expect(page.get_by_role("region", name=UNIT)).to_contain_text(f"Nothing new; {len(here)} already here")
    group = content["units"][0]
    check = next(entry for entry in group["entries"] if entry["kind"] == "torque_check")
    note = next(entry for entry in group["entries"] if entry["kind"] == "photo")
    check["who"] = "Somebody Else"
    fresh = {
        **note,
        "id": note["id"][:-4] + "0000",
        "kind": "note",
        "body": {"text": "Merged"},
        "shown": {"verdict": None},
    }
    group["entries"].append(fresh)
    changed = tmp_path / "changed.json"
    changed.write_text(json.dumps(content), "utf-8")
    choose(page, changed)
    region = page.get_by_role("region", name=UNIT)
    expect(region).to_contain_text("1 entry cannot be imported")
    expect(region).to_contain_text("The book has another entry under its number. What is in the book stays")
    page.get_by_role("button", name="Import 1 entry").click()
    expect(page.get_by_text("It is in the book")).to_be_visible()
    page.get_by_role("link", name="outbox", exact=True).last.click()
    expect(page.get_by_text("0 entries wait")).to_be_visible()
    after = {entry["id"]: entry for entry in entries_on_disk(other)}
    assert len(after) == len(here) + 1
    assert after[check["id"]]["who"] != "Somebody Else"
    context.close()


def test_what_the_command_exports_is_taken_in_without_the_kit(
    demo: RunningServer, other: RunningServer, phone: Page, tmp_path: Path
) -> None:
    from server.cli import main

    demo.stop()
    file = tmp_path / "all.json"
    assert main(["export", *place_of(demo.folder), "--to", str(file)]) == 0
    open_import(phone, other.address)
    choose(phone, file)
    expect(phone.get_by_role("region")).to_have_count(3)
    expect(phone.get_by_text("shelf counts and tools of the kit in the file stay out")).to_be_visible()
    phone.get_by_role("button", name="Import", exact=False).last.click()
    expect(phone.get_by_text("It is in the book")).to_be_visible()
    phone.get_by_role("link", name="outbox", exact=True).last.click()
    expect(phone.get_by_text("0 entries wait")).to_be_visible()
    assert {entry["kind"] for entry in entries_on_disk(other)}.isdisjoint({"kit", "shelf"})
    assert len(entries_on_disk(other)) == sum(bool(entry["unit"]) for entry in entries_on_disk(demo))


def wrong_files(folder: Path, whole: dict[str, Any]) -> dict[str, Any]:
    """Files that cannot be taken in, each with the sentence that says why."""
    text = json.dumps(whole)
    nothing_known = json.loads(text)
    nothing_known["units"][0]["entries"] = [entry for entry in whole["units"][0]["entries"] if entry["kind"] != "unit"]
    huge = folder / "huge.json"
    with huge.open("wb") as file:
        file.truncate(70 * 1024 * 1024)
    contents = {
        "cut.json": (text[: len(text) // 2], "cut short on its way"),
        "letter.json": ("Dear Joss,", "This is not a unit that Slipbook saved"),
        "list.json": ("[1, 2]", "This is not a unit that Slipbook saved"),
        "outbox.json": (json.dumps({"slipbook_outbox": 1, "entries": []}), "import it on the Outbox screen"),
        "newer.json": (json.dumps({**whole, "slipbook_export": 2}), "A newer Slipbook saved this file"),
        "empty.json": (json.dumps({**whole, "units": []}), "holds no unit"),
        "broken.json": (
            json.dumps({**whole, "units": [{"unit": "x", "entries": 3}]}),
            "was changed since Slipbook saved it",
        ),
        "nameless.json": (json.dumps(nothing_known), "does not say what the unit is"),
    }
    for name, (content, _) in contents.items():
        (folder / name).write_text(content, "utf-8")
    return {name: sentence for name, (_, sentence) in contents.items()} | {"huge.json": "larger than any unit"}


def test_a_wrong_file_gets_one_clear_sentence(
    demo: RunningServer, other: RunningServer, phone: Page, chromium: Browser, tmp_path: Path
) -> None:
    phone.goto(demo.address)
    phone.get_by_role("link", name=UNIT).click()
    expect(phone.get_by_role("heading", name=UNIT)).to_be_visible()
    whole = json.loads(saved(phone, tmp_path).read_text("utf-8"))
    context = open_phone(chromium)
    page = context.new_page()
    open_import(page, other.address)
    for name, sentence in wrong_files(tmp_path, whole).items():
        choose(page, tmp_path / name)
        expect(page.get_by_role("alert")).to_have_count(1)
        expect(page.get_by_role("alert")).to_contain_text(sentence)
        expect(page.get_by_role("button", name="Import", exact=False)).to_have_count(0)
    # An entry that is not whole is named, and the others stay to be taken in.
    whole["units"][0]["entries"][2]["at"] = "yesterday"
    whole["units"][0]["entries"][3]["body"] = {"nonsense": 1}
    (tmp_path / "partly.json").write_text(json.dumps(whole), "utf-8")
    choose(page, tmp_path / "partly.json")
    expect(page.get_by_role("region", name=UNIT)).to_contain_text("2 entries cannot be imported")
    assert entries_on_disk(other) == []

    # A trackside phone is told beforehand what the workshop would refuse.
    page.evaluate(
        """async () => (await slipbook.part("log/store.js")).remember("paired", { name: "P", role: "trackside" })"""
    )
    choose(page, tmp_path / "partly.json")
    expect(page.get_by_role("alert")).to_contain_text("strips and units come from the bench alone")
    context.close()


@pytest.mark.in_reach
def test_what_came_out_of_a_spreadsheet_goes_along_with_its_unit(
    demo: RunningServer, other: RunningServer, phone: Page, tmp_path: Path
) -> None:
    check = next(row for row in entries_on_disk(demo) if row["kind"] == "torque_check")
    source = {"file": "last year.csv", "row": 7, "at": "2026-05-09T10:30:00+02:00", "by": "Ilse Marrow"}
    old = made_entry(unit=check["unit"], body=check["body"], imported=source)
    put(demo.address, [old])
    phone.goto(demo.address)
    phone.get_by_role("link", name=unit_name(demo, check["unit"])).click()
    expect(phone.get_by_role("link", name="up to date")).to_be_visible()
    file = saved(phone, tmp_path)
    phone.goto(f"{other.address}/#/import")
    choose(phone, file)
    expect(phone.get_by_role("button", name="Import", exact=False).last).to_be_visible()
    expect(phone.get_by_text("cannot be imported")).to_have_count(0)
    phone.get_by_role("button", name="Import", exact=False).last.click()
    expect(phone.get_by_text("It is in the book")).to_be_visible()
    delivered(phone)
    [brought] = [row for row in entries_on_disk(other) if row["id"] == old["id"]]
    assert brought["imported"] == source
