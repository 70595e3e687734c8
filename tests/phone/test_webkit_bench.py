"""A day's work at a PC, and what leaves it on paper, in the engine that Macs and tablets run."""

import base64
import io
import os
import subprocess
from pathlib import Path
from typing import Any

import pypdf
import pytest
from selenium import webdriver
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys

from tests import browsers

from .conftest import RunningServer
from .screens import unit_path
from .test_story import UNIT, entries_on_disk
from .test_webkit import patience, tap
from .test_webkit import screen as screen
from .test_webkit import webkit as webkit

BENCH = (1280, 800)
# The Python that the system's packages are of.
PYTHON = "/usr/bin/python3"
PRINTS = "import gi; gi.require_version('WebKit2', '4.1')"
PROGRAM = Path(__file__).with_name("webkit_print.py")
PATIENCE_S = 300

# A file that is handed to the browser's downloads is kept in the page as well.
KEEP_DOWNLOADS = """
globalThis.downloads = [];
const { createObjectURL } = URL;
URL.createObjectURL = (file) => (globalThis.downloads.push(file), createObjectURL.call(URL, file));
"""
READ_DOWNLOAD = """
const done = arguments[0];
const reader = new FileReader();
reader.onload = () => done(reader.result.replace(/^[^,]*,/, ""));
reader.readAsDataURL(globalThis.downloads.at(-1));
"""
HERE = "return document.activeElement.ariaLabel ?? document.activeElement.textContent.trim()"
# Whether what is shown stands at the right of what is typed, and can be seen.
BESIDE = """
const [shown, typed] = [...arguments].map((one) => document.querySelector(one)?.getBoundingClientRect());
return Boolean(shown && typed) && shown.left >= typed.right && shown.top >= 0 && shown.bottom <= innerHeight;
"""


def closely(text: str) -> str:
    return "".join(text.split()).casefold()


@pytest.fixture
def printer(screen: str) -> str:
    """A screen to print from; WebKit for the system's own Python is installed where it can be."""
    if subprocess.run([PYTHON, "-c", PRINTS], capture_output=True).returncode:
        if not browsers.may_install():
            pytest.skip("WebKit for the system's Python is not here and cannot be installed: nothing was printed.")
        browsers.apt_install("gir1.2-webkit2-4.1", "python3-gi")
    return screen


@pytest.mark.parametrize(("template", "title"), [("customer", "Build"), ("workshop", "Workshop")])
def test_a_sheet_is_printed_on_one_page_in_webkit(
    demo: RunningServer, printer: str, tmp_path: Path, template: str, title: str
) -> None:
    paper = tmp_path / "sheet.pdf"
    choose = f"(document.querySelector('input[name=template][value={template}]')?.click(), true)"
    steps = [
        "document.querySelector('article.sheet, .sheet article, article')",
        choose,
        f"document.querySelector('article').textContent.includes('{title}')",
        "(document.querySelector('main button.main').click(), true)",
    ]
    folders = {f"XDG_{name}_HOME": str(tmp_path / name) for name in ("DATA", "CACHE")}
    environment = {**os.environ, **folders, "DISPLAY": printer, "PYTHONPATH": "", "LANG": "en_US.UTF-8"}
    address = f"{demo.address}/#{unit_path(demo.address)}/sheet"
    command = [PYTHON, str(PROGRAM), address, *steps, str(paper)]
    subprocess.run(command, check=True, timeout=PATIENCE_S, env=environment)
    [page] = pypdf.PdfReader(paper).pages
    said = closely(page.extract_text())
    assert closely(UNIT) in said
    assert closely(title) in said
    # Neither the keys nor the places to go are on paper.
    assert "aspdf" not in said
    assert "backupandexport" not in said


def words(driver: webdriver.WebKitGTK) -> str:
    return driver.find_element(By.TAG_NAME, "main").text


def opened(driver: webdriver.WebKitGTK, address: str) -> str:
    """The demonstration at a bench's size; the address of its unit."""
    driver.set_window_size(*BENCH)
    driver.get(address)
    wait = patience(driver)
    wait.until(lambda _: UNIT in words(driver))
    wait.until(lambda _: "up to date" in driver.find_element(By.ID, "bar").text)
    # The units are a table, and the places to go stand at its side.
    wait.until(lambda _: driver.find_elements(By.CSS_SELECTOR, "main table"))
    tap(driver, f"//main//a[contains(., '{UNIT}')]")
    wait.until(lambda _: "History" in words(driver))
    return str(driver.current_url)


def test_a_check_and_a_plan_at_the_pc_and_labels_in_webkit(demo: RunningServer, webkit: webdriver.WebKitGTK) -> None:
    wait = patience(webkit)

    def shown(script: str, *arguments: str) -> Any:
        return webkit.execute_script(script, *arguments)

    before = {entry["id"] for entry in entries_on_disk(demo)}
    unit = opened(webkit, demo.address)
    webkit.get(f"{unit}/check")
    wait.until(lambda _: shown(HERE) == "forward reading 1")
    wait.until(lambda _: shown(BESIDE, ".large-drawing svg", ".readings"))
    for figure in ("84", "86", "85,5", "83", "85", "84"):
        webkit.switch_to.active_element.send_keys(figure, Keys.ENTER)
    wait.until(lambda _: "Good to run" in words(webkit))
    # The drawing stays where it is, with the verdict below it.
    assert shown(BESIDE, ".large-drawing svg", ".readings")
    assert shown(BESIDE, ".judged > p", ".readings")
    wait.until(lambda _: shown(HERE) == "Save the check" or webkit.switch_to.active_element.tag_name == "input")
    if webkit.switch_to.active_element.tag_name == "input":
        webkit.switch_to.active_element.send_keys("Joss Tarn", Keys.ENTER)
    wait.until(lambda _: shown(HERE) == "Save the check")
    webkit.switch_to.active_element.send_keys(Keys.ENTER)
    wait.until(lambda _: "in the workshop's log" in words(webkit) or "waits for the workshop" in words(webkit))

    webkit.get(f"{unit}/plan")
    wait.until(lambda _: shown(BESIDE, ".pictures .stack", '[data-field="wanted.torque_nm"]'))
    assert len(webkit.find_elements(By.CSS_SELECTOR, ".pictures .stack")) == 2

    webkit.get(f"{demo.address}/#/labels")
    tap(webkit, "//main//button[@aria-label='All units']")
    webkit.execute_script(KEEP_DOWNLOADS)
    tap(webkit, "//main//button[contains(., 'Make the labels')]")
    wait.until(lambda _: "labels.pdf is with this browser's downloads" in words(webkit))
    labels = pypdf.PdfReader(io.BytesIO(base64.b64decode(webkit.execute_async_script(READ_DOWNLOAD))))
    assert UNIT in labels.pages[0].extract_text()

    wait.until(lambda _: "up to date" in webkit.find_element(By.ID, "bar").text)
    [check] = [entry for entry in entries_on_disk(demo) if entry["id"] not in before]
    assert (check["kind"], check["shown"]["verdict"]) == ("torque_check", "go")
