"""Results of an axle with a unit: traction straight ahead, and a steady corner."""

from ..corner.corner import SLIDES
from ..corner.difference import STATES
from ..corner.zones import ZONES
from ..drive.candidates import KINDS
from ..request.fields import Choice, Listing, YesNo
from .car import CAR
from .fields import Figure, Maybe, Result, Sometimes, Words
from .shared import TEXT, concerns

ASKED = "a torque into the case was given"
TURN = "a turn was given"
PITCHES = "driving force shifts load along the car"

TRACTION = Result(
    {
        "left_nm": Figure("nm", "what the left wheel can put down", 0),
        "right_nm": Figure("nm", "what the right wheel can put down", 0),
        "open_nm": Figure("nm", "torque into the case that an open axle puts down", 0),
        "unit_nm": Figure("nm", "torque into the case put down with this unit", 0),
        "unit_low_nm": Maybe(Figure("nm", "the least that it may be, 95 %; empty without a unit", 0)),
        "unit_high_nm": Maybe(Figure("nm", "the most that it may be, 95 %; empty without a unit", 0)),
        "preload_lock_nm": Figure("nm", "lock of both packs from preload alone that was counted on", 0),
        "locking_value": Figure("", "locking value without the preload that was counted on", 0),
        "solid_nm": Figure("nm", "torque into the case that a solid axle puts down", 0),
        "push_n": Figure("n", "push of both wheels with this unit", 0),
        "gain": Maybe(Figure("", "share of what a solid axle would gain over an open one; empty if nothing", 0)),
        "text": TEXT,
        "warnings": concerns("figures of the unit that were worked out, not measured"),
        "put_down_nm": Sometimes(Figure("nm", "what is put down of the torque asked for", 0), ASKED),
        "spare_nm": Sometimes(Figure("nm", "what spins a wheel", 0), ASKED),
        "spins": Sometimes(
            Choice(
                {"none": "neither", "left": "the left one", "right": "the right one", "both": "both"},
                "which wheel spins",
            ),
            ASKED,
        ),
        "turn_slip_percent": Sometimes(
            Figure("percent", "by how much the wheels of a solid axle slip against each other", 0), TURN
        ),
        "turn_slip_each_percent": Sometimes(
            Figure("percent", "by how much each wheel of a solid axle slips on the ground in the turn", 0), TURN
        ),
        "turn_lock_nm": Sometimes(Figure("nm", "torque by which the unit resists the turn", 0), TURN),
        "turn_helps_nm": Sometimes(Figure("nm", "torque by which the unit helps the turn", 0), TURN),
        "turn_most_nm": Sometimes(Figure("nm", "the most by which it could resist: all that the plates hold", 0), TURN),
    },
    "what an axle puts down",
)

ALL_STATES = STATES.copy()
ALL_STATES[SLIDES] = "the axle slides sideways whatever the differential does"

CORNER = Result(
    {
        "load_inner_n": Figure("n", "load of the inner wheel", 0),
        "load_outer_n": Figure("n", "load of the outer wheel", 0),
        "lifted": YesNo("whether the inner wheel is off the ground"),
        "grip_inner": Figure("", "coefficient of friction of the inner wheel", 0),
        "grip_outer": Figure("", "coefficient of friction of the outer wheel", 0),
        "side_inner_n": Figure("n", "side force of the inner wheel; below 0 outwards, where the yaw is balanced"),
        "side_outer_n": Figure("n", "side force of the outer wheel; below 0 outwards, where the yaw is balanced"),
        "use": Figure("", "share of the grip that the side force takes; from 1 up the axle slides", 0),
        "left_inner_nm": Figure("nm", "torque that the inner wheel has grip left for", 0),
        "left_outer_nm": Figure("nm", "torque that the outer wheel has grip left for", 0),
        "lock_nm": Figure("nm", "difference of the torques that the plates can hold, at the torque put down", 0),
        "demand_nm": Figure("nm", "inner less outer torque of a solid axle"),
        "difference_nm": Figure("nm", "inner less outer torque with the unit"),
        "inner_nm": Figure("nm", "torque of the inner wheel"),
        "outer_nm": Figure("nm", "torque of the outer wheel"),
        "put_down_nm": Figure("nm", "what both wheels put down of the torque asked for"),
        "state": Choice(ALL_STATES, "which wheel turns faster"),
        "inner_at_limit": YesNo("whether the inner wheel has no grip left"),
        "outer_at_limit": YesNo("whether the outer wheel has no grip left"),
        "speed_difference_percent": Maybe(
            Figure(
                "percent",
                "by how much of the car's speed the outer wheel turns faster; empty where a wheel slides freely",
            )
        ),
        "most_nm": Figure("nm", "torque beyond which not all is put down: the inner wheel slides, or both do", 0),
        "most_low_nm": Maybe(Figure("nm", "the least that it may be, 95 %; empty without a unit", 0)),
        "most_high_nm": Maybe(Figure("nm", "the most that it may be, 95 %; empty without a unit", 0)),
        "gone_nm": Maybe(
            Figure("nm", "torque at which it leaves its line; empty if it keeps it however fast a wheel spins", 0)
        ),
        "open_nm": Figure("nm", "torque beyond which an open axle does not put down all", 0),
        "solid_nm": Figure("nm", "torque beyond which a solid axle does not put down all", 0),
        "coast_most_nm": Figure("nm", "engine braking beyond which not all is put down", 0),
        "coast_gone_nm": Maybe(
            Figure("nm", "engine braking at which it leaves its line; empty if it keeps it however much is dragged", 0)
        ),
        "changes_at_nm": Figure("nm", "torque from which the difference helps the tail round", 0),
        "changes_low_nm": Figure("nm", "the least that it may be, with tyres 15 to 30 stiff", 0),
        "changes_high_nm": Figure("nm", "the most that it may be, with tyres 15 to 30 stiff", 0),
        "even_lock": Figure("", "locking value from which both wheels let go together"),
        "yaw_nm": Figure("nm", "moment that turns the car further into the corner"),
        "yaw_side_n": Figure("n", "side force at the other axle that does the same"),
        "side_spare_n": Figure("n", "side force that the axle has to spare"),
        "spun_side_spare_n": Maybe(
            Figure(
                "n", "side force to spare on drive, with the inner wheel spinning; empty if the other axle lifts first"
            )
        ),
        "speed_ms": Figure("ms", "speed of the car", 0),
        "lifts_nm": Sometimes(
            Figure(
                "nm", "torque, or of a front axle engine braking, that lifts the other axle; no limit is beyond it", 0
            ),
            PITCHES,
        ),
        "other_lifted": Sometimes(YesNo("whether the torque asked for lifts the other axle off the ground"), PITCHES),
        "text": TEXT,
        "warnings": concerns("figures of the unit that were worked out, not measured"),
    },
    "a driven axle in a steady corner",
)

