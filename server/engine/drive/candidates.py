"""Ways to build a unit, side by side: as it is, turned over, its other pairs of ramps, and what is to be tried."""

from typing import Any, NamedTuple

from ..request.errors import BadInput, inside
from ..request.fields import Choice, Group, Listing, Number, Text, Whole
from ..request.letters import trimmed
from ..request.rounded import fixed
from ..unit.known import require
from .known_unit import BY_HAND, Known, known_unit, lock_of
from .lock import Lock
from .lock_range import Cause

FITTED = {"as_is": "as they are", "turned_over": "turned over, drive and coast swapped"}

AS_BUILT = "as_built"
TURNED_OVER = "turned_over"
PAIR = "pair"
TRIED = "tried"
KINDS = {
    AS_BUILT: "the unit as it is built now",
    TURNED_OVER: "the same with its rings turned over",
    PAIR: "another pair of its ramps",
    TRIED: "something to try",
}

TRIES = Listing(
    Group(
        {
            "name": Text(60, "what it is called; made of its figures if empty", default=""),
            "pair": Text(40, "one of the unit's other pairs of ramps, by its name", default=""),
            "fitted": Choice(FITTED, "how the rings are fitted", default="as_is"),
            "drive_deg": Number(5, 90, "deg", "drive ramp angle to try", default=None),
            "coast_deg": Number(5, 90, "deg", "coast ramp angle to try", default=None),
            "faces": Whole(2, 200, "sliding faces of both packs together to try", default=None),
            "torque_nm": Number(0.5, 5000, "nm", "breakaway torque to try, as the order states it", default=None),
        },
        "something to try; what is left empty stays as it is built",
    ),
    0,
    8,
    "what is to be tried besides",
    default=[],
    nouns="candidates",
)

Candidate = NamedTuple(
    "Candidate",
    [
        ("kind", str),
        ("name", str),
        # Ramp angle in use, degrees, lock, and what may be off of it: on drive and on coast.
        ("drive_deg", float),
        ("coast_deg", float),
        ("drive", Lock),
        ("coast", Lock),
        ("drive_causes", Any),
        ("coast_causes", Any),
        # Breakaway torque that it comes to, as the order states it, N·m.
        ("breakaway", float),
    ],
)

AS_IT_IS: dict[str, Any] = {
    "name": "",
    "pair": "",
    "fitted": "as_is",
    "drive_deg": None,
    "coast_deg": None,
    "faces": None,
    "torque_nm": None,
}


def known_of(built: dict[str, Any]) -> Known:
    """A unit as built, as far as it is known; refuses one without ramps."""
    unit_alone: dict[str, Any] = dict.fromkeys(BY_HAND)
    unit_alone["built"] = built
    known = known_unit(unit_alone)
    require(known.definition, ("ramps",), "The lock", known.path)
    return known


def ramps_of(known: Known, tried: dict[str, Any], path: str) -> dict[str, Any]:
    """The ramps of a candidate, drive and coast as they are fitted."""
    ramps: dict[str, Any] = known.definition["ramps"].copy()
    if tried["pair"]:
        pairs = [pair for pair in known.definition["other_ramps"] if pair["name"] == tried["pair"]]
        if not pairs:
            raise BadInput(inside(path, "pair"), "The unit has no pair of ramps of this name: choose one that it has.")
        for name in ("drive_deg", "coast_deg", "pin_radius_mm"):
            if pairs[0][name] is not None:
                ramps[name] = pairs[0][name]
    for name in ("drive_deg", "coast_deg"):
        if tried[name] is not None:
            ramps[name] = tried[name]
    if tried["fitted"] == "turned_over":
        ramps["drive_deg"], ramps["coast_deg"] = ramps["coast_deg"], ramps["drive_deg"]
    return ramps


def name_of(known: Known, tried: dict[str, Any], ramps: dict[str, Any]) -> str:
    """What a candidate is called where nobody named it: what is other than as built."""
    parts = []
    if tried["pair"]:
        parts.append(tried["pair"])
    if tried["drive_deg"] is not None or tried["coast_deg"] is not None:
        parts.append(f"ramps {fixed(ramps['drive_deg'], 0)}/{fixed(ramps['coast_deg'], 0)}°")
    if tried["fitted"] == "turned_over":
        parts.append("rings turned over")
    if tried["faces"] is not None:
        parts.append(f"{tried['faces']} faces")
    if tried["torque_nm"] is not None:
        parts.append("other preload")
    return ", ".join(parts) if parts else "as it is built"


def scaled(lock: Lock, causes: list[Cause], preload: float, ramp: float) -> tuple[Lock, list[Cause]]:
    """A lock and its causes with preload and ramps multiplied."""

    def other(likely: Lock) -> Lock:
        return Lock(likely.preload * preload, likely.ramp * ramp, likely.adds)

    rows = [Cause(row.name, row.meaning, other(row.first), other(row.second), row.spread) for row in causes]
    return other(lock), rows


def candidate(known: Known, tried: dict[str, Any], kind: str, path: str) -> Candidate:
    """A candidate worked out.

    Notes
    -----
    Faces scale the torque of preload and ramps alike. Another preload scales that of the preload alone: thickness
    changes nothing about the ramps. Its doubt stays the same share of it.
    """
    ramps = ramps_of(known, tried, path)
    faces = 1.0 if tried["faces"] is None else tried["faces"] / known.built.faces
    drive, _, drive_causes = lock_of(known, ramps, ramps["drive_deg"], path)
    coast, _, coast_causes = lock_of(known, ramps, ramps["coast_deg"], path)
    now = drive.preload * known.built.stated / 2.0
    preload = faces if tried["torque_nm"] is None else tried["torque_nm"] / now
    drive, drive_causes = scaled(drive, drive_causes, preload, faces)
    coast, coast_causes = scaled(coast, coast_causes, preload, faces)
    return Candidate(
        kind,
        trimmed(tried["name"]) or name_of(known, tried, ramps),
        ramps["drive_deg"],
        ramps["coast_deg"],
        drive,
        coast,
        drive_causes,
        coast_causes,
        now * preload,
    )


def with_only(name: str, value: str) -> dict[str, Any]:
    """A candidate that is as built but for one field."""
    tried = AS_IT_IS.copy()
    tried[name] = value
    return tried


def all_candidates(known: Known, tries: list[dict[str, Any]]) -> list[Candidate]:
    """As built, turned over, each other pair of the unit's ramps, and what is to be tried."""
    path = known.path + ".ramps"
    rows = [candidate(known, AS_IT_IS, AS_BUILT, path)]
    if rows[0].drive_deg != rows[0].coast_deg:
        rows.append(candidate(known, with_only("fitted", "turned_over"), TURNED_OVER, path))
    for place, pair in enumerate(known.definition["other_ramps"]):
        at = f"{known.path}.other_ramps.{place}"
        rows.append(candidate(known, with_only("pair", pair["name"]), PAIR, at))
    for place, tried in enumerate(tries):
        rows.append(candidate(known, tried, TRIED, f"tries.{place}"))
    return rows
