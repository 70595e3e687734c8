"""Closing the cover: what the vice has to hold, and what the screws have left to hold with.

The spring is held closed in a vice or press before the screws are undone or tightened, and the screws never pull the
cover down: common practice.
"""

import math
from typing import Any

from ..request.fields import Group, Number
from ..request.units import GRAVITY, say
from ..request.written_in import WrittenIn, with_written_in, written_in_by
from .as_built import DEFINITION, Stacked, crush_of, derive, longest_crush, preload, stacked_of
from .clamp import clamp_on_the_car
from .known import PRELOAD, lacks_of, missing
from .letting_go import RATING, free_after, lift, opening_for, sentences_at_steps, sentences_unknown
from .marks import marked_concerns, may_be_more
from .spring import Column, column_energy, column_load, rising_until, with_free_height
from .spring_friction import has_friction, load_factors
from .spring_tolerance import most_to_expect
from .spring_warnings import concern, warnings_for
from .usual_limits import USUAL_START_MM

# Torque = nut factor · force · diameter; 0.2 for plain dry steel screws: common practice, no source.
USUAL_NUT_FACTOR = 0.2

# Below this share of the screws' clamp the cover is taken to lift or fret: common practice, no source.
LEAST_CLAMP_LEFT = 0.2

# Goes with every force that is worked out with an assumed gap at the first thread.
ASSUMED = " (assumed, common practice: the definition does not give that gap)"

# Goes with every strip and close of a unit whose spring nobody measured.
FORCE_UNKNOWN = (
    "The spring's force is not known: treat it as more than an ordinary vice can hold. Hold the unit closed in a press "
    "with a guard, or in the strongest vice there is, before you touch the screws."
)

# Cautions whatever the figures.
ALWAYS = [
    "Never pull the cover down with the screws, and never undo them one by one against the spring.",
    "Keep hands and face out of line with the cover, and wear safety glasses.",
    "The maker's own figures and procedure come first.",
]

# What is not worked out without the cover's screws.
OF_THE_COVER = (
    "start_mm",
    "start_assumed",
    "start_text",
    "start_n",
    "start_kgf",
    "start_most_n",
    "per_screw_n",
    "screw_n",
    "clamp_left_n",
    "clamp_left_kn",
    "push_most_n",
    "left_n",
    "left_low_n",
    "left_high_n",
    "clamp_text",
)

FORM = Group(
    with_written_in(
        {
            "unit": DEFINITION,
            "crush_mm": Number(0, 100, "mm", "crush, where it is not that of the definition", default=None),
            "nut_factor": Number(0.08, 0.4, "", "torque over force and diameter of a screw", default=USUAL_NUT_FACTOR),
        },
        "write_in",
        "write_lengths_in",
        "write_forces_in",
    ),
    "closing or opening a unit",
)


def screw_force(torque: float, diameter: float, nut_factor: float) -> float:
    """Clamp of one screw, N.

    Parameters
    ----------
    torque : float
        Torque of the screw, N·m.
    diameter : float
        Thread diameter, mm.
    nut_factor : float
        About 0.2 dry, 0.15 oiled.

    Examples
    --------
    >>> round(screw_force(25, 8, 0.2))
    15625
    """
    return torque * 1000.0 / (nut_factor * diameter)


def lack_of(definition: dict[str, Any], ability: str) -> dict[str, str] | None:
    """What a definition lacks for an ability: field and text; None where it lacks nothing."""
    for row in lacks_of(definition):
        if row["name"] == ability:
            return row
    return None


