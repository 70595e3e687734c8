"""After a restore, and after files were lost, the log has again all that it ever acknowledged, and so have phones."""

import pytest
from playwright.sync_api import Browser, Page, expect

from .conftest import RunningServer, until
from .mended_pc import DELIVER, WRITE
from .restore_story import OTHERS, TWICE, plainly, tell
from .test_story import entries_on_disk

# Over a folder alone a PC knows the phones still; a copy or another log in a folder's place is a folder's affair too.
KNOWN = pytest.mark.about_files("the devices are copied from the old folder")


@pytest.mark.parametrize(
    ("meanwhile", "order", "anew"),
    [
        pytest.param(0, (0,), False, marks=KNOWN),
        pytest.param(6, (1, 0), True, marks=pytest.mark.both_stores),
        pytest.param(3, (1, 2, 0), False, marks=KNOWN),
        (20, (0, 1), True),
    ],
)
def test_what_came_after_the_backup_comes_back_from_the_phones(
    chromium: Browser, meanwhile: int, order: tuple[int, ...], anew: bool
) -> None:
    assert tell(chromium, len(order), lambda story: plainly(story, meanwhile, order, anew)) == (0, 0, 0)


@pytest.mark.parametrize(
    "name",
    [
        pytest.param(name, marks=() if name == TWICE else KNOWN)
        for name in OTHERS
        if "3 entries" not in name and "20 entries" not in name
    ],
)
def test_nothing_is_lost_when_a_restore_comes_at_a_bad_moment(chromium: Browser, name: str) -> None:
    phones, story = OTHERS[name]
    assert tell(chromium, phones, story) == (0, 0, 0)


@pytest.mark.about_files("removes a unit's file")
def test_a_gap_that_the_log_knows_of_is_filled_from_a_phone(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    until(phone, DELIVER)
    before = {entry["id"]: entry for entry in entries_on_disk(demo)}
    # The newest entry is of a unit whose file stays, so that the others' numbers are known to be missing.
    phone.evaluate(WRITE, ["newest", None])
    until(phone, DELIVER)
    newest = entries_on_disk(demo)[-1]["unit"]
    demo.stop()
    lost = next(entry["unit"] for entry in before.values() if entry["unit"] not in ("", newest))
    for file in demo.folder.rglob(f"{lost}.json"):
        file.unlink()
    demo.start()
    count = sum(1 for entry in before.values() if entry["unit"] == lost)
    phone.reload()
    until(phone, DELIVER)
    after = {entry["id"]: entry for entry in entries_on_disk(demo)}
    assert before.keys() <= after.keys()
    assert all(after[key]["received"] == entry["received"] for key, entry in before.items())
    phone.goto(f"{demo.address}/#/outbox")
    expect(phone.get_by_role("region", name="What came back")).to_contain_text(f"{count} entries from this PC")
    phone.reload()
    expect(phone.get_by_text("All is delivered.")).to_be_visible()
    expect(phone.get_by_role("region", name="The workshop's log")).to_have_count(0)
