"""On the home screen: installing, shortcuts, and photos that other apps share; and settings that stay."""

from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.server.stores import photos_kept

from .conftest import RunningServer, until
from .screens import go, opened, unit_path
from .test_access import too_wide
from .test_photo import png
from .test_story import UNIT, delivered, ids_on_disk, new_on_disk, ready, ready_offline

# The browser's own event, which a browser under test does not send by itself.
PROMPT = """() => {
    const event = new Event("beforeinstallprompt", { cancelable: true });
    event.prompt = async () => { window.prompted = (window.prompted ?? 0) + 1; };
    dispatchEvent(event);
    return event.defaultPrevented;
}"""
# By then an offer would be there: it waits for its own file, and for what the phone knows of itself.
LOOKED_AT = """async () => {
    await new Promise((resolve) => requestIdleCallback(resolve));
    const { fact } = await slipbook.part("log/store.js");
    await slipbook.part("screens/shop/install.js");
    for (const name of ["installTold", "who", "installTold"]) await fact(name);
    await new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(resolve)));
}"""
# The browser's event comes as early as it can; the page notes when its screen was there, and when the script was asked
# for that has what installing needs.
PROMPTED_EARLY = """
const listen = window.addEventListener.bind(window);
window.addEventListener = (type, ...rest) => {
    listen(type, ...rest);
    if (type === "beforeinstallprompt") queueMicrotask(() => dispatchEvent(new Event(type, { cancelable: true })));
};
new MutationObserver(() => {
    if (document.querySelector("#main h1")) window.shown ??= performance.now();
}).observe(document, { subtree: true, childList: true });
new PerformanceObserver((list) => {
    for (const { name, startTime } of list.getEntries()) if (name.endsWith("/shop.js")) window.second = startTime;
}).observe({ type: "resource" });
"""
SHARE = """() => {
    const form = document.createElement("form");
    Object.assign(form, { method: "post", action: "/share", enctype: "multipart/form-data", id: "share" });
    form.innerHTML = '<input type="file" name="photo" multiple><input name="title" value="Plate">'
        + '<input name="text" value="B4, blue">';
    document.body.append(form);
}"""


HIGH_KEY = "(one) => one.getBoundingClientRect().height >= 64"
KEPT_FOR = """([name, chosen]) => slipbook.part("log/store.js").then(({ fact }) => fact("people", {})).then((people) =>
    Object.entries(chosen).every(([choice, value]) => people[name]?.[choice] === value))"""


def share(page: Page, pictures: list[Path]) -> None:
    """Share photos as the phone's share sheet does: a form that is sent to the manifest's address."""
    page.evaluate(SHARE)
    page.locator("#share input[type=file]").set_input_files(pictures)
    page.evaluate("document.getElementById('share').submit()")


@pytest.mark.in_reach
def test_no_start_waits_for_what_installing_needs(demo: RunningServer, phone: Page) -> None:
    phone.add_init_script(PROMPTED_EARLY)
    phone.goto(f"{demo.address}/#/check")
    until(phone, "() => window.second !== undefined")
    assert phone.evaluate("window.shown < window.second")