def closing(request: dict[str, Any]) -> dict[str, Any]:
    """Forces while a unit is closed or opened.

    Parameters
    ----------
    request : dict
        Checked by `FORM`.

    Returns
    -------
    dict
        known, whether the spring's force can be worked out; lack, what is missing for it or for the screws, or None;
        cautions; at_steps, sentences for the steps of strip and close. Where it is known also crush_mm; closes, whether
        the cover can reach its seat; flush_n and flush_kgf, the spring's push with the cover closed; closing_n and
        opening_n, the force that a press needs and the force that pushes back at it, with the discs' friction, or None
        where that is not given, and friction_text on both; energy_j held by the closed spring; vice_most_n,
        vice_most_kgf and energy_most_j, the largest to expect on the way from a spring within its tolerance, which the
        vice has to hold; rated_n, the rating of a vice or press for it; free_after_mm, the opening after which even the
        tallest spring is free, and open_to_mm, clear of it; lift_m, how high energy_most_j would throw a cover of 1 kg;
        warnings. With the cover's screws, else None: start_mm, the gap at which the screws first catch, start_assumed,
        whether that is only assumed, and start_text on what the spring does then; start_n and start_kgf, its push then,
        and start_most_n, the largest to expect; per_screw_n, the push on each screw with the cover closed; screw_n,
        clamp of one screw; clamp_left_n and clamp_left_kn, of all screws less the spring; push_most_n, left_n,
        left_low_n, left_high_n and clamp_text, the same with the greatest torque at the case: see `clamp_on_the_car`.

    Raises
    ------
    BadInput
        A definition that contradicts itself.

    Notes
    -----
    Friction of the plates' lugs is left out, and that of the discs where it is not given: a press with a gauge may read
    a little more on the way down and a little less on the way up. A spring never gives back more than it stores, so
    friction adds nothing to energy_j.

    References
    ----------
    1. DIN EN 16983:2017, what a new disc's load and free height may lie above their table: `tolerance`.
    """
    definition, written_in = request["unit"], written_in_by(request)
    if missing(definition, PRELOAD):
        derive(definition, "unit")
        return {
            "known": False,
            "lack": lack_of(definition, "preload"),
            "cautions": [FORCE_UNKNOWN] + ALWAYS,
            "at_steps": sentences_unknown(definition, FORCE_UNKNOWN, written_in),
        }
    stacked, cover = stacked_of(definition), definition["cover"]
    squeeze = request["crush_mm"]
    if squeeze is None:
        squeeze = crush_of(stacked, stacked.solids)
    warnings = warnings_for(squeeze, squeeze / stacked.springs.nests, stacked.springs.disc, written_in.mm)
    warnings += marked_concerns(definition, written_in.mm, friction=False)
    most = strongest_of(definition, stacked.springs, squeeze, request["crush_mm"] is None)
    figures = of_spring(stacked, definition["spring"], squeeze, most, written_in)
    flush = figures["flush_n"]
    figures["known"], figures["lack"] = True, lack_of(definition, "screws")
    figures["warnings"] = warnings
    figures["cautions"] = cautions(flush, figures["vice_most_n"], written_in.n)
    if cover is None:
        figures.update(dict.fromkeys(OF_THE_COVER))
    else:
        figures.update(of_screws(cover, flush, request["nut_factor"], written_in, warnings))
        clamp = cover["screws"] * figures["screw_n"]
        figures.update(
            clamp_on_the_car(definition, [flush, most_push(flush, squeeze, most)], clamp, written_in, warnings)
        )
        figures.update(at_first_thread(stacked, cover["start_mm"], squeeze, most, written_in, warnings))
    figures["at_steps"] = sentences_at_steps(figures, definition, written_in)
    return figures


def strongest_of(definition: dict[str, Any], springs: Column, squeeze: float, by_depth: bool) -> tuple[Column, float]:
    """Springs and crush, mm, as far up as figures that were worked out leave open, 95 %; as they are without such.

    `by_depth` says whether the crush follows from the depth, or was measured itself.
    """
    taller, deeper = may_be_more(definition, "l0_mm"), may_be_more(definition, "cavity_mm")
    disc = springs.disc
    most = Column(with_free_height(disc, disc.l0 + taller), springs.parallel, springs.nests)
    # Both seldom lie at their ends at once.
    return most, squeeze + (math.sqrt(deeper**2 + (springs.nests * taller) ** 2) if by_depth else 0.0)


def most_push(flush: float, likely: float, strongest: tuple[Column, float]) -> float:
    """The most that the springs may push at the closed cover, N: `flush` at a `likely` crush, mm, if that is sure.

    A curve that peaks in between has its most there.
    """
    springs, squeeze = strongest
    reached = column_load(springs, max(0.0, min(squeeze, springs.nests * rising_until(springs.disc))))
    return flush if squeeze <= likely else max(flush, reached)


