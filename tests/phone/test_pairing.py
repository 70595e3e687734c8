"""A phone comes in over TLS with a code, is shut out, and comes in again with all that it wrote meanwhile."""

import base64
import contextlib
import hashlib
import itertools
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import serialization
from playwright.sync_api import Browser, BrowserContext, BrowserType, Page, expect

from server import demo as invented
from tests import browsers
from tests.server.lan_server import network_server
from tests.server.stores import open_log

from .conftest import PHONE, becomes, open_phone


class Workshop:
    """A workshop's PC with `slipbook serve --lan`, on the loopback only; or one that a database has."""

    def __init__(self, folder: Path) -> None:
        self.server = network_server(folder)
        self.address = self.server.address
        self.certificate = folder / "lan" / "host.pem"

    def ask(self, method: str, path: str, body: Any = None) -> Any:
        """What the workshop's own PC asks."""
        status, answer = self.server.ask(method, path, body)
        assert status == 200, answer
        return answer

    def stop(self) -> None:
        if self.server.process.poll() is None:
            self.server.stop()


@pytest.fixture
def workshop(tmp_path: Path) -> Iterator[Workshop]:
    with open_log(tmp_path / "log") as log:
        invented.load(log)
    running = Workshop(tmp_path / "log")
    yield running
    running.stop()


def trusting(kind: BrowserType, workshop: Workshop, profile: Path, program: Path | None = None) -> BrowserContext:
    """A phone that trusts the workshop's certificate, which this browser has to be told on its command line.

    It is the browser without windows, unless another `program` is named.
    """
    trusts = []
    if workshop.certificate.exists():
        key = x509.load_pem_x509_certificate(workshop.certificate.read_bytes()).public_key()
        told = key.public_bytes(serialization.Encoding.DER, serialization.PublicFormat.SubjectPublicKeyInfo)
        pin = base64.b64encode(hashlib.sha256(told).digest()).decode()
        trusts = [f"--ignore-certificate-errors-spki-list={pin}"]
    return kind.launch_persistent_context(
        profile,
        executable_path=program or browsers.find_light(),
        args=[*browsers.ARGUMENTS, *trusts],
        viewport={"width": PHONE["width"], "height": PHONE["height"]},
        has_touch=True,
        is_mobile=True,
    )


@pytest.fixture
def visitors(workshop: Workshop, chromium: Browser, tmp_path: Path) -> Iterator[Callable[[], Page]]:
    """Makes phones, each with storage of its own; an error in a page fails the test."""
    errors: list[str] = []
    with contextlib.ExitStack() as opened:
        numbers = itertools.count()

        def make() -> Page:
            context = opened.enter_context(
                trusting(chromium.browser_type, workshop, tmp_path / f"phone {next(numbers)}")
            )
            page = context.pages[0]
            page.on("pageerror", lambda error: errors.append(str(error)))
            return page

        yield make
    assert errors == []


def pair(page: Page, workshop: Workshop, name: str) -> None:
    code = workshop.ask("POST", "/api/pairing", {"role": "trackside"})["code"]
    page.goto(f"{workshop.address}/#/pair/{code}")
    expect(page.get_by_label("Code")).to_have_value(code)
    page.get_by_label("What the workshop calls this phone").fill(name)
    page.get_by_role("button", name="Pair", exact=True).click()
    expect(page.get_by_role("heading", name="Paired")).to_be_visible()


def write_note(page: Page, text: str) -> None:
    """An entry from the page itself, as its screens make it."""
    page.evaluate(
        """async (text) => {
          const { write } = await slipbook.part("log/outbox.js");
          const { database, remember } = await slipbook.part("log/store.js");
          await remember("who", "Jo");
          const [unit] = (await (await database()).getAll("entries")).filter((one) => one.kind === "unit");
          await write({ unit: unit.unit, kind: "note", body: { text }, shown: { verdict: null } });
        }""",
        text,
    )


def notes(workshop: Workshop) -> list[str]:
    entries = workshop.ask("GET", "/api/log?most=500")["entries"]
    return [entry["body"]["text"] for entry in entries if entry["kind"] == "note" and entry["who"] == "Jo"]


def come_home(page: Page, workshop: Workshop, texts: list[str]) -> None:
    """Wait until the workshop has these notes: the page says that it is up to date until delivery has begun."""
    assert becomes(page, lambda: notes(workshop) == texts), notes(workshop)


