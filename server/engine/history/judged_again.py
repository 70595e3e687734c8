"""Torque checks that an older engine judged, judged again by this engine with what is known of the unit.

Entries keep the verdict as it was shown. What stands goes by the worse of the two, and says so where they differ.
"""

from typing import Any

from ..doubt.verdict import MEASURE_AGAIN, WORDS, worst
from ..records.kinds import ENGINE_VERSION
from ..request.errors import BadInput
from ..request.fields import Checked, Group, Listing, Text
from ..request.letters import are_digits
from ..torque_check.breakaway import breakaway
from ..torque_check.form import FORM
from ..unit.held import packs_in_torque
from ..unit.ramp_lock import build_of_unit
from .timeline import live_entries, newest_of
from .verdict_now import outdated

AGAIN_FORM = Group(
    {
        "entries": Listing(Checked("an entry of the log"), 0, 100000, "all entries of one unit", nouns="entries"),
        "id": Text(40, "id of the torque check"),
    },
    "a torque check among the entries of its unit",
)

# Fields of a check in a row of `standing` that follow the newer verdict.
JUDGED = ("verdict", "reason", "value_nm", "expanded_nm", "guard_nm", "low_nm", "high_nm", "findings")

# Torques that differ by less than this share are the same torque.
SAME = 1e-6


def is_older(version: str) -> bool:
    """Whether a version, such as "1.3", is older than this engine's; one that cannot be read is not.

    >>> is_older("1.0"), is_older(ENGINE_VERSION), is_older("99.1"), is_older("")
    (True, False, False, False)
    """
    numbers = [part for part in version.split(".") if are_digits(part)]
    if len(numbers) != 2 or version.count(".") != 1:
        return False
    this_version = ENGINE_VERSION.split(".")
    return (int(numbers[0]), int(numbers[1])) < (int(this_version[0]), int(this_version[1]))


def build_of(unit: dict[str, Any] | None) -> dict[str, Any] | None:
    """What a torque check has to know of a unit, from its definition's entry."""
    shown = unit["shown"] if unit else {}
    if shown.get("checked") is None:
        return None
    return build_of_unit(shown["checked"], shown.get("faces"), shown.get("radius_mm"))


def judge_anew(entry: dict[str, Any], unit: dict[str, Any] | None) -> dict[str, Any]:
    """What this engine says about a check, with the unit's build where the check itself does not hold one.

    `unit` is the entry of the unit's definition, or None.
    """
    body = entry["body"].copy()
    build = build_of(unit) if body.get("build") is None else None
    if build is not None:
        body["build"] = build
    try:
        return breakaway(FORM.read(body, ""))
    except BadInput as refusal:
        # It was accepted then; a torque that cannot be worked out from it any more has to be read again.
        return {"verdict": MEASURE_AGAIN, "reason": refusal.reason}


def in_hindsight(live: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """A unit's entries, with those checks judged anew whose torque an older engine got wrong: read with the case held.

    Such a check holds what this engine shows; where that cannot be worked out, it has no torque.
    """
    unit = newest_of(live, "unit")
    entries = []
    for entry in live:
        if (
            entry["kind"] == "torque_check"
            and packs_in_torque(entry["body"].get("held", "")) == 2
            and is_older(entry.get("engine", ""))
        ):
            anew, shown = judge_anew(entry, unit), entry["shown"].copy()
            shown["value_nm"] = None
            shown.update(anew)
            entry = entry.copy()
            entry["shown"] = shown
        entries.append(entry)
    return entries


def judge_again(row: dict[str, Any], entry: dict[str, Any], unit: dict[str, Any] | None) -> dict[str, Any] | None:
    """Correct what stands for a check that an older engine judged.

    Parameters
    ----------
    row : dict
        What `standing` holds of it; changed in place where this engine's verdict is worse, or its torque another.
    entry : dict
        Its entry.
    unit : dict or None
        The entry of the unit's definition; None where there is none.

    Returns
    -------
    dict or None
        id, engine (the older version), verdict (this engine's), value_nm (None where it cannot be worked out), text;
        None where nothing differs.
    """
    if not is_older(entry.get("engine", "")):
        return None
    anew = judge_anew(entry, unit)
    before, now = row["verdict"], anew["verdict"]
    value = anew.get("value_nm")
    same_torque = value is None or row["value_nm"] is None or abs(value - row["value_nm"]) <= SAME * abs(value)
    if before == now and same_torque:
        return None
    stands = now if before is None else worst([before, now])
    unchanged = () if stands == now else ("verdict", "reason")
    if stands == now or not same_torque:
        for name in JUDGED:
            if name in anew and name not in unchanged:
                row[name] = anew[name]
    what = "Judged" if before is None else f"Judged {WORDS.get(before, before)}"
    return {
        "id": entry["id"],
        "engine": entry["engine"],
        "verdict": now,
        "value_nm": value,
        "text": f"{what} by Slipbook's engine {entry['engine']}; today's engine says {WORDS[now]}. {anew['reason']}",
    }


def judged_again(request: dict[str, Any]) -> dict[str, Any]:
    """What is found otherwise today in a torque check.

    Parameters
    ----------
    request : dict
        Checked by `AGAIN_FORM`.

    Returns
    -------
    dict
        again: where an older engine judged it, see `judge_again`; None where nothing differs. outdated: whether its
        limits are none of those that its unit has today. None and False where the entry is no torque check.
    """
    entries = request["entries"]
    checks = [entry for entry in entries if entry["id"] == request["id"] and entry["kind"] == "torque_check"]
    if not checks:
        return {"again": None, "outdated": False}
    shown, unit = checks[0]["shown"], newest_of(live_entries(entries), "unit")
    row = {"verdict": shown.get("verdict"), "value_nm": shown.get("value_nm")}
    return {
        "again": judge_again(row, checks[0], unit),
        "outdated": unit is not None and outdated(checks[0], unit),
    }
