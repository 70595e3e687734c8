"""Ready-made lists of what is usually inspected on each part: common practice, no source.

Limits are empty, since they are the maker's; those few that are common practice are marked so.
"""

from typing import Any

from ..request.fields import Group
from ..request.letters import with_capital
from .features import (
    BACKLASH,
    BORE_GAUGE,
    CLOSING,
    CRACK,
    DEPTH_GAUGE,
    END_FLOAT,
    FEATURE_PARTS,
    FEELER,
    FLATNESS,
    PLAY,
    REFIT,
    RUN_OUT,
    SIZE,
    SURFACE,
    USED,
    features_field,
)

FORM = Group({}, "nothing: the lists are the same for everybody")

# Part, name, measure, and what else is known of the feature.
USUAL: list[tuple[str, str, str, dict[str, Any]]] = [
    ("bevel_gears", "Pinion backlash", BACKLASH, {"places": 4}),
    ("bevel_gears", "Side gear end float", END_FLOAT, {"places": 2, "gauge": FEELER}),
    ("bevel_gears", "Pinion bores", SIZE, {"places": 4, "gauge": BORE_GAUGE}),
    ("bevel_gears", "Bevel gear teeth", SURFACE, {}),
    ("bevel_gears", "Bevel gear cracks", CRACK, {}),
    # The limit on a flat is that of `part_checks.rings`.
    ("cross_pins", "Cross pin diameter", SIZE, {"places": 4, "change_mm": 0.05, "usual_limits": True}),
    ("cross_pins", "Cross pin cracks", CRACK, {}),
    ("thrust_washers", "Thrust washer thickness", SIZE, {"places": 3}),
    ("thrust_washers", "Thrust washer faces", SURFACE, {}),
    ("splines", "Spline play", PLAY, {"places": 2}),
    ("splines", "Spline flanks", SURFACE, {}),
    ("rings", "Ring ear play", PLAY, {"places": 4, "gauge": FEELER}),
    ("case", "Case bore", SIZE, {"places": 4, "gauge": BORE_GAUGE}),
    ("case", "Ear slot wear", SIZE, {"places": 4, "gauge": DEPTH_GAUGE}),
    ("case", "Case cracks", CRACK, {}),
    # As the flatness of plates is judged: common practice.
    ("cover", "Cover flatness", FLATNESS, {"places": 4, "high_mm": 0.1, "usual_limits": True}),
    ("cover", "Cover cracks", CRACK, {}),
    ("journals", "Journal diameter", SIZE, {"places": 4}),
    ("journals", "Case run-out", RUN_OUT, {}),
    # A screw that was tightened into its yield is used once: the maker says which.
    ("screws", "Cover screws", USED, {"counted": CLOSING}),
    ("screws", "Crown-wheel screws", USED, {"counted": REFIT}),
]

# The order of the bench: common practice, no source.
AS_IT_COMES_APART = (
    "screws",
    "cover",
    "case",
    "journals",
    "rings",
    "cross_pins",
    "bevel_gears",
    "thrust_washers",
    "splines",
)


def usual_features(_: dict[str, Any]) -> dict[str, Any]:
    """What is usually inspected, by part.

    Returns
    -------
    dict
        parts, in the order in which a unit comes apart: part, title and features, as a definition holds them.

    References
    ----------
    Common practice, no source.
    """
    parts = []
    for part in AS_IT_COMES_APART:
        rows = []
        for of, name, measure, known in USUAL:
            if of == part:
                row = {"name": name, "part": part, "measure": measure}
                row.update(known)
                rows.append(row)
        title = FEATURE_PARTS[part]
        checked = features_field().read(rows, "")
        parts.append({"part": part, "title": with_capital(title), "features": checked})
    return {"parts": parts}
