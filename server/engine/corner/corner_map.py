"""The picture of a corner: zones over lateral acceleration and throttle, for each way to build the unit."""

import math
from typing import Any

from ..car.car import FIELDS, figures_of, torques_of
from ..car.car import FORM as CAR
from ..drive.candidates import TRIES, all_candidates, known_of
from ..drive.known_unit import BUILT_NOW
from ..request.errors import BadInput, inside
from ..request.fields import Group, Number, Whole, YesNo
from ..request.units import GRAVITY, say
from ..request.written_in import with_written_in
from ..unit.sits import refuse_centre
from .axle import Axle, wheels_at, yaw_moment
from .balanced import Corner, most_at
from .corner import shared_of, state_there, text_of
from .difference import OPEN, SOLID, Locks
from .doubt import most_ranges, turn_range
from .limits import at_limit
from .unit_locks import UnitLocks, locks_of
from .zones import BOTH_GO, SHORT, SLIDES, ZONES, Band, as_lists, bands_at, depth_of, zone_at

# A difference is even where the side force at the other axle that would do the same is below this share of the weight
# on the driven axle, and as deep as it is drawn at that many times as much: our own choice, for the eye.
EVEN_SHARE, DEEPEST = 0.01, 8.0

# What a car is not, which no picture here knows.
LEFT_OUT = (
    "Left out: grip that falls past its peak, aerodynamics, roll angle, steer angle, rolling resistance, and anything "
    "that changes quicker than the car settles. Drivers and tracks differ: try a change where there is room to go "
    "wrong; the makers of car and tyres and a qualified person come first."
)

FORM = Group(
    with_written_in(
        {
            "car": Group(FIELDS, "the car, as it is kept", default=None),
            "built": BUILT_NOW,
            "tries": TRIES,
            "radius_m": Number(4, 1000, "m", "radius of the corner", default=30.0),
            "points": Whole(0, 61, "columns of each picture; none draws nothing and tells the point alone", default=13),
            "blur": YesNo("whether the doubt of the limits is told", default=False),
            "point": Group(
                {
                    "lateral_ms2": Number(0, 40, "ms2", "lateral acceleration"),
                    "torque_nm": Number(-50000, 50000, "nm", "torque at the axle; below 0 the engine brakes"),
                },
                "one point of the picture",
                default=None,
            ),
        },
        "write_in",
    ),
    "a corner for each way to build a unit",
)

USUAL_CAR = CAR.read({"name": "a usual car"}, "car")

# Shares of the limit at which the picture is told in words.
IN_WORDS = (1 / 3, 2 / 3, 0.9)

# Figures of a car that move its limits.
MOVING = ("mass_kg", "weight_share", "cg_mm", "track_mm", "tyre_mm", "transfer_share", "grip", "along", "sensitivity")


def corner_with(rear: bool, values: dict[str, float], lateral: float, radius: float) -> Corner:
    """The corner of a car by its figures."""
    axle = Axle(
        rear,
        values["mass_kg"],
        values["weight_share"],
        values["transfer_share"],
        values["cg_mm"] / 1000.0,
        values["track_mm"] / 1000.0,
        values["wheelbase_mm"] / 1000.0,
        values["tyre_mm"] / 1000.0,
        values["grip"],
        values["along"],
        values["sensitivity"],
        values["stiffness"],
        False,
        False,
    )
    return Corner(axle, lateral, values["track_mm"] / 2000.0 / radius)


def limit_of(axle: Axle) -> float:
    """Lateral acceleration from which an axle slides, m/s2."""
    low, high = 0.0, 60.0
    for _ in range(30):
        middle = (low + high) / 2.0
        if wheels_at(axle, middle).use < 1.0:
            low = middle
        else:
            high = middle
    return low


def read_car(car: dict[str, Any]) -> tuple[list[dict[str, Any]], list[dict[str, Any]]]:
    """Figures and torques by gear of a car inside a request; refusals name the path in that."""
    try:
        return figures_of(car), torques_of(car)
    except BadInput as refusal:
        raise BadInput(inside("car", refusal.field), refusal.reason) from None


