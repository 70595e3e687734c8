"""The shelf that stands, from counts, rebuilds and plans: its numbers, what it says, and what a plan may use of it."""

from typing import Any

from server.engine import KINDS, calc

from ...reference.shelf_stories import shelf_of

CLASS = {"name": "2.50", "part": "friction", "mm": 2.5, "count": 6, "minimum_mm": 2.3}
KEPT = {"slot": "A2", "part": "friction", "where": "keep", "name": "Bramble A2 2.41", "mm": 2.41, "new_mm": 2.5}


def entry(number: int, kind: str, body: dict[str, Any], unit: str = "", **more: Any) -> dict[str, Any]:
    """An entry of the day of that number, as a phone that knows nothing else writes it."""
    shown = calc(KINDS[kind].calculation, body)
    heading = {"id": f"id-{number}", "unit": unit, "kind": kind, "at": f"2026-03-{number:02d}T09:00:00Z", "seq": number}
    return {**heading, "who": "Ada", "body": body, "shown": shown, **more}


def count(number: int, *pieces: dict[str, Any], **more: Any) -> dict[str, Any]:
    """A count of the shelf; `only_these` for one of some rows alone."""
    only = {"only_these": True} if more.pop("only_these", False) else {}
    return entry(number, "shelf", {"pieces": list(pieces), **only}, **more)


def rebuild(number: int, unit: str = "Bramble", **body: Any) -> dict[str, Any]:
    """A rebuild that moves plates, unless `body` says otherwise."""
    return entry(number, "rebuild", {"note": "Set up.", "shelf": "moves", **body}, unit)


def fitted(name: str, times: int = 1, **more: Any) -> list[dict[str, Any]]:
    """Plates of one name in as many places."""
    return [{"slot": f"A{place + 2}", "mm": 2.5, "piece": name, **more} for place in range(times)]


def plan(number: int, unit: str, name: str, times: int, bought: bool = False) -> dict[str, Any]:
    """A plan that was taken."""
    parts = [
        {"slot": f"A{place + 2}", "part": "friction", "piece": name, "mm": 2.5, "bought": bought}
        for place in range(times)
    ]
    return entry(number, "planned", {"fitted": parts}, unit)


def row(shelf: dict[str, Any], name: str) -> dict[str, Any]:
    """One row."""
    [found] = [row for row in shelf["rows"] if row["name"] == name]
    return dict(found)


def test_a_rebuild_of_an_older_slipbook_moves_nothing_and_the_count_stands() -> None:
    old = {"note": "Set up.", "fitted": fitted("2.50", 2)}
    shelf = shelf_of([count(1, CLASS), entry(2, "rebuild", old, "Bramble")])
    assert row(shelf, "2.50")["count"] == 6
    assert not shelf["disagrees"]


def test_what_was_bought_for_a_rebuild_and_what_was_counted_since_move_nothing() -> None:
    bought = rebuild(2, fitted=fitted("2.50", 2, bought=True))
    late = rebuild(3, "Heron", fitted=fitted("2.50", 2), shelf="counted")
    assert row(shelf_of([count(1, CLASS), bought, late]), "2.50")["count"] == 6


def test_more_than_there_were_is_said_and_never_below_zero() -> None:
    shelf = shelf_of([count(1, {**CLASS, "count": 1}), rebuild(2, fitted=fitted("2.50", 3))])
    found = row(shelf, "2.50")
    assert (found["count"], found["short"]) == (0, 2)
    assert found["says"][0].startswith(
        "The shelf disagrees: 2 more were fitted than it had, last in Bramble on 2026-03-02"
    )
    assert shelf["disagrees"]
    # A count settles it.
    counted = shelf_of([count(1, {**CLASS, "count": 1}), rebuild(2, fitted=fitted("2.50", 3)), count(3, CLASS)])
    assert (row(counted, "2.50")["count"], counted["disagrees"]) == (6, False)


def test_a_withdrawn_rebuild_gives_its_plates_back() -> None:
    withdrawn = entry(3, "note", {"text": "Not so."}, "Bramble", replaces="id-2")
    assert row(shelf_of([count(1, CLASS), rebuild(2, fitted=fitted("2.50", 2)), withdrawn]), "2.50")["count"] == 6


def test_the_trail_says_where_the_number_comes_from() -> None:
    shelf = shelf_of([rebuild(1, fitted=fitted("2.50")), count(2, CLASS), rebuild(3, fitted=fitted("2.50", 2))])
    assert [(line["step"], line["change"], line["left"]) for line in row(shelf, "2.50")["trail"]] == [
        ("taken", -2, 4),
        ("counted", None, 6),
        ("earlier", -1, None),
    ]


def test_two_plans_that_want_one_class_show_it_and_add_up_to_what_is_bought() -> None:
    here = count(1, {**CLASS, "count": 3, "lowest_stock": 2})
    shelf = shelf_of([here, plan(2, "Bramble", "2.50", 2), plan(3, "Heron", "2.50", 2)])
    found = row(shelf, "2.50")
    assert (found["wanted"], found["free"], found["to_buy"]) == (4, 0, 3)
    assert found["says"][0] == "Planned for Bramble (2) and Heron (2): 4 in all, and 3 here: 1 to buy."
    assert [(line["name"], line["count"]) for line in shelf["to_buy"]] == [("2.50", 3)]
    # Rebuilt: its plan reserves no more.
    rebuilt = shelf_of(
        [
            here,
            plan(2, "Bramble", "2.50", 2),
            plan(3, "Heron", "2.50", 2),
            rebuild(4, "Heron", fitted=fitted("2.50", 2)),
        ]
    )
    assert (row(rebuilt, "2.50")["count"], row(rebuilt, "2.50")["wanted"]) == (1, 2)


