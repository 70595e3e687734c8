"""The kinds of entry that the log holds: one record each, used on every host.

An entry's body is the request of its kind's calculation, as it was typed, so that any host can judge it again.
"""

from typing import Any

from ..doubt.verdict import ORDER
from ..request.letters import listed
from ..torque_check.wrench import PERMITTED_PERCENT

# Raised whenever a result can change for the same request.
ENGINE_VERSION = "1.85"

# What an entry is about.
UNIT = "unit"
SHOP = "shop"
EITHER = "either"

# Roles that the workshop gives to devices.
TRACKSIDE = "trackside"
BENCH = "bench"


class Area:
    """Kinds of entry that the same roles write.

    Attributes
    ----------
    words : str
        What a sentence calls all of them together.
    writers : tuple of str
        Roles that may write them: `TRACKSIDE`, `BENCH` or both.
    """

    def __init__(self, words: str, writers: tuple[str, ...]) -> None:
        self.words = words
        self.writers = writers


CHECKS = Area("checks, outings and notes", (TRACKSIDE, BENCH))
BUILD = Area("the build of units", (BENCH,))
LISTS = Area("the workshop's lists", (BENCH,))


class Kind:
    """A kind of entry.

    Attributes
    ----------
    meaning : str
        What an entry of this kind says, in the user's words.
    nouns : str
        The plural that sentences use.
    calculation : str
        The calculation that checks and judges its body.
    about : str
        A `UNIT`, the `SHOP`, or `EITHER`.
    area : Area
        What it belongs to, which says who may write it.
    is_look : bool
        Whether somebody who wrote it looked at the unit itself.
    tables : tuple of (str, str)
        Tables of judged parts in its result that its view shows: name in the result, heading.
    corrected_on : str
        Name of the screen on which it is corrected, as in that screen's address; empty where nothing in it could be.
    can_undo : bool
        Whether saving one can be undone, by a note that replaces it. Not where what was done counts for somebody's
        safety, or where the unit itself would go with it.
    is_dated : bool
        Whether its body may name an earlier day on which it was done.
    version : int
        Version of the body's form; older ones stay readable.
    """

    def __init__(
        self,
        meaning: str,
        nouns: str,
        calculation: str,
        about: str = UNIT,
        area: Area = CHECKS,
        is_look: bool = False,
        tables: tuple[tuple[str, str], ...] = (),
        corrected_on: str = "",
        can_undo: bool = False,
        is_dated: bool = False,
        version: int = 1,
    ) -> None:
        self.meaning = meaning
        self.nouns = nouns
        self.calculation = calculation
        self.about = about
        self.area = area
        self.writers = area.writers
        self.is_look = is_look
        self.tables = tables
        self.corrected_on = corrected_on
        self.can_undo = can_undo
        self.is_dated = is_dated
        self.version = version


