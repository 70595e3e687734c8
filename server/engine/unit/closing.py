"""Closing the cover: what the vice has to hold, and what the screws have left to hold with.

The spring is held closed in a vice or press before the screws are undone or tightened, and the screws never pull the
cover down: common practice.
"""

from typing import Any

from ..request.errors import BadInput
from ..request.fields import Group, Number
from ..request.units import GRAVITY, say
from ..request.written_in import Words, with_words, words_of
from .as_built import DEFINITION, Built, built_of, crush_of, longest_crush, preload
from .letting_go import RATING, free_after, lift, opening_for, sentences_at_steps
from .spring import column_energy
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

FORM = Group(
    with_words(
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


def closing(request: dict[str, Any]) -> dict[str, Any]:
    """Forces while a unit is closed or opened.

    Parameters
    ----------
    request : dict
        Checked by `FORM`; the unit's definition has to hold its cover.

    Returns
    -------
    dict
        crush_mm; closes, whether the cover can reach its seat; flush_n and flush_kgf, the spring's push with the cover
        closed; closing_n and opening_n, the force that a press needs and the force that pushes back at it, with the
        discs' friction, or None where that is not given, and friction_text on both; start_mm, the gap at which the
        screws first catch, start_assumed, whether that is only assumed, and start_text on what the spring does then;
        start_n and start_kgf, its push then; energy_j held by the closed spring; vice_most_n, vice_most_kgf,
        start_most_n and energy_most_j, the largest to expect on the way from a spring within its tolerance, which the
        vice has to hold; rated_n, the rating of a vice or press for it; free_after_mm, the opening after which even the
        tallest spring is free, and open_to_mm, clear of it; lift_m, how high energy_most_j would throw a cover of 1 kg;
        per_screw_n, the push on each screw with the cover closed; screw_n, clamp of one screw; clamp_left_n and
        clamp_left_kn, of all screws less the spring; warnings; cautions; at_steps, sentences with these figures for the
        steps of strip and close.

    Raises
    ------
    BadInput
        A definition without a cover, or one that contradicts itself.

    Notes
    -----
    Friction of the plates' lugs is left out, and that of the discs where it is not given: a press with a gauge may read
    a little more on the way down and a little less on the way up. A spring never gives back more than it stores, so
    friction adds nothing to energy_j.

    References
    ----------
    1. DIN EN 16983:2017, what a new disc's load and free height may lie above their table: `tolerance`.
    """
    definition = request["unit"]
    built = built_of(definition)
    cover = definition["cover"]
    if cover is None:
        raise BadInput("unit.cover", "Give the cover's screws: how many, their thread and their torque.")
    squeeze = request["crush_mm"]
    if squeeze is None:
        squeeze = crush_of(built, built.solids)
    words = words_of(request)
    warnings = warnings_for(squeeze, squeeze / built.springs.nests, built.springs.disc, words.mm)
    figures = of_spring(built, definition["spring"], squeeze, words)
    flush = figures["flush_n"]
    figures["warnings"] = warnings
    figures["cautions"] = cautions(flush, figures["vice_most_n"], words.n)
    figures.update(of_screws(cover, flush, request["nut_factor"], words, warnings))
    figures.update(at_first_thread(built, cover["start_mm"], squeeze, words, warnings))
    figures["at_steps"] = sentences_at_steps(figures, definition, words)
    return figures


def of_spring(built: Built, spring: dict[str, Any], squeeze: float, words: Words) -> dict[str, Any]:
    """Forces and energy of the spring at a crush of `squeeze` mm; `spring` are its fields in the definition."""
    flat, flush, free = longest_crush(built), preload(built, squeeze), free_after(built.springs, squeeze)
    most, energy_most = most_to_expect(built.springs, squeeze)
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
        "friction_text": friction_in_words(flush * more, flush * less, words.n) if rubs else "",
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
    cover: dict[str, Any], flush: float, nut_factor: float, words: Words, warnings: list[dict[str, Any]]
) -> dict[str, Any]:
    """What the screws hold of the spring's push with the cover closed; adds to `warnings`."""
    clamp = screw_force(cover["torque_nm"], cover["screw_mm"], nut_factor)
    left = cover["screws"] * clamp - flush
    if left <= 0:
        text = f"The spring pushes with {say(flush, 'n', words.n)}, more than the screws can hold: check the figures."
        warnings.append(concern("no_clamp", text))
    elif left < LEAST_CLAMP_LEFT * cover["screws"] * clamp:
        text = f"Only {say(left, 'n', words.n)} of the screws' clamp is left to hold the cover."
        warnings.append(concern("little_clamp", text))
    return {
        "per_screw_n": flush / cover["screws"],
        "screw_n": clamp,
        "clamp_left_n": left,
        "clamp_left_kn": left / 1000.0,
    }


def at_first_thread(
    built: Built, given: float | None, squeeze: float, words: Words, warnings: list[dict[str, Any]]
) -> dict[str, Any]:
    """What the spring does when the screws first catch, `given` mm above the cover's seat, or as far as is usual.

    Adds to `warnings`.
    """
    gap = USUAL_START_MM if given is None else given
    start = preload(built, squeeze - gap)
    most, _ = most_to_expect(built.springs, squeeze - gap)
    there = f"at the first thread, {say(gap, 'mm', words.mm)} above its seat{ASSUMED if given is None else ''},"
    text = f"With the cover {there} the spring is free."
    if most > 0:
        pushes = f"up to {say(most, 'n', words.n)}"
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
        f"{say(most, 'n', unit)} ({say(most, 'n', 'n' if unit == 'kgf' else 'kgf')}) on the way.",
        "Never pull the cover down with the screws, and never undo them one by one against the spring.",
        "Keep hands and face out of line with the cover, and wear safety glasses.",
        "The maker's own figures and procedure come first.",
    ]
