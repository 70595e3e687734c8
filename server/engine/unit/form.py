"""The form of a unit's definition: what it is called, what it is built of, and what it is judged by."""

from ..request.fields import Choice, Group, Listing, Number, Text, Whole, YesNo
from .features import features_field
from .held import JUDGED_ON, STATED_FOR
from .marked_parts import marked_field
from .marks import MARKS
from .pressing import OTHER_RAMPS, RAMPS
from .sits import SITS
from .spring import FIELDS
from .stack import LAYOUTS, PARTS
from .usual_limits import plate_limits
from .warming import WARMING

# The narrow end of the first disc's cone.
CONES = {"cover": "its point faces the cover", "floor": "its point faces the floor"}

FORM = Group(
    {
        "name": Text(60, "name of the unit", label="Name of the unit"),
        "owner": Text(80, "whose it is", default="", label="Owner"),
        "note": Text(2000, "anything worth knowing about it", default="", label="Anything to know about it"),
        "car_id": Text(
            40,
            "the car that it is fitted to, by the entry that brought that in",
            default="",
            label="Car that it is fitted to",
        ),
        "sits": Choice(SITS, "where in the car it sits", default=None, label="Where in the car it sits"),
        "customer_id": Text(
            40, "the customer whose it is, by the entry that brought that in; owner then says the name", default=""
        ),
        "plate_family": Text(
            80,
            "plates that fit it: rubbing ring, lugs or splines, material",
            default="",
            label="Plate family, if you keep several",
        ),
        "pattern": Group(
            {
                "id": Text(40, "the pattern's own id: that of its first entry"),
                "name": Text(60, "what it was called when this was written"),
                "seen": Text(
                    40,
                    "entry of the pattern as it was when its changes were last decided on; every difference is offered "
                    "if empty",
                    default="",
                ),
            },
            "the pattern that it is built to",
            default=None,
        ),
        "order": Group(
            {
                "torque_nm": Number(1, 2000, "nm", "breakaway torque ordered", label="Breakaway ordered"),
                "tolerance_nm": Number(0.1, 500, "nm", "how far off it may be, either way", label="Give or take"),
            },
            "what the customer ordered",
            default=None,
        ),
        "judged_on": Choice(
            JUDGED_ON, "reading that order and limits are for", default="steady", label="The unit is judged on"
        ),
        "stated_for": Choice(
            STATED_FOR,
            "way of holding that order and limits are stated for",
            default="one_output_held",
            label="These are stated for",
        ),
        "service": Group(
            {
                "low_nm": Number(
                    0,
                    2000,
                    "nm",
                    "lowest torque at which it may run again",
                    default=None,
                    label="Lowest torque it may run with",
                ),
                "high_nm": Number(
                    0,
                    4000,
                    "nm",
                    "highest torque at which it may run again",
                    default=None,
                    label="Highest torque it may run with",
                ),
                "plates_every_days": Whole(
                    7,
                    3650,
                    "days after which its plates are measured again; 365 if empty",
                    default=None,
                    label="Measure the plates every, days",
                ),
                "plates_every_outings": Whole(
                    1,
                    500,
                    "outings after which its plates are measured again",
                    default=None,
                    label="Plates measured every, outings",
                ),
                "plates_every_hours": Number(
                    0.5,
                    1000,
                    "",
                    "hours of running after which its plates are measured again",
                    default=None,
                    label="Plates measured every, hours",
                ),
                "check_every_outings": Whole(
                    1,
                    500,
                    "outings after which its torque is checked again",
                    default=None,
                    label="Torque checked every, outings",
                ),
                "check_every_hours": Number(
                    0.5,
                    1000,
                    "",
                    "hours of running after which its torque is checked again",
                    default=None,
                    label="Torque checked every, hours",
                ),
                "check_every_days": Whole(
                    1,
                    3650,
                    "days after which its torque is checked again",
                    default=None,
                    label="Torque checked every, days",
                ),
                "oil_every_outings": Whole(
                    1, 500, "outings after which its oil is changed", default=None, label="Oil changed every, outings"
                ),
                "oil_every_hours": Number(
                    0.5,
                    1000,
                    "",
                    "hours of running after which its oil is changed",
                    default=None,
                    label="Oil changed every, hours",
                ),
                "oil_every_days": Whole(
                    1, 3650, "days after which its oil is changed", default=None, label="Oil changed every, days"
                ),
            },
            "limits between rebuilds",
            default=None,
        ),
        "hub_ratio": Number(
            0.2, 10, "", "turns of the output for one turn of the wheel", default=1.0, label="Hub reduction"
        ),
        "layout": Choice(
            LAYOUTS,
            "where the spring sits; as the stack has it if empty",
            default=None,
            label="Where does the spring sit?",
        ),
        # Groups of other modules are made anew, so that they come in this order on the form.
        "spring": Group(FIELDS.fields, FIELDS.meaning, default=None, label="Disc spring"),
        "cavity_mm": Number(
            5, 500, "mm", "depth from the cover's face to the floor", default=None, label="Depth, cover face to floor"
        ),
        "chain": Listing(
            Group(
                {
                    "slot": Text(20, "place in the stack", label="place"),
                    "part": Choice(PARTS, "what sits there", label="part"),
                    "new_mm": Number(
                        0.05, 80, "mm", "thickness when new or as fitted", default=None, label="thickness"
                    ),
                    "minimum_mm": Number(
                        0.02, 80, "mm", "thickness at which it has to be replaced", default=None, label="limit"
                    ),
                    "cone_to": Choice(
                        CONES,
                        "side that the point of a disc spring's cone faces",
                        default=None,
                        label="point of its cone",
                    ),
                },
                "one part of the stack",
            ),
            5,
            80,
            "the stack from cover to floor",
            default=None,
            nouns="parts",
        ),
        "friction": Group(
            {
                "inner_mm": Number(10, 390, "mm", "inside diameter of the rubbing ring", label="Rubbing ring, inside"),
                "outer_mm": Number(
                    15, 400, "mm", "outside diameter of the rubbing ring", label="Rubbing ring, outside"
                ),
                "mu": Number(
                    0.02,
                    0.5,
                    "",
                    "coefficient of friction, plates in oil",
                    default=0.1,
                    label="Friction coefficient of the plates",
                ),
                "run_in": YesNo("whether the plates are run in", default=True),
            },
            "the rubbing ring of the plates",
            default=None,
        ),
        "ramps": Group(RAMPS.fields, RAMPS.meaning, default=None, label="Ramps"),
        "other_ramps": OTHER_RAMPS,
        "cover": Group(
            {
                "screws": Whole(2, 24, "how many screws hold the cover", label="How many"),
                "screw_mm": Number(3, 20, "mm", "thread diameter", label="Thread"),
                "torque_nm": Number(1, 300, "nm", "torque of a screw", label="Screw torque"),
                "start_mm": Number(
                    0,
                    20,
                    "mm",
                    "gap under the cover when the screws first catch; assumed if empty",
                    default=None,
                    label="Gap at first thread",
                ),
                "case_nm": Number(
                    1,
                    50000,
                    "nm",
                    "greatest torque into the case, which the ramps turn into push",
                    default=None,
                    label="Greatest torque at the case",
                ),
            },
            "the cover and its screws",
            default=None,
            label="Cover screws",
        ),
        "limits": plate_limits(),
        "warming": Group(WARMING.fields, WARMING.meaning, default=None),
        "features": features_field(),
        "marked_parts": marked_field(),
        "worked_out": Group(MARKS, "which of these figures were worked out, not measured", default=None),
    },
    "what is known of a unit",
)
