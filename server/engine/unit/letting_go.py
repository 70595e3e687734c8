"""At the vice: what to hold the spring with, how far to open it, and what the spring would throw if it slipped."""

from typing import Any

from ..request.units import GRAVITY, say
from ..request.written_in import Words
from .spring import Column
from .spring_tolerance import height_tolerance

# A vice or press is chosen for twice the force: common practice, no source.
RATING = 2.0

# Opened further than the travel at which even the tallest spring is free, mm, in steps of an opening: our own choice.
CLEARANCE_MM = 1.0
OPENING_STEP_MM = 0.5

# A cover of usual weight, kg, to picture an energy by.
COVER_KG = 1.0


def free_after(column: Column, squeeze: float) -> float:
    """By how much the vice has to open from the closed cover until the tallest new spring is free, mm.

    Parameters
    ----------
    column : Column
        Discs as their table has them.
    squeeze : float
        mm of the whole column with the cover closed; below 0 the stack is loose.

    Examples
    --------
    A column of two nests of a disc 2 mm thick, each up to 0.15 mm taller than its table:

    >>> from server.engine.unit.spring import Disc
    >>> round(free_after(Column(Disc(50.0, 25.4, 2.0, 3.4, 206000.0, 0.3, 2.0), 1, 2), 1.4), 3)
    1.7
    """
    return max(0.0, squeeze + column.nests * height_tolerance(column.disc.t)[0])


def opening_for(travel: float) -> float:
    """How far to open before the cover is tried by hand, mm: clear of `travel`, in steps that a rule shows.

    >>> opening_for(1.7), opening_for(0.0)
    (3.0, 1.0)
    """
    steps = -((-travel - CLEARANCE_MM) // OPENING_STEP_MM)
    return steps * OPENING_STEP_MM


def lift(energy: float) -> float:
    """How high an energy, J, would throw a cover of `COVER_KG`, m.

    >>> round(lift(5.884), 3)
    0.6
    """
    return energy / (COVER_KG * GRAVITY)


def rough(length: float, unit: str) -> str:
    """A length as a rule or a vice's handle shows it.

    >>> rough(1.7, "mm"), rough(3.0, "inch")
    ('1.7 mm', '0.1181 inch')
    """
    return f"{length:.1f} mm" if unit == "mm" else say(length, "mm", unit)


def sentences_at_steps(
    figures: dict[str, Any], definition: dict[str, Any], words: Words
) -> dict[str, list[dict[str, str]]]:
    """A unit's own figures, as sentences at the steps of strip and close where they count.

    Parameters
    ----------
    figures : dict
        Of `closing`: vice_most_n, rated_n, energy_most_j, lift_m, free_after_mm, open_to_mm, start_most_n, start_text.
    definition : dict
        The unit's, with its cover.
    words : Words
        Units to write in.
    """
    cover = definition["cover"]
    other = "n" if words.n == "kgf" else "kgf"
    most, rated = say(figures["vice_most_n"], "n", words.n), say(figures["rated_n"], "n", words.n)
    hold = [
        f"It has to hold {most} ({say(figures['vice_most_n'], 'n', other)}): choose a vice or press rated for {rated}.",
        f"Should it slip, the spring lets go of {figures['energy_most_j']:.1f} J: enough to throw a cover of "
        f"{COVER_KG:.0f} kg {figures['lift_m']:.1f} m high.",
    ]
    free = rough(figures["free_after_mm"], words.mm)
    torque = say(cover["torque_nm"], "nm", words.nm)
    # Pairs, since their order shows and a phone's dictionaries keep none.
    strip = [
        ("held", hold),
        (
            "relieved",
            [
                f"The spring is free after {free} of opening at the most. Open by "
                f"{rough(figures['open_to_mm'], words.mm)}, then try the cover by hand, through gloves."
            ],
        ),
    ]
    half = say(cover["torque_nm"] / 2, "nm", words.nm)
    facing = [
        f"{item['slot']}: the point of its cone faces the {item['cone_to']}."
        for item in definition["chain"]
        if item.get("cone_to") is not None
    ]
    close = [
        ("cone", facing),
        ("held", hold),
        ("screws", [f"{cover['screws']} screws to {torque} each; {half} first."]),
        ("opened", [f"Every screw has had its {torque}? Only then."]),
    ]
    if figures["start_most_n"] > 0:
        strip.append(("screws", [f"{figures['start_text']} When they let go, only the vice holds it."]))
    return {
        name: [{"step": step, "text": text} for step, texts in sentences for text in texts]
        for name, sentences in (("strip", strip), ("close", close))
    }
