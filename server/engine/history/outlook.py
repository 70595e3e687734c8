"""What the checks since the rebuild say about the next opening, or why they say nothing yet."""

from typing import Any

from ..request.errors import BadInput
from ..request.fields import is_empty
from .judged_again import in_hindsight
from .life import FORM as LIFE_FORM
from .life import LEAST_READINGS, life
from .standing import FORM as ENTRIES_FORM
from .timeline import live_entries, newest_of, of_kind, since

FORM = ENTRIES_FORM
SEASON = "Until then: open it once a season and measure the plates (common practice, no source)."
COUNTS = ("there are none", "there is one", "there are two")
# The readings that `life` takes at most.
MOST = LIFE_FORM.fields["torque"].most  # type: ignore[attr-defined]


def with_outings(check: dict[str, Any]) -> bool:
    """Whether a torque check says how many outings the unit had since its rebuild."""
    return not is_empty((check["body"].get("circumstances") or {}).get("outings"))


def outlook(request: dict[str, Any]) -> dict[str, Any]:
    """When the torque will meet a limit, from the checks since the last rebuild.

    Parameters
    ----------
    request : dict
        Checked by `FORM`: the entries of one unit.

    Returns
    -------
    dict
        life, what `life` answers for these checks, or None; why there is none, a sentence, else empty; checks, those
        that count, by use: use (outings since the rebuild), value_nm, guard_nm.
    """
    live = in_hindsight(live_entries(request["entries"]))
    checks = [
        check
        for check in since(of_kind(live, "torque_check"), newest_of(live, "rebuild"))
        if with_outings(check) and check["shown"].get("value_nm") is not None
    ][-MOST:]
    definition = newest_of(live, "unit")
    if len(checks) < LEAST_READINGS or definition is None:
        few = COUNTS[min(len(checks), LEAST_READINGS - 1)]
        why = f"No prediction yet: it needs three checks since the rebuild with their outings noted; {few}. {SEASON}"
        return {"life": None, "why": why, "checks": []}
    service = definition["shown"]["checked"]["service"]
    life_request = {
        "use": "outings",
        "torque": [
            {"use": check["body"]["circumstances"]["outings"], "torque_nm": check["shown"]["value_nm"]}
            for check in checks
        ],
        # 0 limits nothing.
        "limits": {"low_nm": service["low_nm"], "high_nm": service["high_nm"] or None},
    }
    try:
        checked: dict[str, Any] = LIFE_FORM.read(life_request, "")
        prediction = life(checked)
    except BadInput as refusal:
        return {"life": None, "why": f"No prediction: {refusal.reason} {SEASON}", "checks": []}
    rows = [
        {"use": row["use"], "value_nm": check["shown"]["value_nm"], "guard_nm": check["shown"].get("guard_nm")}
        for row, check in zip(checked["torque"], checks)
    ]
    return {"life": prediction, "why": "", "checks": sorted(rows, key=lambda row: (row["use"], row["value_nm"]))}
