"""What the small kinds of entry take and refuse, at the limits of each."""

from typing import Any

import pytest

from server.engine import BadInput, calc
from server.engine.records.kinds import in_words, kinds_closed_to

STRIP = ["drained", "lifted", "caps", "out", "marked", "held", "screws", "relieved", "laid", "cleaned"]
MICROMETER = {"tool": "micrometer", "micrometer": {"name": "0 to 25"}}
PHOTO = {"sha256": "0123456789abcdef" * 4, "bytes": 4_000_000, "wide": 1600, "tall": 1}


def refused(name: str, request: dict[str, Any]) -> tuple[str, str]:
    """Where and in which words a calculation refuses a request."""
    with pytest.raises(BadInput) as caught:
        calc(name, request)
    return caught.value.field, caught.value.reason


def piece(name: str, **more: Any) -> dict[str, Any]:
    return {"name": name, "part": "friction", "mm": 2.5, "count": 2, **more}


def test_a_tools_figures_are_its_own() -> None:
    assert calc("kit", MICROMETER) == {"verdict": None}
    both = {**MICROMETER, "scale": {"name": "Scale", "kind": "pull_scale", "high_n": 500, "division_n": 2}}
    assert refused("kit", both) == ("scale", "This is a micrometer: leave the figures of a pull scale or weight out.")
    assert refused("kit", {"tool": "wrench"}) == ("wrench", "Give the figures of the torque wrench.")
    assert refused("kit", {"tool": "scale"}) == ("scale", "Give the figures of the pull scale or weight.")
    reason = "Give the tool a name, so that it can be told from the others."
    assert refused("kit", {"tool": "micrometer", "micrometer": {"division_mm": 0.01}}) == ("micrometer.name", reason)


def test_a_tools_figures_may_not_contradict_each_other() -> None:
    wrench = {"name": "Beam", "kind": "beam", "low_nm": 10, "high_nm": 150, "division_nm": 2}
    assert calc("kit", {"tool": "wrench", "wrench": wrench}) == {"verdict": None}
    field, reason = refused("kit", {"tool": "wrench", "wrench": {**wrench, "low_nm": 150}})
    assert field == "wrench.high_nm"
    assert "above “Scale starts at”" in reason
    scale = {"name": "Scale", "kind": "pull_scale", "high_n": 500, "division_n": 2}
    assert calc("kit", {"tool": "scale", "scale": scale}) == {"verdict": None}
    field, reason = refused("kit", {"tool": "scale", "scale": {**scale, "division_n": 400}})
    assert field == "scale.division_n"


@pytest.mark.parametrize("sha256", ["0" * 63, "0" * 63 + "g", "0" * 63 + "A", "0" * 63 + " "])
def test_a_photo_is_named_by_its_hash(sha256: str) -> None:
    assert calc("photo", PHOTO) == {"verdict": None}
    assert refused("photo", {**PHOTO, "sha256": sha256}) == (
        "sha256",
        "Give the SHA-256 of the picture as 64 hexadecimal digits in lower case.",
    )


def test_a_worn_out_piece_is_neither_fitted_nor_counted() -> None:
    fitted = {"slot": "A2", "mm": 2.5, "minimum_mm": 2.5}
    for limit in (2.5, 2.51):
        assert refused("rebuild", {"note": "n", "fitted": [{**fitted, "minimum_mm": limit}]}) == (
            "fitted.0.minimum_mm",
            "The limit must be below the thickness that is fitted, 2.500 mm.",
        )
        assert refused("shelf", {"pieces": [piece("p1"), piece("p2", minimum_mm=limit)]}) == (
            "pieces.1.minimum_mm",
            "p2 is not above this limit: take it off the shelf, or correct its limit or its thickness, 2.500 mm.",
        )
    kept = calc("rebuild", {"note": "n", "fitted": [{**fitted, "minimum_mm": 2.49, "within_mm": 0}]})["fitted"]
    assert kept == [{"slot": "A2", "mm": 2.5, "piece": "", "minimum_mm": 2.49, "within_mm": 0.0}]
    assert calc("rebuild", {"note": "n", "fitted": [{"slot": "A2", "mm": 2.5}]})["fitted"] == [
        {"slot": "A2", "mm": 2.5, "piece": ""}
    ]


