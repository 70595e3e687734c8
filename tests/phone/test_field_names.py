"""A message calls a field what stands beside it on its screen: in the outbox, and where a sentence names another."""

import copy
import re
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from server.engine import calc

from .conftest import RunningServer, becomes
from .test_refused import WRITE
from .test_story import UNIT, entries_on_disk, ready

SCALE = {"low": "9", "high": "5", "division": "0.1"}

# What is typed wrong into an entry of each kind: (kind, ways to the fields, the field that is refused).
WRONG: list[tuple[str, dict[str, Any], str]] = [
    ("torque_check", {"steady_nm.forward.1": "abc"}, "steady_nm.forward.1"),
    ("torque_check", {"adapter": {"wrench_mm": "300", "adapter_mm": "abc"}}, "adapter.adapter_mm"),
    ("torque_check", {"drag": {"case_nm": "much"}}, "drag.case_nm"),
    ("torque_check", {"circumstances": {"outings": "1.5"}}, "circumstances.outings"),
    ("plate_check", {"plates.0.points_mm.2": "2..4"}, "plates.0.points_mm.2"),
    ("plate_check", {"plates.0.gap_mm": "thick"}, "plates.0.gap_mm"),
    ("spring_check", {"springs.0.points_mm.1": "tall"}, "springs.0.points_mm.1"),
    ("ring_check", {"rings.0.steps_mm.0": "deep"}, "rings.0.steps_mm.0"),
    ("unit", {"order.tolerance_nm": 400, "order.torque_nm": 90}, "order.tolerance_nm"),
    ("unit", {"service.high_nm": 10}, "service.high_nm"),
    ("unit", {"spring.di_mm": 140}, "spring.di_mm"),
    ("unit", {"friction.outer_mm": 20}, "friction.outer_mm"),
    ("rebuild", {"fitted.0.minimum_mm": 70}, "fitted.0.minimum_mm"),
    ("rebuild", {"hours": "long"}, "hours"),
    ("refit", {"backlash.high_mm": 0.01}, "backlash.high_mm"),
    ("refit", {"backlash.points_mm.1": "?"}, "backlash.points_mm.1"),
    ("refit", {"backlash.uneven_mm": "?"}, "backlash.uneven_mm"),
    ("refit", {"backlash.gauge": {"division_mm": "fine"}}, "backlash.gauge.division_mm"),
    ("refit", {"screws.low_nm": "?"}, "screws.low_nm"),
    ("outing", {"minutes": "many"}, "minutes"),
    ("service", {"litres": "some"}, "litres"),
    ("customer", {"mail": "nowhere"}, "mail"),
    ("letterhead", {"name": "Mill\x07"}, "name"),
    ("shelf", {"pieces.0.count": "-2"}, "pieces.0.count"),
    ("kit", {"wrench.division_nm": "?"}, "wrench.division_nm"),
    ("kit", {f"wrench.{name}_nm": {"typed": typed, "unit": "nm"} for name, typed in SCALE.items()}, "wrench.high_nm"),
]
OF_SHOP = {"customer", "letterhead", "shelf", "kit"}

# Where a sentence stands: what is written beside the field, and what stands beside any field of the screen.
BESIDE = """(reason) => {
    const lines = [...document.querySelectorAll("main .error")].filter((row) => row.textContent.includes(reason));
    const own = lines.map((line) => line.closest(".field, .readings, fieldset")).find(Boolean);
    if (!own) return null;
    const wrong = own.querySelector("[aria-invalid=true]");
    const words = (element) => element?.textContent.replace(/\\s+/g, " ").trim() ?? "";
    const written = "main :is(label, legend, summary, button, h2, h3)";
    return {
        label: words(own.querySelector("label, legend")),
        input: wrong?.getAttribute("aria-label") ?? "",
        all: [...document.querySelectorAll(written)].map(words),
    };
}"""
UNITS = r",? (mm|inch|thou|N·m|lbf·ft)$"


def to(page: Page, address: str) -> None:
    """Go to a screen by its address, whatever screen there is."""
    page.evaluate("(to) => { location.hash = `#/${to}`; }", address)


