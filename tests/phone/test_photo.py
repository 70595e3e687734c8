"""A photo is taken offline, shrunk on the phone, and comes home after its entry."""

import hashlib
import struct
import zlib
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.server.stores import photos_kept

from .conftest import RunningServer
from .test_story import UNIT, delivered, ids_on_disk, new_on_disk, ready_offline


def png(wide: int, tall: int) -> bytes:
    """A picture of stripes, larger than the log takes."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    # Each row says the same over and over.
    again = 3 * wide // 251 + 1
    rows = b"".join(b"\0" + (bytes(x * y % 251 for x in range(251)) * again)[: 3 * wide] for y in range(tall))
    head = struct.pack(">IIBBBBB", wide, tall, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(rows)) + chunk(b"IEND", b"")


@pytest.mark.both_stores
def test_a_photo_taken_offline_comes_home(demo: RunningServer, phone: Page, tmp_path: Path) -> None:
    picture = tmp_path / "plate.png"
    picture.write_bytes(png(2400, 600))
    before = ids_on_disk(demo)
    phone.goto(demo.address)
    ready_offline(phone)
    demo.stop()
    phone.get_by_role("link", name=UNIT).click()
    phone.get_by_label("What the photo shows").fill("B4, blue")
    phone.get_by_label("Taken by").fill("Joss Tarn")
    phone.get_by_label("Take or choose a photo").set_input_files(picture)
    row = phone.get_by_role("link", name="photo", exact=False).filter(has_text="B4, blue")
    expect(row).to_be_visible()
    # It shows in the history as it is, and what was saved is said beside the key that took it.
    # A browser leaves a picture until it comes near the window.
    row.scroll_into_view_if_needed()
    expect(row.locator("img.thumb")).to_have_js_property("naturalWidth", 1600)
    beside = phone.locator("section.card", has=phone.get_by_role("heading", name="Add a photo"))
    expect(beside).to_contain_text("Photo saved.")
    expect(beside).to_contain_text("Saved on this phone; 1 waits for the workshop.")
    expect(beside.get_by_role("button", name="Undo")).to_be_visible()
    row.click()
    shown = phone.get_by_role("img", name="B4, blue")
    expect(shown).to_be_visible()
    expect(shown).to_have_js_property("naturalWidth", 1600)

    demo.start()
    phone.evaluate("dispatchEvent(new Event('online'))")
    delivered(phone)
    [entry] = new_on_disk(demo, before, "photo")
    stored = photos_kept(demo.folder)[entry["body"]["sha256"]]
    assert hashlib.sha256(stored).hexdigest() == entry["body"]["sha256"]
    assert (entry["body"]["wide"], entry["body"]["tall"]) == (1600, 400)


@pytest.mark.in_reach
@pytest.mark.knows_the_demo
def test_what_is_no_picture_is_refused_in_words(demo: RunningServer, phone: Page, tmp_path: Path) -> None:
    text = tmp_path / "notes.jpg"
    text.write_text("not a picture")
    phone.goto(demo.address)
    phone.get_by_role("link", name=UNIT).click()
    phone.get_by_label("Taken by").fill("Joss Tarn")
    phone.get_by_label("Take or choose a photo").set_input_files(text)
    expect(phone.get_by_role("alert").filter(has_text="no picture that the phone can read")).to_be_visible()
