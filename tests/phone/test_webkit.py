"""The check, offline, in the engine that the other phones run."""

import os
import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest
from selenium import webdriver
from selenium.webdriver.common.by import By
from selenium.webdriver.support.ui import WebDriverWait
from selenium.webdriver.webkitgtk.options import Options
from selenium.webdriver.webkitgtk.service import Service

from tests import browsers

from .conftest import DRAFTS, RunningServer
from .test_story import entries_on_disk

DRIVER = "WebKitWebDriver"
CHOOSE = """
const tools = [...document.querySelectorAll("select")].find((one) => one.textContent.includes(arguments[0]));
tools.value = [...tools.options].find((one) => one.textContent.includes(arguments[0])).value;
tools.dispatchEvent(new Event("change", { bubbles: true }));
"""
# Shapes in a drawing have no click() of their own.
CLICK = 'arguments[0].dispatchEvent(new MouseEvent("click", { bubbles: true, cancelable: true }));'
DRAFT_HOLDS = f"const [text, done] = arguments; ({DRAFTS})(text).then(done);"


@pytest.fixture
def screen() -> Iterator[str]:
    """A screen to draw on; this driver has no headless way."""
    if not (shutil.which(DRIVER) and shutil.which("Xvfb")):
        if not browsers.may_install():
            pytest.skip("WebKit's driver is not here and cannot be installed: nothing was tested in WebKit.")
        browsers.apt_install("webkit2gtk-driver", "xvfb")
    reading, writing = os.pipe()
    process = subprocess.Popen(
        ["Xvfb", "-displayfd", str(writing), "-screen", "0", "480x800x24"],
        pass_fds=[writing],
        stderr=subprocess.DEVNULL,
    )
    os.close(writing)
    with os.fdopen(reading) as told:
        number = told.readline().strip()
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
    driver = webdriver.WebKitGTK(options=Options(), service=Service(shutil.which(DRIVER)))
    driver.set_window_size(400, 760)
    yield driver
    driver.quit()


def test_the_paddocks_story_in_webkit(demo: RunningServer, webkit: webdriver.WebKitGTK) -> None:
    wait = WebDriverWait(webkit, 120)
    before = len(entries_on_disk(demo))

    def words() -> str:
        return webkit.find_element(By.TAG_NAME, "main").text

    def bar() -> str:
        return webkit.find_element(By.ID, "bar").text

    def press(path: str) -> None:
        wait.until(lambda driver: driver.find_elements(By.XPATH, path))
        webkit.execute_script(CLICK, webkit.find_element(By.XPATH, path))

    def type_into(name: str, text: str) -> None:
        field = f'[aria-label="{name}"]'
        wait.until(lambda driver: driver.find_elements(By.CSS_SELECTOR, field))
        webkit.find_element(By.CSS_SELECTOR, field).send_keys(text)

    def sign(label: str) -> None:
        [field] = [one for one in webkit.find_elements(By.CSS_SELECTOR, "div.field") if label in one.text]
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
    press("//main//a[contains(., 'Bramble 1')]")
    press("//main//a[contains(., 'Check torque')]")
    wait.until(lambda _: "How is it held" in words())
    wait.until(lambda _: "offline" in bar())
    press("//input[@value='car_one_wheel_down']")
    webkit.execute_script(CHOOSE, "Long beam")
    for number, value in enumerate(("84", "86"), 1):
        type_into(f"forward reading {number}", value)
    wait.until(lambda driver: driver.execute_async_script(DRAFT_HOLDS, '"84","86"'))

    # A dead battery in the middle of it loses nothing.
    webkit.get("about:blank")
    webkit.get(demo.address)
    press("//main//a[contains(., 'Bramble 1')]")
    press("//main//a[contains(., 'Go on with the check')]")
    wait.until(lambda driver: driver.find_elements(By.CSS_SELECTOR, '[aria-label="forward reading 2"]'))
    assert webkit.find_element(By.CSS_SELECTOR, '[aria-label="forward reading 2"]').get_attribute("value") == "86"
    type_into("forward reading 3", "85,5")
    for number, value in enumerate(("83", "85", "84"), 1):
        type_into(f"reverse reading {number}", value)
    wait.until(lambda _: "Good to run" in words())
    sign("Checked by")
    press("//button[contains(., 'Save the check')]")
    wait.until(lambda _: "History" in words() and "waiting in the outbox" in words())
    # The chart draws in this engine as well.
    wait.until(lambda driver: driver.find_elements(By.CSS_SELECTOR, "trend-chart canvas"))

    press("//main//a[contains(., 'Measure plates')]")
    press("//*[@role='button'][starts-with(@aria-label, 'A2 ')]/*")
    for number, value in enumerate(("2,28", "2.27", "2.28"), 1):
        type_into(f"A2 point {number}", value)
    wait.until(lambda _: "replace" in words())
    sign("Measured by")
    press("//button[contains(., 'Save the plates')]")
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
