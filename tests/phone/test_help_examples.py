"""Help's examples of what was done: figures and sentences are what the engine answers to the same, asked here."""

from typing import Any

import pytest
from playwright.sync_api import Page, expect

from server.engine import KINDS, BadInput, calc
from server.engine.car.usual import BRAKING, THROUGH
from server.engine.history.logged import HOT_C
from server.engine.part_checks.contact_pattern import START_HIGH, START_LOW

from .screens import go
from .test_help import OPEN_ALL
from .test_help import page as page
from .test_help import running as running
from .test_help import shared as shared


def unit_of(page: Page) -> dict[str, Any]:
    """The example's unit."""
    unit: dict[str, Any] = page.evaluate("slipbook.part('screens/help/example.js').then(({ UNIT }) => UNIT)")
    return unit


def story(unit: str, done: list[tuple[str, str, dict[str, Any]]]) -> list[dict[str, Any]]:
    """What was done, as entries that the engine has judged."""
    return [
        {
            **{"id": f"{unit} {number}", "unit": unit, "kind": kind, "at": f"2026-05-{when}:00:00+02:00"},
            **{"who": "Example", "body": body, "shown": calc(KINDS[kind].calculation, body)},
        }
        for number, (kind, when, body) in enumerate(done, 1)
    ]


def says(page: Page, name: str, sentences: list[str]) -> None:
    """The page holds each of these, of which none is blank."""
    assert all(sentences), (name, sentences)
    go(page, f"/help/{name}")
    page.evaluate(OPEN_ALL)
    for sentence in sentences:
        expect(page.locator("main")).to_contain_text(sentence)


def test_what_a_strip_found(page: Page) -> None:
    unit = unit_of(page) | {"features": [{"name": "Case cracks", "part": "case", "measure": "crack"}]}
    found = {"A2": [2.25, 2.26, 2.26], "A4": [2.26, 2.27, 2.26], "B2": [2.31, 2.3, 2.31]}
    plates = [
        {**item, "points_mm": found.get(item["slot"], [2.5] * 3)}
        for item in unit["chain"]
        if item["part"] == "friction"
    ]
    done = ["drained", "out", "held", "screws", "relieved"]
    crack = {"name": "Case cracks", "part": "case", "measure": "crack", "crack": "none"}
    why = "measured with a finer tool before it runs"
    entries = story(
        "found",
        [
            ("unit", "01T09", unit),
            ("strip", "02T09", {"done": done, "guide": 2, "signed": "Example"}),
            ("plate_check", "02T12", {"micrometer": {}, "plates": plates}),
            ("inspection", "02T14", {"features": [crack]}),
            ("rebuild", "03T09", {"fitted": [{"slot": "A2", "mm": 2.5}], "note": "Example"}),
            (
                "close",
                "03T12",
                {
                    **{"done": ["clean"], "signed": "Example"},
                    "answers": [{"name": "B2", "answer": "left", "why": why}],
                },
            ),
        ],
    )
    stripped, closed = (calc("strip_found", {"entries": entries[:count]}) for count in (4, 6))
    assert [row["count"] for answer in (stripped, closed) for row in answer["order"]] == [2, 1]
    worn = [row["text"] for row in stripped["parts"] if row["asks"]]
    answers = [row["answer"] for row in closed["parts"] if row["answer"]]
    assert (len(worn), len(answers)) == (3, 2)
    orders = [f"{row['count']} × {row['what']}" for answer in (stripped, closed) for row in answer["order"]]
    says(page, "found", [stripped["text"], *worn, *answers, *orders])


def test_marked_parts(page: Page) -> None:
    def unit(name: str, mark: str) -> dict[str, Any]:
        feature = {"name": "Case cracks", "part": "case", "measure": "crack"}
        return unit_of(page) | {
            **{"name": name, "features": [feature]},
            "marked_parts": [{"part": "case", "mark": mark}],
        }

    def rebuild(out: str, out_to: str, mark: str) -> dict[str, Any]:
        row = {"part": "case", "out_mark": out, "out_to": out_to, "mark": mark}
        return {"fitted": [], "note": "Example", "marked_parts": [row]}

    ran = {"minutes": "20"}
    crack = {"name": "Case cracks", "part": "case", "measure": "crack", "crack": "unclear"}
    first_story = story(
        "one",
        [
            ("unit", "01T09", unit("Unit one", "C 7")),
            *(("outing", f"0{day}T09", ran) for day in (3, 4, 5)),
            ("inspection", "08T09", {"features": [crack]}),
            ("rebuild", "09T09", rebuild("C 7", "stock", "C 9")),
        ],
    )
    two = story(
        "two",
        [
            ("unit", "01T09", unit("Unit two", "C 3")),
            ("rebuild", "12T09", rebuild("C 3", "scrap", "c 7")),
            *(("outing", f"{day}T09", ran) for day in (17, 18)),
        ],
    )
    stays = [
        stay | {"unit": entries[0]["unit"], "unit_name": entries[0]["body"]["name"]}
        for entries in (first_story, two)
        for stay in calc("standing", {"entries": entries})["marked_parts"]["stays"]
    ]
    parts = calc("marked_parts", {"stays": stays})["parts"]
    assert [(part["key"], part["outings"], part["where"]) for part in parts] == [
        ("C 3", None, "scrap"),
        ("C 7", 5, "unit"),
        ("C 9", None, "unit"),
    ]
    [moved] = [part for part in parts if part["verdict"]]
    lines = [text for part in parts for text in (part["text"], part["used"])]
    says(page, "marked", [*lines, moved["reason"], *(stay["text"] for stay in moved["stays"])])


