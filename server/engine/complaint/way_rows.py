"""Ways to change what a complaint is about, as results hold them."""

from typing import Any

from ..corner.unit_locks import UnitLocks
from ..drive.ramps import SHALLOW_DEG
from ..records.trial import LEVERS, OIL, PRELOAD
from ..request.rounded import fixed
from ..request.units import say
from ..request.written_in import WrittenIn
from .figures import figure_at, figure_of
from .places import Place
from .said import elsewhere_text, is_worse, together_text, with_range
from .sought import MORE, Found
from .ways import Way, elsewhere, lets_go_together

# Whether a change helps another complaint or makes it worse.
HELPS, WORSENS = "helps", "worsens"
# A figure of another complaint that changes by less than this share stays as it is.
SAME = 0.02


def way_row(
    way: Way,
    best: Found,
    others: list[tuple[str, Found]],
    unit: UnitLocks,
    places: dict[str, Place],
    written: WrittenIn,
    service: Any,
) -> dict[str, Any]:
    """A way to change it as results hold it; `service` are the unit's limits for running, None where it has none."""
    name, place = best.sought.name, best.sought.place
    after = figure_of(name, place, way.unit)
    rows = [
        {
            "figure": figure,
            "place": where,
            "before": before,
            "after": now,
            "worse": is_worse(figure, before, now),
            "text": elsewhere_text(figure, where, before, now, written),
        }
        for figure, where, before, now in elsewhere(places, unit, way.unit, best.sought)
    ]
    stays = [effect_on(words, other, way.unit) for words, other in others]
    tried = way.tried
    return {
        "lever": way.lever,
        "name": name_of(way, written),
        "pair": tried["pair"],
        "fitted": tried["fitted"],
        "drive_deg": tried["drive_deg"],
        "coast_deg": tried["coast_deg"],
        "faces": tried["faces"],
        "torque_nm": tried["torque_nm"],
        "breakaway_nm": way.breakaway,
        "value": after.value,
        "low": after.low,
        "high": after.high,
        "reaches": way.reaches,
        "text": f"{with_range(name, best.figure, written)} → {with_range(name, after, written)}",
        "elsewhere": rows,
        "together": [together_text(where, now) for where, now in lets_go_together(places, unit, way.unit)],
        "others": [row for row in stays if row is not None],
        "warnings": cautions_of(way, service),
    }


def name_of(way: Way, written: WrittenIn) -> str:
    """A way as a key says it."""
    if way.lever == PRELOAD:
        return f"breakaway torque {say(way.breakaway, 'nm', written.nm)}"
    return way.name


def cautions_of(way: Way, service: Any) -> list[str]:
    """What to mind about a way."""
    rows = []
    if (way.tried["torque_nm"] is not None or way.tried["faces"] is not None) and service is not None:
        low, high = service["low_nm"], service["high_nm"]
        if way.breakaway < low or (high is not None and way.breakaway > high):
            rows.append("That is outside the limits for running: change these as well, if the car's maker allows it.")
    angles = [way.tried[name] for name in ("drive_deg", "coast_deg") if way.tried[name] is not None]
    if angles and min(angles) < SHALLOW_DEG:
        rows.append(
            f"A ramp below {fixed(SHALLOW_DEG, 0)}° presses very hard and may wedge: check that it releases again."
        )
    if way.unit.locks.drive.ramp >= 1.0 or way.unit.locks.coast.ramp >= 1.0:
        rows.append("The ramps then lock it solid, whatever the preload.")
    return rows


def effect_on(words: str, other: Found, unit: UnitLocks) -> dict[str, Any] | None:
    """What a change does to another complaint; None where it does nothing."""
    value = figure_at(other.sought.name, other.sought.place.likely, unit.locks)
    step = value - other.figure.value
    if abs(step) <= SAME * max(abs(value), abs(other.figure.value)):
        return None
    helps = (step > 0.0) == (other.sought.want == MORE)
    verb = "helps against" if helps else "makes worse"
    return {"felt": words, "effect": HELPS if helps else WORSENS, "text": f"{verb}: {words}"}


def oil_row() -> dict[str, Any]:
    """Other oil or plates, of which no figure is computed."""
    empty = dict.fromkeys(("drive_deg", "coast_deg", "faces", "torque_nm", "breakaway_nm", "value", "low", "high"))
    row: dict[str, Any] = {
        "lever": OIL,
        "name": LEVERS[OIL],
        "pair": "",
        "fitted": "as_is",
        "reaches": False,
        "text": "by how much is not computed",
        "elsewhere": [],
        "together": [],
        "others": [],
        "warnings": [],
    }
    row.update(empty)
    return row
