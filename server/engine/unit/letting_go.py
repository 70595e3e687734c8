"""At the vice: what to hold the spring with, how far to open it, and what the spring would throw if it slipped."""

from typing import Any

from ..request.rounded import fixed
from ..request.units import GRAVITY, say
from ..request.written_in import WrittenIn
from .spring import Column
from .spring_tolerance import height_tolerance

# A vice or press is chosen for twice the force: common practice, no source.
RATING = 2.0

# Opened further than the travel at which even the tallest spring is free, mm, in steps of an opening: our own choice.
CLEARANCE_MM = 1.0
OPENING_STEP_MM = 0.5

# Opened further than a spring of unknown sizes seems to reach, mm: our own choice.
FURTHER_MM = 3.0

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
    return f"{fixed(length, 1)} mm" if unit == "mm" else say(length, "mm", unit)


def facing(definition: dict[str, Any]) -> list[str]:
    """Which way round each disc spring sits, as far as the definition says."""
    return [
        f"{item['slot']}: the point of its cone faces the {item['cone_to']}."
        for item in definition["chain"] or []
        if item.get("cone_to") is not None
    ]


def screws_at_steps(definition: dict[str, Any], written_in: WrittenIn) -> list[tuple[str, list[str]]]:
    """The cover's screws at the steps of a close, as far as they are known."""
    cover = definition["cover"]
    if cover is None:
        text = "The screws' torque is not known here: take the maker's, in two rounds."
        return [("screws", [text]), ("opened", ["Every screw has had its torque? Only then."])]
    torque, half = say(cover["torque_nm"], "nm", written_in.nm), say(cover["torque_nm"] / 2, "nm", written_in.nm)
    return [
        ("screws", [f"{cover['screws']} screws to {torque} each; {half} first."]),
        ("opened", [f"Every screw has had its {torque}? Only then."]),
    ]


def in_rows(strip: list[tuple[str, list[str]]], close: list[tuple[str, list[str]]]) -> dict[str, list[dict[str, str]]]:
    """Sentences by step as results hold them: pairs, since their order shows and a phone's dictionaries keep none."""
    return {
        name: [{"step": step, "text": text} for step, texts in sentences for text in texts]
        for name, sentences in (("strip", strip), ("close", close))
    }


def sentences_unknown(definition: dict[str, Any], hold: str, written_in: WrittenIn) -> dict[str, list[dict[str, str]]]:
    """Sentences at the steps of strip and close where the spring's force is not known.

    Parameters
    ----------
    definition : dict
        The unit's, as far as it is known.
    hold : str
        How to hold it then.
    written_in : WrittenIn
        Units to write in.
    """
    strip = [
        ("held", [hold]),
        ("screws", ["When the screws let go, take it that only the vice holds the spring."]),
        (
            "relieved",
            [
                "How far the spring travels is not known: open until nothing pushes any more, and "
                f"{rough(FURTHER_MM, written_in.mm)} further, before the cover is tried by hand, through gloves."
            ],
        ),
    ]
    return in_rows(strip, [("cone", facing(definition)), ("held", [hold])] + screws_at_steps(definition, written_in))


def sentences_at_steps(
    figures: dict[str, Any], definition: dict[str, Any], written_in: WrittenIn
) -> dict[str, list[dict[str, str]]]:
    """A unit's own figures, as sentences at the steps of strip and close where they count.

    Parameters
    ----------
    figures : dict
        Of `closing`: vice_most_n, rated_n, energy_most_j, lift_m, free_after_mm, open_to_mm, start_most_n, start_text.
    definition : dict
        The unit's.
    written_in : WrittenIn
        Units to write in.
    """
    other = "n" if written_in.n == "kgf" else "kgf"
    most, rated = say(figures["vice_most_n"], "n", written_in.n), say(figures["rated_n"], "n", written_in.n)
    hold = [
        f"It has to hold {most} ({say(figures['vice_most_n'], 'n', other)}): choose a vice or press rated for {rated}.",
        f"Should it slip, the spring lets go of {fixed(figures['energy_most_j'], 1)} J: enough to throw a cover of "
        f"{fixed(COVER_KG, 0)} kg {fixed(figures['lift_m'], 1)} m high.",
    ]
    free = rough(figures["free_after_mm"], written_in.mm)
    strip = [
        ("held", hold),
        (
            "relieved",
            [
                f"The spring is free after {free} of opening at the most. Open by "
                f"{rough(figures['open_to_mm'], written_in.mm)}, then try the cover by hand, through gloves."
            ],
        ),
    ]
    if figures["start_most_n"] is None:
        strip.append(("screws", ["When the screws let go, take it that only the vice holds the spring."]))
    elif figures["start_most_n"] > 0:
        strip.append(("screws", [f"{figures['start_text']} When they let go, only the vice holds it."]))
    return in_rows(strip, [("cone", facing(definition)), ("held", hold)] + screws_at_steps(definition, written_in))
