"""Torque over the thickness of the stack, from builds in the log: a plan's ground where the spring is not known."""

import math
from typing import Any

from ..request.errors import BadInput
from ..request.fields import Group, Listing, Number, Text
from ..request.units import say
from ..request.written_in import WrittenIn
from .band import Band

# What one build differs from the next alike one before any was seen, as a share of the torque: oil, bedding, plates'
# faces. Common practice, no source; as builds come in, these speak for themselves.
BUILD_SHARE = 0.05

# Builds that differ by less, mm, show nothing of what thickness does.
LEAST_RANGE_MM = 0.02

# Builds of other units that stand in for what the unit itself has too few of.
LEAST_OTHERS = 4

# A tenth of a millimetre is what people think in.
TENTH_MM = 0.1

POINTS = 21

BUILD = Group(
    {
        "thickness_mm": Number(1, 500, "mm", "plates and rings of the whole stack together, springs left out"),
        "torque_nm": Number(0.5, 5000, "nm", "breakaway torque of it, as the unit's order states it"),
        "u_nm": Number(0, 1000, "nm", "standard uncertainty of that", default=0.0),
    },
    "one build",
)


def builds(most: int, meaning: str) -> Listing:
    """A list of builds."""
    return Listing(BUILD, 0, most, meaning, default=[], nouns="builds")


EXPERIENCE = Group(
    {
        "own": builds(100, "builds of this unit with its present spring"),
        "others": Listing(
            Group(
                {"name": Text(60, "name of the unit"), "own": builds(100, "its builds")},
                "another unit of the same pattern",
            ),
            0,
            60,
            "other units of the same pattern",
            default=[],
            nouns="units",
        ),
    },
    "torque and thickness of builds, from the log",
    default=None,
)


def in_count(number: int, noun: str) -> str:
    """A number of things.

    >>> in_count(1, "build"), in_count(3, "build")
    ('1 build', '3 builds')
    """
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"


def refuse_few(own: int, others: list[list[tuple[float, float]]]) -> None:
    """Refuse to draw a line through too few builds, and say how many more it takes."""
    elsewhere = sum(len(unit) for unit in others)
    twice = any(len(unit) > 1 for unit in others)
    if own >= 2 or (elsewhere >= LEAST_OTHERS and twice):
        return
    more = "Two more builds" if own == 0 else "One more build"
    raise BadInput("experience.own", f"{more} with thickness and torque in the log would show what a plate does here.")


def point_of(build: dict[str, Any], low: float) -> dict[str, float]:
    """A build as drawings have it: above_mm is how much thicker it is than the thinnest, of `low` mm."""
    mm = build["thickness_mm"]
    return {"thickness_mm": mm, "above_mm": mm - low, "torque_nm": build["torque_nm"]}


