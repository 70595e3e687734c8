"""Phones in browsers are among those that upload while servers and databases are killed. More with --rounds.

They write all the time and deliver as the app does by itself: nothing that they were told is delivered is lost or there
twice, and they go on without a hand. What breaks otherwise is tried by tests/server/test_database_faults.py.
"""

from collections.abc import Iterator
from contextlib import ExitStack, contextmanager

from playwright.sync_api import Browser, Page, expect

from tests.postgres import Postgres, address_of, new_server, standby_of
from tests.server.database_made import as_server
from tests.server.sample_logs import UNIT_ID
from tests.server.uploads import Phone
from tests.server.workshops_served import MANY, NAME, Workshops, kill_and_promote, killed_and_serving_again, serving

from .conftest import NEVER_KEPT, open_phone, until

# Of the phones that upload, how many are browsers, and how long the others rest: a browser reads all that they write.
BROWSERS, PAUSE_S = 3, 0.5
# Writes a note ten times a second until told to stop, and remembers which, also over a page that starts anew.
WRITES = """([unit, who]) => {
    const told = () => JSON.parse(localStorage.getItem("told") ?? "[]");
    localStorage.setItem("writes", "yes");
    (async () => {
        const { write } = await slipbook.part("log/outbox.js");
        const { remember } = await slipbook.part("log/store.js");
        await remember("who", who);
        while (localStorage.getItem("writes") === "yes") {
            const text = `${who} ${told().length + 1}`;
            const id = await write({ unit, kind: "note", body: { text }, shown: { verdict: null } });
            localStorage.setItem("told", JSON.stringify([...told(), id]));
            await new Promise((resolve) => setTimeout(resolve, 100));
        }
        localStorage.setItem("writes", "ended");
    })();
}"""
# What it wrote, and what of that the workshop has acknowledged, with its number there.
DELIVERED = """async () => {
    const { database, outbox } = await slipbook.part("log/store.js");
    const told = JSON.parse(localStorage.getItem("told") ?? "[]");
    const here = new Map((await (await database()).getAll("entries")).map(({ id, seq }) => [id, seq]));
    const acknowledged = told.filter((id) => here.get(id)).map((id) => [id, here.get(id)]);
    return { told, acknowledged, waiting: (await outbox()).length };
}"""
ALL_IS_DELIVERED = f"""async () => {{
    const {{ told, acknowledged, waiting }} = await ({DELIVERED})();
    return localStorage.getItem("writes") === "ended" && !waiting && acknowledged.length === told.length;
}}"""


class BrowserPhone(Phone):
    """A phone in a browser, whose app writes and delivers; its account is taken when it has ended.

    Parameters
    ----------
    page : Page
        Its page.
    """

    def __init__(self, page: Page) -> None:
        super().__init__(lambda _: [])
        self.page = page

    def begin(self, address: str, token: str, name: str) -> None:
        """Open the app, come in, and write from now on."""
        self.page.goto(address)
        expect(self.page.locator("#bar .state")).to_have_text("not paired")
        self.page.evaluate(
            "token => slipbook.part('log/store.js').then(({ remember }) => remember('token', token))", token
        )
        self.page.reload()
        expect(self.page.locator("#bar .state")).to_have_text("up to date")
        self.page.evaluate(WRITES, [UNIT_ID, name])
        self.goes_on(1)

    def count(self) -> int:
        """How much of what it wrote was acknowledged."""
        return len(self.page.evaluate(DELIVERED)["acknowledged"])

    def goes_on(self, more: int) -> None:
        """Wait until so much more was acknowledged: nobody touches it."""
        until(
            self.page, f"async (wanted) => (await ({DELIVERED})()).acknowledged.length >= wanted", self.count() + more
        )

    def end(self) -> None:
        """Write no more, and wait until the app has delivered all by itself."""
        self.page.evaluate("() => localStorage.setItem('writes', 'no')")
        until(self.page, ALL_IS_DELIVERED)
        account = self.page.evaluate(DELIVERED)
        self.written, self.acknowledged = set(account["told"]), dict(account["acknowledged"])


@contextmanager
def uploading(workshops: Workshops, browser: Browser, port: int) -> Iterator[tuple[list[Phone], list[BrowserPhone]]]:
    """Twenty phones that upload meanwhile, a few of them in browsers: all of them, and these."""
    with ExitStack() as opened:
        real = []
        for place in range(BROWSERS):
            context = opened.enter_context(open_phone(browser))
            context.add_init_script(NEVER_KEPT)
            phone = BrowserPhone(context.new_page())
            phone.begin(f"http://127.0.0.1:{port}/", workshops.tokens[place], f"Browser {place + 1}")
            real.append(phone)
        with workshops.uploading(port, range(BROWSERS, MANY), PAUSE_S) as others:
            # In the order of their tokens, by which they are of one workshop or the other.
            yield [*real, *others], real
        for phone in real:
            phone.end()


def test_phones_go_on_by_themselves_when_server_processes_are_killed(chromium: Browser, rounds: int) -> None:
    with new_server() as server, ExitStack() as running:
        workshops, address = Workshops(server), as_server(server.address(NAME))
        first = running.enter_context(serving(address))
        assert first.port
        with uploading(workshops, chromium, first.port) as (phones, real):
            running.enter_context(killed_and_serving_again(address, first, phones, rounds))
            for phone in real:
                phone.goes_on(2)
        workshops.check(phones, server)


def test_phones_go_on_by_themselves_when_a_standby_takes_over(chromium: Browser, rounds: int) -> None:
    for _ in range(max(1, rounds // 10)):
        with new_server() as primary:
            workshops = Workshops(primary)
            with standby_of(primary) as standby:
                take_over(workshops, primary, standby, chromium)


def take_over(workshops: Workshops, primary: Postgres, standby: Postgres, browser: Browser) -> None:
    """Kill a primary and promote its standby."""
    both = as_server(address_of(primary, standby, database=NAME))
    with serving(both) as running:
        assert running.port
        with uploading(workshops, browser, running.port) as (phones, real):
            kill_and_promote(primary, standby, phones, 200)
            for phone in real:
                phone.goes_on(2)
    workshops.check(phones, standby)
