"""What a unit lost while its plates bedded in: after each rebuild, its first check against those of its first outings.

Plates bed in over the first outings, and the torque drops as they do: common practice, no source.
"""

from typing import Any

from ..request.errors import BadInput
from ..request.fields import is_empty
from ..torque_check.compare import FORM as COMPARE_FORM
from ..torque_check.compare import marks_of
from ..torque_check.form import FORM as CHECK_FORM
from ..torque_check.shared_doubt import combined, sources_of
from ..unit.stack import SPRING, layout_of
from .builds import lives_of
from .check_sides import circumstances_of
from .outings import is_fresh, outings_of

# By so many outings the plates have bedded in; what is lost later is wear: common practice, no source.
BEDDED_BY = 3

# Rebuilds that are looked back on.
MOST_REBUILDS = 5

# In what two checks may differ and still tell what bedding in took.
MAY_DIFFER = ("bedding", "tool")


def stated_as(check: dict[str, Any]) -> tuple[Any, Any]:
    """What a check's torque is stated for: the way of holding, and the reading that is judged."""
    names, body = ("stated_for", "judged_on"), check["body"]
    first, second = (CHECK_FORM.fields[name].default if is_empty(body.get(name)) else body[name] for name in names)
    return first, second


def drop(first: dict[str, Any], later: dict[str, Any], live: list[dict[str, Any]]) -> tuple[float, float] | None:
    """What was lost from one check to a later one and its standard doubt, N·m; None where they are not like with like.

    Like with like are two checks of one oil and one warmth, stated alike; what they share cancels in their difference.
    """
    if stated_as(first) != stated_as(later):
        return None
    try:
        pair: dict[str, Any] = COMPARE_FORM.read(
            {"before": circumstances_of(first, live), "now": circumstances_of(later, live)}, ""
        )
    except BadInput:
        # Entries of older versions may hold what is refused today.
        return None
    if any(mark["name"] not in MAY_DIFFER for mark in marks_of(pair["before"], pair["now"])):
        return None
    doubt, _ = combined(sources_of(pair["before"], pair["now"]), -1.0, 1.0)
    return (pair["before"]["value_nm"] - pair["now"]["value_nm"], doubt) if doubt > 0.0 else None


def until_opened(between: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """The torque checks, by time, from a rebuild until the unit was opened again; `between` is up to the next one."""
    checks = []
    for entry in between:
        if entry["kind"] == "strip" and "screws" in entry["body"].get("done", []):
            break
        if entry["kind"] == "torque_check" and entry["shown"].get("value_nm") is not None:
            checks.append(entry)
    return checks


def loss_after(
    rebuild: dict[str, Any], between: list[dict[str, Any]], stated: tuple[Any, Any]
) -> dict[str, Any] | None:
    """What bedding in took after one rebuild, from the entries up to the next; None where the log does not tell."""
    checks = until_opened(between)
    fresh = [check for check in checks if is_fresh(check) and stated_as(check) == stated]
    if not fresh or not rebuild["shown"].get("fitted"):
        return None
    drops = []
    for check in checks:
        outings = outings_of(check)
        if outings is not None and 0 < outings <= BEDDED_BY:
            drops.append(drop(fresh[0], check, [rebuild] + between))
    known = [row for row in drops if row is not None]
    if not known:
        return None
    return {
        "at": rebuild["at"],
        "first_nm": fresh[0]["shown"]["value_nm"],
        "loss_nm": sum(loss for loss, _ in known) / len(known),
        # All of them go by one first check: their doubts are taken to go the same way.
        "u_nm": sum(doubt for _, doubt in known) / len(known),
    }


def losses_of(live: list[dict[str, Any]], definition: dict[str, Any]) -> list[dict[str, Any]]:
    """What bedding in took after each of the last rebuilds that fitted plates, the newest last.

    Parameters
    ----------
    live : list of dict
        The unit's entries that stand, by time, its checks as this engine judges them.
    definition : dict
        The unit's definition, in SI.

    Returns
    -------
    list of dict
        at, when it was rebuilt; first_nm, torque of the first check, N·m; loss_nm, that less the mean of the checks
        after its first outings, below 0 where it rose; u_nm, standard doubt of that loss.
    """
    stated = (definition.get("stated_for") or "one_output_held", definition.get("judged_on") or "steady")
    rows: list[dict[str, Any]] = []
    for rebuild, between in reversed(lives_of(live)):
        if len(rows) == MOST_REBUILDS:
            break
        row = None if rebuild is None else loss_after(rebuild, between, stated)
        if row is not None:
            rows.append(row)
    return rows[::-1]


def alike(definition: dict[str, Any]) -> str:
    """What units built alike have in common, in one line: layout, spring, rubbing ring, and the order of their plates.

    Plates of such units bed in alike, however thick they are. Empty where some of it is not known.
    """
    spring, ring, chain = definition["spring"], definition["friction"], definition["chain"]
    if spring is None or ring is None or chain is None:
        return ""
    figures = [spring.get(name) for name in ("de_mm", "di_mm", "t_mm", "parallel", "series")]
    figures += [ring["inner_mm"], ring["outer_mm"]]
    parts = [item["part"] for item in chain if item["part"] != SPRING]
    words = [
        layout_of(chain, definition["layout"]),
        definition.get("plate_family") or "",
        definition.get("stated_for") or "",
    ]
    return "/".join(words + ["" if figure is None else f"{figure:g}" for figure in figures] + parts).lower()
