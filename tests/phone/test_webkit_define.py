"""A unit with Enter alone, and a plan by builds, in the engine that the other phones run."""

import pytest
from selenium import webdriver
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys

from tests.engine.checks import UNIT as KNOWN
from tests.engine.checks import changed
from tests.engine.history.entries import check_near

from .conftest import RunningServer
from .test_define import IN_SIGHT, UNIT, WITH_ENTER, stored
from .test_just_check import empty as empty
from .test_unit_findings import ID, WRITE
from .test_webkit import patience
from .test_webkit import screen as screen
from .test_webkit import webkit as webkit

WHO = "slipbook.part('log/store.js').then(({ remember }) => remember('who', 'Ilse Marrow')).then(arguments[0]);"
STRONG = "return document.querySelectorAll('.dimension.typed').length"
SEEN = f"return ({IN_SIGHT})(arguments[0])"


@pytest.mark.parametrize("size", [(400, 760), (1280, 800)])
def test_a_unit_with_enter_alone_in_webkit(
    empty: RunningServer, webkit: webdriver.WebKitGTK, size: tuple[int, int]
) -> None:
    webkit.set_window_size(*size)
    wait = patience(webkit)
    webkit.get(empty.address)
    wait.until(lambda driver: driver.find_elements(By.XPATH, "//a[contains(., 'Check a torque now')]"))
    webkit.execute_async_script(WHO)
    webkit.get(f"{empty.address}/#/unit/new")
    name = "//input[@data-field='name']"
    wait.until(lambda driver: driver.find_elements(By.XPATH, name))
    webkit.execute_script("arguments[0].focus()", webkit.find_element(By.XPATH, name))
    for figure in WITH_ENTER:
        here = webkit.switch_to.active_element
        path = here.get_attribute("data-field") or ""
        if path.startswith(("spring.de", "cavity", "friction.outer", "ramps.drive")):
            wait.until(lambda driver: driver.execute_script(STRONG) == 1)
            wait.until(lambda driver: driver.execute_script(SEEN, driver.switch_to.active_element), path)
        here.send_keys(*([figure] if figure else []), Keys.ENTER)
    save = webkit.find_element(By.XPATH, "//button[contains(., 'Add the unit')]")
    wait.until(lambda driver: driver.switch_to.active_element == save and save.is_enabled())
    save.send_keys(Keys.ENTER)
    wait.until(lambda driver: driver.find_elements(By.XPATH, f"//h1[contains(., '{UNIT}')]"))
    wait.until(lambda driver: "up to date" in driver.find_element(By.ID, "bar").text)
    assert stored(empty)["spring"]["l0_mm"] == "6.3"


WRITTEN = f"const [rows, done] = arguments; ({WRITE})(rows).then(() => done());"
# What of the page has the focus: a field by its path, a key by its words.
HERE = "return document.activeElement.dataset.field ?? document.activeElement.textContent.trim()"
MOST_STOPS = 40


def test_a_plan_by_builds_with_enter_alone_in_webkit(demo: RunningServer, webkit: webdriver.WebKitGTK) -> None:
    wait = patience(webkit)
    webkit.get(demo.address)
    wait.until(lambda driver: driver.find_elements(By.XPATH, "//a[contains(., 'Bramble 1')]"))
    webkit.execute_async_script(WHO)
    rows = [("unit", "unit", changed(KNOWN, name="Springless", spring=None, cavity_mm=None, friction=None))]
    for mm, torque in ((2.5, 96.0), (2.6, 108.0)):
        rows.append(("rebuild", "rebuild", {"fitted": [{"slot": "A2", "mm": mm}], "note": "Set up."}))
        rows.append(("torque_check", "breakaway", check_near(torque, outings=1)))
    entries = [{"kind": kind, "calculation": calculation, "body": body} for kind, calculation, body in rows]
    webkit.execute_async_script(WRITTEN, [ID, entries])
    webkit.get(f"{demo.address}/#/unit/{ID}/plan")
    chosen = (By.CSS_SELECTOR, ".planned .one")
    wait.until(lambda driver: driver.find_elements(*chosen) and "From 2 builds." in driver.find_element(*chosen).text)
    # The line and both builds are drawn.
    wait.until(lambda driver: len(driver.find_elements(By.CSS_SELECTOR, "svg.curves .dot")) >= 2)
    first = webkit.find_element(By.CSS_SELECTOR, "main input:not([type=radio], [type=checkbox])")
    webkit.execute_script("arguments[0].focus(); arguments[0].select()", first)
    first.send_keys("100", Keys.ENTER)
    stops = [webkit.execute_script(HERE)]
    for _ in range(MOST_STOPS):
        if webkit.switch_to.active_element.tag_name not in ("input", "select"):
            break
        # There is no key to go on to while the plan is worked out: Enter stays where it is pressed.
        wait.until(lambda driver: "Working out the plan" not in driver.find_element(By.TAG_NAME, "main").text)
        webkit.switch_to.active_element.send_keys(Keys.ENTER)
        here = webkit.execute_script(HERE)
        if here != stops[-1]:
            stops.append(here)
    # Enter ends at the key that begins the rebuild, and no field is gone through twice.
    assert webkit.switch_to.active_element.get_attribute("class") == "main", stops
    assert len(set(stops)) == len(stops)
    assert first.get_attribute("value") == "100"
    wait.until(lambda driver: "From 2 builds." in driver.find_element(*chosen).text)
