"""How much a plate has changed since it was measured last, and whether that is more than both gauges may be off."""

import math
from typing import Any

from ..doubt.budget import INFINITE, RISK, Part, combine
from ..doubt.student_t import t_quantile
from ..request.errors import once_each
from ..request.fields import Choice, Group, Listing, Number, Text
from ..request.units import say, unit_labels

# What became of a plate: `UNSURE` is a change that both gauges together may have made.
THINNER, THICKER, UNSURE = "thinner", "thicker", "unsure"
CHANGES = {
    THINNER: "thinner by more than both measurements may be off",
    THICKER: "thicker by more than both measurements may be off",
    UNSURE: "no change that these measurements could show",
}

FORM = Group(
    {
        "write_in": Choice(unit_labels("mm"), "unit of length that sentences are written in", default="mm"),
        "plates": Listing(
            Group(
                {
                    "slot": Text(20, "place of the plate in the stack"),
                    "now_mm": Number(0.01, 60, "mm", "its lowest point now"),
                    "now_guard_mm": Number(0, 5, "mm", "guard band of that measurement, one-sided 95 %"),
                    "last_mm": Number(0.01, 60, "mm", "its lowest point when it was measured last"),
                    "last_guard_mm": Number(
                        0, 5, "mm", "guard band of that measurement; as large as the one now if empty", default=None
                    ),
                },
                "a plate that was measured before, and was not exchanged since",
            ),
            0,
            80,
            "plates that were measured twice",
            nouns="plates",
        ),
    },
    "plates now and when they were measured last",
)


def doubt_of(guard: float) -> float:
    """Standard uncertainty of a measurement from its one-sided guard band, whose parts are all known by statement."""
    return guard / t_quantile(RISK, INFINITE)


def changed(plate: dict[str, Any], unit: str) -> dict[str, Any]:
    """What became of one plate, in figures and in words."""
    change = plate["now_mm"] - plate["last_mm"]
    last_guard = plate["now_guard_mm"] if plate["last_guard_mm"] is None else plate["last_guard_mm"]
    parts = [Part("now", "the measurement now", doubt_of(plate["now_guard_mm"]), INFINITE)]
    parts.append(Part("last", "the measurement before", doubt_of(last_guard), INFINITE))
    expanded = combine(parts).expanded
    size, within = say(abs(change), "mm", unit), say(expanded, "mm", unit)
    # A difference that is as large as its doubt but for rounding is not larger.
    if abs(change) <= expanded * (1 + 1e-9) or math.isclose(change, 0.0, abs_tol=1e-9):
        found = UNSURE
        text = f"No change that both measurements could show: {size}, and they may be off by {within}."
    elif change < 0:
        found, text = THINNER, f"Thinner than last time by {size}, give or take {within}."
    else:
        found = THICKER
        text = (
            f"Thicker than last time by {size}, and both measurements may be off by {within}: clean it and measure "
            "again, or check that it is the right plate."
        )
    return {"slot": plate["slot"], "change_mm": change, "expanded_mm": expanded, "found": found, "text": text}


def since_last(request: dict[str, Any]) -> dict[str, Any]:
    """How much each plate has changed since it was measured last.

    The difference is that of the lowest points, which limits judge: change = now - last, below 0 for wear. Each
    measurement's standard uncertainty is its guard band over the one-sided 95 % factor of a normal distribution,
    u = guard / 1.645, since all parts of a gauge's doubt are known by statement (infinite degrees of freedom). Both
    are taken as independent: u(change)^2 = u(now)^2 + u(last)^2, and expanded = 1.960 u(change), two-sided 95 %. The
    change is called real where it is larger than that. With one and the same gauge both times its constant error drops
    out of the difference, so that the true doubt is smaller: the verdict errs to "no change that could be shown". That
    the lowest point may lie elsewhere the second time is no part of it.

    Parameters
    ----------
    request : dict
        Checked by `FORM`. A plate that was exchanged since is another piece, and has no difference: it is left out.

    Returns
    -------
    dict
        plates, a row each in the order given: slot; change_mm; expanded_mm; found, one of `CHANGES`; text.

    Raises
    ------
    BadInput
        A slot named twice.

    Examples
    --------
    >>> row = {"slot": "A2", "now_mm": 2.34, "now_guard_mm": 0.006, "last_mm": 2.37, "last_guard_mm": 0.006}
    >>> [answer] = since_last(FORM.read({"plates": [row]}, ""))["plates"]
    >>> answer["text"]
    'Thinner than last time by 0.030 mm, give or take 0.010 mm.'

    References
    ----------
    1. JCGM 100:2008 (GUM), 5.1.2: the sum of independent parts, here of a difference; 5.2.2: what is left out where
       both have an error in common; 6.2: the expanded uncertainty.
    """
    once_each(request["plates"], "plates", "slot", "is there twice here: keep one of them.")
    return {"plates": [changed(plate, request["write_in"]) for plate in request["plates"]]}
