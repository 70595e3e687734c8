"""The check, offline, and the return after a restore, in the engine that the other phones run."""

import os
import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from selenium import webdriver
from selenium.common.exceptions import (
    ElementNotInteractableException,
    StaleElementReferenceException,
    TimeoutException,
)
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys
from selenium.webdriver.support.ui import WebDriverWait
from selenium.webdriver.webkitgtk.options import Options
from selenium.webdriver.webkitgtk.service import Service

from server.log.backups.backup import back_up, restore
from server.log.files import FolderLog, FolderPhotos
from server.log.intake import receive
from tests import browsers
from tests.server.sample_logs import UNIT_ID, entry

from .conftest import DRAFTS, RunningServer, free_port
from .mended_pc import DELIVER, ENTRIES, SMALL, WRITE
from .test_story import entries_on_disk

DRIVER = "WebKitWebDriver"
CHOOSE = """
const tools = [...document.querySelectorAll("select")].find((one) => one.textContent.includes(arguments[0]));
tools.value = [...tools.options].find((one) => one.textContent.includes(arguments[0])).value;
tools.dispatchEvent(new Event("change", { bubbles: true }));
"""
# Found and tapped in one go, or a screen that is drawn anew in between would take it away; whether it was there. Shapes
# in a drawing have no click() of their own.
TAP = """
const found = document.evaluate(arguments[0], document, null, XPathResult.FIRST_ORDERED_NODE_TYPE).singleNodeValue;
found?.dispatchEvent(new MouseEvent("click", { bubbles: true, cancelable: true }));
return Boolean(found);
"""
DRAFT_HOLDS = f"const [text, done] = arguments; ({DRAFTS})(text).then(done);"


def patience(driver: webdriver.WebKitGTK) -> WebDriverWait[webdriver.WebKitGTK]:
    """Waits for what a busy machine may take long for, over screens that give way to the next."""
    # A script is never answered by a page that starts anew meanwhile.
    gives_way = [StaleElementReferenceException, ElementNotInteractableException, TimeoutException]
    return WebDriverWait(driver, 120, ignored_exceptions=gives_way)


def tap(driver: webdriver.WebKitGTK, path: str) -> None:
    """Act on what is at an XPath, once it is there."""
    patience(driver).until(lambda driver: driver.execute_script(TAP, path), path)


def type_into(driver: webdriver.WebKitGTK, path: str, text: str) -> None:
    """Type into the field at an XPath, once it is there."""

    def typed(driver: webdriver.WebKitGTK) -> bool:
        driver.find_element(By.XPATH, path).send_keys(text)
        return True

    patience(driver).until(typed, path)


@pytest.fixture
def screen() -> Iterator[str]:
    """A screen to draw on; this driver has no headless way."""
    if not (shutil.which(DRIVER) and shutil.which("Xvfb")):
        if not browsers.may_install():
            pytest.skip("WebKit's driver is not here and cannot be installed: nothing was tested in WebKit.")
        browsers.apt_install("webkit2gtk-driver", "xvfb")
    reading, writing = os.pipe()
    process = subprocess.Popen(
        ["Xvfb", "-displayfd", str(writing), "-screen", "0", "1300x860x24"],
        pass_fds=[writing],
        stderr=subprocess.DEVNULL,
    )
    os.close(writing)
    with os.fdopen(reading) as pipe:
        number = pipe.readline().strip()
    yield f":{number}"
    process.terminate()
    process.wait(timeout=20)