EDGES = Listing(Maybe(Figure("nm", "torque at the axle; empty where the zone is not there")), 0, 61, "over the columns")

ZONE = Result(
    {
        "zone": Choice(ZONES, "which zone"),
        "from_nm": EDGES,
        "to_nm": EDGES,
        "depth": Listing(
            Maybe(Figure("", "how strongly it turns the car; empty where the zone is not there", 0, 1)),
            0,
            61,
            "over the columns",
        ),
    },
    "a zone over all columns",
)

POINT = Result(
    {
        "zone": Choice(ZONES, "in which zone it lies"),
        "zone_text": Words("the same in words"),
        "inner_nm": Figure("nm", "torque of the inner wheel"),
        "outer_nm": Figure("nm", "torque of the outer wheel"),
        "left_inner_nm": Figure("nm", "torque that the inner wheel has grip left for", 0),
        "left_outer_nm": Figure("nm", "torque that the outer wheel has grip left for", 0),
        "put_down_nm": Figure("nm", "what both wheels put down"),
        "most_nm": Figure("nm", "torque beyond which not all is put down: the inner wheel slides, or both do", 0),
        "yaw_nm": Figure("nm", "moment that turns the car further into the corner"),
        "yaw_side_n": Figure("n", "side force at the other axle that does the same"),
        "outer_at_limit": YesNo("whether the outer wheel has no grip left"),
        "state": Choice(ALL_STATES, "which wheel turns faster"),
        "text": TEXT,
    },
    "what it does at the point",
)

PANEL_KINDS = KINDS.copy()
PANEL_KINDS.update({"open": "an open axle", "solid": "a solid axle"})

CORNER_MAP = Result(
    {
        "radius_m": Figure("m", "radius of the corner", 0),
        "speed_ms": Figure("ms", "speed at its limit", 0),
        "limit_ms2": Figure("ms2", "lateral acceleration from which the axle slides", 0),
        "lateral_ms2": Listing(Figure("ms2", "lateral acceleration", 0), 0, 61, "the columns"),
        "foot_nm": Figure("nm", "the least torque that is drawn, engine braking"),
        "top_nm": Figure("nm", "the most torque that is drawn", 0),
        "panels": Listing(
            Result(
                {
                    "kind": Choice(PANEL_KINDS, "what is built"),
                    "name": Words("what it is called"),
                    "zones": Listing(ZONE, 0, 20, "its zones"),
                    "most": Listing(
                        Result(
                            {
                                "low_nm": Figure("nm", "the least that it may be, 95 %", 0),
                                "high_nm": Figure("nm", "the most that it may be, 95 %", 0),
                            },
                            "torque beyond which not all is put down",
                        ),
                        0,
                        61,
                        "its doubt over the columns; empty unless asked for",
                    ),
                    "rows": Listing(
                        Result(
                            {"lateral_ms2": Figure("ms2", "lateral acceleration", 0), "text": TEXT},
                            "one lateral acceleration in words",
                        ),
                        0,
                        3,
                        "the picture in words",
                    ),
                    "point": Maybe(POINT),
                },
                "one way to build the unit",
            ),
            2,
            40,
            "open, each way to build the unit, solid",
        ),
        "turns": Listing(
            Result(
                {
                    "value_nm": Figure("nm", "most likely", 0),
                    "low_nm": Figure("nm", "the least that it may be", 0),
                    "high_nm": Figure("nm", "the most that it may be", 0),
                },
                "where it turns from nose to tail, the same for every lock",
            ),
            0,
            61,
            "over the columns; empty unless the doubt is asked for",
        ),
        "gears": CAR.fields["gears"],
        "text": TEXT,
    },
    "zones over lateral acceleration and throttle",
)
