"""A pattern is made, used, changed and taken, in the engine that the other phones run: by tap, and with Enter alone."""

from selenium import webdriver
from selenium.webdriver.common.action_chains import ActionChains
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys
from selenium.webdriver.remote.webelement import WebElement

from .conftest import RunningServer
from .test_define import IN_SIGHT
from .test_patterns import PATTERN, definition
from .test_story import UNIT, entries_on_disk
from .test_webkit import patience
from .test_webkit import screen as screen
from .test_webkit import webkit as webkit

SEEN = f"return ({IN_SIGHT})(arguments[0])"
TAP_INTO = "const [to] = arguments; to.scrollIntoView({ block: 'center' }); to.focus(); to.select();"
# A screen stands once its heading or a field has the focus; until then it goes back to its top.
STANDS = "return document.querySelector('main').contains(document.activeElement)"
TOO_WIDE = "return document.documentElement.scrollWidth > innerWidth"
# For each screen: the unit that is taken in there, and the pattern's new order and lower limit.
SIZES = {(400, 760): ("Bramble 2", "95", "65"), (1280, 800): ("Bramble 3", "90", "60")}
# The spring is left out: the form of a pattern writes down that it is a single one.
TAKEN_OVER = ("layout", "chain", "cavity_mm", "ramps", "cover", "order", "service", "pattern")
# Fields from the order on, in their order: Enter alone leaves them as they are.
UNCHANGED = dict.fromkeys(
    (
        "order.torque_nm",
        "order.tolerance_nm",
        "service.low_nm",
        "service.high_nm",
        "service.plates_every_days",
        "hub_ratio",
    ),
    "",
)


class Hand:
    """A finger on a phone, or a keyboard at the bench."""

    def __init__(self, driver: webdriver.WebKitGTK, taps: bool) -> None:
        self.driver, self.taps = driver, taps
        self.wait = patience(driver)

    def find(self, path: str) -> WebElement:
        """What is there, once it is."""
        return self.wait.until(lambda driver: driver.find_element(By.XPATH, path))

    def comes(self, then: str) -> None:
        """What follows is there, and it fits the screen's width."""
        self.find(then)
        self.wait.until(lambda driver: driver.execute_script(STANDS))
        self.wait.until_not(lambda driver: driver.execute_script(TOO_WIDE), then)

    def press(self, path: str, then: str) -> None:
        """Act on a key or a link, and wait for what comes then."""
        self.wait.until(lambda driver: self.acts(driver.find_element(By.XPATH, path)), path)
        self.comes(then)

    def acts(self, what: WebElement) -> bool:
        """Act on what is there; it may be gone by then."""
        what.click() if self.taps else what.send_keys(Keys.ENTER)
        return True

    def in_sight(self, here: WebElement) -> None:
        """What has the focus lies under nothing; this browser brings it there in its own time."""
        self.wait.until(lambda driver: driver.execute_script(SEEN, here), f"{here.get_attribute('outerHTML')}")

    def type(self, field: str, text: str) -> None:
        """Type into the field that has the focus, over what it holds, and go on with Enter."""
        self.wait.until(lambda driver: driver.switch_to.active_element.get_attribute("data-field") == field)
        here = self.driver.switch_to.active_element
        self.in_sight(here)
        # Keys alone: sent to a field, the driver itself would bring it into sight.
        ActionChains(self.driver).send_keys(text, Keys.ENTER).perform()

    def enter_at(self, key: str, then: str) -> None:
        """Enter on the key that Enter led to."""
        path = f"//main//button[normalize-space(.) = '{key}']"
        self.wait.until(lambda driver: driver.switch_to.active_element == driver.find_element(By.XPATH, path))
        here = self.find(path)
        self.wait.until(lambda _: here.is_enabled(), key)
        self.in_sight(here)
        ActionChains(self.driver).send_keys(Keys.ENTER).perform()
        self.comes(then)

    def start_at(self, field: str) -> None:
        """Tap into a field, with what stands there chosen."""
        what = self.find(f"//main//input[@data-field='{field}']")
        self.driver.execute_script(TAP_INTO, what)


def headed(words: str) -> str:
    """The heading of a screen."""
    return f"//main//h1[contains(., '{words}')]"


def link(words: str) -> str:
    """A link by what it says."""
    return f"//main//a[contains(., '{words}')]"


def test_a_pattern_is_made_used_changed_and_taken_in_webkit(demo: RunningServer, webkit: webdriver.WebKitGTK) -> None:
    hand = Hand(webkit, taps=True)
    count = len(entries_on_disk(demo))

    def arrive(more: int) -> None:
        nonlocal count
        count += more
        hand.wait.until(lambda _: len(entries_on_disk(demo)) == count)

    webkit.get(demo.address)
    hand.press(link(UNIT), headed(UNIT))
    hand.press("//main//summary[contains(., 'At the bench')]", link("Pattern, and another like it"))
    hand.press(link("Pattern, and another like it"), headed("Pattern"))
    hand.start_at("pattern")
    hand.type("pattern", PATTERN)
    hand.type("who", "Joss Tarn")
    hand.enter_at("Make the pattern", headed(PATTERN))
    # The key is gone: whoever pressed it goes on from the heading, and not from the top of the page.
    hand.wait.until(lambda driver: driver.switch_to.active_element.tag_name == "h1")
    arrive(2)

    first = definition(demo, UNIT)
    alike = first
    for size, (name, order, low) in SIZES.items():
        webkit.set_window_size(*size)
        hand.taps = size[0] < 1000
        hand.press(link("All patterns"), headed("Patterns"))
        # A second unit of it: two fields.
        hand.press(link("Add a unit of it"), headed("Add a unit like"))
        assert len(webkit.find_elements(By.CSS_SELECTOR, "main input")) == 2
        hand.start_at("name")
        hand.type("name", name)
        hand.type("owner", "Wren Aldous")
        hand.enter_at("Add the unit", headed(name))
        arrive(1)
        taken_in = definition(demo, name)
        assert (taken_in["name"], taken_in["owner"]) == (name, "Wren Aldous")
        assert [taken_in[part] for part in TAKEN_OVER] == [alike[part] for part in TAKEN_OVER]

        # The pattern changes in two figures.
        webkit.execute_script("location.hash = '#/patterns'")
        hand.comes(headed("Patterns"))
        hand.press(link("Change it"), headed("Change the pattern"))
        hand.start_at("order.torque_nm")
        for field, figure in {**UNCHANGED, "order.torque_nm": order, "service.low_nm": low}.items():
            hand.type(field, figure)
        hand.press("//main//button[contains(., 'Save the change')][not(@disabled)]", headed("Patterns"))
        arrive(1)

        # The new unit takes both: with a tap each, or with one key.
        hand.press(link(name), headed(PATTERN))
        save, decided = "Save what was decided", "//main//p[contains(., 'Nothing of it has changed since')]"
        if hand.taps:
            for figure in (order, low):
                hand.press(f"//main//label[contains(., 'take')][contains(., '{figure}.0')]", f"//button[. = '{save}']")
            hand.press(f"//main//button[. = '{save}']", decided)
        else:
            hand.press("//main//button[. = 'Take all']", f"//button[. = '{save}']")
            hand.enter_at(save, decided)
        arrive(1)
        alike = definition(demo, name)
        assert (float(alike["order"]["torque_nm"]), float(alike["service"]["low_nm"])) == (float(order), float(low))
    # Whoever was not asked keeps what they had.
    assert definition(demo, UNIT) == first