@pytest.mark.both_stores
def test_a_phone_is_paired_shut_out_and_paired_again_and_loses_nothing(
    workshop: Workshop, visitors: Callable[[], Page]
) -> None:
    page = visitors()
    pair(page, workshop, "Jo's phone")
    # The code is not in the phone's history.
    expect(page).to_have_url(f"{workshop.address}/#/pair")
    page.get_by_role("link", name="To the units").click()
    expect(page.locator("#bar .state")).to_have_text("up to date")
    write_note(page, "before")
    expect(page.locator("#bar .state")).to_have_text("up to date")
    expect(page.locator("#tabs .count")).to_have_count(0)
    come_home(page, workshop, ["before"])
    stored = page.evaluate("slipbook.part('log/store.js').then(({ fact }) => fact('token'))")
    assert len(stored) == 43

    (device,) = workshop.ask("GET", "/api/devices")["devices"]
    assert (device["name"], device["role"]) == ("Jo's phone", "trackside")
    workshop.ask("DELETE", f"/api/devices/{device['id']}")
    write_note(page, "while shut out")
    expect(page.locator("#bar .state")).to_have_text("not paired")
    assert notes(workshop) == ["before"]
    page.goto(f"{workshop.address}/#/outbox")
    expect(page.get_by_text("This device was shut out at the workshop's PC")).to_be_visible()
    page.locator("#bar .state").click()
    expect(page.get_by_role("heading", name="Pair this phone")).to_be_visible()

    page.get_by_label("Code").fill("wrong")
    page.get_by_role("button", name="Pair", exact=True).click()
    expect(page.get_by_text("No pairing is open")).to_be_visible()
    pair(page, workshop, "Jo's phone")
    expect(page.locator("#bar .state")).to_have_text("up to date")
    come_home(page, workshop, ["before", "while shut out"])


def test_over_a_certificate_that_it_trusts_a_phone_keeps_the_app(
    workshop: Workshop, chromium: Browser, tmp_path: Path
) -> None:
    errors: list[str] = []
    # What the whole browser trusts it also keeps.
    with trusting(chromium.browser_type, workshop, tmp_path / "phone", browsers.find()) as context:
        page = context.pages[0]
        page.on("pageerror", lambda error: errors.append(str(error)))
        pair(page, workshop, "Jo's phone")
        page.get_by_role("link", name="To the units").click()
        expect(page.locator("#bar .state")).to_have_text("up to date")
        page.evaluate("navigator.serviceWorker.ready")
        workshop.stop()
        page.goto(f"{workshop.address}/#/settings")
        page.reload()
        expect(page.get_by_text("Paired as Jo's phone, trackside.")).to_be_visible()
        expect(page.locator("#bar .state")).to_have_text("offline, still works")
    assert errors == []


@pytest.mark.about_files("the certificate is in a folder; a proxy has one else")
def test_a_browser_that_does_not_trust_the_certificate_says_what_it_cannot_do(
    workshop: Workshop, chromium: Browser
) -> None:
    with open_phone(chromium, ignore_https_errors=True) as context:
        page = context.new_page()
        page.goto(workshop.address)
        expect(page.get_by_text("it does not trust the PC's certificate yet")).to_be_visible()
        page.get_by_role("button", name="Understood").click()
        expect(page.locator("#notice")).to_be_empty()


def test_the_pc_lets_phones_in_renames_them_and_shuts_them_out(
    workshop: Workshop, visitors: Callable[[], Page]
) -> None:
    bench = visitors()
    bench.goto(f"{workshop.address}/#/settings")
    bench.get_by_role("link", name="Devices").click()
    expect(bench.get_by_text("No device was let in yet.")).to_be_visible()
    bench.get_by_role("button", name="Make a pairing code").click()
    picture = bench.get_by_alt_text("QR code that opens pairing on a phone")
    expect(picture).to_be_visible()
    assert picture.evaluate("async (one) => { await one.decode(); return one.naturalWidth; }") > 100
    code = bench.locator("section[aria-label='Pairing code'] .figure").inner_text()
    phone = visitors()
    phone.goto(f"{workshop.address}/#/pair")
    phone.get_by_label("Code").fill(code.lower())
    phone.get_by_label("What the workshop calls this phone").fill("Old name")
    phone.get_by_role("button", name="Pair", exact=True).click()
    expect(phone.get_by_role("heading", name="Paired")).to_be_visible()
    phone.goto(f"{workshop.address}/#/devices")
    expect(phone.get_by_text("paired for trackside")).to_be_visible()

    expect(bench.get_by_text("Old name is paired.")).to_be_visible()
    expect(picture).to_have_count(0)
    bench.get_by_role("button", name="Rename Old name").click()
    bench.get_by_label("Name").fill("Jo's phone")
    bench.get_by_role("button", name="Save the name").click()
    expect(bench.get_by_text("Jo's phone", exact=True)).to_be_visible()
    bench.get_by_role("button", name="Shut out Jo's phone").click()
    bench.get_by_role("button", name="Shut it out").click()
    expect(bench.get_by_text("Jo's phone is shut out.")).to_be_visible()
    assert workshop.ask("GET", "/api/devices")["devices"][0]["revoked"]


def test_the_code_for_the_next_phone_stays_when_the_last_one_came_in_just_before(
    workshop: Workshop, chromium: Browser
) -> None:
    with open_phone(chromium, ignore_https_errors=True) as context:
        bench = context.new_page()
        bench.goto(f"{workshop.address}/#/devices")
        expect(bench.get_by_text("No device was let in yet.")).to_be_visible()
        workshop.server.pair("trackside", "First phone")
        bench.get_by_role("button", name="Make a pairing code").click()
        expect(bench.get_by_text("First phone", exact=True)).to_be_visible()
        expect(bench.get_by_role("region", name="Pairing code")).to_be_visible()
