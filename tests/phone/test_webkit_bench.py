"""A PC's story with a keyboard in the engine that Macs and tablets run: units as a table, plates and shelf as grids."""

import re
from typing import Any

from selenium import webdriver
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys

from .conftest import RunningServer
from .test_story import UNIT, entries_on_disk, new_on_disk
from .test_webkit import patience, tap
from .test_webkit import screen as screen
from .test_webkit import webkit as webkit

BENCH = (1280, 800)
HERE = "return document.activeElement.ariaLabel ?? document.activeElement.textContent.trim()"
FOCUS = """
const found = document.evaluate(arguments[0], document, null, XPathResult.FIRST_ORDERED_NODE_TYPE).singleNodeValue;
found?.focus();
// What stands in it is typed over.
found?.select?.();
return Boolean(found);
"""
SIZE = "return [[innerWidth, innerHeight], [outerWidth, outerHeight]]"
# What stands in the rows of the table of units, from the top: torque as it is written, and what the column says.
TORQUES = """
const cells = [...document.querySelectorAll("table tbody tr:not(.group) > :nth-child(3)")];
const head = document.querySelector("table thead th:nth-child(3)");
return [cells.map((cell) => cell.textContent.trim()), head.getAttribute("aria-sort")];
"""
# The row of a plate, as it is read.
PLATE = """
const row = [...document.querySelectorAll(".plate-grid tbody tr")].find((row) => row.textContent.includes("A1"));
return row.querySelector("[data-cell=verdict]").innerText.replace(/\\s+/g, " ").trim();
"""


def as_a_pc(driver: webdriver.WebKitGTK) -> None:
    """A window whose page is as large as a PC's screen: its own bar comes on top, and it is resized in its own time."""

    def fits(driver: webdriver.WebKitGTK) -> bool:
        inner, outer = driver.execute_script(SIZE)
        driver.set_window_size(*(wanted + whole - own for wanted, whole, own in zip(BENCH, outer, inner, strict=True)))
        return bool(inner == list(BENCH))

    patience(driver).until(fits)


def test_a_pc_s_story_with_a_keyboard_in_webkit(demo: RunningServer, webkit: webdriver.WebKitGTK) -> None:
    wait = patience(webkit)
    before = {entry["id"] for entry in entries_on_disk(demo)}

    def words() -> str:
        return webkit.find_element(By.TAG_NAME, "main").text

    def focus(path: str) -> None:
        wait.until(lambda driver: driver.execute_script(FOCUS, path), path)

    def keys(*typed: str) -> None:
        webkit.switch_to.active_element.send_keys(*typed)

    def is_at(name: str) -> None:
        wait.until(lambda driver: driver.execute_script(HERE) == name, name)

    as_a_pc(webkit)
    webkit.get(demo.address)
    wait.until(lambda _: UNIT in words())
    wait.until(lambda driver: "up to date" in driver.find_element(By.CSS_SELECTOR, "#bar .state").text)

    # The units are a table, sorted from its head, once all of them are worked out.
    wait.until(lambda driver: len(driver.find_elements(By.CSS_SELECTOR, "main table a.open")) == 3)
    wait.until(lambda _: "more to come" not in words())

    def torques(sort: str) -> list[str]:
        wait.until(lambda driver: driver.execute_script(TORQUES)[1] == sort)
        shown: list[str] = webkit.execute_script(TORQUES)[0]
        return [torque for torque in shown if torque != "–"]

    focus("//main//thead//button[contains(., 'Torque')]")
    keys(Keys.ENTER)
    up = torques("ascending")
    assert len(up) == 3
    assert up == sorted(up, key=float)
    assert re.search(r"sort=torque$", webkit.current_url)
    keys(Keys.ENTER)
    assert torques("descending") == up[::-1]

    # From the table to a unit, and to its plates by its steps.
    focus(f"//main//a[normalize-space(.) = '{UNIT}']")
    keys(Keys.ENTER)
    wait.until(lambda _: "History" in words())
    focus("//main//ol//a[contains(., 'Measure plates')]")
    keys(Keys.ENTER)
    is_at("A1 point 1")
    assert webkit.find_elements(By.CSS_SELECTOR, ".plate-grid")
    keys("2,48", Keys.ENTER)
    is_at("A1 point 2")
    keys("2.47", Keys.ENTER)
    keys("2.48", Keys.ENTER)
    is_at("A2 point 1")
    wait.until(lambda driver: driver.execute_script(PLATE) == "go lowest 2.470")
    keys(Keys.ARROW_UP)
    is_at("A1 point 1")
    focus("//main//label[contains(., 'Measured by')]/following::input[1]")
    keys("Joss Tarn")
    focus("//main//button[contains(., 'Save the plates')]")
    keys(Keys.ENTER)
    wait.until(lambda _: "Saved" in words())
    wait.until(lambda _: UNIT in webkit.find_element(By.TAG_NAME, "h1").text)

    # A count on the shelf: Enter goes down its column, and at last the key saves.
    tap(webkit, "//*[@id='tabs']//a[contains(., 'Shelf')]")
    focus("//input[@aria-label='F 2.40, How many']")
    keys("3", Keys.ENTER)
    is_at("F 2.45, How many")
    wait.until(lambda _: "1 row" in words())
    focus("//main//button[contains(., 'Save the count')]")
    keys(Keys.ENTER)
    wait.until(lambda _: "The count is saved." in words())
    wait.until(lambda driver: "up to date" in driver.find_element(By.CSS_SELECTOR, "#bar .state").text)

    def written() -> dict[str, Any]:
        return {entry["kind"]: entry for entry in new_on_disk(demo, before)}

    wait.until(lambda _: {"plate_check", "shelf"} <= set(written()))
    found = written()
    assert found["plate_check"]["body"]["plates"][0]["slot"] == "A1"
    assert found["plate_check"]["shown"]["plates"][0]["lowest_mm"] == 2.47
    assert [(row["name"], row["count"]) for row in found["shelf"]["shown"]["pieces"]] == [("F 2.40", 3)]
    assert {entry["who"] for entry in found.values()} == {"Joss Tarn"}
