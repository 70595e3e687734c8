"""A unit while it is taken in: which sections of its definition are known, what each gives, and what it comes to."""

from typing import Any

from ..drive.known_unit import BY_HAND, Known, adds_to_ramps, causes_of_packs, known_unit, lock_of, lock_per_newton
from ..drive.lock import Lock, percent, range_in_words
from ..drive.lock_range import range_of
from ..drive.ramps import from_preload, locking
from ..request.errors import BadInput
from ..request.fields import Group
from ..request.rounded import fixed
from ..request.units import say
from ..request.written_in import WrittenIn, with_written_in, written_in_by
from ..unit.as_built import NAMELESS, column_of
from ..unit.closing import strongest_of
from ..unit.definition import refuse_flat, worked_out
from ..unit.known import TORQUE, lacks_of, missing, sections_of
from ..unit.spring_tolerance import most_to_expect

FORM = Group(
    with_written_in({"unit": NAMELESS}, "write_in", "write_lengths_in", "write_forces_in"),
    "a unit that is being taken in",
)


def so_far(request: dict[str, Any]) -> dict[str, Any]:
    """What is known of a unit so far, what each section of its definition gives, and what it comes to.

    Parameters
    ----------
    request : dict
        Checked by `FORM`.

    Returns
    -------
    dict
        sections, all of them (see `sections_of`); lacks, what cannot be done yet (see `lacks_of`); figures, a row for
        each that can be worked out with every part new: name, title and text with its unit and, where friction and
        tolerances leave one, its range. The range of the torque holds 95 % of new springs and of plates whose friction
        nobody measured; the force at the vice is the largest to expect.

    Raises
    ------
    BadInput
        A definition that contradicts itself, at its field.

    Examples
    --------
    >>> answer = so_far(FORM.read({"unit": {"service": {"low_nm": 45}}}, ""))
    >>> [row["name"] for row in answer["sections"] if row["known"]], answer["figures"]
    (['limits'], [])
    """
    definition, written_in = request["unit"], written_in_by(request)
    try:
        figures = worked_out(definition, written_in.nm)
        refuse_flat(definition, figures)
    except BadInput as refusal:
        raise BadInput("unit." + refusal.field, refusal.reason) from None
    return {
        "sections": sections_of(definition),
        "lacks": lacks_of(definition),
        "figures": of_the_torque(definition, figures, written_in) + of_the_stack(definition, figures, written_in),
    }


def row(name: str, title: str, text: str) -> dict[str, str]:
    """A figure as results hold it."""
    return {"name": name, "title": title, "text": text}


def of_the_stack(definition: dict[str, Any], figures: dict[str, Any], written_in: WrittenIn) -> list[dict[str, str]]:
    """Force at the vice, crush, travel and faces, as far as they are known."""
    rows = []
    crush, travel, faces = figures["crush_mm"], figures["travel"], figures["faces"]
    if crush is not None:
        column = column_of(definition)
        rows.append(row("preload", "Preload", say(figures["preload_n"], "n", written_in.n)))
        most = say(most_to_expect(*strongest_of(definition, column, crush, True))[0], "n", written_in.n)
        rows.append(row("vice", "Force at the vice, at most", most))
        rows.append(row("crush", "Crush", say(crush, "mm", written_in.mm)))
        rows.append(row("travel", "Travel of the spring", f"{fixed(100 * travel, 0)} %"))
    if faces is not None:
        rows.append(row("faces", "Sliding faces", f"{faces['first']} and {faces['second']}"))
    return rows


def of_the_torque(definition: dict[str, Any], figures: dict[str, Any], written_in: WrittenIn) -> list[dict[str, str]]:
    """Breakaway torque and lock, each with its range; nothing for a stack that is loose."""
    if missing(definition, TORQUE) or figures["crush_mm"] <= 0:
        return []
    request = dict.fromkeys(BY_HAND)
    request.update({"built": None, "unit": definition})
    known = known_unit(request)
    each = lock_per_newton(known)
    likely = Lock(each * known.force, 0.0, adds_to_ramps(known))
    causes = [cause for cause in causes_of_packs(known, likely) if cause.name != "warm"]
    low, high = range_of(from_preload, likely, causes)
    # Both packs together hold what the wrench feels with the case held.
    share = known.built.stated / 2
    torque = say(figures["breakaway_nm"], "nm", written_in.nm)
    ends = [say(end * share, "nm", written_in.nm) for end in (low, high)]
    rows = [row("torque", "Breakaway torque", f"{torque} ({ends[0].split()[0]} to {ends[1]})")]
    return rows + of_the_lock(known, definition["ramps"])


def of_the_lock(known: Known, ramps: dict[str, Any] | None) -> list[dict[str, str]]:
    """Lock on drive and on coast, where the ramps are known."""
    rows = []
    for way in ("drive", "coast") if ramps is not None else ():
        lock, _, causes = lock_of(known, ramps, ramps[way + "_deg"], "unit.ramps")  # type: ignore[index, arg-type]
        low, high = range_of(locking, lock, causes)
        ends = range_in_words(percent(low), percent(high))
        rows.append(row(way, f"Lock on {way}", percent(lock.ramp) + (f" ({ends})" if ends else "")))
    return rows
