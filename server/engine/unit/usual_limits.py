"""Limits where the user gives none: common practice, no source; the maker's figures come first."""

from ..request.fields import Group, Number

USUAL_TAPER_MM = 0.03
USUAL_FLATNESS_MM = 0.10
# How far off, either way, a thickness may be: read with a micrometer to a hundredth, or of a new or sorted plate that
# nobody measured.
MEASURED_WITHIN_MM = 0.005
UNMEASURED_WITHIN_MM = 0.02

# How far off the depth from the cover's face to the floor may be, either way.
CAVITY_WITHIN_MM = 0.05

# Gap under the cover when its screws first catch.
USUAL_START_MM = 2.0

# A plate is worn out at this share of its thickness when new.
USUAL_WEAR = 0.92


def plate_limits() -> Group:
    """The fields of the limits that all plates of a unit share, made anew so that they keep their place on a form."""
    return Group(
        {
            "taper_mm": Number(
                0.001, 5, "mm", "largest difference round a plate", default=USUAL_TAPER_MM, label="Taper"
            ),
            "flatness_mm": Number(
                0.001, 5, "mm", "largest gap under a plate", default=USUAL_FLATNESS_MM, label="Out of flat"
            ),
        },
        "limits common to all plates",
        default={"taper_mm": USUAL_TAPER_MM, "flatness_mm": USUAL_FLATNESS_MM},
    )


def usual_minimum(new: float) -> float:
    """Thickness, mm, at which a plate of `new` mm is worn out where nobody gave its limit, to a micrometre.

    >>> usual_minimum(2.5)
    2.3
    """
    return round(1000 * USUAL_WEAR * new) / 1000
