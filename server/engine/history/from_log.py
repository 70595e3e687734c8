"""What the log can say of figures that nobody measured: a depth or a friction from its torque checks and builds."""

from typing import Any

from ..doubt.budget import TWO_SIDED_95
from ..request.errors import BadInput
from ..request.fields import Group
from ..request.rounded import fixed
from ..request.written_in import WrittenIn, with_written_in, written_in_by
from ..unit.marks import mark_of
from ..worked_out.form import FORM as WORK_OUT
from ..worked_out.work_out import work_out
from .builds import builds_of
from .standing import FORM as ENTRIES_FORM
from .standing import standing

# Builds whose thickness differs by less, mm, say nothing of the depth: our own choice.
LEAST_APART_MM = 0.05

FORM = Group(
    with_written_in({"entries": ENTRIES_FORM.fields["entries"]}, "write_in", "write_lengths_in"),
    "the entries of one unit",
)


def builds_apart(entries: list[dict[str, Any]], written_in: WrittenIn) -> dict[str, Any] | None:
    """The two builds that differ most in thickness, as they are typed to work a depth out; None without such."""
    rows = [row for row in builds_of(entries, written_in) if row["counts"]]
    if len(rows) < 2:
        return None
    thin = min(rows, key=lambda row: row["thickness_mm"])
    thick = max(rows, key=lambda row: row["thickness_mm"])
    apart = thick["thickness_mm"] - thin["thickness_mm"]
    if apart < LEAST_APART_MM:
        return None
    return {
        "solids_mm": thin["thickness_mm"],
        "torque_nm": thin["torque_nm"],
        "expanded_nm": known_to(thin["u_nm"]),
        "thicker_mm": apart,
        "second_nm": thick["torque_nm"],
        "second_expanded_nm": known_to(thick["u_nm"]),
    }


def known_to(u: float) -> float | None:
    """Expanded uncertainty of a torque whose standard one is `u`, N·m; None where nobody knows it."""
    return TWO_SIDED_95 * u if u > 0.0 else None


def questions(
    built: dict[str, Any], torque: dict[str, Any] | None, apart: dict[str, Any] | None
) -> list[dict[str, Any]]:
    """What may be asked of `work_out`, first what says most: for a depth, where there is none, and for a friction.

    Parameters
    ----------
    built : dict
        The unit as it is built, as `standing` answers it.
    torque : dict or None
        The torque check that stands, with its time.
    apart : dict or None
        Two builds, as `builds_apart` has them.
    """
    definition, requests = built["unit"], []
    known = {
        "unit": definition,
        "places": [{"within_mm": place["within_mm"]} for place in built["places"]],
        "spring_within_mm": built["spring_within_mm"],
    }
    if definition["cavity_mm"] is None and apart is not None:
        requests.append({"from": "depth_from_builds", "built": known, "builds": apart})
    measured = built["measured"]
    if measured is not None and torque is not None:
        reading = {"torque_nm": measured["torque_nm"], "expanded_nm": measured["expanded_nm"] or None}
        question = {"built": known, "torque": reading, "day": torque["at"][:10]}
        if definition["cavity_mm"] is None:
            requests.append(with_way(question, "depth_from_torque"))
        elif mark_of(definition, "mu") is None:
            requests.append(with_way(question, "friction_from_torque"))
    return requests


def with_way(question: dict[str, Any], way: str) -> dict[str, Any]:
    """A question with what is to be worked out."""
    question = question.copy()
    question["from"] = way
    return question


def typed_of(question: dict[str, Any]) -> list[dict[str, Any]]:
    """What a question holds of the log, as a form has it: path of each field, and what stands in it."""
    rows = []
    for group in ("torque", "builds"):
        given = question.get(group) or {}
        for name in ("torque_nm", "expanded_nm", "thicker_mm", "second_nm", "second_expanded_nm"):
            if given.get(name) is not None:
                places = 3 if name.endswith("_mm") else 2
                rows.append({"path": f"{group}.{name}", "typed": fixed(given[name], places)})
    return rows


def from_log(request: dict[str, Any]) -> dict[str, Any]:
    """What the log can say of figures that nobody measured.

    Parameters
    ----------
    request : dict
        Checked by `FORM`.

    Returns
    -------
    dict
        figures, a row for each way that is open: from and field, as `work_out` has them; text, what came of it; typed,
        what the log says, as a form takes it; request, the question whole, for `work_out`.

    Notes
    -----
    A torque that fits two depths, or none, gives nothing here: the way of working out says why where it is asked.
    """
    written_in = written_in_by(request)
    entries = request["entries"]
    found = standing({"entries": entries, "today": None, "write_in": written_in.nm})
    rows: list[dict[str, Any]] = []
    if found["built"] is None:
        return {"figures": rows}
    for question in questions(found["built"], found["torque"], builds_apart(entries, written_in)):
        question["write_in"], question["write_lengths_in"] = written_in.nm, written_in.mm
        try:
            result = work_out(WORK_OUT.read(question, ""))
        except BadInput:
            continue
        row = {"from": question["from"], "field": result["field"], "text": result["text"]}
        row.update({"basis": result["mark"]["basis"], "typed": typed_of(question), "request": question})
        rows.append(row)
    return {"figures": rows}