def test_a_shelf_loses_what_was_fitted_and_no_more() -> None:
    request = {"pieces": [piece("p1"), piece("p2"), piece("p3")], "fitted": ["p2", " p1 ", "p2", "p2", "", "elsewhere"]}
    result = calc("shelf_less", request)
    assert result["taken"] == 3
    assert [(row["name"], row["count"]) for row in result["pieces"]] == [("p1", 1), ("p3", 2)]


@pytest.mark.parametrize("place", range(len(STRIP)))
def test_what_is_left_to_do_is_named_in_order(place: int) -> None:
    result = calc("strip", {"done": STRIP[: place + 1], "signed": "Ilse", "guide": 2})
    assert result["left"] == STRIP[place + 1 :]
    assert result["complete"] == (place == len(STRIP) - 1)
    assert result["held_by_vice"] == (STRIP[place] in ("held", "screws"))
    assert (result["signed"], result["verdict"]) == ("Ilse", None)


@pytest.mark.parametrize(
    ("procedure", "done", "guide", "field", "reason"),
    [
        ("strip", ["out", "out"], 2, "done.1", "This step is there twice: keep one of them."),
        ("strip", ["out", "screws"], 1, "done.1", "Hold the spring closed in a vice before the screws are touched."),
        ("close", ["started", "held"], 2, "done.0", "Hold the spring closed in a vice before the screws are touched."),
        ("close", ["held", "opened", "screws"], 2, "done.1", "Tighten every cover screw before the vice is opened."),
    ],
)
def test_the_order_that_keeps_fingers_is_held(
    procedure: str, done: list[str], guide: int, field: str, reason: str
) -> None:
    assert refused(procedure, {"done": done, "signed": "Ilse", "guide": guide}) == (field, reason)


def test_what_the_first_guide_let_pass_stays_readable() -> None:
    result = calc("close", {"done": ["held", "opened"], "signed": "Ilse"})
    assert (result["complete"], result["held_by_vice"]) == (False, True)


def test_what_a_trackside_device_may_not_write_is_named() -> None:
    # What takes a unit apart, puts it together or changes what it is belongs to the bench.
    closed = ["car", "close", "customer", "erasure", "kit", "letterhead", "pattern", "planned"]
    closed += ["rebuild", "refit", "shelf", "strip", "unit"]
    assert (kinds_closed_to("trackside"), kinds_closed_to("bench")) == (closed, [])
    assert in_words(closed) == "the build of units and the workshop's lists"
    assert in_words(["note"]) == "checks, outings and notes"


def test_a_plate_family_goes_from_the_shelf_into_the_rebuild_and_may_be_left_out() -> None:
    piece = {"name": "F 2.50", "part": "friction", "mm": 2.5, "count": 2, "family": "71/98 lugs, bronze"}
    assert calc("shelf", {"pieces": [piece]})["pieces"][0]["family"] == "71/98 lugs, bronze"
    [known] = calc("shelf_less", {"pieces": [piece], "fitted": ["F 2.50"]})["known"]
    fitted = {"slot": "A2", "mm": 2.5, "family": known["family"]}
    assert calc("rebuild", {"fitted": [fitted], "note": "as new"})["fitted"] == [fitted | {"piece": ""}]
    for name, request in (
        ("shelf", {"pieces": [{"name": "F", "part": "friction", "mm": 2.5}]}),
        ("rebuild", {"fitted": [{"slot": "A2", "mm": 2.5}], "note": "as new"}),
    ):
        [row] = calc(name, request)["pieces" if name == "shelf" else "fitted"]
        assert "family" not in row