def test_two_checks_side_by_side(page: Page) -> None:
    def side(torque: float, tool_nm: float, outings: int, **more: Any) -> dict[str, Any]:
        given = {"tool": "Long beam", "oil": "A", "temperature": "cold"} | more
        parts = [{"name": "repeats", "u_nm": 1}, {"name": "tool", "u_nm": tool_nm, "source": given["tool"]}]
        return {"value_nm": torque, "u_nm": 1, "parts": parts, "outings": outings, **given}

    before = side(100, 2.5, 3)
    same, other, warm = (
        calc("compare", {"before": before, "now": side(91, 2.275, 7, **more)})
        for more in ({}, {"tool": "Short dial"}, {"oil": "B", "temperature": "warm"})
    )
    # JCGM 100:2008, 5.2.2: what both share counts with its difference, else each counts alone; 1.96 of it is 95 %.
    assert same["expanded_nm"] == pytest.approx(1.96 * (1 + 1 + 0.225**2) ** 0.5, rel=0.01)
    assert other["expanded_nm"] == pytest.approx(1.96 * (1 + 1 + 2.5**2 + 2.275**2) ** 0.5, rel=0.01)
    wide = [f"It may be off by {same['expanded_nm']:.1f} N·m", f"Then it may be off by {other['expanded_nm']:.1f} N·m"]
    marks = [mark["text"] for mark in warm["marks"]]
    assert len(marks) == 2
    entries = story(
        "like",
        [
            ("unit", "01T09", unit_of(page)),
            ("torque_check", "04T09", check(100)),
            ("service", "12T09", {"oil_changed": True, "oil": "B"}),
            ("outing", "18T09", {"minutes": 20, "oil_c": 142}),
            ("torque_check", "24T09", check(91)),
        ],
    )
    logged = [row["text"] for row in calc("change", {"entries": entries})["logged"]]
    assert len(logged) == 2
    says(page, "like", [same["text"], other["text"], warm["text"], *wide, *marks, *logged, f"above {HOT_C:.0f} °C"])


def check(torque: float) -> dict[str, Any]:
    """A torque check of the example."""
    readings = [torque, torque + 1, torque, torque - 1]
    return {
        "held": "bench_output_held",
        "wrench": {"name": "Long beam", "kind": "beam", "low_nm": 0, "high_nm": 200, "division_nm": 2},
        "steady_nm": {"forward": readings, "reverse": readings},
        "limits": {"low_nm": 70, "high_nm": 130},
    }


def test_contact_patterns(page: Page) -> None:
    band = {"low_mm": 0.1, "high_mm": 0.2, "gauge": {}}

    def advice(drive: str, points: list[float]) -> list[str]:
        answer = calc("refit", {"backlash": {**band, "points_mm": points}, "contact": {"drive": drive}})
        return [row["text"] for row in answer["setting"]["advice"] if row["about"] == "contact"]

    roomy = [text for drive in ("toe", "heel", "face", "flank") for text in advice(drive, [0.14, 0.15, 0.14])]
    [tight] = advice("toe", [0.165, 0.172, 0.168])
    assert "no room" in tight
    assert len(roomy) >= 4
    says(page, "contact", [*roomy, tight, f"{START_LOW:.2f} to {START_HIGH:.2f} mm"])


def test_where_a_unit_sits(page: Page) -> None:
    unit = unit_of(page) | {"sits": "centre"}
    sits = calc("standing", {"entries": story("sits", [("unit", "01T09", unit)])})["sits"]
    wheel = {"load_kg": 300, "grip": 1}
    with pytest.raises(BadInput) as refused:
        calc("traction", {"built": {"unit": unit}, "left": wheel, "right": wheel, "tyre_radius_mm": 300})
    drive = calc("ramps", {"unit": unit, "points": 3})["fittings"][0]["drive"]
    lines = [sits["text"], sits["car"], sits["goes_back"], drive["locking"], f"{drive['bias_range']} times"]
    says(page, "sits", [*lines, refused.value.reason])


