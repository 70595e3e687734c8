"""From complaint to change: which computed figure is behind what a driver felt, what to change, and what it costs."""

from typing import Any

from ..car.car import FIELDS
from ..corner.unit_locks import UnitLocks, locks_of
from ..drive.candidates import AS_BUILT, AS_IT_IS, candidate, known_of
from ..drive.known_unit import BUILT_NOW, Known
from ..records.outing import COMPLAINT, CONDITIONS, WHEN, complaint_in_words
from ..request.errors import BadInput, inside
from ..request.fields import Choice, Group, Listing, Number, Whole
from ..request.rounded import fixed
from ..request.written_in import WrittenIn, with_written_in, written_in_by
from ..unit.sits import refuse_centre
from .figures import BY_PRELOAD, SCRUB, held_by
from .places import FAST, SLOW, STRAIGHT, STRAIGHT_M, TIGHT, TIGHT_M, Ground, Place
from .said import CAUTION, ELSE, NOT_COMPUTED, conflict_text, found_text
from .sought import (
    AT_REST,
    COAST,
    DRIVE,
    LESS,
    MATCHES,
    MAY,
    MORE,
    MOSTLY,
    NONE,
    NOT,
    UNKNOWN,
    Found,
    Sought,
    asks,
    figures_for,
    found,
    only_slips,
    places_for,
)
from .way_rows import oil_row, way_row
from .ways import Search

FORM = Group(
    with_written_in(
        {
            "built": BUILT_NOW,
            "car": Group(FIELDS, "the car, as it is kept; a usual one if empty", default=None),
            "felt": Listing(COMPLAINT, 1, 12, "what the driver felt", nouns="complaints"),
            "conditions": Choice(
                CONDITIONS, "what it ran on; as the car's tyres have it if dry or empty", default=None
            ),
            "slow_m": Number(4, 1000, "m", "radius of the slow corners", default=15.0),
            "fast_m": Number(4, 1000, "m", "radius of the fast corners", default=80.0),
            "slow_gear": Whole(1, 12, "gear in slow corners", default=2),
            "fast_gear": Whole(1, 12, "gear in fast corners", default=3),
        },
        "write_in",
        "write_forces_in",
    ),
    "what a driver felt of a unit",
)


class Case:
    """Everything that a complaint is looked at with."""

    def __init__(self, request: dict[str, Any]) -> None:
        refuse_centre(request["built"])
        self.ground = Ground(request["car"], request["conditions"])
        self.written: WrittenIn = written_in_by(request)
        self.known: Known | None = None
        self.unit: UnitLocks | None = None
        self.lacks = ""
        self.places: dict[str, Place] = {}
        try:
            self.known = known_of(request["built"]) if request["built"] is not None else None
            if self.known is None:
                self.lacks = "Nothing is known of the unit, so no figure of it is worked out."
        except BadInput as refusal:
            # What is wrong with the unit is said, and its complaints are still told as far as words go.
            self.lacks = refusal.reason
        if self.known is not None:
            self.unit = locks_of(candidate(self.known, AS_IT_IS, AS_BUILT, self.known.path))
            for name, radius, gear in (
                (SLOW, request["slow_m"], request["slow_gear"]),
                (FAST, request["fast_m"], request["fast_gear"]),
                (STRAIGHT, STRAIGHT_M, 1),
                (TIGHT, TIGHT_M, 1),
            ):
                self.places[name] = self.ground.place(name, radius, gear)


def seek(case: Case, complaint: dict[str, Any]) -> list[Found]:
    """Every figure behind a complaint, at every place where it shows."""
    if case.unit is None:
        return []
    what, when = complaint["what"], complaint["when"]
    return [
        found(Sought(name, case.places[where], want), case.unit)
        for name, want in figures_for(what, when, case.ground.rear)
        for where in places_for(what, when, complaint["corners"])
    ]


def best_of(rows: list[Found]) -> Found | None:
    """The figure that answers best: one that is there before one that may be, and the first of these."""
    for match in (MATCHES, MAY):
        for row in rows:
            if row.match == match:
                return row
    return None


def answer_to(case: Case, complaint: dict[str, Any], rows: list[Found], best: Found | None) -> tuple[str, str]:
    """How well a complaint is answered, a key of `MATCH`, and a sentence."""
    what, shows = complaint["what"], complaint["when"] or MOSTLY.get(complaint["what"], "")
    if not figures_for(what, complaint["when"], case.ground.rear):
        return NONE, NOT_COMPUTED.get(what, ELSE)
    if case.unit is None:
        return UNKNOWN, f"{case.lacks} So nobody can tell whether the differential is behind it."
    taken = "" if complaint["when"] or not shows else f"Taken as felt {WHEN[shows]}, since nobody said when. "
    if best is None:
        return NOT, f"{taken}The figures that would explain it are not there. {ELSE}"
    if only_slips(best):
        return best.match, f"{taken}Try other oil and look at the plates: no other lock would change it."
    sure = "That may be the differential" if best.match == MAY else "That fits what the differential does"
    return best.match, f"{taken}{sure}: try {asked_in_words(case.unit, best)}."


