"""The verdict on a unit as it stands: the worst of what was judged; no go before all of it says that it may run."""

from typing import Any

from ..doubt.verdict import GO, worst

LIMITS_CHANGED = (
    "The limits have changed since the torque was last read, or other limits were used: check it against today's."
)


def outdated(torque: dict[str, Any], unit: dict[str, Any]) -> bool:
    """Whether a check's limits are neither those of the order nor those between rebuilds in a definition."""
    defined = unit["shown"].get("checked")
    if defined is None:
        return False
    bands = limits_of(defined)
    return not any(
        alike(torque["low_nm"], bands[name]["low_nm"]) and alike(torque["high_nm"], bands[name]["high_nm"])
        for name in bands
    )


def limits_of(defined: dict[str, Any]) -> dict[str, dict[str, float | None]]:
    """The limits that a torque check may be judged against, from a definition in SI; None where there is none."""
    order, service = defined["order"], defined["service"]
    low, high = order["torque_nm"] - order["tolerance_nm"], order["torque_nm"] + order["tolerance_nm"]
    return {
        "order": {"low_nm": low, "high_nm": high},
        # 0 limits nothing.
        "service": {"low_nm": service["low_nm"], "high_nm": service["high_nm"] or None},
    }


def alike(first: float | None, second: float | None) -> bool:
    """Whether two limits are the same but for rounding; 0 limits nothing."""
    return abs((first or 0.0) - (second or 0.0)) < 1e-6


def verdict_now(
    judged: list[dict[str, Any]],
    torque: dict[str, Any] | None,
    unit: dict[str, Any] | None,
    rebuilt: dict[str, Any] | None,
    stripped: dict[str, Any] | None,
) -> tuple[str | None, str]:
    """Verdict on a unit, and the reason.

    Parameters
    ----------
    judged : list of dict
        verdict and reason of the last torque check, of every part's last measurement, and of the unit itself.
    torque : dict or None
        The row of the last torque check since the rebuild.
    unit : dict or None
        The entry of the definition that stands.
    rebuilt : dict or None
        The entry of the last rebuild.
    stripped : dict or None
        The strip after which the unit is still in parts.

    Returns
    -------
    tuple
        The worst verdict, but None instead of go while it is in parts, before its torque was read, or where the limits
        are others now; None too where nothing was judged.
    """
    if not judged:
        return None, "Not checked since the rebuild." if rebuilt else "Not checked yet."
    verdict = worst([row["verdict"] for row in judged])
    if verdict != GO:
        return verdict, next(row["reason"] for row in judged if row["verdict"] == verdict)
    if stripped is not None:
        # Good parts on a bench are no unit that may run.
        return None, "It is in parts; every measured part is inside its limits."
    if torque is None:
        when = "since the rebuild." if rebuilt else "yet."
        return None, f"Every measured part is inside its limits, but the torque was not read {when}"
    if unit is not None and outdated(torque, unit):
        return None, LIMITS_CHANGED
    return verdict, torque["reason"]
