"""Somebody who sets a crown wheel with a flank of a tooth in three dimensions and a bag of shims.

Source: first principles. Each flank is a plane through the pitch point. How far a crown wheel can be turned between
its two flanks is found from the planes' normals, so that backlash for each mm sideways, and what the pinion takes of
it, come out of the same two vectors. Shims in steps are looked for among all pairs. Doubts are those that the notes of
`inspection` and of `refit` state: JCGM 100:2008, 4.3.7 (rectangular parts), 5.1.2 (their sum). What to do for which
contact pattern is common practice, no source.
"""

import math
from typing import Any

Vector = tuple[float, float, float]
# Two-sided 95 % and one-sided 95 % of the normal distribution.
SURE, ONE_SIDED = 1.959964, 1.644854
SIDES = {"toe": 1, "heel": -1}
OPPOSITE = {"toe": "heel", "heel": "toe", "face": "flank", "flank": "face"}
DEEPER = {"face": 1, "flank": -1}


class OnTheEdgeError(Exception):
    """A case that rounding alone decides."""


def surely(number: float, limit: float, margin: float = 1e-7) -> bool:
    """Whether a number is above a limit, where it is not on it."""
    if abs(number - limit) < margin:
        raise OnTheEdgeError
    return number > limit


def dot(left: Vector, right: Vector) -> float:
    return sum(a * b for a, b in zip(left, right))


def mix(*parts: tuple[float, Vector]) -> Vector:
    x, y, z = (sum(share * vector[axis] for share, vector in parts) for axis in range(3))
    return x, y, z


# At a point of the crown wheel: out along its radius, round it, and along its axis away from the pinion.
OUT, ROUND, AWAY = (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)


def flanks(gears: dict[str, Any], cone: float) -> list[Vector]:
    """The normals of a tooth's two flanks, each out of the metal of the crown wheel, the one at the gauge first."""
    spiral = math.radians(gears["spiral_deg"])
    along_cone = mix((math.sin(cone), OUT), (math.cos(cone), AWAY))
    top = mix((math.cos(cone), OUT), (-math.sin(cone), AWAY))
    across = mix((math.cos(spiral), ROUND), (-math.sin(spiral), along_cone))
    angles = [gears["pressure_deg"], gears.get("other_pressure_deg", gears["pressure_deg"])]
    return [
        mix((way * math.cos(math.radians(angle)), across), (math.sin(math.radians(angle)), top))
        for way, angle in zip((1, -1), angles)
    ]


def play(normals: list[Vector], moved: Vector) -> float:
    """How far the wheel's pitch point can go round from flank to flank, once the wheel has moved out of mesh."""
    return sum(-dot(moved, normal) / abs(dot(ROUND, normal)) for normal in normals)


def cone_in(gears: dict[str, Any]) -> float | None:
    if "cone_deg" in gears:
        return math.radians(gears["cone_deg"])
    if "crown_teeth" in gears and "pinion_teeth" in gears:
        return math.atan2(gears["crown_teeth"], gears["pinion_teeth"])
    return None


def ratio_in(gears: dict[str, Any]) -> tuple[float, float, float, str]:
    """Backlash at the gauge for each mm sideways, least, most, and where that is from."""
    cone = cone_in(gears)
    if cone is None or "pressure_deg" not in gears or "spiral_deg" not in gears:
        return 0.7, 0.5, 0.9, "usual"
    normals = flanks(gears, cone)
    value, doubt = play(normals, AWAY), 0.1
    if gears.get("along", "tooth") == "tooth":
        value *= abs(dot(ROUND, normals[0]))
    if "mean_radius_mm" in gears and "gauge_radius_mm" in gears:
        value *= gears["gauge_radius_mm"] / gears["mean_radius_mm"]
    else:
        value, doubt = value * 1.1, math.hypot(doubt, 0.1 / 1.1)
    return value, value * (1 - doubt), value * (1 + doubt), "geometry"