@pytest.fixture
def webkit(screen: str, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Iterator[webdriver.WebKitGTK]:
    """A WebKit of phone size with a profile of its own."""
    monkeypatch.setenv("DISPLAY", screen)
    # Charts write numbers in the browser's language; where that is C, this browser knows no such language.
    monkeypatch.setenv("LANG", "en_US.UTF-8")
    monkeypatch.delenv("LC_ALL", raising=False)
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    driver = webdriver.WebKitGTK(options=Options(), service=Service(shutil.which(DRIVER), port=free_port()))
    driver.set_window_size(400, 760)
    driver.set_script_timeout(40)
    yield driver
    driver.quit()


def test_a_check_with_enter_alone_in_webkit(demo: RunningServer, webkit: webdriver.WebKitGTK) -> None:
    wait = patience(webkit)

    def words() -> str:
        return webkit.find_element(By.TAG_NAME, "main").text

    webkit.get(demo.address)
    wait.until(lambda _: "Bramble 1" in words())
    wait.until(lambda driver: driver.execute_script("return navigator.serviceWorker.controller !== null"))
    wait.until(lambda driver: "up to date" in driver.find_element(By.ID, "bar").text)
    demo.stop()
    tap(webkit, "//main//a[contains(., 'Bramble 1')]")
    tap(webkit, "//main//a[contains(., 'Check torque')]")
    # The first reading takes what is typed; all else is as last time.
    here = "return document.activeElement.ariaLabel ?? document.activeElement.textContent.trim()"
    wait.until(lambda driver: driver.execute_script(here) == "forward reading 1")
    for figure in ("84", "86", "85,5", "83", "85", "84"):
        webkit.switch_to.active_element.send_keys(figure, Keys.ENTER)
    # Who writes is not known yet.
    webkit.switch_to.active_element.send_keys("Joss Tarn", Keys.ENTER)
    wait.until(lambda driver: driver.execute_script(here) == "Save the check")
    large = "return [...document.querySelectorAll('.verdict-bar .verdict, .verdict-bar .figure')].map(size)"
    sizes = f"const size = (one) => parseFloat(getComputedStyle(one).fontSize); {large}"
    wait.until(lambda driver: "84.6" in driver.find_element(By.CSS_SELECTOR, ".verdict-bar").text)
    wait.until(lambda driver: min(driver.execute_script(sizes)) >= 56)
    in_sight = "const box = document.activeElement.getBoundingClientRect(); return box.bottom <= innerHeight"
    wait.until(lambda driver: driver.execute_script(in_sight))
    webkit.switch_to.active_element.send_keys(Keys.ENTER)
    wait.until(lambda _: "1 waits for the workshop" in words())
    tap(webkit, "//main//button[contains(., 'Undo')]")
    wait.until(lambda _: "Undone. What was typed is back in its form." in words())

    # All ten plates, three points each: the next plate comes by Enter as well.
    tap(webkit, "//main//a[contains(., 'Measure plates')]")
    wait.until(lambda driver: driver.execute_script(here) == "A1 point 1")
    slots = [f"{side}{number}" for side in "AB" for number in range(1, 6)]

    def has_come_to(slot: str) -> None:
        wait.until(lambda driver: driver.execute_script(here) == f"{slot} point 1")
        wait.until(lambda driver: slot in driver.find_element(By.CSS_SELECTOR, ".plate-head h2").text)

    for slot in slots:
        has_come_to(slot)
        figure = "1,47" if slot in ("A3", "B3") else "2,47"
        for _ in range(3):
            webkit.switch_to.active_element.send_keys(figure, Keys.ENTER)
    wait.until(lambda driver: driver.execute_script(here) == "Save the plates")
    wait.until(lambda driver: driver.execute_script(in_sight))
    wait.until(lambda driver: "10 of 10" in driver.find_element(By.CSS_SELECTOR, ".verdict-bar").text)
    # A figure of another plate is asked about here as well, and its key answers.
    field = webkit.find_element(By.CSS_SELECTOR, ".plate-head input")
    field.clear()
    field.send_keys("1,47", Keys.ENTER)
    tap(webkit, "//main//button[contains(., 'Type again')]")
    wait.until(lambda driver: driver.execute_script(here) == "B5 point 1")
    webkit.switch_to.active_element.send_keys("2,47")
    tap(webkit, "//main//button[contains(., 'Save the plates')]")
    wait.until(lambda _: "wait for the workshop" in words())

    # Sample units open without the workshop; one tap leads back.
    webkit.execute_script("location.hash = '#/help'")
    tap(webkit, "//main//button[contains(., 'Look at sample units')]")
    wait.until(lambda driver: "nothing here reaches your log" in driver.find_element(By.ID, "bar").text)
    wait.until(lambda _: "Thistle 4" in words())
    tap(webkit, "//header//button[contains(., 'Back to your log')]")
    wait.until(lambda driver: "Slipbook" in driver.find_element(By.ID, "bar").text)
    webkit.execute_script("location.hash = '#/outbox'")
    wait.until(lambda _: "entries wait" in words())


def test_the_paddocks_story_in_webkit(demo: RunningServer, webkit: webdriver.WebKitGTK) -> None:
    wait = patience(webkit)
    before = len(entries_on_disk(demo))

    def words() -> str:
        return webkit.find_element(By.TAG_NAME, "main").text

    def bar() -> str:
        return webkit.find_element(By.ID, "bar").text

    def type_reading(name: str, text: str) -> None:
        type_into(webkit, f'//*[@aria-label="{name}"]', text)

    def sign(label: str) -> None:
        [field] = [div for div in webkit.find_elements(By.CSS_SELECTOR, "div.field") if label in div.text]
        typed = field.find_element(By.TAG_NAME, "input")
        if not typed.get_attribute("value"):
            typed.send_keys("Joss Tarn")

    webkit.get(demo.address)
    wait.until(lambda _: "Bramble 1" in words())
    wait.until(lambda driver: driver.execute_script("return navigator.serviceWorker.controller !== null"))
    wait.until(lambda _: "up to date" in bar())

    # In the paddock: no server, the app opened cold.
    demo.stop()
    webkit.get("about:blank")
    webkit.get(demo.address)
    tap(webkit, "//main//a[contains(., 'Bramble 1')]")
    tap(webkit, "//main//a[contains(., 'Check torque')]")
    wait.until(lambda _: "With what?" in words())
    wait.until(lambda _: "offline" in bar())
    tap(webkit, "//input[@value='car_one_wheel_down']")
    webkit.execute_script(CHOOSE, "Long beam")
    for number, value in enumerate(("84", "86"), 1):
        type_reading(f"forward reading {number}", value)
    wait.until(lambda driver: driver.execute_async_script(DRAFT_HOLDS, '"84","86"'))

    # The app closed in the middle of it loses nothing.
    webkit.get("about:blank")
    webkit.get(demo.address)
    tap(webkit, "//main//a[contains(., 'Bramble 1')]")
    tap(webkit, "//main//a[contains(., 'Go on with the check')]")
    second = '[aria-label="forward reading 2"]'
    wait.until(lambda driver: driver.find_element(By.CSS_SELECTOR, second).get_attribute("value") == "86")
    type_reading("forward reading 3", "85,5")
    for number, value in enumerate(("83", "85", "84"), 1):
        type_reading(f"reverse reading {number}", value)
    wait.until(lambda _: "Good to run" in words())
    sign("Checked by")
    tap(webkit, "//button[contains(., 'Save the check')]")
    wait.until(lambda _: "History" in words() and "waiting in the outbox" in words())
    # The chart draws in this engine as well, once it is in sight.
    chart = wait.until(lambda driver: driver.find_element(By.CSS_SELECTOR, "trend-chart"))
    webkit.execute_script("arguments[0].scrollIntoView()", chart)
    wait.until(lambda driver: driver.find_elements(By.CSS_SELECTOR, "trend-chart canvas"))

    tap(webkit, "//main//a[contains(., 'Measure plates')]")
    tap(webkit, "//*[@role='button'][starts-with(@aria-label, 'A2 ')]/*")
    for number, value in enumerate(("2,28", "2.27", "2.28"), 1):
        type_reading(f"A2 point {number}", value)
    wait.until(lambda _: "replace" in words())
    sign("Measured by")
    tap(webkit, "//button[contains(., 'Save the plates')]")
    wait.until(lambda _: words().count("waiting in the outbox") == 2)

    # Home again, the app opened cold once more.
    demo.start()
    webkit.get("about:blank")
    webkit.get(demo.address)
    wait.until(lambda driver: driver.find_elements(By.CSS_SELECTOR, '#tabs a[aria-label="Outbox"]'))
    wait.until(lambda _: len(entries_on_disk(demo)) > before and "up to date" in bar())
    stored = entries_on_disk(demo)
    assert len(stored) == before + 2
    fresh = sorted(stored, key=lambda entry: entry["seq"])[-2:]
    assert [entry["kind"] for entry in fresh] == ["torque_check", "plate_check"]
    assert all(entry["agrees"] and entry["who"] == "Joss Tarn" for entry in fresh)
    assert fresh[0]["body"]["steady_nm"]["forward"][2] == {"typed": "85,5", "unit": "nm"}
    assert fresh[0]["shown"]["directions"]["forward"]["readings_nm"][2] == 85.5


@pytest.mark.about_files("a folder is restored")
def test_a_phone_heals_a_restored_log_in_webkit(tmp_path: Path, webkit: webdriver.WebKitGTK) -> None:
    wait = patience(webkit)

    def run(function: str, argument: object = None) -> Any:
        call = f"const [argument, done] = arguments; ({function})(argument).then(done, (fault) => done(`${{fault}}`));"
        return webkit.execute_async_script(call, argument)

    def delivered() -> None:
        wait.until(lambda _: run(DELIVER) is True)

    def write_and_deliver(when: str) -> None:
        for text, photo in ((f"{when}, a note", None), (f"{when}, a photo", SMALL)):
            assert len(run(WRITE, [text, photo])) == len(UNIT_ID)
        delivered()

    with FolderLog(tmp_path / "log") as log:
        receive(log, [entry("unit"), entry("torque_check")])
    with RunningServer(tmp_path / "log") as server:
        webkit.get(server.address)
        delivered()
        write_and_deliver("before the backup")
        back_up(server.folder, tmp_path / "log.zip")
        write_and_deliver("after the backup")
        before = entries_on_disk(server)
        server.stop()
        run(WRITE, ["while the PC was dead", None])
        server.folder = tmp_path / "restored"
        restore(tmp_path / "log.zip", server.folder)
        with FolderLog(server.folder) as log:
            receive(log, [entry("note") for _ in range(6)])
        server.start()
        webkit.get("about:blank")
        webkit.get(f"{server.address}/#/outbox")
        delivered()
        wait.until(lambda driver: "2 entries and 1 photo from this PC" in driver.find_element(By.TAG_NAME, "main").text)

        after = {entry["id"]: entry for entry in entries_on_disk(server)}
        assert len(after) == len(before) + 7
        assert all(after[entry["id"]] == entry for entry in before)
        pictures = [entry["body"]["sha256"] for entry in after.values() if entry["kind"] == "photo"]
        assert len(pictures) == 2
        assert all(FolderPhotos(server.folder).read(name) for name in pictures)
        assert {tuple(kept[:2]) for kept in run(ENTRIES)} == {(entry["id"], entry["seq"]) for entry in after.values()}


# Reads something that is to be changed, again and again, so that it is left in the middle of that.
CHANGES = """
const [done] = arguments;
slipbook.part("log/store.js").then(({ database }) => database()).then(async (db) => {
    const { store } = db.transaction("facts", "readwrite");
    for (let reads = 0; ; reads += 1) {
        await store.get("clock");
        if (reads === 1) done(true);
    }
});
window.isFirst = true;
"""


def test_a_page_that_is_put_away_keeps_no_other_from_the_book(demo: RunningServer, webkit: webdriver.WebKitGTK) -> None:
    wait = patience(webkit)

    def is_up_to_date(driver: webdriver.WebKitGTK) -> bool:
        return "up to date" in driver.find_element(By.ID, "bar").text

    webkit.get(demo.address)
    wait.until(is_up_to_date)
    webkit.execute_script("addEventListener('pagehide', ({ persisted }) => { sessionStorage.kept = persisted; })")
    assert webkit.execute_async_script(CHANGES)
    webkit.get(f"{demo.address}/?again#/outbox")
    # The browser has kept the page that was left.
    assert webkit.execute_script("return sessionStorage.kept") == "true"
    wait.until(is_up_to_date)
    # Who goes back to it finds it at work.
    webkit.back()
    wait.until(lambda driver: driver.execute_script("return location.search === '' && !window.isFirst"))
    wait.until(is_up_to_date)
    wait.until(lambda driver: "Bramble 1" in driver.find_element(By.TAG_NAME, "main").text)
