"""What changed between two torque checks: where the preload went, and whether the two are like with like."""

from typing import Any

from ..request.errors import BadInput
from ..request.fields import Group, Text, is_empty
from ..request.written_in import with_words
from ..torque_check.compare import FORM as COMPARE_FORM
from ..torque_check.compare import compare
from .judged_again import in_hindsight
from .loss import FORM as LOSS_FORM
from .loss import loss
from .standing import FORM as ENTRIES_FORM
from .timeline import by_device_time, live_entries, newest_of, of_kind, since

FORM = Group(
    with_words(
        {
            "entries": ENTRIES_FORM.fields["entries"],
            "before": Text(40, "id of the earlier check; the first since the rebuild where none is given", default=""),
            "now": Text(40, "id of the later check; the last where none is given", default=""),
        },
        "write_in",
        "write_lengths_in",
    ),
    "two torque checks of one unit",
)


def measured_with(live: list[dict[str, Any]], check: dict[str, Any]) -> list[dict[str, Any]]:
    """The entries that tell how the unit was when a check was made, in order of time.

    A unit is opened after its torque was read, and nothing wears before it is closed and read again, or rebuilt: what
    is measured in between belongs to the check before.
    """
    later = [
        entry
        for entry in live
        if entry["kind"] in ("torque_check", "rebuild") and by_device_time(entry) > by_device_time(check)
    ]
    return [entry for entry in live if not later or by_device_time(entry) < by_device_time(later[0])]


def plates_of(entries: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Mean thickness of every plate as it was last measured or fitted, from entries in order of time."""
    rows = {}
    for entry in entries:
        if entry["kind"] == "plate_check":
            for row in entry["shown"].get("plates", []):
                rows[row["slot"]] = row.get("mean_mm", row["lowest_mm"])
        elif entry["kind"] == "rebuild":
            for part in entry["shown"]["fitted"]:
                rows[part["slot"]] = part["mm"]
    return [{"slot": slot, "mm": rows[slot]} for slot in sorted(rows)]


def height_of(entries: list[dict[str, Any]]) -> float | None:
    """Mean free height of the spring, mm, as it was last measured; None if it never was."""
    newest = newest_of(entries, "spring_check")
    springs = newest["shown"].get("springs", []) if newest else []
    height: float | None = springs[0]["mean_mm"] if springs else None
    return height


def side_of(entries: list[dict[str, Any]], check: dict[str, Any]) -> dict[str, Any]:
    """One side of `loss`: a check with the parts as they were then."""
    shown = check["shown"]
    return {
        "torque_nm": shown["value_nm"],
        "u_nm": shown.get("u_nm"),
        "plates": plates_of(entries),
        "l0_mm": height_of(entries),
    }


def circumstances_of(check: dict[str, Any]) -> dict[str, Any]:
    """One side of `compare`: a check's torque with its oil, its warmth and its outings."""
    given = check["body"].get("circumstances") or {}
    side = {"value_nm": check["shown"]["value_nm"], "u_nm": check["shown"].get("u_nm")}
    side.update({name: given[name] for name in ("oil", "temperature", "outings") if not is_empty(given.get(name))})
    return side


def chosen(checks: list[dict[str, Any]], wanted: str, usual: dict[str, Any] | None) -> dict[str, Any] | None:
    """The check with this id, or the usual one."""
    return next((check for check in checks if check["id"] == wanted), usual)


def change(request: dict[str, Any]) -> dict[str, Any]:
    """What changed between two torque checks of a unit.

    Parameters
    ----------
    request : dict
        Checked by `FORM`.

    Returns
    -------
    dict
        checks, all that stand, by time: id, at, value_nm; comparable, whether they are two or more; before and now, ids
        of the two that are compared, None where there are none; unmeasured, which of plates and spring nobody measured
        between the two; loss and compared, what `loss` and `compare` answer, or None; fault, why there is no loss, else
        empty.
    """
    live = in_hindsight(live_entries(request["entries"]))
    checks = [check for check in of_kind(live, "torque_check") if check["shown"].get("value_nm") is not None]
    definition = newest_of(live, "unit")
    fresh = since(checks, newest_of(live, "rebuild"))
    before = chosen(checks, request["before"], next(iter(fresh or checks), None))
    now = chosen(checks, request["now"], checks[-1] if checks else None)
    found: dict[str, Any] = {
        "checks": [{"id": check["id"], "at": check["at"], "value_nm": check["shown"]["value_nm"]} for check in checks],
        "comparable": len(checks) > 1,
        "before": before["id"] if before else None,
        "now": now["id"] if now else None,
        "unmeasured": [],
        "loss": None,
        "compared": None,
        "fault": "",
    }
    if before is None or now is None or before is now or definition is None:
        return found
    then, later = measured_with(live, before), measured_with(live, now)
    seen = {entry["id"] for entry in then}
    between = {entry["kind"] for entry in later if entry["id"] not in seen}
    found["unmeasured"] = [
        part for part, kind in (("plates", "plate_check"), ("spring", "spring_check")) if kind not in between
    ]
    try:
        found["loss"] = loss(
            LOSS_FORM.read(
                {
                    "unit": definition["shown"]["checked"],
                    "before": side_of(then, before),
                    "now": side_of(later, now),
                    "write_lengths_in": request["write_lengths_in"],
                },
                "",
            )
        )
        found["compared"] = compare(
            COMPARE_FORM.read(
                {
                    "before": circumstances_of(before),
                    "now": circumstances_of(now),
                    "write_in": request["write_in"],
                },
                "",
            )
        )
    except BadInput as refusal:
        found["fault"] = refusal.reason
    return found