def test_a_cars_figures(page: Page) -> None:
    known = calc(
        "car",
        {
            **{"name": "Example", "axle": "rear", "rolled": {"turns": 3, "distance_mm": 5640}, "wheelbase_mm": 2400},
            "corners": {"front_left_kg": 262, "front_right_kg": 238, "rear_left_kg": 256, "rear_right_kg": 244},
            "lifted": {"axle": "front", "lift_mm": 600, "gained_kg": 24, "hub_mm": 300},
            **{"engine_nm": 180, "final_drive": 4.1, "gears": [3.1, 2.05, 1.45, 1.1]},
        },
    )
    shown = ("mass_kg", "weight_share", "cg_mm", "tyre_mm", "track_mm")
    figures = [f"{row['meaning']}: {row['text']}" for row in known["figures"] if row["name"] in shown]
    low = known["gears"][0]
    torques = [f"{low[name]:.1f} N·m" for name in ("torque_nm", "low_nm", "high_nm", "braking_nm")]
    shares = [f"let through, {THROUGH.value:.2f}", f"greatest torque, {BRAKING.value:.2f}"]
    assert len(figures) == len(shown)
    says(page, "car", [*figures, *torques, known["text"], known["caution"], *shares])


def test_what_a_pattern_offers(page: Page) -> None:
    unit = unit_of(page)
    seen = {name: value for name, value in unit.items() if name != "name"}
    chain = [item | ({"minimum_mm": 2.35} if item["part"] == "friction" else {}) for item in seen["chain"]]
    cover = seen["cover"] | {"torque_nm": 28}
    wanted = seen | {"service": {"low_nm": 75, "high_nm": 130}, "chain": chain, "cover": cover}
    own = unit | {"cover": cover}
    offer = calc("pattern_offer", {"own": own, "seen": seen, "wanted": wanted})
    assert calc("pattern_offer", {"own": own, "seen": wanted, "wanted": wanted})["offers"] == []
    rows = [f"{row['label']}: {row['now']}, offered {row['offered']}" for row in offer["offers"]]
    assert len(rows) == 5
    says(page, "patterns", [f"is offered: {offer['text']}.", *rows, "then offers nothing"])


def test_papers(page: Page) -> None:
    unit = unit_of(page)
    unit |= {"owner": " tarn  ode", "service": unit["service"] | {"oil_every_days": 60}}
    steady = {"forward": [100, 101, 100], "reverse": [99, 100, 99]}
    wrench = {"kind": "beam", "low_nm": 0, "high_nm": 200, "division_nm": 2, "certificate_percent": 2}
    limits = {"low_nm": 70, "high_nm": 130}
    read = {"held": "bench_output_held", "wrench": wrench, "steady_nm": steady, "limits": limits}
    entries = story(
        "papers",
        [
            ("unit", "01T09", unit),
            ("rebuild", "02T09", {"fitted": [{"slot": "A2", "mm": 2.5}], "oil": "A", "note": "Example"}),
            ("torque_check", "03T09", read),
        ],
    )
    today = {"entries": entries, "today": "2026-06-20"}
    [oil] = calc("standing", today)["upkeep"]
    sheet = calc("sheet", today)["sheet"]
    [torque] = [row["text"] for row in sheet["rows"] if row["title"] == "Torque"]
    lines = [oil["text"], f"Last day: {oil['due_on']}", sheet["verdict_text"], sheet["figure"], sheet["title"], torque]
    says(page, "papers", [*lines, "are one, with 2 units"])


def test_a_pasted_table(page: Page) -> None:
    def guard(**gauge: float) -> str:
        plate = {"slot": "A2", "part": "friction", "new_mm": 2.5, "minimum_mm": 2.3, "points_mm": [2.4] * 3}
        return f"guard band {calc('plates', {'micrometer': gauge, 'plates': [plate]})['guard_mm']:.3f} mm"

    rows = {
        "Mic one": guard(division_mm=0.01, deviation_mm=0.004),
        "Mic two": guard(division_mm=0.001, deviation_mm=0.002),
        "Mic three": guard(division_mm=0.01),
    }
    assert len(set(rows.values())) == 2
    says(page, "pasting", list(rows))
    for name, sentence in rows.items():
        expect(page.get_by_role("listitem").filter(has_text=name)).to_contain_text(sentence)