def test_a_class_that_the_shelf_has_not_is_on_the_buying_list_alone() -> None:
    shelf = shelf_of([count(1), plan(2, "Bramble", "friction", 2, bought=True)])
    assert shelf["rows"] == []
    [line] = shelf["to_buy"]
    assert line["text"] == "2 × friction (friction, 2.500 mm): 2 for Bramble; 0 here."


def test_a_piece_that_came_back_may_be_planned_with_its_measure_its_doubt_and_the_limit_of_its_class() -> None:
    out = {**KEPT, "within_mm": 0.004, "lowest_mm": 2.4}
    shelf = shelf_of([count(1, CLASS), rebuild(2, fitted=fitted("2.50"), came_out=[out])])
    found = row(shelf, "Bramble A2 2.41")
    assert (found["count"], found["used"], found["minimum_mm"], found["usual_minimum"]) == (1, True, 2.3, False)
    [piece] = [piece for piece in shelf["pieces"] if piece["name"] == "Bramble A2 2.41"]
    assert piece == {
        "name": "Bramble A2 2.41",
        "part": "friction",
        "mm": 2.41,
        "count": 1,
        "within_mm": 0.004,
        "new_mm": 2.5,
        "lowest_mm": 2.4,
    }


def test_a_piece_whose_lowest_point_is_below_the_limit_of_its_class_is_in_no_plan_and_says_so() -> None:
    out = {**KEPT, "mm": 2.31, "lowest_mm": 2.29, "name": "Bramble A2 2.31"}
    shelf = shelf_of([count(1, CLASS), rebuild(2, fitted=fitted("2.50"), came_out=[out])])
    assert "Below the limit of its class, 2.300 mm: no plan uses it." in " ".join(row(shelf, "Bramble A2 2.31")["says"])


def test_a_rebuild_of_another_shop_leaves_this_shelf_alone() -> None:
    foreign = {**rebuild(2, fitted=fitted("2.50", 2)), "knows": ["another-shops-count"], "clock": {"fell_s": 0.0}}
    assert row(shelf_of([count(1, CLASS), foreign]), "2.50")["count"] == 6


def test_a_rebuild_here_moves_plates_of_this_shelf_though_the_unit_was_rebuilt_in_another_shop_before() -> None:
    met = {"clock": {"fell_s": 0.0}}
    foreign = {**rebuild(2, fitted=fitted("2.50", 2)), "knows": ["another-shops-count"], **met}
    # This phone had not fetched the count yet.
    here = {**rebuild(3, fitted=fitted("2.50", 1)), "knows": ["id-2"], **met}
    planned = {**plan(4, "Bramble", "2.50", 2), "knows": ["id-3"], **met}
    found = row(shelf_of([count(1, CLASS), foreign, here, planned]), "2.50")
    assert (found["count"], found["wanted"]) == (5, 2)


def test_a_piece_that_has_run_stays_one_where_a_count_forgot_it_before_it_was_fitted() -> None:
    kept = rebuild(1, came_out=[KEPT])
    fitted_again = rebuild(3, "Heron", fitted=[{"slot": "A2", "mm": 2.41, "piece": KEPT["name"]}])
    shelf = shelf_of([kept, count(2), fitted_again, plan(4, "Teasel", str(KEPT["name"]), 1)])
    found = row(shelf, str(KEPT["name"]))
    assert (found["short"], found["used"], found["wanted"], found["to_buy"]) == (1, True, 1, 0)
    assert shelf["to_buy"] == []


def test_what_plans_buy_of_a_class_that_was_never_counted_names_the_kind_of_plate() -> None:
    shelf = shelf_of([rebuild(1, fitted=fitted("2.50")), plan(2, "Heron", "2.50", 1)])
    [line] = shelf["to_buy"]
    assert (line["part"], line["text"]) == ("friction", "1 × 2.50 (friction, 2.500 mm): 1 for Heron; 0 here.")
    assert row(shelf, "2.50")["part"] == "friction"


def test_a_ring_that_was_fitted_by_a_name_is_no_kind_of_plate() -> None:
    ring = {"name": "Ring", "slot": "R1", "part": "ring", "mm": 20.0}
    when = {"at": "2026-03-01T09:00:00Z", "who": "", "at_s": 0.0, "first_s": 0.0, "last_s": 0.0, "old": False}
    move = {**when, "id": "id-1", "first": "id-1", "knew": [], "elsewhere": [], "taken": [ring], "kept": []}
    shelf = calc("shelf_now", {"counts": [], "units": [{"unit": "Bramble", "moves": [move]}]})
    assert [(found["part"], found["short"]) for found in shelf["rows"]] == [(None, 1)]


def test_what_came_back_after_one_count_and_maybe_before_another_is_in_doubt() -> None:
    unmet = {"clock": {"fell_s": 0.0}}
    first = {**count(1, CLASS), "knows": [], **unmet}
    second = {**count(2, CLASS), "knows": [], **unmet}
    back = {**rebuild(3, came_out=[KEPT]), "knows": ["id-2"], **unmet}
    shelf = shelf_of([first, second, back])
    assert shelf["disagrees"]
    assert row(shelf, str(KEPT["name"]))["says"] == [
        "Nobody can tell whether Bramble A2 2.41 was counted before or after the rebuild of Bramble: their clocks do "
        "not say. Count it again."
    ]
    # Of the class itself both counts say the same, and no rebuild took any.
    assert (row(shelf, "2.50")["count"], row(shelf, "2.50")["says"]) == (6, [])