class Setting:
    """A car and a corner: figures likely and at their ends, and the ends of the picture."""

    def __init__(self, car: dict[str, Any], radius: float) -> None:
        self.rear = car["axle"] == "rear"
        self.radius = radius
        rows, self.gears = read_car(car)
        self.values = {row["name"]: row["value"] for row in rows}
        self.ends = {row["name"]: (row["low"], row["high"]) for row in rows}
        straight = wheels_at(self.at(0.0).axle, 0.0)
        self.top = 1.1 * (straight.full_in + straight.full_out)
        self.foot = -0.35 * self.top
        # A little beyond the limit, so that the slide is seen.
        self.lateral = 1.06 * self.limit()
        axle = self.at(0.0).axle
        # A difference that is not felt, N·m, and a yaw moment as deep as is drawn, N·m.
        small = EVEN_SHARE * axle.share * axle.mass * GRAVITY * axle.base
        self.even = small * 2.0 * axle.radius / axle.track
        self.full = DEEPEST * small

    def at(self, lateral: float) -> Corner:
        """The corner at a lateral acceleration, m/s2."""
        return corner_with(self.rear, self.values, lateral, self.radius)

    def others(self, names: tuple[str, ...], lateral: float) -> list[tuple[Corner, Corner]]:
        """The same with each of these figures at its one end and at its other."""
        rows = []
        for name in names:
            corners = []
            for end in self.ends[name]:
                values = self.values.copy()
                values[name] = min(end, 1.0 / 3.0) if name == "sensitivity" else end
                corners.append(corner_with(self.rear, values, lateral, self.radius))
            rows.append((corners[0], corners[1]))
        return rows

    def limit(self) -> float:
        """Lateral acceleration from which the axle slides, m/s2."""
        return limit_of(self.at(0.0).axle)


def column(setting: Setting, lateral: float, locks: Locks, torque: float = 0.0) -> tuple[Corner, Any, list[Band]]:
    """The corner at a lateral acceleration, its wheels and its zones, as far as the picture and a torque, N·m, go."""
    corner = setting.at(lateral)
    wheels = wheels_at(corner.axle, lateral)
    ends = (min(setting.foot, torque), max(setting.top, torque))
    return corner, wheels, bands_at(corner, wheels, locks, setting.even, ends)


def panel(setting: Setting, laterals: list[float], locks: Locks) -> list[dict[str, Any]]:
    """The zones of one way to build the unit, over all columns."""
    columns = []
    for lateral in laterals:
        corner, wheels, bands = column(setting, lateral, locks)
        columns.append([(band, depth_of(corner, wheels, locks, band, setting.full)) for band in bands])
    return as_lists(columns)


def in_words(bands: list[Band], unit: str) -> str:
    """A column of the picture in words, from no throttle up."""
    rows = [band for band in bands if band.high > 0.0]
    parts = []
    for place, band in enumerate(rows):
        words = SHORT[band.zone]
        parts.append(words if place == len(rows) - 1 else f"{words} to {say(band.high, 'nm', unit)}")
    return ", ".join(parts)


def point_row(setting: Setting, point: dict[str, Any], locks: Locks, unit: str) -> dict[str, Any]:
    """What one way to build the unit does at one point of the picture."""
    wanted_nm = point["torque_nm"]
    corner, wheels, bands = column(setting, point["lateral_ms2"], locks, wanted_nm)
    most = most_at(corner, locks)
    shared = shared_of(corner, locks, wanted_nm, most, most_at(corner, locks, -1.0))
    outer = (shared.torque - shared.difference) / 2.0
    yaw_nm = yaw_moment(corner.axle, shared.difference)
    zone = zone_at(bands, wanted_nm)
    row = {
        "zone": zone,
        "zone_text": ZONES[zone],
        "inner_nm": (shared.torque + shared.difference) / 2.0,
        "outer_nm": outer,
        "left_inner_nm": wheels.left_in,
        "left_outer_nm": wheels.left_out,
        "put_down_nm": shared.torque,
        "most_nm": most,
        "yaw_nm": yaw_nm,
        "yaw_side_n": yaw_nm / corner.axle.base,
        "outer_at_limit": at_limit(outer, wheels.left_out),
        "state": state_there(shared, wanted_nm),
    }
    row["text"] = text_of(row, wanted_nm, zone in (BOTH_GO, SLIDES), unit)
    return row