KINDS = {
    "unit": Kind("unit added or changed", "units", "unit", area=BUILD, corrected_on="change"),
    "torque_check": Kind(
        "breakaway torque checked",
        "torque checks",
        "breakaway",
        is_look=True,
        corrected_on="check",
        can_undo=True,
    ),
    "plate_check": Kind(
        "plates measured", "plate checks", "plates", is_look=True, corrected_on="plates", can_undo=True
    ),
    "spring_check": Kind(
        "disc springs measured",
        "spring checks",
        "spring_check",
        is_look=True,
        tables=(("springs", "Springs"),),
        corrected_on="springs",
        can_undo=True,
    ),
    "ring_check": Kind(
        "ramp rings checked",
        "ring checks",
        "ring_check",
        is_look=True,
        tables=(("rings", "Ramp rings"), ("pins", "Cross pins")),
        corrected_on="rings",
        can_undo=True,
    ),
    "inspection": Kind(
        "other parts inspected",
        "inspections",
        "inspection",
        is_look=True,
        tables=(("features", "Other parts"),),
        corrected_on="inspect",
        can_undo=True,
    ),
    "refit": Kind(
        "unit put back into its axle",
        "refits",
        "refit",
        area=BUILD,
        is_look=True,
        tables=(("checks", "Checks"),),
        corrected_on="refit",
        can_undo=True,
    ),
    "strip": Kind("unit stripped", "strips", "strip", area=BUILD, is_look=True, corrected_on="strip"),
    "close": Kind("unit closed", "closings", "close", area=BUILD, is_look=True, corrected_on="close"),
    "rebuild": Kind("unit rebuilt", "rebuilds", "rebuild", area=BUILD, is_look=True, corrected_on="rebuild"),
    "planned": Kind("rebuild planned", "plans of rebuilds", "planned", area=BUILD, can_undo=True),
    "trial": Kind("change chosen to try", "changes to try", "trial", can_undo=True),
    "outing": Kind("outing", "outings", "outing", corrected_on="outing", can_undo=True, is_dated=True),
    "service": Kind("service done", "services", "service", corrected_on="service", can_undo=True, is_dated=True),
    "photo": Kind("photo", "photos", "photo", can_undo=True),
    "shelf": Kind("shelf counted", "shelf counts", "shelf", SHOP, LISTS, corrected_on="shelf"),
    "kit": Kind("wrench or gauge added or changed", "tools of the kit", "kit", SHOP, LISTS, corrected_on="kit"),
    "pattern": Kind("pattern made or changed", "patterns", "pattern", SHOP, LISTS, corrected_on="pattern"),
    "car": Kind("car added or changed", "cars", "car", SHOP, LISTS, corrected_on="car"),
    "customer": Kind("customer added or changed", "customers", "customer", SHOP, LISTS, corrected_on="customer"),
    "letterhead": Kind("letterhead changed", "letterheads", "letterhead", SHOP, LISTS, corrected_on="letterhead"),
    "erasure": Kind("personal data erased", "erasures", "erasure", SHOP, LISTS),
    "sheet_sent": Kind("sheet sent", "sheets that were sent", "sheet_sent", can_undo=True),
    "note": Kind("note", "notes", "note", EITHER, corrected_on="note", can_undo=True),
}


def kinds_closed_to(role: str) -> list[str]:
    """Names of the kinds of entry that devices with a role may not write.

    >>> kinds_closed_to(TRACKSIDE), kinds_closed_to(BENCH)  # doctest: +ELLIPSIS
    (['car', 'close', 'customer', 'erasure', 'kit', ..., 'shelf', 'strip', 'unit'], [])
    """
    return sorted(name for name, kind in KINDS.items() if role not in kind.writers)


def in_words(names: list[str]) -> str:
    """Kinds of entry, one at least, as a sentence names them: by what they belong to.

    >>> in_words(["unit"]), in_words(["unit", "shelf", "rebuild", "kit"])
    ('the build of units', "the build of units and the workshop's lists")
    """
    return listed(sorted({KINDS[name].area.words for name in names}))


def about(_: dict[str, Any]) -> dict[str, Any]:
    """The engine's version, and the kinds of entry that it judges.

    Returns
    -------
    dict
        version; kinds, by name: all that `Kind` holds; verdicts, from best to worst;
        permitted_percent, by kind of tool, where nothing better is known.
    """
    kinds = {
        name: {
            "version": kind.version,
            "meaning": kind.meaning,
            "nouns": kind.nouns,
            "calculation": kind.calculation,
            "about": kind.about,
            "area": kind.area.words,
            "writers": list(kind.writers),
            "is_look": kind.is_look,
            "tables": [list(table) for table in kind.tables],
            "corrected_on": kind.corrected_on,
            "can_undo": kind.can_undo,
            "is_dated": kind.is_dated,
        }
        for name, kind in KINDS.items()
    }
    return {
        "version": ENGINE_VERSION,
        "kinds": kinds,
        "verdicts": list(ORDER),
        "permitted_percent": PERMITTED_PERCENT,
    }
