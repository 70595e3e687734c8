"""README's pictures and its first check: what it shows is what the demo shows."""

import base64
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from .conftest import RunningServer
from .hands import CHECK_TORQUE, Hands
from .pictures import FOLDER, FORWARD, HELD, PICTURES, REVERSE, TOOL, first_check, taken
from .test_story import UNIT, ready

ROOT = Path(__file__).resolve().parents[2]

# What a stranger on a slow line is asked to load for one of them.
MOST_BYTES = 60_000

LOOKED_AT = """async (data) => {
    const picture = await createImageBitmap(await (await fetch(`data:image/webp;base64,${data}`)).blob());
    const place = new OffscreenCanvas(picture.width, picture.height).getContext("2d");
    place.drawImage(picture, 0, 0);
    const count = new Map();
    for (const one of new Uint32Array(place.getImageData(0, 0, picture.width, picture.height).data.buffer))
        count.set(one, (count.get(one) ?? 0) + 1);
    const most = Math.max(...count.values()) / (picture.width * picture.height);
    return { width: picture.width, height: picture.height, colours: count.size, most };
}"""


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """One demo for all of these."""
    with RunningServer(tmp_path_factory.mktemp("pictures") / "log", "demo") as server:
        yield server.address


def readme() -> str:
    return (ROOT / "README.md").read_text(encoding="utf-8")


def assert_is_a_picture(browser: Browser, data: bytes, name: str) -> None:
    """It has the size that is wanted, and something to be seen on it."""
    page = browser.new_page()
    seen = page.evaluate(LOOKED_AT, base64.b64encode(data).decode())
    page.close()
    assert (seen["width"], seen["height"]) == PICTURES[name].pixels
    # An empty screen is nearly all ground; a drawing or a text has many shades at its edges.
    assert seen["colours"] > 200
    assert seen["most"] < 0.9


def test_readme_names_the_pictures_that_are_made_and_no_other() -> None:
    files = re.findall(r'(?:src="|!\[[^]]*\]\()([^")]+)', readme())
    folder = FOLDER.relative_to(ROOT).as_posix()
    assert sorted(files) == sorted(f"{folder}/{name}.webp" for name in PICTURES)
    assert {file.name for file in FOLDER.iterdir()} == {f"{name}.webp" for name in PICTURES}


def test_every_picture_says_in_words_what_it_shows() -> None:
    for tag in re.findall(r"<img [^>]+>", readme()):
        assert re.search(r'alt="[^"]{20,}"', tag), tag


@pytest.mark.parametrize("name", PICTURES)
def test_a_picture_is_there_and_can_be_made_anew(chromium: Browser, address: str, name: str) -> None:
    kept = (FOLDER / f"{name}.webp").read_bytes()
    assert len(kept) <= MOST_BYTES
    assert_is_a_picture(chromium, kept, name)
    assert_is_a_picture(chromium, taken(chromium, address, name), name)


@pytest.mark.in_reach
def test_the_first_check_goes_as_readme_has_it(demo: RunningServer, hands: Hands) -> None:
    [steps] = re.findall(r"^## A first check in five minutes\n(.*?)^## ", readme(), re.MULTILINE | re.DOTALL)
    for word in (UNIT, "Check torque", HELD, "With what?", TOOL, "Checked by", "Save the check"):
        assert f"**{word}**" in steps
    for direction, values in (("Forward", FORWARD), ("Reverse", REVERSE)):
        assert f"**{direction}**: {values[0]}, {values[1]} and {values[2]}" in steps
    phone = hands.page
    phone.goto(demo.address)
    ready(phone)
    first_check(hands)
    verdict = phone.get_by_role("region", name="Verdict")
    [sentence] = re.findall(r"> (84\.6.+)\n", steps)
    expect(verdict).to_contain_text("go")
    expect(verdict).to_contain_text(sentence)
    hands.type("Checked by", "Jo")
    hands.button("Save the check")
    expect(phone.get_by_role("heading", name=UNIT)).to_be_visible()
    expect(phone.locator(".card.judged").first).to_contain_text(sentence)
    # The same readings, held otherwise.
    hands.link(CHECK_TORQUE)
    hands.choose("Bench: case in the vice, other output free")
    hands.pick("With what?", TOOL)
    hands.readings(FORWARD, REVERSE)
    expect(verdict).to_contain_text("rework")
    quoted = re.findall(r"> (.+)\n", steps)
    assert len(quoted) == 3
    for wrong in quoted[1:]:
        expect(verdict).to_contain_text(wrong)