def of_spring(
    built: Stacked, spring: dict[str, Any], squeeze: float, strongest: tuple[Column, float], written_in: WrittenIn
) -> dict[str, Any]:
    """Forces and energy of the spring at a crush of `squeeze` mm; `spring` are its fields in the definition."""
    flat, flush, free = longest_crush(built), preload(built, squeeze), free_after(*strongest)
    most, energy_most = most_to_expect(*strongest)
    more, less = load_factors(spring)
    rubs = has_friction(spring)
    most *= more
    return {
        "crush_mm": squeeze,
        "closes": squeeze < flat,
        "flush_n": flush,
        "flush_kgf": flush / GRAVITY,
        "closing_n": flush * more if rubs else None,
        "opening_n": flush * less if rubs else None,
        "friction_text": friction_in_words(flush * more, flush * less, written_in.n) if rubs else "",
        "energy_j": column_energy(built.springs, max(0.0, min(squeeze, flat))),
        "vice_most_n": most,
        "vice_most_kgf": most / GRAVITY,
        "energy_most_j": energy_most,
        "rated_n": RATING * most,
        "free_after_mm": free,
        "open_to_mm": opening_for(free),
        "lift_m": lift(energy_most),
    }


def friction_in_words(down: float, up: float, unit: str) -> str:
    """How the discs' friction changes the force at the press, as a sentence."""
    return (
        f"With the discs' friction a press needs {say(down, 'n', unit)} to close it, and only {say(up, 'n', unit)} "
        "push back when it is opened."
    )


def of_screws(
    cover: dict[str, Any], flush: float, nut_factor: float, written_in: WrittenIn, warnings: list[dict[str, Any]]
) -> dict[str, Any]:
    """What the screws hold of the spring's push with the cover closed; adds to `warnings`."""
    clamp = screw_force(cover["torque_nm"], cover["screw_mm"], nut_factor)
    left = cover["screws"] * clamp - flush
    if left <= 0:
        text = (
            f"The spring pushes with {say(flush, 'n', written_in.n)}, more than the screws can hold: check the figures."
        )
        warnings.append(concern("no_clamp", text))
    elif left < LEAST_CLAMP_LEFT * cover["screws"] * clamp:
        text = f"Only {say(left, 'n', written_in.n)} of the screws' clamp is left to hold the cover."
        warnings.append(concern("little_clamp", text))
    return {
        "per_screw_n": flush / cover["screws"],
        "screw_n": clamp,
        "clamp_left_n": left,
        "clamp_left_kn": left / 1000.0,
    }


def at_first_thread(
    built: Stacked,
    given: float | None,
    squeeze: float,
    strongest: tuple[Column, float],
    written_in: WrittenIn,
    warnings: list[dict[str, Any]],
) -> dict[str, Any]:
    """What the spring does when the screws first catch, `given` mm above the cover's seat, or as far as is usual.

    Adds to `warnings`.
    """
    gap = USUAL_START_MM if given is None else given
    start = preload(built, squeeze - gap)
    most, _ = most_to_expect(strongest[0], strongest[1] - gap)
    there = f"at the first thread, {say(gap, 'mm', written_in.mm)} above its seat{ASSUMED if given is None else ''},"
    text = f"With the cover {there} the spring is free."
    if most > 0:
        pushes = f"up to {say(most, 'n', written_in.n)}"
        text = f"With the cover {there} the spring may still push with {pushes}."
        sentence = (
            f"The screws let go {there} while the spring still pushes with {pushes}: only the vice holds it then."
        )
        warnings.append(concern("pushes_at_start", sentence))
    return {
        "start_mm": gap,
        "start_assumed": given is None,
        "start_text": text,
        "start_n": start,
        "start_kgf": start / GRAVITY,
        "start_most_n": most,
    }


def cautions(flush: float, most: float, unit: str) -> list[str]:
    """Cautions for this step, with this spring's own figures."""
    return [
        "Hold the unit closed in a vice or press before you touch the screws: with the cover closed the spring pushes "
        f"with {say(flush, 'n', unit)}, and a spring within its tolerance may push with up to "
        f"{say(most, 'n', unit)} ({say(most, 'n', 'n' if unit == 'kgf' else 'kgf')}) on the way."
    ] + ALWAYS
