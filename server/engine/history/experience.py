"""What a unit's own builds, and those of its pattern, say of torque over thickness."""

from typing import Any

from ..experience.torque_line import EXPERIENCE, TorqueLine
from ..request.errors import BadInput
from ..request.fields import Group
from ..request.written_in import with_written_in, written_in_by
from .builds import builds_of, figures_of
from .pattern import OTHERS
from .standing import FORM as ENTRIES_FORM

FORM = Group(
    with_written_in(
        {
            "entries": ENTRIES_FORM.fields["entries"],
            "others": OTHERS,
        },
        "write_in",
        "write_lengths_in",
    ),
    "the entries of one unit, and of others of its pattern",
)


def experience(request: dict[str, Any]) -> dict[str, Any]:
    """What builds in the log have shown of torque over thickness.

    Parameters
    ----------
    request : dict
        Checked by `FORM`.

    Returns
    -------
    dict
        builds, every build of the unit (see `builds_of`); shown, what they have shown (see `TorqueLine.shown`), or None
        and why, a sentence; for_plan, own and others as a plan takes them for its `experience`.

    References
    ----------
    1. The line and its band: `pooled` and `band`.
    """
    written_in = written_in_by(request)
    builds = builds_of(request["entries"], written_in)
    others = [
        {"name": unit["name"], "own": figures_of(builds_of(unit["entries"], written_in))} for unit in request["others"]
    ]
    for_plan = {"own": figures_of(builds), "others": [unit for unit in others if unit["own"]]}
    answer: dict[str, Any] = {"builds": builds, "shown": None, "why": "", "for_plan": for_plan}
    try:
        answer["shown"] = TorqueLine(EXPERIENCE.read(for_plan, "experience"), written_in).shown()
    except BadInput as refusal:
        answer["why"] = refusal.reason
    return answer
