"""What the checks since the rebuild say about the next opening, or why they say nothing yet."""

from typing import Any

from ..request.fields import Choice, Group, YesNo
from ..request.written_in import with_written_in, written_in_by
from .built_now import definition_of
from .judged_again import in_hindsight
from .life import LEAST_READINGS
from .pattern import OTHERS
from .since_rebuild import HOURS, OUTINGS, USES, counting_of, since_rebuild, so_far
from .standing import FORM as ENTRIES_FORM
from .timeline import live_entries, newest_of
from .used import used_lives
from .verdict_now import limits_of
from .wear import wear_of

FORM = Group(
    with_written_in(
        {
            "entries": ENTRIES_FORM.fields["entries"],
            "today": ENTRIES_FORM.fields["today"],
            "with_first": YesNo(
                "whether checks fresh from the rebuild count as well, before the plates bedded in", default=False
            ),
            "others": OTHERS,
            "use": Choice(USES, "what use is counted in", default=OUTINGS),
        },
        "write_in",
        "write_lengths_in",
    ),
    "the entries of one unit, and which of its checks count",
)


def outlook(request: dict[str, Any]) -> dict[str, Any]:
    """When the torque will meet a limit, from the checks since the last rebuild.

    Parameters
    ----------
    request : dict
        Checked by `FORM`: the entries of one unit.

    Returns
    -------
    dict
        life, what `life` answers for these checks, or None; why there is none, a sentence, else empty; uses, what use
        can be counted in, since checks enough say it; checks, by use: use since the rebuild, value_nm, guard_nm, fresh
        (whether it was taken fresh from the rebuild) and counts (whether the line goes by it); wear, what earlier
        builds and those of its pattern say of the torque and of each kind of plate from the first check on (see
        `wear_of`).
    """
    live = in_hindsight(live_entries(request["entries"]))
    definition = definition_of(newest_of(live, "unit"))
    limits = limits_of(definition)["running"] if definition else None
    with_first, lives = request["with_first"], used_lives(live)
    result = since_rebuild(live, with_first, limits, request["use"], so_far(lives[-1], request["use"]))
    result["uses"] = [use for use in (OUTINGS, HOURS) if len(counting_of(live, with_first, use)[1]) >= LEAST_READINGS]
    others = [in_hindsight(live_entries(other["entries"])) for other in request["others"]]
    low = limits["low_nm"] if limits else None
    result["wear"] = wear_of(live, others, low, written_in_by(request), so_far(lives[-1], OUTINGS) or 0.0)
    return result