def asked_in_words(unit: UnitLocks, best: Found) -> str:
    """What to try, in words."""
    side, want = asks(best)
    if side == AT_REST:
        return f"{want} preload"
    if held_by(best.sought.name, best.sought.place, unit.locks) == BY_PRELOAD:
        return f"{want} preload; on {side} that sets the lock here, and the ramps do not"
    how = {
        (DRIVE, LESS): "a steeper drive ramp or fewer faces",
        (DRIVE, MORE): "a shallower drive ramp or more faces",
        (COAST, LESS): "a steeper coast ramp or fewer faces",
        (COAST, MORE): "a shallower coast ramp or more faces",
    }[(side, want)]
    return f"{want} lock on {side}: {how}, or rings turned over where that does it"


def ways_for(case: Case, best: Found | None, others: list[tuple[str, Found]]) -> list[dict[str, Any]]:
    """Every way to change what a complaint is about."""
    if best is None or case.known is None:
        return []
    unit, service = case.unit, case.known.definition["service"]
    assert unit is not None
    rows = [oil_row()] if best.sought.name == SCRUB and best.figure.low < 1.0 else []
    if only_slips(best):
        return rows
    ways = Search(case.known, best).all()
    return [way_row(way, best, others, unit, case.places, case.written, service) for way in ways] + rows


def conflicts_of(bests: list[tuple[str, Found | None]]) -> list[str]:
    """Complaints that want the opposite of the same lock."""
    wants = [(words,) + asks(best) for words, best in bests if best is not None and not only_slips(best)]
    return [
        conflict_text(first, second)
        for place, first in enumerate(wants)
        for second in wants[place + 1 :]
        if first[1] == second[1] and first[2] != second[2]
    ]


def figure_row(case: Case, there: Found) -> dict[str, Any]:
    """A figure as results hold it."""
    assert case.unit is not None
    return {
        "figure": there.sought.name,
        "place": there.sought.place.name,
        "radius_m": there.sought.place.radius,
        "value": there.figure.value,
        "low": there.figure.low,
        "high": there.figure.high,
        "limit": there.limit,
        "target": there.target,
        "match": there.match,
        "text": found_text(there, case.unit, case.ground.rear, case.written),
    }


def rests_on(case: Case, request: dict[str, Any]) -> str:
    """What all of it rests on."""
    text = (
        f"Slow corners are taken with a radius of {fixed(request['slow_m'], 0)} m, fast ones with "
        f"{fixed(request['fast_m'], 0)} m, at 0.65 to 0.95 of what the tyres hold (our own choice)."
    )
    if case.ground.usual:
        text += f" Usual ranges, common practice, no source, stand for: {', '.join(case.ground.usual)}."
    if not case.ground.gears:
        text += " The engine is not known, so that full throttle is taken as enough to spin a wheel."
    return text


