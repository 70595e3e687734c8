"""Where in the car a unit sits, and what is said otherwise of one that sits between the axles."""

from typing import Any

from ..request.errors import BadInput

FRONT, REAR, CENTRE = "front", "rear", "centre"
SITS = {FRONT: "front axle", REAR: "rear axle", CENTRE: "centre, between the axles"}

BACK_INTO_AXLE = "Back into the axle"
BACK_INTO_HOUSING = "Back into its housing"

NOT_IN_A_CORNER = (
    "This unit sits between the axles: its outputs are the shafts to the front and to the rear, not two wheels. What "
    "is worked out here is about the left and the right wheel of one axle, so it says nothing of this unit."
)
ON_THE_BENCH = (
    "This unit sits between the axles: its outputs are the shafts to the front and to the rear, and each leads through "
    "another differential to two wheels. Check it on the bench; on the car only if the maker says how."
)


def sits_in(unit: dict[str, Any] | None) -> str | None:
    """A key of `SITS` out of a definition, typed or checked; None where nobody said, as in definitions of old.

    >>> sits_in({"name": "Bramble 1"}), sits_in({"sits": "centre"})
    (None, 'centre')
    """
    where = None if unit is None else unit.get("sits")
    return where if where in SITS else None


def where_it_sits(unit: dict[str, Any] | None) -> dict[str, Any]:
    """What screens say of where a unit sits.

    Returns
    -------
    dict
        where, a key of `SITS` or None; text, the same in words, blank where nobody said; corner, why nothing is said of
        corners, wheels and complaints; car, why it is not checked on the car: both blank where it is; goes_back, what
        the step is called in which it goes back.
    """
    where = sits_in(unit)
    centre = where == CENTRE
    return {
        "where": where,
        "text": "" if where is None else SITS[where],
        "corner": NOT_IN_A_CORNER if centre else "",
        "car": ON_THE_BENCH if centre else "",
        "goes_back": BACK_INTO_HOUSING if centre else BACK_INTO_AXLE,
    }


def refuse_centre(built: dict[str, Any] | None) -> None:
    """Refuse a unit between the axles, as it is built, where two wheels of one axle are looked at."""
    if built is not None and sits_in(built["unit"]) == CENTRE:
        raise BadInput("built.unit.sits", NOT_IN_A_CORNER)


def outputs_of(unit: dict[str, Any] | None) -> str:
    """What both outputs of a unit turn.

    >>> outputs_of(None), outputs_of({"sits": "centre"})
    ('both wheels', 'front and rear')
    """
    return "front and rear" if sits_in(unit) == CENTRE else "both wheels"
