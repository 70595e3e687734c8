"""Inspected features: what is looked at on the parts of a unit that are neither plates, springs nor ramp faces.

A unit or a pattern lists them once; each inspection then goes by that list (`part_checks.inspection`).
"""

from typing import Any

from ..doubt.verdict import REPLACE, REWORK
from ..request.errors import BadInput, inside, once_each
from ..request.fields import Choice, Group, Listing, Number, Text, Whole, YesNo

FEATURE_PARTS = {
    "bevel_gears": "bevel gears",
    "cross_pins": "cross pins",
    "thrust_washers": "thrust washers",
    "splines": "splines",
    "rings": "ramp rings",
    "case": "case",
    "cover": "cover",
    "journals": "bearing journals",
    "screws": "screws",
    "other": "another part",
}

SIZE, PLAY, BACKLASH, END_FLOAT = "size", "play", "backlash", "end_float"
RUN_OUT, FLATNESS, SURFACE, CRACK, USED = "run_out", "flatness", "surface", "crack", "used"

MEASURES = {
    SIZE: "size",
    PLAY: "play",
    BACKLASH: "backlash",
    END_FLOAT: "end float",
    RUN_OUT: "run-out",
    FLATNESS: "flatness",
    SURFACE: "surface",
    CRACK: "crack test",
    USED: "times used",
}

# What has no limits in mm: it is looked at, tested or counted.
NOT_IN_MM = (SURFACE, CRACK, USED)

MICROMETER, DIAL_GAUGE, FEELER = "micrometer", "dial_gauge", "feeler"
BORE_GAUGE, DEPTH_GAUGE = "bore_gauge", "depth_gauge"

GAUGES = {
    MICROMETER: "micrometer",
    DIAL_GAUGE: "dial gauge",
    FEELER: "feeler gauge",
    BORE_GAUGE: "bore gauge",
    DEPTH_GAUGE: "depth gauge",
}

# What is measured with which gauge where nobody says: common practice, no source.
USUAL_GAUGE = {
    SIZE: MICROMETER,
    PLAY: DIAL_GAUGE,
    BACKLASH: DIAL_GAUGE,
    END_FLOAT: DIAL_GAUGE,
    RUN_OUT: DIAL_GAUGE,
    FLATNESS: FEELER,
}

# What tightens screws again, as the log tells: then nobody has to count.
CLOSING, REFIT = "closing", "refit"
COUNTED = {
    CLOSING: "each time that the cover is closed",
    REFIT: "each time that the unit goes back into its axle",
}

# What shims put right is reworked; what is worn is replaced.
REWORKED = (BACKLASH, END_FLOAT)

# What rounding may leave of a band of no width, mm.
NO_WIDTH = 1e-6

FIELDS = Group(
    {
        "name": Text(60, "what the feature is called"),
        "part": Choice(FEATURE_PARTS, "part that it is on"),
        "measure": Choice(MEASURES, "what is measured"),
        "gauge": Choice(GAUGES, "kind of gauge; the usual one for what is measured if empty", default=None),
        "places": Whole(1, 24, "in how many places it is measured", default=1),
        "new_mm": Number(0, 500, "mm", "figure when new", default=None),
        "low_mm": Number(0, 500, "mm", "lowest allowed", default=None),
        "high_mm": Number(0, 500, "mm", "highest allowed", default=None),
        "change_mm": Number(0.001, 50, "mm", "largest change against new, either way", default=None),
        "most_uses": Whole(1, 1000, "how often it may be used in all", default=None),
        "counted": Choice(
            COUNTED, "what uses it once more, as the log tells; only what inspections say if empty", default=None
        ),
        "usual_limits": YesNo("whether its limits are only common practice", default=False),
        "outside": Choice(
            {REPLACE: "replace it", REWORK: "rework or shim it"},
            "what is done where it is outside; if empty, rework for backlash and end float, replace for all else",
            default=None,
        ),
    },
    "an inspected feature",
)


def features_field() -> Listing:
    """The list of inspected features, made anew so that it keeps its place on a form."""
    return Listing(
        Group(FIELDS.fields, FIELDS.meaning), 0, 60, "what is inspected on other parts", default=[], nouns="features"
    )


def band_of(feature: dict[str, Any]) -> tuple[float | None, float | None]:
    """The lowest and the highest value allowed, mm, each None where it is not limited.

    A change against new allows new - change to new + change; with limits besides, the narrower of the two counts. A
    change limits nothing as long as the figure when new is not known, and a lower limit of 0 limits nothing at all,
    since nothing measures less.

    >>> band_of({"new_mm": 20.0, "change_mm": 0.5, "low_mm": 19.0, "high_mm": 20.25})
    (19.5, 20.25)
    """
    low, high, new, change = [feature[name] for name in ("low_mm", "high_mm", "new_mm", "change_mm")]
    if new is not None and change is not None:
        low = max(0.0, new - change) if low is None else max(low, new - change)
        high = new + change if high is None else min(high, new + change)
    return low if low is not None and low > NO_WIDTH else None, high


def refuse_limits(feature: dict[str, Any], path: str) -> None:
    """Refuse limits that what is measured cannot have."""
    measure = feature["measure"]
    if measure in NOT_IN_MM:
        for name in ("new_mm", "low_mm", "high_mm", "change_mm", "gauge"):
            if feature[name] is not None:
                raise BadInput(inside(path, name), f"This has no length ({MEASURES[measure]}): leave it empty.")
    if measure != USED and feature["most_uses"] is not None:
        raise BadInput(inside(path, "most_uses"), "Only times used have this limit: leave it empty.")
    # Definitions of engines before 1.59 have none.
    if measure != USED and feature.get("counted") is not None:
        raise BadInput(inside(path, "counted"), "Only times used are counted: leave it empty.")


def check_feature(feature: dict[str, Any], path: str) -> None:
    """Refuse limits that what is measured cannot have, and a band that nothing can be inside.

    Raises
    ------
    BadInput
        At the limit.
    """
    refuse_limits(feature, path)
    low, high = feature["low_mm"], feature["high_mm"]
    if low is not None and high is not None and low >= high - NO_WIDTH:
        raise BadInput(inside(path, "high_mm"), "The upper limit must be above the lower one.")
    low, high = band_of(feature)
    if low is not None and high is not None and low >= high - NO_WIDTH:
        raise BadInput(
            inside(path, "change_mm"),
            "With this change against new nothing is left between the limits: check them and the figure when new.",
        )


def check_features(features: list[dict[str, Any]], path: str = "features") -> None:
    """Refuse a name that stands twice, and a feature whose limits contradict each other: see `check_feature`."""
    once_each(features, path, "name", "is there twice: give each feature a name of its own.")
    for place, feature in enumerate(features):
        check_feature(feature, inside(path, place))


def outside_of(feature: dict[str, Any]) -> str:
    """The verdict on a feature that is outside its limits."""
    usual = REWORK if feature["measure"] in REWORKED else REPLACE
    return feature["outside"] or usual


def gauge_of(feature: dict[str, Any]) -> str | None:
    """The kind of gauge that a feature is measured with; None where it is looked at, tested or counted."""
    return feature["gauge"] or USUAL_GAUGE.get(feature["measure"])
