"""Phones of two workshops come to one server, which keeps both logs in a database: each sees its own and no other.

The processes that serve are the checkout's own, with the web files as they are written.
"""

import re
from collections.abc import Iterator
from functools import partial

import pytest
from playwright.sync_api import Browser, Page, expect

from server.cli import main
from server.lan.postgres import DatabaseRegisters
from server.log import Log
from tests.server.database_made import Prepared
from tests.server.processes import ServerProcess
from tests.server.sample_logs import entry, read_all

from .conftest import becomes, open_phone


@pytest.fixture
def server(prepared: Prepared) -> Iterator[ServerProcess]:
    server = ServerProcess("serve", "--database", prepared.url, "--workers", "2", warm=False)
    yield server
    server.stop()
    assert "Traceback" not in server.errors()


def first_code(prepared: Prepared, name: str, capsys: pytest.CaptureFixture[str]) -> str:
    """The code that `slipbook workshop add` prints."""
    capsys.readouterr()
    assert main(["workshop", "add", name, "--database", prepared.owner_url]) == 0
    found = re.search(r"\S+-\S{4}-\S{4}", capsys.readouterr().out)
    assert found is not None
    return found[0]


def has_one(log: Log) -> bool:
    return log.last == 1


def pair(page: Page, address: str, code: str, name: str) -> None:
    page.goto(f"{address}#/pair/{code}")
    expect(page.get_by_label("Code")).to_have_value(code)
    page.get_by_label("What the workshop calls this phone").fill(name)
    page.get_by_role("button", name="Pair", exact=True).click()
    expect(page.get_by_role("heading", name="Paired")).to_be_visible()


def test_phones_of_two_workshops_share_a_server_and_no_entry(
    prepared: Prepared, server: ServerProcess, chromium: Browser, capsys: pytest.CaptureFixture[str]
) -> None:
    address = f"http://127.0.0.1:{server.port}/"
    logs = {}
    for name in ("Mill Lane", "Harbour"):
        code = first_code(prepared, name, capsys)
        with open_phone(chromium) as context:
            page = context.new_page()
            # Before it is paired it has the app, and no log.
            page.goto(address)
            expect(page.locator("#bar .state")).to_have_text("not paired")
            pair(page, address, code, "The bench")
            page.get_by_role("link", name="To the units").click()
            expect(page.locator("#bar .state")).to_have_text("up to date")
            page.evaluate(
                """async ({ unit, text }) => {
                  const { write } = await import("/log/outbox.js");
                  const { remember } = await import("/log/store.js");
                  await remember("who", "Jo");
                  await write({ unit, kind: "note", body: { text }, shown: { verdict: null } });
                }""",
                {"unit": entry()["unit"], "text": f"Written at {name}."},
            )
            log = prepared.log(name)
            assert becomes(page, partial(has_one, log))
            page.reload()
            expect(page.locator("#bar .state")).to_have_text("up to date")
            shown = page.evaluate("import('/log/logs.js').then(({ ownLog }) => ownLog())")
            assert (shown["id"], shown["name"]) == (log.identity.log_id, name)
            # Devices are let in from here.
            page.goto(f"{address}#/devices")
            page.get_by_role("button", name="Make a pairing code").click()
            expect(page.get_by_alt_text("QR code that opens pairing on a phone")).to_be_visible()
        logs[name] = [row["body"]["text"] for row in read_all(log)]
    assert logs == {name: [f"Written at {name}."] for name in logs}


def write_note(page: Page, text: str) -> None:
    page.evaluate(
        """async (text) => {
          const { write } = await import("/log/outbox.js");
          const { remember } = await import("/log/store.js");
          await remember("who", "Jo");
          await write({ unit: "", kind: "note", body: { text }, shown: { verdict: null } });
        }""",
        text,
    )


def has_notes(log: Log, texts: list[str]) -> bool:
    return [row["body"]["text"] for row in read_all(log)] == texts


def test_a_phone_that_is_paired_with_another_workshop_is_let_in_there_at_once_and_mixes_nothing(
    prepared: Prepared, server: ServerProcess, chromium: Browser, capsys: pytest.CaptureFixture[str]
) -> None:
    address = f"http://127.0.0.1:{server.port}/"
    with open_phone(chromium) as context:
        page = context.new_page()
        page.goto(address)

        def come_in(code: str) -> None:
            pair(page, address, code, "Jo's phone")
            page.get_by_role("link", name="To the units").click()
            expect(page.locator("#bar .state")).to_have_text("up to date")

        come_in(first_code(prepared, "Mill Lane", capsys))
        write_note(page, "At Mill Lane.")
        first = prepared.log("Mill Lane")
        assert becomes(page, partial(has_notes, first, ["At Mill Lane."]))
        # It is shut out there, and something waits.
        [device] = DatabaseRegisters(prepared.database).register_of(prepared.workshop("Mill Lane")).devices.all()
        DatabaseRegisters(prepared.database).register_of(prepared.workshop("Mill Lane")).devices.revoke(device.id)
        write_note(page, "Waits for Mill Lane.")
        expect(page.locator("#bar .state")).to_have_text("not paired")

        come_in(first_code(prepared, "Harbour", capsys))
        write_note(page, "At Harbour.")
        assert becomes(page, partial(has_notes, prepared.log("Harbour"), ["At Harbour."]))
        page.goto(f"{address}#/outbox")
        expect(page.get_by_role("heading", name="1 entry waits for another log, Mill Lane")).to_be_visible()

        # Back again, with a code of the first.
        capsys.readouterr()
        assert main(["workshop", "code", "Mill Lane", "--database", prepared.owner_url]) == 0
        code = re.search(r"\S+-\S{4}-\S{4}", capsys.readouterr().out)
        assert code is not None
        come_in(code[0].rstrip(","))
        assert becomes(page, partial(has_notes, first, ["At Mill Lane.", "Waits for Mill Lane."]))
        assert has_notes(prepared.log("Harbour"), ["At Harbour."])
