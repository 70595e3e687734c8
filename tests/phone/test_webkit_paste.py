"""A table pasted onto the shelf in the engine that the other phones run, with keys alone."""

import pytest
from selenium import webdriver
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys

from .conftest import RunningServer
from .test_story import ids_on_disk, new_on_disk
from .test_webkit import patience
from .test_webkit import screen as screen
from .test_webkit import webkit as webkit
from .test_webkit_define import WHO

TABLE = "Name;Part;Thickness (mm);Qty\nF 2,71;Friction plate;2,71;2\nF 2,72;friction;thin;1\n"
PASTE = """
const clipboardData = new DataTransfer();
clipboardData.setData("text/plain", arguments[0]);
document.querySelector("#table").dispatchEvent(
    Object.assign(new Event("paste", { bubbles: true, cancelable: true }), { clipboardData }));
"""


@pytest.mark.parametrize("size", [(400, 760), (1280, 800)])
def test_a_table_is_pasted_mended_and_taken_in_webkit(
    demo: RunningServer, webkit: webdriver.WebKitGTK, size: tuple[int, int]
) -> None:
    webkit.set_window_size(*size)
    wait = patience(webkit)
    before = ids_on_disk(demo)
    webkit.get(demo.address)
    wait.until(lambda driver: driver.find_elements(By.XPATH, "//a[contains(., 'Bramble 1')]"))
    webkit.execute_async_script(WHO)
    webkit.get(f"{demo.address}/#/shelf/paste")
    wait.until(lambda driver: driver.find_elements(By.ID, "table"))
    webkit.execute_script(PASTE, TABLE)
    wait.until(lambda driver: "1 row can be taken; 1 cannot" in driver.find_element(By.ID, "pasted").text)
    take = webkit.find_element(By.ID, "take")
    webkit.execute_script("arguments[0].focus()", take)
    take.send_keys(Keys.ENTER)
    wrong = webkit.find_element(By.CSS_SELECTOR, "#pasted-rows [aria-invalid=true]")
    wait.until(lambda driver: driver.switch_to.active_element == wrong)
    wrong.send_keys(Keys.CONTROL, "a")
    wrong.send_keys(Keys.NULL, "2,72")
    wait.until(lambda driver: "2 rows can be taken." in driver.find_element(By.ID, "pasted").text)
    assert webkit.switch_to.active_element == wrong
    webkit.execute_script("arguments[0].focus()", take)
    take.send_keys(Keys.ENTER)
    wait.until(lambda driver: "2 rows are on the shelf." in driver.find_element(By.TAG_NAME, "main").text)
    wait.until(lambda _: len(new_on_disk(demo, before, "shelf")) == 1)
    [count] = new_on_disk(demo, before, "shelf")
    assert [(row["name"], row["mm"], row["count"]) for row in count["shown"]["pieces"]] == [
        ("F 2,71", 2.71, 2),
        ("F 2,72", 2.72, 1),
    ]
    assert count["agrees"]
