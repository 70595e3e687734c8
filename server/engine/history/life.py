"""Life: from readings over use, when a limit will be met at the earliest and when it is likely."""

from typing import Any

from ..doubt.student_t import t_quantile
from ..doubt.trend_line import Line, band_at, band_meets, fitted, meets, value_at
from ..request.errors import BadInput, inside
from ..request.fields import Choice, Group, Listing, Number
from ..request.rounded import fixed
from ..request.sorting import in_order
from ..request.units import say
from ..unit.as_built import (
    DEFINITION,
    Built,
    built_of,
    crush_of,
    friction_of,
    longest_rise,
    preload,
    solids_at,
    torque_per_newton,
)
from ..unit.spring import column_load, column_squeeze

# Fewer readings show no scatter about a line.
LEAST_READINGS = 3

# One-sided risk that the next reading is already past the limit at the earliest use given.
RISK = 0.05

# Two-sided risk of taking chance for a trend.
CHANCE = 0.05

# A limit further off than this many times the use seen so far is not in sight.
SIGHT = 20.0

SEASON = "Open it once a season and measure the plates, whatever the trend says (common practice)."

USES = {"outings": "outings", "hours": "hours", "km": "km"}

USE = Number(0, 1e6, "", "use up to this reading, counted from one common start")

FORM = Group(
    {
        "use": Choice(USES, "what use is counted in", default="outings"),
        "torque": Listing(
            Group({"use": USE, "torque_nm": Number(0.1, 5000, "nm", "breakaway torque, as stated")}, "a torque check"),
            1,
            500,
            "torque over use",
            default=None,
            nouns="readings",
        ),
        "plate": Listing(
            Group({"use": USE, "thickness_mm": Number(0.02, 80, "mm", "lowest thickness of it")}, "a plate measured"),
            1,
            500,
            "thickness of one plate over use",
            default=None,
            nouns="readings",
        ),
        "stack": Listing(
            Group(
                {"use": USE, "thickness_mm": Number(1, 500, "mm", "plates and rings of the whole stack together")},
                "a whole stack measured",
            ),
            1,
            500,
            "thickness of all plates and rings over use, which is carried to torque through the spring",
            default=None,
            nouns="readings",
        ),
        "limits": Group(
            {
                "low_nm": Number(0, 5000, "nm", "lowest torque allowed", default=None),
                "high_nm": Number(0.1, 5000, "nm", "highest torque allowed", default=None),
                "minimum_mm": Number(0.01, 80, "mm", "thickness at which the plate has to be replaced", default=None),
            },
            "the limits that end its life",
        ),
        "unit": Group(DEFINITION.fields, "the unit's definition, for a whole stack", default=None),
        "measured_nm": Number(
            0.5, 5000, "nm", "torque measured at the last of the stack's readings, as stated", default=None
        ),
        "now": Number(0, 1e6, "", "use so far, where it is past the last reading", default=None),
    },
    "wear over use",
)

SERIES = {"torque": ("torque_nm", "nm"), "plate": ("thickness_mm", "mm"), "stack": ("thickness_mm", "mm")}


def series_of(request: dict[str, Any]) -> tuple[str, list[float], list[float]]:
    """Which readings were given, their uses and their values, in order of use."""
    given = [name for name in ("torque", "plate", "stack") if request[name] is not None]
    if len(given) != 1:
        raise BadInput(given[1] if given else "torque", "Give one set of readings: torque, one plate, or the stack.")
    name = given[0]
    rows = in_order((row["use"], row[SERIES[name][0]]) for row in request[name])
    if len(rows) >= LEAST_READINGS and rows[0][0] == rows[-1][0]:
        raise BadInput(
            inside(inside(name, 0), "use"), "All readings are at the same use: give the use at each of them."
        )
    return name, [use for use, _ in rows], [value for _, value in rows]


def limits_of(request: dict[str, Any], name: str) -> list[tuple[str, float, bool]]:
    """The limits that count for these readings: (field's name, value, whether it is a lower one)."""
    limits, wanted = request["limits"], ("minimum_mm",) if name == "plate" else ("low_nm", "high_nm")
    for field in ("low_nm", "high_nm", "minimum_mm"):
        if limits[field] is not None and field not in wanted:
            other = "torque" if name == "plate" else "one plate"
            raise BadInput(inside("limits", field), f"This limit goes with readings of {other}: leave it out here.")
    if name == "stack" and limits["high_nm"] is not None:
        raise BadInput("limits.high_nm", "Wear takes torque away: for a stack, give the lowest torque only.")
    counting = [(field, limits[field], field != "high_nm") for field in wanted if limits[field] is not None]
    if not counting:
        raise BadInput(inside("limits", wanted[0]), "Give the limit that ends its life.")
    if len(counting) == 2 and limits["low_nm"] >= limits["high_nm"]:
        raise BadInput("limits.high_nm", "The highest torque must be above the lowest.")
    return counting


class Carried:
    """Stack thickness carried to torque through the spring.

    Parameters
    ----------
    built : Built
        The unit.
    each : float
        Stated torque for each newton of preload, N·m.
    """

    def __init__(self, built: Built, each: float) -> None:
        self.built = built
        self.each = each

    def torque(self, solids: float) -> float:
        """Stated torque, N·m, with `solids` mm of plates and rings."""
        return self.each * preload(self.built, crush_of(self.built, solids))

    def thickness(self, torque: float) -> float:
        """Plates and rings, mm, at which a wearing stack comes down to `torque`; refuses a torque it never had."""
        springs = self.built.springs
        most = column_load(springs, longest_rise(self.built))
        if torque > self.each * most:
            raise BadInput(
                "limits.low_nm", f"This unit never gives more than {say(self.each * most, 'nm')}: check the limit."
            )
        return solids_at(self.built, column_squeeze(springs, torque / self.each))


