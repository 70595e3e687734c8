"""What changed between two torque checks: where the preload went, and whether the two are like with like."""

from typing import Any

from ..part_checks.gauges import gauge_u
from ..part_checks.plates import FORM as PLATES_FORM
from ..request.errors import BadInput
from ..request.fields import Group, Text
from ..request.written_in import with_written_in
from ..torque_check.compare import FORM as COMPARE_FORM
from ..torque_check.compare import compare
from ..torque_check.form import TEMPERATURES
from ..unit.known import PRELOAD, require
from ..unit.spring_tolerance import height_tolerance
from ..unit.usual_limits import UNMEASURED_WITHIN_MM
from .built_now import definition_of
from .check_sides import circumstances_of
from .check_sides import side_of as check_side
from .gauged import gauged_of, spring_checks_of
from .judged_again import in_hindsight
from .logged import between, oil_at
from .loss import FORM as LOSS_FORM
from .loss import loss
from .standing import FORM as ENTRIES_FORM
from .timeline import by_device_time, live_entries, newest_of, of_kind, since

FORM = Group(
    with_written_in(
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
    """The entries that show the state of the unit when a check was made, in order of time.

    A unit is opened after its torque was read, and nothing wears before it is closed and read again, or rebuilt: what
    is measured in between belongs to the check before.
    """
    later = [
        entry
        for entry in live
        if entry["kind"] in ("torque_check", "rebuild") and by_device_time(entry) > by_device_time(check)
    ]
    return [entry for entry in live if not later or by_device_time(entry) < by_device_time(later[0])]


def seen_with(live: list[dict[str, Any]], check: dict[str, Any]) -> list[str]:
    """Ids of the entries that tell how the unit was at this check and at no earlier one: since the check before it."""
    earlier = [
        entry for entry in live if entry["kind"] == "torque_check" and by_device_time(entry) < by_device_time(check)
    ]
    return [
        entry["id"]
        for entry in measured_with(live, check)
        if not earlier or by_device_time(entry) > by_device_time(earlier[-1])
    ]


def plates_of(entries: list[dict[str, Any]], fresh: list[str]) -> list[dict[str, Any]]:
    """Mean thickness of every plate as it was last measured or fitted.

    Parameters
    ----------
    entries : list of dict
        In order of time.
    fresh : list of str
        Ids of those that tell how the unit was then; what only older ones tell may have worn since.
    """
    rows = {}
    for entry in entries:
        old = None if entry["id"] in fresh else UNMEASURED_WITHIN_MM
        if entry["kind"] == "plate_check":
            for row in entry["shown"].get("plates", []):
                mm = row.get("mean_mm", row["lowest_mm"])
                rows[row["slot"]] = {"slot": row["slot"], "mm": mm, "within_mm": old}
        elif entry["kind"] == "rebuild":
            for part in entry["shown"]["fitted"]:
                within = part.get("within_mm") or UNMEASURED_WITHIN_MM
                rows[part["slot"]] = {"slot": part["slot"], "mm": part["mm"], "within_mm": within}
    return [rows[slot] for slot in sorted(rows)]


def micrometer_of(entries: list[dict[str, Any]]) -> dict[str, Any]:
    """The micrometer that plates were measured with last, and what it is off by at every plate, mm (1 sd)."""
    newest = newest_of(entries, "plate_check")
    if newest is None:
        return {}
    checked = PLATES_FORM.fields["micrometer"]
    try:
        tool: dict[str, Any] = checked.read(newest["body"].get("micrometer"), "micrometer")  # type: ignore[assignment]
    except BadInput:
        return {}
    return {"gauge": tool["name"], "gauge_u_mm": gauge_u(tool)}


def height_of(entries: list[dict[str, Any]], fresh: list[str], defined: dict[str, Any]) -> dict[str, Any]:
    """Free height of the discs that were in then, mm, as gauged last, and what they may have set since; or empty."""
    gauged = gauged_of(defined["chain"] or [], spring_checks_of(entries))
    if gauged is None or defined["spring"] is None:
        return {}
    is_fresh = all(name in fresh for name in gauged["ids"])
    within = None if is_fresh else max(height_tolerance(defined["spring"]["t_mm"]))
    return {"l0_mm": gauged["mean_mm"], "l0_within_mm": within}


def side_of(live: list[dict[str, Any]], check: dict[str, Any], defined: dict[str, Any]) -> dict[str, Any]:
    """One side of `loss`: a check with the parts as they were then, of a unit's definition in SI."""
    entries, fresh = measured_with(live, check), seen_with(live, check)
    doubt = check_side(check)
    side = {
        "torque_nm": check["shown"]["value_nm"],
        "u_nm": doubt["u_nm"],
        "parts": doubt["parts"],
        "plates": plates_of(entries, fresh),
    }
    side["oil"] = oil_at(live, check)
    warmth = (check["body"].get("circumstances") or {}).get("temperature")
    if warmth in TEMPERATURES:
        side["temperature"] = warmth
    side.update(micrometer_of(entries))
    side.update(height_of(entries, fresh, defined))
    return side


def chosen(checks: list[dict[str, Any]], wanted: str, usual: dict[str, Any] | None) -> dict[str, Any] | None:
    """The check with this id, or the usual one."""
    return next((check for check in checks if check["id"] == wanted), usual)


def unmeasured_between(live: list[dict[str, Any]], before: dict[str, Any], now: dict[str, Any]) -> list[str]:
    """Which of plates and spring were not measured between two checks."""
    seen = {entry["id"] for entry in measured_with(live, before)}
    between = {entry["kind"] for entry in measured_with(live, now) if entry["id"] not in seen}
    return [part for part, kind in (("plates", "plate_check"), ("spring", "spring_check")) if kind not in between]


def loss_between(
    live: list[dict[str, Any]],
    before: dict[str, Any],
    now: dict[str, Any],
    defined: dict[str, Any],
    request: dict[str, Any],
) -> dict[str, Any]:
    """What `loss` answers for two checks of a unit with this definition, in SI."""
    require(defined, PRELOAD, "Where the torque went", "unit")
    sides = {
        "unit": defined,
        "before": side_of(live, before, defined),
        "now": side_of(live, now, defined),
        "write_lengths_in": request["write_lengths_in"],
    }
    return loss(LOSS_FORM.read(sides, ""))


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
        between the two; logged, what changes friction and was logged between them (see `between`); loss and compared,
        what `loss` and `compare` answer, or None; fault, why there is no loss, else empty, and fault_field, the field
        at fault, such as "unit.spring.de_mm".
    """
    live = in_hindsight(live_entries(request["entries"]))
    checks = [check for check in of_kind(live, "torque_check") if check["shown"].get("value_nm") is not None]
    definition = definition_of(newest_of(live, "unit"))
    fresh = since(checks, newest_of(live, "rebuild"))
    before = chosen(checks, request["before"], next(iter(fresh or checks), None))
    now = chosen(checks, request["now"], checks[-1] if checks else None)
    result: dict[str, Any] = {
        "checks": [{"id": check["id"], "at": check["at"], "value_nm": check["shown"]["value_nm"]} for check in checks],
        "comparable": len(checks) > 1,
        "before": before["id"] if before else None,
        "now": now["id"] if now else None,
        "unmeasured": [],
        "logged": [],
        "loss": None,
        "compared": None,
        "fault": "",
        "fault_field": "",
    }
    if before is None or now is None or before is now or definition is None:
        return result
    result["unmeasured"] = unmeasured_between(live, before, now)
    result["logged"] = between(live, before, now)
    try:
        result["loss"] = loss_between(live, before, now, definition, request)
    except BadInput as refusal:
        result["fault"], result["fault_field"] = refusal.reason, refusal.field
    try:
        sides = {"before": circumstances_of(before, live), "now": circumstances_of(now, live)}
        sides["write_in"] = request["write_in"]
        result["compared"] = compare(COMPARE_FORM.read(sides, ""))
    except BadInput as refusal:
        result["fault"] = result["fault"] or refusal.reason
    return result
