"""A torque check of the log as one side of a comparison: its torque, and the doubt that another check may share."""

import math
from typing import Any

from ..request.fields import is_empty
from ..request.letters import folded
from ..torque_check.form import DIRECTIONS
from ..torque_check.shared_doubt import rounding_left
from .logged import oil_at
from .outings import outings_of


def written_down(value: Any) -> str:
    """Figures as they were typed, in one line: equal figures give equal lines."""
    if isinstance(value, dict):
        parts = [f"{name}:{written_down(value[name])}" for name in sorted(value) if not is_empty(value[name])]
        return "{" + ",".join(parts) + "}"
    return folded(str(value))


def tool_of(body: dict[str, Any]) -> dict[str, Any]:
    """The tool that a check was read with, as it was typed."""
    tool: dict[str, Any] = body.get("wrench") or body.get("scale") or {}
    return tool


def sources(body: dict[str, Any]) -> dict[str, str]:
    """Where each part of a check's doubt comes from, by the part's name; two checks share it where the lines are equal.

    A tool without a name could be any tool. An adapter's angle is set anew each time, and readings are rounded anew.
    """
    tool, lever = tool_of(body), body.get("bar") or body.get("adapter")
    by_part = {}
    if not is_empty(tool.get("name")):
        by_part["tool"] = written_down(tool)
    if lever:
        by_part["lengths"] = written_down(lever)
    held = body.get("held", "")
    if body.get("drag"):
        by_part["drag"] = held + written_down(body["drag"])
    if body.get("build"):
        by_part["ramps"] = held + written_down(body["build"])
    return by_part


def scatter_of(shown: dict[str, Any]) -> tuple[float, float]:
    """Scatter of single readings within their direction, N·m, and its degrees of freedom; 0 where there is none."""
    rows = [(shown.get("directions") or {}).get(direction) for direction in DIRECTIONS]
    repeated = [row for row in rows if row and row.get("count", 0) > 1]
    dof = sum(row["count"] - 1 for row in repeated)
    if dof == 0:
        return 0.0, 0.0
    return math.sqrt(sum((row["count"] - 1) * row["scatter_nm"] ** 2 for row in repeated) / dof), float(dof)


def parts_of(check: dict[str, Any]) -> list[dict[str, Any]] | None:
    """The parts of a check's doubt as a comparison takes them; None where an old entry has none."""
    body, shown = check["body"], check["shown"]
    budget = shown.get("budget")
    if not budget:
        return None
    scatter, dof = scatter_of(shown)
    known, certified = sources(body), not is_empty(tool_of(body).get("certificate_percent"))
    parts = []
    for row in budget:
        name, u = row["name"], row["u_nm"]
        part = {"name": name, "u_nm": u, "source": known.get(name, ""), "even": name != "repeats"}
        if name == "repeats" and dof > 0.0:
            part["dof"] = dof
        elif name == "division":
            part["u_nm"] = rounding_left(u, scatter)
        elif name == "tool":
            part["even"] = not certified
        parts.append(part)
    return parts


def side_of(check: dict[str, Any]) -> dict[str, Any]:
    """The torque of a check with its doubt and its tool."""
    return {
        "u_nm": check["shown"].get("u_nm"),
        "parts": parts_of(check),
        "tool": str(tool_of(check["body"]).get("name") or ""),
    }


def circumstances_of(check: dict[str, Any], live: list[dict[str, Any]]) -> dict[str, Any]:
    """One side of `compare`: a check's torque with its oil, as logged among what stands, its warmth and its outings."""
    given = check["body"].get("circumstances") or {}
    side = {"value_nm": check["shown"]["value_nm"]}
    side.update(side_of(check))
    side.update({name: given[name] for name in ("temperature", "outings") if not is_empty(given.get(name))})
    side["oil"] = oil_at(live, check)
    if "counted" in check:
        side["outings"] = outings_of(check)
    return side