def complaint(request: dict[str, Any]) -> dict[str, Any]:
    """What is behind what a driver felt of a unit, as far as it is computed, and what to change.

    Parameters
    ----------
    request : dict
        Checked by `FORM`.

    Returns
    -------
    dict
        complaints, a row for each that was given: what, when, corners and felt, the same in words; match, a key of
        `MATCH`; text; figures, each that was looked at: figure (a key of `FIGURES`), place (a key of `PLACES`),
        radius_m, value, low and high, limit that it is held against, target, match and text; best, the number of the
        figure that answers, None where none does; ways to change that one, each: lever (a key of `LEVERS`), name, what
        is changed (pair, fitted, drive_deg, coast_deg, faces, torque_nm: what is not changed is None, blank or as_is),
        breakaway_nm that it comes to, value, low and high of the figure with it, reaches (whether it is as far as the
        target), text, elsewhere (figures that change besides: figure, place, before, after, worse, text), together
        (corners where both wheels let go together now or no longer), others (other complaints that it helps or makes
        worse) and warnings; conflicts, complaints that want the opposite of one lock; lacks, why nothing of the unit is
        worked out, blank where it is; rests_on; caution.

    Raises
    ------
    BadInput
        One complaint twice, or a car that contradicts itself. A unit of which too little is known for a lock is no
        error: then match is unknown, and there are no figures.

    Notes
    -----
    The table from what is felt to what to try is common practice, no source. Every limit and share below is our own
    choice. Axle, wheels, D_solid, lock and cap are those of `corner`, without its pitch and yaw_balance; the car's
    figures are the values of `car`, or those of a car of which nothing is known. On anything but dry the grip is that
    of the car's choice of the same name, whatever was given.

    *Places.* slow and fast: radius `slow_m` and `fast_m`, lateral acceleration 0.8 of that from which the axle slides.
    straight: radius 1e6 m, tight: 6 m, both at no lateral acceleration. Full throttle F is torque_nm of `car` in gear
    `slow_gear`, `fast_gear` or 1 (the highest gear where there are fewer), unbounded where the engine is not known;
    engine braking B is braking_nm of that gear, or 0.08 m g r of that mass and tyre.

    *Figures.* D t / (2 r L) turns a difference into a side force at the other axle, N. most is that of `corner`,
    coast_most likewise.

    - push: the greatest min(D_solid(T), lock(T)) over T from 0 to min(most, F), or 0, as a side force;
    - round: max(0, min(-D_solid(T), lock(T))) at T = min(most, F), as a side force;
    - steady: max(0, min(D_solid(-T), lock(-T))) at T = min(B, coast_most), as a side force;
    - slip: max(0, that of a solid axle less steady), as a side force;
    - most: in N·m;
    - gap: 1 - most / (cap_i + cap_o);
    - scrub: the lock from preload over D_solid(0).

    *Ranges.* Each cause is followed to both its ends by itself, and the changes are added as squares for each side (see
    `spread`, which ends at 0): low and high of each figure of the car but transfer along it (mass, share of the weight,
    height, track, tyre, share of the transfer, grip, along, sensitivity up to 1/3, stiffness, wheelbase), the lateral
    acceleration staying the same share of the limit; that share at 0.65 and 0.95 in slow and fast corners; F at its low
    and high; B at its low and high (0.15 and 0.35 of the engine against 0.25, or 0.05 and 0.12); and the unit with
    preload and locking value of both flanks all at their least, and all at their most (95 %, `range_of`).

    *What is looked at*, in this order, in slow and in fast corners unless one is given; "at any time" counts as the
    first that is named:

    - pushes: on power push, for a front axle most before it; on lift-off, braking and turning in steady;
    - loose: on lift-off, braking and turning in slip; on power gap, then round;
    - spins: on power, in a straight line (there alone, at straight) most;
    - snaps: on power gap; on lift-off, braking and turning in slip;
    - hops, whenever: scrub, at tight.

    *Match.* Of push, round, steady and slip against E = 1 % of the weight on the axle: matches where low >= E, may
    where high >= E, else not. most: not where the high end of gap is <= 0.02, or low >= the high end of F; may where F
    is not known or gap <= 0.02; matches where high < the low end of F, else may. gap: matches where high <= 0.02, may
    where low is, else not. scrub: matches where low >= 1 (tyres scrub) or high < 1 (plates slip), else may. A complaint
    has the first figure that matches, or else the first that may; without one it is not there, and with nothing to look
    at it is none.

    *Target.* push, round and steady: half of what they are. slip: less by max(E, steady), at least 0. most: half way to
    cap_i + cap_o, but no further than max(F, 1.05 most). gap: max(0.05, gap + 0.05). scrub: 0.9 min(1, scrub); where
    the plates slip, other oil or plates are the only way.

    *Ways*, those that reach the target first, in the order of `ORDER`: rings turned over (where both ramps differ) and
    each other pair of the unit; the smallest change of preload within 0.4 and 2 times what it is, to a whole N·m of
    breakaway torque away from it; on the flank that the figure goes by the nearest of 30, 35 ... 80° that reaches it;
    2, 4 or 6 faces more or fewer, at least 4, the fewest that reach it. Where none reaches it the smallest change that
    goes as far as any of them stands. A way has to move it by a tenth of what is wanted at least. Each is worked out as
    `candidates` does. Elsewhere are push, round, most and steady in both corners and scrub, where they change by more
    than 5 % of the larger, and forces where one is more than E; more push or scrub is worse, and less of most. Both let
    go together where gap <= 0.02. Another complaint is helped or made worse where its figure changes by more than 2 %
    of the larger. Limits for running are minded where preload or faces change.
    """
    case = Case(request)
    felt = request["felt"]
    words = [complaint_in_words(row) for row in felt]
    for place, text in enumerate(words):
        if text in words[:place]:
            raise BadInput(inside("felt", place), f"This is marked already: {text}. Leave one of them out.")
    all_found = [seek(case, row) for row in felt]
    bests = list(zip(words, [best_of(rows) for rows in all_found]))
    answers = []
    for place, row in enumerate(felt):
        rows, best = all_found[place], bests[place][1]
        others = [
            (text, other)
            for at, (text, other) in enumerate(bests)
            if at != place and other is not None and not only_slips(other)
        ]
        match, text = answer_to(case, row, rows, best)
        answers.append(
            {
                "what": row["what"],
                "when": row["when"],
                "corners": row["corners"],
                "felt": words[place],
                "match": match,
                "text": text,
                "figures": [figure_row(case, there) for there in rows],
                "best": None if best is None else rows.index(best),
                "ways": ways_for(case, best, others),
            }
        )
    return {
        "complaints": answers,
        "conflicts": conflicts_of(bests),
        "lacks": case.lacks,
        "rests_on": rests_on(case, request),
        "caution": CAUTION,
    }