def sideways_with_pinion(gears: dict[str, Any]) -> float:
    """How far the wheel goes away for each mm that the pinion goes in, so that it keeps its play."""
    cone = cone_in(gears)
    if cone is None:
        return 0.25
    normals = flanks({"pressure_deg": 20, "spiral_deg": 30}, cone)
    # The pinion comes in: to it, the wheel goes out. What that takes, so much sideways gives back.
    return -play(normals, OUT) / play(normals, AWAY)


def line_through(points: list[tuple[float, float]], u_along: float, u_up: float) -> tuple[float, float] | None:
    """Slope and its expanded uncertainty."""
    n = len(points)
    x0, y0 = sum(x for x, _ in points) / n, sum(y for _, y in points) / n
    spread = sum((x - x0) ** 2 for x, _ in points)
    if spread < 1e-12:
        return None
    slope = sum((x - x0) * (y - y0) for x, y in points) / spread
    u2 = u_up**2 + (slope * u_along) ** 2
    if n > 2:
        u2 = max(u2, sum((y - y0 - slope * (x - x0)) ** 2 for x, y in points) / (n - 2))
    return slope, SURE * math.sqrt(u2 / spread)


def sure(line: tuple[float, float] | None) -> bool:
    return line is not None and surely(line[0], 0) and not surely(line[1], 0.5 * line[0], 1e-6)


def place(shims: dict[str, Any]) -> float | None:
    """Away from the pinion: half of what the tooth side has more."""
    return (shims["tooth_mm"] - shims["behind_mm"]) / 2 if "tooth_mm" in shims and "behind_mm" in shims else None


def middle(points: list[float]) -> float:
    return (min(points) + max(points)) / 2