def spoiled(body: dict[str, Any], changes: dict[str, Any]) -> dict[str, Any]:
    """A body in which something else was typed."""
    wrong_body = copy.deepcopy(body)
    for path, value in changes.items():
        *way, last = path.split(".")
        at: Any = wrong_body
        for step in way:
            at = at[int(step)] if isinstance(at, list) else at.setdefault(step, {})
        if isinstance(at, list):
            at[int(last)] = value
        else:
            at[last] = value
    return wrong_body


def words_of(text: str) -> set[str]:
    """The words of a name, whatever stands between them."""
    return set(re.findall(r"[^\s,:.]+", text.lower()))


def written(demo: RunningServer, kind: str) -> dict[str, Any]:
    """An entry of a kind: the last one of the demonstration where it has one."""
    if kind == "letterhead":
        return {"unit": "", "body": {"name": "Mill"}, "shown": {"verdict": None}}
    rows = [row for row in entries_on_disk(demo) if row["kind"] == kind and not row.get("replaces")]
    if kind == "kit":
        rows = [row for row in rows if row["body"]["tool"] == "wrench"]
    unit = next(row["unit"] for row in entries_on_disk(demo) if row["kind"] == "unit" and row["body"]["name"] == UNIT)
    return [row for row in rows if kind in OF_SHOP or row["unit"] == unit][-1]


@pytest.mark.in_reach
@pytest.mark.parametrize("part", range(4))
def test_the_outbox_calls_a_field_what_stands_beside_it(demo: RunningServer, phone: Page, part: int) -> None:
    phone.goto(demo.address)
    ready(phone)
    differ = []
    for kind, changes, field in WRONG[part::4]:
        old = written(demo, kind)
        body = spoiled(old["body"], changes)
        draft = {"unit": old["unit"], "kind": kind, "body": body, "shown": old["shown"]}
        entry = phone.evaluate(WRITE, draft)
        to(phone, "outbox")
        row = phone.get_by_role("listitem").filter(has=phone.locator(f"a[href*='{entry}']")).first
        expect(row.locator("li b").first).to_be_visible()
        name = row.locator("li b").first.text_content() or ""
        reason = (row.locator("li").first.text_content() or "").removeprefix(name).removeprefix(": ")
        row.get_by_role("link", name="Correct it").click()
        beside: dict[str, Any] = {}

        def is_said(reason: str = reason, beside: dict[str, Any] = beside) -> bool:
            beside.update(phone.evaluate(BESIDE, reason) or {})
            return bool(beside)

        assert becomes(phone, is_said), (kind, field, reason)
        # A reading in a row has a name of its own.
        label = beside["input"] or re.sub(UNITS, "", beside["label"])
        missing = words_of(label) - words_of(name)
        strangers = [other for other in re.findall("“([^”]*)”", reason) if other not in map(plain, beside["all"])]
        if missing or strangers or not label:
            differ.append((kind, field, name, reason, beside["label"], beside["input"], strangers))
    assert differ == []


def plain(label: str) -> str:
    """A label without its unit."""
    return re.sub(UNITS, "", label)


@pytest.mark.in_reach
def test_a_step_that_was_refused_is_called_by_its_words(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    ready(phone)
    old = written(demo, "close")
    body = {**old["body"], "done": ["clean", "oiled", "screws"]}
    phone.evaluate(WRITE, {"unit": old["unit"], "kind": "close", "body": body, "shown": old["shown"]})
    to(phone, "outbox")
    screws = next(step["text"] for step in calc("steps", {})["close"] if step["name"] == "screws")
    row = phone.get_by_role("listitem").filter(has_text="Hold the spring closed").first
    expect(row.locator("b")).to_have_text(screws[0].upper() + screws[1:])
    row.get_by_role("link", name="Correct it").click()
    expect(phone.get_by_role("main")).to_contain_text(screws)


@pytest.mark.in_reach
def test_a_plan_names_its_fields_as_they_stand_there(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    ready(phone)
    to(phone, f"unit/{written(demo, 'close')['unit']}/plan")
    for label, field in (("Breakaway torque", "wanted.torque_nm"), ("Give or take", "wanted.tolerance_nm")):
        box = phone.get_by_label(label, exact=True)
        before = box.input_value()
        box.fill("much")
        expect(phone.locator("main .field .error")).to_have_text("Type a number, for example 72.5; got 'much'.")
        assert calc("field_name", {"calculation": "plan", "field": field})["name"] == f"Wanted, {label}"
        box.fill(before)
