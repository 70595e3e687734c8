"""The checks since the last rebuild: the line through them, and how many outings are left before it meets a limit."""

from typing import Any

from ..request.errors import BadInput
from ..request.sorting import in_order
from .life import FORM as LIFE_FORM
from .life import LEAST_READINGS, life
from .outings import hours_of, is_fresh, outings_of
from .timeline import newest_of, of_kind, since
from .used import Life

OUTINGS = "outings"
HOURS = "hours"
USES = {OUTINGS: "outings", HOURS: "hours of running, where each outing since the rebuild was logged with its time"}
SEASON = "Until then: open it once a season and measure the plates (common practice, no source)."
NOTED = {OUTINGS: "noted", HOURS: "logged"}
COUNTS = ("there are none", "there is one", "there are two")
# The readings that `life` takes at most.
MOST = LIFE_FORM.fields["torque"].most  # type: ignore[attr-defined]


def so_far(life: Life, use: str) -> float | None:
    """Use since the last rebuild as far as it is logged, where anything is."""
    if not life.logged:
        return None
    return float(life.outings) if use == OUTINGS else life.hours


def use_at(check: dict[str, Any], use: str) -> float | None:
    """Use since the rebuild at a check; None where nothing tells."""
    return outings_of(check) if use == OUTINGS else hours_of(check)


def counting_of(
    live: list[dict[str, Any]], with_first: bool, use: str
) -> tuple[list[dict[str, Any]], list[dict[str, Any]]]:
    """The checks since the last rebuild that say their use, and those of them by which the line goes."""
    checks = [
        check
        for check in since(of_kind(live, "torque_check"), newest_of(live, "rebuild"))
        if use_at(check, use) is not None and check["shown"].get("value_nm") is not None
    ][-MOST:]
    return checks, [check for check in checks if with_first or not is_fresh(check)]


def since_rebuild(
    live: list[dict[str, Any]], with_first: bool, limits: dict[str, Any] | None, use: str, now: float | None
) -> dict[str, Any]:
    """What `outlook` answers of the checks since the last rebuild alone; `limits` are those that end a run."""
    checks, counting = counting_of(live, with_first, use)
    result: dict[str, Any] = {"life": None, "why": "", "checks": []}
    if len(counting) < LEAST_READINGS:
        few = COUNTS[len(counting)]
        bedded = " after the first outing" if len(counting) < len(checks) else ""
        result["why"] = (
            f"No prediction yet: it needs three checks since the rebuild with their {use} {NOTED[use]}; {few}{bedded}. "
            f"{SEASON}"
        )
        return result
    if limits is None:
        result["why"] = f"No prediction: the unit has no limit to meet. {SEASON}"
        return result
    life_request = {
        "use": use,
        "now": now,
        "torque": [{"use": use_at(check, use), "torque_nm": check["shown"]["value_nm"]} for check in counting],
        "limits": limits,
    }
    try:
        result["life"] = life(LIFE_FORM.read(life_request, ""))
    except BadInput as refusal:
        result["why"] = f"No prediction: {refusal.reason} {SEASON}"
        return result
    rows = [row_of(check, with_first, use) for check in checks]
    result["checks"] = in_order(rows, lambda row: (row["use"], row["value_nm"]))
    return result


def row_of(check: dict[str, Any], with_first: bool, use: str) -> dict[str, Any]:
    """What a chart needs of a check."""
    fresh = is_fresh(check)
    return {
        "use": use_at(check, use),
        "value_nm": check["shown"]["value_nm"],
        "guard_nm": check["shown"].get("guard_nm"),
        "fresh": fresh,
        "counts": with_first or not fresh,
    }


def outings_left(live: list[dict[str, Any]], limits: dict[str, Any] | None, used: Life) -> float | None:
    """Outings from now on until a limit may be met at the earliest; `limits` are those that end a run.

    0 where it may be met already; None where nothing is in sight or the checks say nothing yet.
    """
    ahead = since_rebuild(live, False, limits, OUTINGS, so_far(used, OUTINGS))["life"]
    left = ahead["left_use"] if ahead is not None and ahead["enough"] else None
    return None if left is None else max(0.0, left)