class TorqueLine:
    """What the builds of a unit, and of its pattern, say of the torque of a stack of a given thickness.

    Parameters
    ----------
    experience : dict
        Checked by `EXPERIENCE`.
    written_in : WrittenIn
        Units to write in.

    Attributes
    ----------
    low, high : float
        The thinnest and the thickest stack that were built, mm: nothing is said of others.
    text : str
        What it rests on.

    Raises
    ------
    BadInput
        Too few builds, builds that are all alike, or thicker ones that gave no more torque.
    """

    def __init__(self, experience: dict[str, Any], written_in: WrittenIn) -> None:
        self.written_in = written_in
        own = [(build["thickness_mm"], build["torque_nm"]) for build in experience["own"]]
        others = [
            [(build["thickness_mm"], build["torque_nm"]) for build in unit["own"]]
            for unit in experience["others"]
            if unit["own"]
        ]
        refuse_few(len(own), others)
        rows = experience["own"] + [build for unit in experience["others"] for build in unit["own"]]
        sizes = [row["thickness_mm"] for row in rows]
        self.low: float = min(sizes)
        self.high: float = max(sizes)
        if self.high - self.low < LEAST_RANGE_MM:
            raise BadInput(
                "experience.own",
                "All builds so far are equally thick: one more, some tenths thicker or thinner, would show what a "
                "plate does here.",
            )
        torque = sum(row["torque_nm"] for row in rows) / len(rows)
        reading = sum(row["u_nm"] ** 2 for row in rows) / len(rows)
        self.band = Band([own] + others, 0, math.sqrt((BUILD_SHARE * torque) ** 2 + reading))
        self.given = experience
        self.own, self.units = len(own), len(others)
        self.elsewhere = len(rows) - len(own)
        if self.band.slope <= 0:
            raise BadInput(
                "experience.own",
                "Thicker stacks gave no more torque so far: check thickness and torque of these builds.",
            )
        self.text = self.in_words()

    def in_words(self) -> str:
        """What it rests on, in words."""
        text = "From " + in_count(self.own, "build")
        if not self.elsewhere:
            return text
        mine = text + " of this unit and " if self.own else "From "
        return f"{mine}{in_count(self.elsewhere, 'build')} of {in_count(self.units, 'other unit')} of its pattern"

    def torque(self, mm: float) -> float:
        """Torque that a stack of this thickness is expected to give, N·m."""
        return self.band.value(mm)

    def half(self, mm: float) -> float:
        """How far off the next build of this thickness may come out, N·m, 95 %."""
        return self.band.half(mm)

    def has_seen(self, mm: float) -> bool:
        """Whether a stack of this thickness lies within what was built."""
        return bool(self.low - 1e-9 <= mm <= self.high + 1e-9)

    def curve(self) -> list[dict[str, float]]:
        """The line and its band over the thickness that was seen, ready to draw."""
        rows = []
        for place in range(POINTS):
            mm = self.low + (self.high - self.low) * place / (POINTS - 1)
            value, half = self.torque(mm), self.half(mm)
            rows.append(
                {
                    "thickness_mm": mm,
                    "above_mm": mm - self.low,
                    "torque_nm": value,
                    "low_nm": max(0.0, value - half),
                    "high_nm": value + half,
                }
            )
        return rows

    def tenth_text(self, tenth: float, off: float) -> str:
        """What a tenth of a millimetre more gives, N·m, and how far off that may be, in words."""
        nm, mm = self.written_in.nm, self.written_in.mm
        more, within = say(tenth, "nm", nm), say(off, "nm", nm)
        return (
            f"{self.text}: {say(TENTH_MM, 'mm', mm)} more gives {more}, give or take {within}. Built from "
            f"{say(self.low, 'mm', mm)} to {say(self.high, 'mm', mm)}; nothing is said of thinner or thicker stacks."
        )

    def shown(self) -> dict[str, Any]:
        """What results hold: text, tenth_nm and its within_nm, low_mm, high_mm, own and others (points), and curve.

        And tenth_text, all of it in words, and base_nm, the torque at which a drawing may begin.
        """
        curve = self.curve()
        low, high = min(row["low_nm"] for row in curve), max(row["high_nm"] for row in curve)
        tenth, off = TENTH_MM * self.band.slope, TENTH_MM * self.band.slope_half()
        return {
            "text": self.text,
            "tenth_text": self.tenth_text(tenth, off),
            # Drawings that begin at no torque at all would squeeze the builds together at the top.
            "base_nm": max(0.0, low - 0.2 * (high - low)),
            "tenth_nm": tenth,
            "tenth_within_nm": off,
            "low_mm": self.low,
            "high_mm": self.high,
            "own": [point_of(build, self.low) for build in self.given["own"]],
            "others": [point_of(build, self.low) for unit in self.given["others"] for build in unit["own"]],
            "curve": curve,
        }

    def refuse_unseen(self, torque: float, field: str) -> None:
        """Refuse a torque that lies outside what the builds have shown."""
        least, most = self.torque(self.low), self.torque(self.high)
        if least <= torque <= most:
            return
        nm, mm = self.written_in.nm, self.written_in.mm
        way = "thinner" if torque < least else "thicker"
        raise BadInput(
            field,
            f"Stacks of {say(self.low, 'mm', mm)} to {say(self.high, 'mm', mm)} were built, and give "
            f"{say(least, 'nm', nm)} to {say(most, 'nm', nm)}: {say(torque, 'nm', nm)} lies outside. Go towards it in "
            f"one {way} build and check that, or enter the spring's sizes.",
        )