class Fitter:
    """Somebody who sets a crown wheel with vectors and a bag of shims."""

    def __init__(self, request: dict[str, Any], torque_good: bool) -> None:
        self.request, self.torque_good = request, torque_good
        self.shims, self.gears = request.get("shims", {}), request.get("gears", {})
        self.tries, self.step = request.get("tries", []), self.shims.get("step_mm")
        self.ratio = ratio_in(self.gears)
        self.contact = request.get("contact", {}).get("drive", "good")
        self.move, self.span, self.by_contact = 0.0, (0.0, 0.0), False

    def read_backlash(self) -> None:
        given = self.request["backlash"]
        gauge, points = given["gauge"], given["points_mm"]
        error2 = gauge["certificate_mm"] ** 2 / 4 if "certificate_mm" in gauge else gauge["deviation_mm"] ** 2 / 3
        error2 += gauge.get("zero_mm", 0) ** 2 / 3
        each2 = gauge["division_mm"] ** 2 / 12
        # How far the needle goes is read at both of its ends.
        self.u = math.sqrt(error2 + 2 * each2)
        self.guard = ONE_SIDED * self.u
        self.found, self.least, self.most = middle(points), min(points), max(points)
        low, high = given["low_mm"], given["high_mm"]
        self.aim = given.get("wanted_mm", (low + high) / 2 if low else None)
        inside = surely(high - self.most, self.guard, 1e-6) and (not low or surely(self.least - low, self.guard, 1e-6))
        # What is inside its limits is only moved for a wish that the gauge can tell from what is there.
        wish = "wanted_mm" in given and surely(abs(given["wanted_mm"] - self.found), SURE * self.u, 1e-6)
        self.needed = wish or not inside
        now = self.shims.get("pinion_mm")
        alike = [{**row} for row in self.tries if row.get("pinion_mm") == now]
        # A tooth without any backlash says nothing of how far the wheel is in.
        seen = [(place(row), middle(row["points_mm"])) for row in alike if min(row.get("points_mm", [0])) > 0]
        here = place(self.shims)
        if here is not None and self.least > 0:
            rows = [(x, y) for x, y in [*seen, (here, self.found)] if x is not None]
            line = line_through(rows, 0.005 / math.sqrt(3) / math.sqrt(2), self.u)
            if sure(line) and line is not None:
                self.ratio = line[0], line[0] - line[1], line[0] + line[1], "tries"

    def move_for_backlash(self) -> None:
        if self.aim is None:
            return
        short, within = self.aim - self.found, SURE * self.u
        self.move = short / self.ratio[0]
        ends = [(short + off) / ratio for off in (-within, within) for ratio in self.ratio[1:3]]
        self.span = min(ends), max(ends)

    def move_for_contact(self) -> None:
        """The wheel, by what is at the toe or the heel."""
        way, given = SIDES[self.contact], self.request["backlash"]
        room = given["high_mm"] - self.most if way > 0 else self.least - given["low_mm"]
        room = (room - self.guard) / self.ratio[2]
        if not surely(room, 0.01, 0.005):
            return
        here = place(self.shims)
        others = [place(row) for row in self.tries if row.get("contact") == OPPOSITE[self.contact]]
        ahead = [] if here is None else [(x - here) * way for x in others if x is not None]
        if any(gap <= 0 for gap in ahead):
            raise OnTheEdgeError
        far = min(ahead) / 2 if ahead else 0.05
        ends = (0.0, 2 * far) if ahead else (0.05, 0.1)
        far = min(far, room)
        self.span = tuple(sorted(way * min(end, room) for end in ends))
        if self.step is not None:
            top = math.floor(min(max(ends), room) / self.step + 1e-9)
            # Never onto the try whose pattern was the opposite.
            counts = [n for n in range(top + 1) if not ahead or n * self.step < min(ahead) - 1e-6]
            far = self.step * min(counts, key=lambda n: (round(abs(n * self.step - far), 9), -n))
        self.move, self.by_contact = way * far, True

    def move_pinion(self) -> float:
        """How much deeper the pinion goes."""
        way = DEEPER[self.contact]
        sign = -1 if self.shims.get("thicker") == "shallower" else 1
        here = self.shims.get("pinion_mm")
        others = [row["pinion_mm"] for row in self.tries if row.get("contact") == OPPOSITE[self.contact] if here]
        ahead = [sign * (mm - here) * way for mm in others]
        if any(gap <= 0 for gap in ahead):
            raise OnTheEdgeError
        far = min(ahead) / 2 if ahead else 0.05
        if self.step is not None:
            if ahead and not surely(2 * far, self.step, 1e-6):
                return 0.0
            surely(far / self.step % 1, 0.5, 1e-6)
            far = self.step * max(1, math.floor(far / self.step + 0.5))
        return way * far

    def more_shims(self) -> tuple[float, float | None]:
        """Shims for the bearings, both sides together, and what 0.1 mm does."""
        given = self.request.get("bearings")
        if given is None:
            return 0.0, None
        torque = sum(given["readings_nm"]) / len(given["readings_nm"])
        aim = given.get("wanted_nm")
        if aim is None and "low_nm" in given and "high_nm" in given:
            aim = (given["low_nm"] + given["high_nm"]) / 2
        # Bearings with play have no torque, however much play it is.
        rows = [row for row in self.tries if row.get("torque_nm") and place(row) is not None]
        totals = [row["behind_mm"] + row["tooth_mm"] for row in rows]
        per_mm, here = None, None
        if place(self.shims) is not None:
            here = self.shims["behind_mm"] + self.shims["tooth_mm"]
            pairs = [*zip(totals, (row["torque_nm"] for row in rows)), (here, torque)]
            tool = given["tool"]
            u = math.hypot(tool.get("deviation_percent", 6) / 100 * torque / math.sqrt(3), tool["division_nm"])
            line = line_through(pairs, 0.005 * math.sqrt(2 / 3), u)
            if line is not None and abs(line[1] / abs(line[0]) - 0.5) < 0.3:
                raise OnTheEdgeError
            per_mm = line[0] if line is not None and sure(line) else None
        if per_mm is None and "rise_nm" in given:
            per_mm = given["rise_nm"] / given["for_mm"]
        if per_mm is None:
            return 0.0, None
        if aim is None or (self.torque_good and not self.is_wish(given, torque)):
            return 0.0, per_mm / 10
        more = (aim - torque) / per_mm
        known = here is not None and min([*totals, here]) - 1e-6 <= here + more <= max([*totals, here]) + 1e-6
        if not known and surely(abs(more), 0.05, 1e-6):
            more /= 2
        return more, per_mm / 10

    @staticmethod
    def is_wish(given: dict[str, Any], torque: float) -> bool:
        """Whether a torque is wanted that the tool can tell from the one that is there."""
        if "wanted_nm" not in given:
            return False
        readings, count = given["readings_nm"], len(given["readings_nm"])
        scatter2 = sum((reading - torque) ** 2 for reading in readings) / (count - 1) / count
        u = math.sqrt((0.06 * torque) ** 2 / 3 + given["tool"]["division_nm"] ** 2 / 12 + scatter2)
        apart = abs(given["wanted_nm"] - torque) / u
        # Student's factor of a few readings lies in between.
        if 1.5 < apart < (15 if count == 2 else 6):
            raise OnTheEdgeError
        return bool(apart > 3)

    def in_steps(self, along: float, more: float) -> tuple[float, float]:
        """Changes behind and on the tooth side: of all pairs of whole steps that with the best total, then place."""
        if self.step is None:
            return more / 2 - along, more / 2 + along
        reach = range(-int((abs(more) + abs(along)) / self.step) - 3, int((abs(more) + abs(along)) / self.step) + 4)
        surely(more / self.step % 1, 0.5, 1e-6)
        total = min(range(2 * reach[0], 2 * reach[-1] + 1), key=lambda n: abs(n * self.step - more))

        def off(behind: int) -> float:
            return float(abs((total - 2 * behind) * self.step / 2 - along))

        behind, other = sorted(reach, key=off)[:2]
        if abs(off(behind) - off(other)) < 1e-6:
            if not self.by_contact:
                raise OnTheEdgeError
            # The nearer place cannot be had: that which goes less far has room.
            behind = min(behind, other, key=lambda n: abs(total - 2 * n))
        return behind * self.step, (total - behind) * self.step

    def answer(self) -> dict[str, Any]:
        backlash, deeper = "backlash" in self.request, 0.0
        if backlash:
            self.read_backlash()
            if self.needed:
                self.move_for_backlash()
            elif self.contact in SIDES:
                self.move_for_contact()
        if self.contact in DEEPER:
            deeper = self.move_pinion()
        with_pinion = deeper * sideways_with_pinion(self.gears)
        more, rises = self.more_shims()
        behind, tooth = self.in_steps(self.move + with_pinion, more)
        sign = -1 if self.shims.get("thicker") == "shallower" else 1
        changes = {"behind": behind, "tooth": tooth, "pinion": sign * deeper}
        shift = (tooth - behind) / 2
        found: dict[str, Any] = {
            "move_mm": self.move,
            "move_low_mm": self.span[0],
            "move_high_mm": self.span[1],
            "with_pinion_mm": with_pinion,
            "rises_nm": rises,
            "way": "still" if abs(shift) < 1e-6 else "away" if shift > 0 else "towards",
            "backlash": None,
        }
        for name, change in changes.items():
            found[f"{name}_change_mm"] = change
            now = self.shims.get(f"{name}_mm")
            found[f"{name}_mm"] = None if now is None else max(0.0, now + change)
        if backlash:
            felt = shift - with_pinion
            found["backlash"] = {
                "found_mm": self.found,
                "found_within_mm": SURE * self.u,
                "aim_mm": self.aim,
                "ratio": self.ratio[0],
                "ratio_low": self.ratio[1],
                "ratio_high": self.ratio[2],
                "ratio_from": self.ratio[3],
                "expected_mm": self.found + self.ratio[0] * felt,
                "expected_within_mm": math.hypot(SURE * self.u, (self.ratio[2] - self.ratio[1]) / 2 * felt),
            }
        return found
