"""What is asked for where a crown wheel is set: shims, gears, contact pattern, what was tried before."""

from ..request.fields import Choice, Field, Group, Listing, Number, Whole

# Where the marking paste is wiped off, on the side of the crown wheel's teeth that drives the car forward.
CONTACTS = {
    "good": "in the middle, or a little towards the toe",
    "toe": "at the toe, the inner end of the tooth",
    "heel": "at the heel, the outer end of the tooth",
    "face": "high, along the tip of the tooth",
    "flank": "low, along the root of the tooth",
}

DEPTHS = {
    "deeper": "moves the pinion deeper, towards the middle of the crown wheel",
    "shallower": "moves the pinion out",
}

ALONG = {
    "tooth": "square to the tooth's flank",
    "round": "along the circle round the crown wheel",
}

MOST_TRIES = 20
THICKEST_MM = 30


def shim_fields() -> dict[str, Field]:
    """The shims of one try; each may stay empty."""
    return {
        "behind_mm": Number(
            0,
            THICKEST_MM,
            "mm",
            "shims at the bearing behind the crown wheel, on the side of its back, in all",
            default=None,
            label="Shims behind the crown wheel",
        ),
        "tooth_mm": Number(
            0,
            THICKEST_MM,
            "mm",
            "shims at the other bearing, on the side that the teeth face, in all",
            default=None,
            label="Shims on the tooth side",
        ),
        "pinion_mm": Number(
            0, THICKEST_MM, "mm", "shims that set the pinion's depth, in all", default=None, label="Shims at the pinion"
        ),
    }


def shims() -> Group:
    """The shims that are in now, and which are at hand."""
    fields = shim_fields()
    fields["thicker"] = Choice(
        DEPTHS, "what a thicker pinion shim does", default="deeper", label="A thicker shim at the pinion"
    )
    fields["step_mm"] = Number(
        0.001, 1, "mm", "steps in which shims are at hand", default=None, label="Shims are at hand in steps of"
    )
    return Group(fields, "shims that are in now", default=None, label="Shims")


def gears() -> Group:
    """Crown wheel and pinion, from the maker's drawing, and where the gauge stands."""
    return Group(
        {
            "pressure_deg": Number(
                5,
                35,
                "deg",
                "normal pressure angle of the flank that the gauge touches",
                default=None,
                label="Normal pressure angle",
            ),
            "other_pressure_deg": Number(
                5,
                35,
                "deg",
                "normal pressure angle of the other flank, where it differs",
                default=None,
                label="Pressure angle, other flank",
            ),
            "spiral_deg": Number(
                0,
                60,
                "deg",
                "spiral angle of the crown wheel at the middle of the tooth",
                default=None,
                label="Spiral angle of the crown wheel",
            ),
            "cone_deg": Number(
                30, 89, "deg", "pitch cone angle of the crown wheel", default=None, label="Pitch cone angle"
            ),
            "crown_teeth": Whole(5, 200, "teeth of the crown wheel", default=None, label="Teeth of the crown wheel"),
            "pinion_teeth": Whole(3, 100, "teeth of the pinion", default=None, label="Teeth of the pinion"),
            "mean_radius_mm": Number(
                5,
                500,
                "mm",
                "pitch radius of the crown wheel at the middle of the tooth",
                default=None,
                label="Pitch radius, middle of the tooth",
            ),
            "gauge_radius_mm": Number(
                5, 500, "mm", "radius at which the gauge touches", default=None, label="Radius at the gauge"
            ),
            "along": Choice(ALONG, "which way the gauge stands", default="tooth", label="The gauge stands"),
        },
        "crown wheel and pinion as the maker's drawing has them",
        default=None,
        label="Gears",
    )


def contact() -> Group:
    """The contact pattern."""
    return Group(
        {"drive": Choice(CONTACTS, "where the paste is wiped off, drive side", label="Contact pattern")},
        "contact pattern by marking paste",
        default=None,
        label="Contact pattern",
    )


def tries() -> Listing:
    """What was tried before, the oldest first."""
    fields = shim_fields()
    tooth = Number(0, 5, "mm", "backlash at one tooth", label="tooth")
    fields["points_mm"] = Listing(tooth, 1, 60, "backlash that this try had", default=None, nouns="teeth")
    fields["torque_nm"] = Number(
        0, 100, "nm", "turning torque of the carrier bearings, mean", default=None, label="Turning torque"
    )
    fields["contact"] = Choice(CONTACTS, "contact pattern, drive side", default=None, label="Contact pattern")
    return Listing(
        Group(fields, "one try"), 0, MOST_TRIES, "what was tried before, the oldest first", default=[], nouns="tries"
    )
