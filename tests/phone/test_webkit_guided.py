"""A guided strip and close in the engine that the other phones run: each step whole, and no spring left unasked."""

import re

from selenium import webdriver
from selenium.webdriver.common.by import By

from server.engine import calc

from .conftest import RunningServer
from .test_story import UNIT, entries_on_disk
from .test_webkit import patience, tap
from .test_webkit import screen as screen
from .test_webkit import webkit as webkit

# Of the step that is to be done, what lies on the screen above the tabs.
SEEN = """
const floor = document.querySelector("#tabs").getBoundingClientRect().top;
const box = (what) => document.querySelector(`.guided .now ${what}`)?.getBoundingClientRect();
const whole = (what) => box(what).top >= 0 && box(what).bottom <= floor;
const caution = box("[role=note]");
return {
  name: whole("h2"), key: whole("button.main"), caution: !caution || (caution.bottom > 0 && caution.top < floor),
};
"""


def test_strip_and_close_are_gone_through_step_by_step_in_webkit(
    demo: RunningServer, webkit: webdriver.WebKitGTK
) -> None:
    wait = patience(webkit)

    def words() -> str:
        return webkit.find_element(By.TAG_NAME, "main").text

    def press(path: str) -> None:
        tap(webkit, path)

    def done(number: int, text: str) -> None:
        wait.until(lambda driver: driver.find_element(By.CSS_SELECTOR, ".guided .now h2").text == f"{number}. {text}")
        if number > 1:
            wait.until(lambda driver: driver.execute_script(SEEN) == {"name": True, "caution": True, "key": True})
        press(f"//button[normalize-space(.) = 'Done: step {number}']")

    webkit.get(demo.address)
    press(f"//main//a[contains(., '{UNIT}')]")
    wait.until(lambda _: "History" in words())
    unit = re.sub(r"#.*", "", webkit.current_url) + re.sub(r".*#", "#", webkit.current_url)
    steps = calc("steps", {})
    webkit.get(f"{unit}/strip")
    for number, step in enumerate(steps["strip"], 1):
        if step["name"] == "relieved":
            break
        done(number, step["text"])
    wait.until(lambda _: "A vice alone holds the spring." in words())

    # Whoever goes is asked, and stays.
    press("//*[@id='tabs']//a[@aria-label='Help']")
    wait.until(lambda driver: driver.find_elements(By.CSS_SELECTOR, "dialog[open]"))
    press("//dialog//button[contains(., 'Stay and finish')]")
    wait.until(lambda driver: not driver.find_elements(By.CSS_SELECTOR, "dialog[open]"))
    assert webkit.current_url.endswith("/strip")
    for later, step in enumerate(steps["strip"][number - 1 :], number):
        done(later, step["text"])
    sign(webkit, "Done and signed by")
    press("//button[contains(., 'Sign it off')]")
    wait.until(lambda _: "What the strip found" in words())

    webkit.get(f"{unit}/close")
    for number, step in enumerate(steps["close"], 1):
        done(number, step["text"])
    sign(webkit, "Done and signed by")
    press("//button[contains(., 'Sign it off')]")
    wait.until(lambda _: "History" in words())
    wait.until(
        lambda _: {"strip", "close"} <= {row["kind"] for row in entries_on_disk(demo) if row["who"] == "Joss Tarn"}
    )
    signed = [row for row in entries_on_disk(demo) if row["who"] == "Joss Tarn" and row["kind"] in ("strip", "close")]
    assert all(row["shown"]["complete"] for row in signed)


def sign(webkit: webdriver.WebKitGTK, label: str) -> None:
    """Write a name where it is asked for, over what stands there."""
    [field] = [div for div in webkit.find_elements(By.CSS_SELECTOR, "div.field") if label in div.text]
    typed = field.find_element(By.TAG_NAME, "input")
    typed.clear()
    typed.send_keys("Joss Tarn")