def shown_of(request: dict[str, Any]) -> list[tuple[str, str, UnitLocks]]:
    """Kind, name and locks of everything that is drawn: open, each way to build the unit, solid."""
    refuse_centre(request["built"])
    rows = [("open", "open axle", UnitLocks(OPEN, [], [], []))]
    rows += [
        (row.kind, row.name, locks_of(row)) for row in all_candidates(known_of(request["built"]), request["tries"])
    ]
    rows.append(("solid", "solid axle", UnitLocks(SOLID, [], [], [])))
    return rows


def laterals_of(setting: Setting, points: int) -> list[float]:
    """The columns of the picture, m/s2."""
    return [setting.lateral * place / (points - 1) for place in range(points)] if points > 1 else []


def doubts(
    setting: Setting, laterals: list[float], units: list[UnitLocks]
) -> tuple[list[list[dict[str, Any]]], list[dict[str, Any]]]:
    """Over the columns: the range of the most for each lock, and where it turns from nose to tail with its range."""
    most: list[list[dict[str, Any]]] = [[] for _ in units]
    turns = []
    for lateral in laterals:
        likely, others = setting.at(lateral), setting.others(MOVING, lateral)
        for place, (low, high) in enumerate(most_ranges(likely, others, units)):
            most[place].append({"low_nm": low, "high_nm": high})
        value, low, high = turn_range(likely, others + setting.others(("stiffness",), lateral))
        turns.append({"value_nm": value, "low_nm": low, "high_nm": high})
    return most, turns


def corner_map(request: dict[str, Any]) -> dict[str, Any]:
    """Zones over lateral acceleration and throttle, for each way to build the unit, an open and a solid axle.

    Parameters
    ----------
    request : dict
        Checked by `FORM`.

    Returns
    -------
    dict
        radius_m, and speed_ms at its limit; lateral_ms2, the columns; foot_nm and top_nm, the ends of the throttle;
        panels, one each: name, kind, zones (edges over the columns, with how strongly they turn the car, 0 to 1), most
        with its range where `blur` is asked for, rows (the same in words at a third, two thirds and nine tenths of the
        limit), and point, what it does at the point; turns, where it turns from nose to tail, the same for all, with
        its range; gears, torque in each gear where it is known; text.

    Raises
    ------
    BadInput
        A unit of which too little is known for a lock, or a car that contradicts itself.
    """
    car, write_in, points, point = request["car"], request["write_in"], request["points"], request["point"]
    setting = Setting(USUAL_CAR if car is None else car, request["radius_m"])
    shown, limit = shown_of(request), setting.limit()
    laterals = laterals_of(setting, points)
    most, turns = doubts(setting, laterals if request["blur"] else [], [unit for _, _, unit in shown])
    panels = []
    for place, (kind, name, unit) in enumerate(shown):
        rows = [
            {"lateral_ms2": share * limit, "text": in_words(column(setting, share * limit, unit.locks)[2], write_in)}
            for share in (IN_WORDS if points else ())
        ]
        panels.append(
            {
                "kind": kind,
                "name": name,
                "zones": panel(setting, laterals, unit.locks),
                "most": most[place],
                "rows": rows,
                "point": None if point is None else point_row(setting, point, unit.locks, write_in),
            }
        )
    return {
        "radius_m": request["radius_m"],
        "speed_ms": math.sqrt(limit * request["radius_m"]),
        "limit_ms2": limit,
        "lateral_ms2": laterals,
        "foot_nm": setting.foot,
        "top_nm": setting.top,
        "panels": panels,
        "turns": turns,
        "gears": setting.gears,
        "text": LEFT_OUT,
    }