def carried_of(request: dict[str, Any], last: float) -> Carried:
    """How the stack's thickness becomes torque, with the friction of the last check where there was one."""
    if request["unit"] is None:
        raise BadInput("unit", "Give the unit's definition: its spring turns thickness into torque.")
    built = built_of(request["unit"], subject="Wear of the stack carried to torque")
    measured, mu = request["measured_nm"], built.mu
    if measured is not None:
        force = preload(built, crush_of(built, last))
        if force <= 0:
            raise BadInput(
                "measured_nm", "At the last reading the stack is loose and has no torque: check the readings."
            )
        mu = friction_of(built, measured, force)
    return Carried(built, torque_per_newton(built, mu))


def curve_of(line: Line, first: float, last: float, carried: Carried | None) -> list[dict[str, Any]]:
    """The line and its two-sided 95 % band, ready to draw."""
    rows = []
    for place in range(41):
        use = first + (last - first) * place / 40
        value, half = value_at(line, use), band_at(line, use, 0.025)
        # Neither a torque nor a thickness is ever below 0.
        row = {"use": use, "value": value, "low": max(0.0, value - half), "high": value + half}
        if carried is not None:
            row["torque_nm"] = carried.torque(value)
        rows.append(row)
    return rows


def in_sight(use: float | None, start: float, span: float) -> float | None:
    """A use, if it is near enough to mean anything."""
    return use if use is not None and use <= start + SIGHT * span else None


def ends(line: Line, limits: list[tuple[str, float, float, bool]], now: float, span: float) -> list[dict[str, Any]]:
    """When each limit is met: `limits` holds (name, as given, in the unit of the readings, whether lower)."""
    rows = []
    for name, given, limit, lower in limits:
        past = value_at(line, now) <= limit if lower else value_at(line, now) >= limit
        rows.append(
            {
                "limit": name,
                "at": given,
                "value": limit,
                "likely_use": now if past else in_sight(meets(line, limit, now), now, span),
                "earliest_use": in_sight(band_meets(line, limit, lower, now, RISK), now, span),
            }
        )
    return rows


def when_due(rows: list[dict[str, Any]], now: float, use: str, certain: bool) -> tuple[float | None, str]:
    """The use at which it is due, and the sentence."""
    dues = [row["earliest_use"] for row in rows if row["earliest_use"] is not None]
    likely = [row["likely_use"] for row in rows if row["likely_use"] is not None]
    chance = "" if certain else " So far the trend may be chance."
    if not dues:
        return None, f"No limit is in sight.{chance} {SEASON}"
    due = min(dues)
    if due <= now:
        return due, f"A reading past the limit is possible now: check it before it runs again.{chance}"
    more = f"likely after {fixed(min(likely) - now, 1)}" if likely else "likely much later"
    return due, f"The limit may be met after {fixed(due - now, 1)} more {use} at the earliest, {more}.{chance} {SEASON}"


def life(request: dict[str, Any]) -> dict[str, Any]:
    """When wear will meet a limit.

    Parameters
    ----------
    request : dict
        Checked by `FORM`: one set of readings, and the limit that goes with it.

    Returns
    -------
    dict
        enough (three readings or more); text. With enough also count, slope (for each use) and slope_sd, scatter,
        certain (whether the trend is more than chance), meets (a row for each limit: likely_use, where the line meets
        it, and earliest_use, where a reading past it has a chance of 5 %; None where not in sight), due_use (the first
        of the earliest) and left_use, curve with a two-sided 95 % band; for a stack also torque_nm in the curve.

    Raises
    ------
    BadInput
        No readings or two sets, readings all at one use, a limit of another kind, a use now before the last reading.

    References
    ----------
    1. The line and its band: `line`. Opening once a season: common practice, no source.

    Examples
    --------
    >>> checks = [{"use": use, "torque_nm": torque} for use, torque in ((0, 100), (4, 94.5), (8, 88), (10, 85))]
    >>> result = life(FORM.read({"torque": checks, "limits": {"low_nm": 70}}, ""))
    >>> round(result["meets"][0]["likely_use"], 1), round(result["due_use"], 1)
    (20.0, 18.8)
    """
    name, uses, values = series_of(request)
    limits = limits_of(request, name)
    carried = carried_of(request, values[-1]) if name == "stack" else None
    now = uses[-1] if request["now"] is None else request["now"]
    if now < uses[-1]:
        raise BadInput("now", "The last reading is later than this: give the use so far.")
    count, use = len(uses), request["use"]
    in_reading_units = [
        (field, limit, limit if carried is None else carried.thickness(limit), lower) for field, limit, lower in limits
    ]
    if count < LEAST_READINGS:
        readings = "One reading is" if count == 1 else "Two readings are"
        return {"enough": False, "count": count, "text": f"{readings} no trend: three or more are needed. {SEASON}"}
    line, span = fitted(uses, values), uses[-1] - uses[0]
    certain = abs(line.slope) > t_quantile(CHANCE / 2, line.dof) * line.slope_sd
    rows = ends(line, in_reading_units, now, span)
    due, text = when_due(rows, now, USES[use], certain)
    known = [row[when] for row in rows for when in ("likely_use", "earliest_use") if row[when] is not None]
    return {
        "enough": True,
        "count": count,
        "slope": line.slope,
        "slope_sd": line.slope_sd,
        "scatter": line.scatter,
        "certain": certain,
        "meets": rows,
        "due_use": due,
        "left_use": None if due is None else due - now,
        "torque_now_nm": None if carried is None else carried.torque(value_at(line, now)),
        "curve": curve_of(line, uses[0], max([now + 0.5 * span] + known), carried),
        "text": text,
    }
