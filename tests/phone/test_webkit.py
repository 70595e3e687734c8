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

from .conftest import RunningServer

DRIVER = "WebKitWebDriver"
CHOOSE = """
const tools = [...document.querySelectorAll("select")].find((one) => one.textContent.includes(arguments[0]));
tools.value = [...tools.options].find((one) => one.textContent.includes(arguments[0])).value;
tools.dispatchEvent(new Event("change", { bubbles: true }));
"""


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
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    driver = webdriver.WebKitGTK(options=Options(), service=Service(shutil.which(DRIVER)))
    driver.set_window_size(400, 760)
    yield driver
    driver.quit()


def test_a_check_in_webkit_with_the_server_stopped(demo: RunningServer, webkit: webdriver.WebKitGTK) -> None:
    wait = WebDriverWait(webkit, 30)

    def words() -> str:
        return webkit.find_element(By.TAG_NAME, "main").text

    webkit.get(demo.address)
    wait.until(lambda _: "Bramble 1" in words())
    wait.until(lambda driver: driver.execute_script("return navigator.serviceWorker.controller !== null"))
    wait.until(lambda driver: "up to date" in driver.find_element(By.ID, "bar").text)
    demo.stop()

    webkit.refresh()
    wait.until(lambda _: "Bramble 1" in words())
    webkit.execute_script("location.hash = document.querySelector('a[href^=\"#/unit/0\"]').hash + '/check'")
    wait.until(lambda _: "How is it held" in words())
    webkit.execute_script("document.querySelector('input[value=car_one_wheel_down]').click()")
    webkit.execute_script(CHOOSE, "Long beam")
    for direction, values in (("forward", ("84", "86", "85,5")), ("reverse", ("83", "85", "84"))):
        for number, value in enumerate(values, 1):
            field = webkit.find_element(By.CSS_SELECTOR, f'[aria-label="{direction} reading {number}"]')
            field.send_keys(value)
    wait.until(lambda _: "lies inside the limits" in words())
    [name] = [field for field in webkit.find_elements(By.CSS_SELECTOR, "div.field") if "Checked by" in field.text]
    name.find_element(By.TAG_NAME, "input").send_keys("Joss Tarn")
    save = webkit.find_element(By.XPATH, "//button[contains(., 'Save the check')]")
    webkit.execute_script("arguments[0].click()", save)
    wait.until(lambda _: "History" in words() and "waiting in the outbox" in words())

    demo.start()
    webkit.execute_script("document.dispatchEvent(new Event('visibilitychange'))")
    wait.until(lambda _: "waiting in the outbox" not in words())