def test_installing_is_offered_once_and_stays_in_the_settings(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    ready_offline(phone)
    # Nobody has used it yet: nothing is offered.
    assert phone.evaluate(PROMPT) is True
    phone.evaluate(LOOKED_AT)
    expect(phone.locator("#notice")).to_be_empty()
    phone.evaluate("""async () => (await slipbook.part("log/store.js")).remember("who", "Joss Tarn")""")
    phone.evaluate(PROMPT)
    expect(phone.locator("#notice")).to_contain_text("Slipbook can be put on the home screen")
    phone.get_by_role("button", name="Put it there").click()
    phone.wait_for_function("() => window.prompted === 1")
    expect(phone.locator("#notice")).to_be_empty()

    # Never again by itself; the key is in the settings where the browser can do it, and else a plain sentence.
    phone.reload()
    expect(phone.get_by_role("heading", name="Units")).to_be_visible()
    phone.evaluate(PROMPT)
    phone.evaluate(LOOKED_AT)
    expect(phone.locator("#notice")).to_be_empty()
    phone.locator("#tabs a[href='#/settings']").click()
    phone.get_by_role("button", name="Put Slipbook there").click()
    phone.wait_for_function("() => window.prompted === 1")
    expect(phone.get_by_role("region", name="On the home screen")).to_contain_text("Open the browser's menu")


def test_a_browser_is_told_of_the_home_screen_once_the_first_screen_is_there(demo: RunningServer, phone: Page) -> None:
    """It then fetches pictures, and may move things about: nothing for the time in which a first screen is drawn."""
    link = phone.locator("link[rel=manifest]")
    phone.goto(demo.address)
    expect(phone.get_by_role("link", name=UNIT)).to_be_visible()
    link.wait_for(state="attached")
    assert phone.evaluate("performance.now()") >= 5000
    assert phone.request.get(demo.address + (link.get_attribute("href") or "")).ok


def test_the_shortcuts_lead_to_a_check_and_to_the_outbox(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    ready_offline(phone)
    manifest = phone.request.get(f"{demo.address}/manifest.webmanifest").json()
    check, outbox = (shortcut["url"] for shortcut in manifest["shortcuts"])
    assert any(icon.get("purpose") == "maskable" for icon in manifest["icons"])
    for icon in manifest["icons"] + manifest["shortcuts"][0]["icons"]:
        assert phone.request.get(demo.address + icon["src"]).ok
    demo.stop()
    phone.goto(f"{demo.address}{outbox}")
    expect(phone.get_by_role("heading", name="Outbox")).to_be_visible()
    phone.goto("about:blank")
    phone.goto(f"{demo.address}{check}")
    phone.get_by_role("link", name=UNIT).click()
    expect(phone.get_by_role("heading", name="Torque check")).to_be_visible()


def test_shared_photos_wait_on_the_phone_until_their_unit_is_chosen(
    demo: RunningServer, phone: Page, tmp_path: Path
) -> None:
    pictures = [tmp_path / "one.png", tmp_path / "two.png"]
    pictures[0].write_bytes(png(300, 200))
    pictures[1].write_bytes(png(200, 300))
    before = ids_on_disk(demo)
    phone.goto(demo.address)
    ready_offline(phone)
    action = phone.request.get(f"{demo.address}/manifest.webmanifest").json()["share_target"]
    assert (action["action"], action["method"], action["params"]["files"][0]["name"]) == ("/share", "POST", "photo")
    demo.stop()
    phone.context.set_offline(True)
    share(phone, pictures)
    expect(phone.get_by_role("heading", name="2 shared photos")).to_be_visible()
    expect(phone.get_by_role("img", name="The photo that was shared")).to_be_visible()

    # Closed without choosing: they are still there, and the outbox says so.
    phone.goto("about:blank")
    phone.goto(f"{demo.address}/#/outbox")
    phone.get_by_role("link", name="2 shared photos wait for a unit").click()
    phone.get_by_role("button", name="Delete it").click()
    expect(phone.get_by_role("heading", name="Shared photo")).to_be_visible()
    phone.get_by_role("button", name="Bring back the photo that was deleted").click()
    expect(phone.get_by_role("heading", name="2 shared photos")).to_be_visible()
    phone.get_by_role("button", name=UNIT).click()
    phone.get_by_label("Taken by").fill("Joss Tarn")
    for _ in range(2):
        expect(phone.get_by_label("What the photo shows")).to_have_value("Plate. B4, blue")
        phone.get_by_label("Which part?").select_option("B4")
        phone.get_by_role("button", name="Keep it with this unit").click()
        expect(phone.get_by_text(f"The photo is with {UNIT}.")).to_be_visible()
        expect(phone.get_by_role("button", name="Shrinking…")).to_have_count(0)
    expect(phone.get_by_text("No shared photo waits")).to_be_visible()

    demo.start()
    phone.context.set_offline(False)
    phone.evaluate("dispatchEvent(new Event('online'))")
    phone.locator("#tabs a[href='#/outbox']").click()
    expect(phone.get_by_text("0 entries wait")).to_be_visible()
    delivered(phone)
    photos = new_on_disk(demo, before, "photo")
    assert [entry["body"]["slot"] for entry in photos] == ["B4", "B4"]
    assert {entry["body"]["sha256"] for entry in photos} <= photos_kept(demo.folder).keys()


def test_settings_stay_for_each_person(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    ready_offline(phone)
    phone.locator("#tabs a[href='#/settings']").click()
    name = phone.get_by_label("Your name")
    name.fill("Mara Quill")
    for choice in ("lbf·ft", "inch", "dark", "big, for gloves"):
        phone.get_by_label(choice, exact=True).check()
    expect(phone.get_by_text("These are kept for Mara Quill.")).to_be_visible()
    height = phone.get_by_role("button", name="Mara").or_(phone.get_by_role("link", name="Pair this phone"))
    expect(height.first).to_be_visible()
    until(phone, HIGH_KEY, height.first.element_handle())

    # Kept before the app is closed: what is chosen last is written last.
    until(
        phone, KEPT_FOR, ["Mara Quill", {"torqueUnit": "lbf_ft", "lengthUnit": "inch", "theme": "dark", "keys": "big"}]
    )
    demo.stop()
    phone.goto("about:blank")
    phone.goto(f"{demo.address}/#/settings")
    for choice in ("lbf·ft", "inch", "dark", "big, for gloves"):
        expect(phone.get_by_label(choice, exact=True)).to_be_checked()
    until(phone, '() => JSON.stringify(document.documentElement.dataset) === \'{"theme":"dark","keys":"big"}\'')
    name.fill("Joss Tarn")
    for choice in ("N·m", "mm", "light", "usual"):
        phone.get_by_label(choice, exact=True).check()
    phone.get_by_role("button", name="Mara Quill").click()
    expect(name).to_have_value("Mara Quill")
    for choice in ("lbf·ft", "inch", "dark", "big, for gloves"):
        expect(phone.get_by_label(choice, exact=True)).to_be_checked()
    phone.get_by_role("button", name="Joss Tarn").click()
    expect(phone.get_by_label("N·m", exact=True)).to_be_checked()
    phone.goto(f"{demo.address}/#/")
    phone.get_by_role("link", name=UNIT).click()
    expect(phone.get_by_text("84.3 N·m").first).to_be_visible()


SMALL = """() => [...document.querySelectorAll("main :is(button, .button, summary, input, select), #tabs a")]
    .filter((one) => one.offsetParent !== null && !one.closest("svg, label.photo, .choices"))
    .map((one) => [one.getBoundingClientRect().height, one.outerHTML.slice(0, 80)])
    .filter(([height]) => height > 0 && height < 63.5)"""


def test_big_keys_are_64_high_and_fit_the_phone(demo: RunningServer, chromium: Browser) -> None:
    unit = unit_path(demo.address)
    with opened(chromium, demo.address, in_reach=True) as page:
        ready(page)
        page.evaluate("localStorage.setItem('keys', 'big')")
        page.reload()
        for screen in ("", "/check", "/plates", "/change", "/plan", "/refit", "/close"):
            go(page, f"{unit}{screen}")
            assert page.evaluate(SMALL) == [], screen
            assert too_wide(page, 360) == [], screen
        touch = page.evaluate("getComputedStyle(document.documentElement).getPropertyValue('--touch')")
        assert touch == "64px"
