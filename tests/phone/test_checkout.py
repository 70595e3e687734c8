"""A checkout works as it is written, module by module; all other tests on the phone run its built form."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.installed import ROOT

from .conftest import RunningServer

pytestmark = pytest.mark.about_files("serves a folder by the checkout itself")

WEBUI = ROOT / "webui"
# Scripts of the server's side of a page, which are not modules of it.
APART = ("node_modules", "vendor", "engine/worker.js", "sw.js", "bundled.js")


@pytest.fixture
def checkout(tmp_path: Path) -> Iterator[RunningServer]:
    """The demo, with the web files of this tree as they are written."""
    with RunningServer(tmp_path / "log", "demo", tree=ROOT) as server:
        yield server


def modules() -> list[str]:
    """The address of every module that a page may load."""
    paths = [path.relative_to(WEBUI).as_posix() for path in WEBUI.rglob("*.js")]
    return [f"/{path}" for path in sorted(paths) if not path.startswith(APART)]


@pytest.mark.in_reach
def test_every_module_of_a_checkout_loads(checkout: RunningServer, phone: Page) -> None:
    phone.goto(checkout.address)
    expect(phone.get_by_role("link", name="Bramble 1")).to_be_visible()
    loaded = phone.evaluate(
        """async (paths) => {
            const failed = [];
            for (const path of paths) await import(path).catch((error) => failed.push(`${path}: ${error}`));
            return failed;
        }""",
        modules(),
    )
    assert loaded == []


def test_a_note_is_written_and_delivered_from_a_checkout(checkout: RunningServer, phone: Page) -> None:
    phone.goto(checkout.address)
    phone.get_by_role("link", name="Bramble 1").click()
    phone.get_by_label("Note", exact=True).fill("Oil is ordered")
    phone.get_by_label("Written by").fill("Joss Tarn")
    phone.get_by_role("button", name="Save the note").click()
    expect(phone.get_by_text("Oil is ordered")).to_be_visible()
    expect(phone.get_by_role("link", name="up to date")).to_be_visible()
