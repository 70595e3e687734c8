"""The job at hand: which step comes next for a unit, which are done, and how its next torque check starts.

The order of the steps is that of the bench: check, strip, measure, plan, rebuild, close, back into the axle, check
again. Common practice, no source.
"""

from typing import Any

from ..doubt.finding import DOUBT
from ..doubt.verdict import MEASURE_AGAIN, ORDER, REPLACE
from ..request.letters import listed
from ..unit.sits import BACK_INTO_AXLE, where_it_sits
from .outings import is_fresh
from .timeline import of_kind, since
from .used import Life

CHECK = "check"
STRIP = "strip"
PLATES = "plates"
SPRINGS = "springs"
RINGS = "rings"
INSPECT = "inspect"
PLAN = "plan"
REBUILD = "rebuild"
CLOSE = "close"
REFIT = "refit"

# Each step with its words, in the order of the job.
STEPS = {
    CHECK: "Check torque",
    STRIP: "Strip it",
    PLATES: "Measure plates",
    SPRINGS: "Measure the spring",
    RINGS: "Measure the rings",
    INSPECT: "Inspect other parts",
    PLAN: "Plan the rebuild",
    REBUILD: "Rebuild",
    CLOSE: "Close it",
    REFIT: BACK_INTO_AXLE,
}
STEPS_IN_ORDER = (CHECK, STRIP, PLATES, SPRINGS, RINGS, INSPECT, PLAN, REBUILD, CLOSE, REFIT)

# The kind of entry that does each step; planning is done once the rebuild is, and by a plan that was taken before.
KIND_OF_STEP = {
    CHECK: "torque_check",
    STRIP: "strip",
    PLATES: "plate_check",
    SPRINGS: "spring_check",
    RINGS: "ring_check",
    INSPECT: "inspection",
    PLAN: "rebuild",
    REBUILD: "rebuild",
    CLOSE: "close",
    REFIT: "refit",
}

# How a torque that could not be told is measured again, by what its check led to: more readings decide nothing where
# the tool is too coarse, or where all of them are in doubt.
MORE = "more"
AFRESH = "afresh"
AGAIN = {
    MORE: "Measure again: three more each way",
    "better": "Measure again, with a better tool or held the other way",
    AFRESH: "Measure again from the start",
}

# What is measured is in no plan that was taken before it.
MEASURED = [KIND_OF_STEP[step] for step in (CHECK, PLATES, SPRINGS, RINGS, INSPECT)]

# More names than this are counted instead.
MOST_NAMED = 3


def in_a_row(names: list[str]) -> str:
    """Names as a sentence lists them; many are counted.

    >>> in_a_row(["A2"]), in_a_row(["A2", "A4"]), in_a_row(["A2", "A4", "B2", "B4"])
    ('A2', 'A2 and A4', '4 parts')
    """
    if len(names) > MOST_NAMED:
        return f"{len(names)} parts"
    return listed(names)


def done_since(live: list[dict[str, Any]]) -> list[str]:
    """Kinds of the entries of the job at hand: from the newest torque check on, which begins it; else all."""
    kinds = [entry["kind"] for entry in live]
    places = [place for place, kind in enumerate(kinds) if kind == "torque_check"]
    return kinds[places[-1] :] if places else kinds


def has_plan(live: list[dict[str, Any]]) -> bool:
    """Whether a plan was taken after all that was measured, and no part was fitted since."""
    for entry in reversed(live):
        if entry["kind"] == "planned":
            return True
        # Oil alone leaves the plates to be fitted another day.
        if entry["kind"] in MEASURED or (entry["kind"] == "rebuild" and entry["shown"]["fitted"]):
            return False
    return False


def lead_of(live: list[dict[str, Any]]) -> str:
    """What the newest torque check would be decided by, a key of `AGAIN`; engines before 1.11 did not say."""
    shown = of_kind(live, "torque_check")[-1:]
    lead = (shown[0]["shown"].get("next") or {"name": MORE})["name"] if shown else MORE
    return lead if lead in AGAIN else AFRESH


def after_verdict(judged: list[tuple[str, str, str]], lead: str) -> tuple[str, str] | None:
    """The step that the worst verdict leads to; None where every verdict is go, or there is none.

    Parameters
    ----------
    judged : list of tuple
        (step that judged it, name of the part, verdict); the name of a whole is empty.
    lead : str
        How a torque that cannot be told is measured again, a key of `AGAIN`.
    """
    worst_first = sorted(judged, key=lambda row: (-ORDER.index(row[2]), STEPS_IN_ORDER.index(row[0]), row[1]))
    if not worst_first or worst_first[0][2] == ORDER[0]:
        return None
    step, _, verdict = worst_first[0]
    alike = [row for row in worst_first if row[2] == verdict and row[0] == step]
    names = [name for _, name, _ in alike if name]
    if verdict == MEASURE_AGAIN:
        look = "Inspect" if step == INSPECT else "Measure"
        return step, f"{look} {in_a_row(names)} again" if names else AGAIN[lead]
    if step == REFIT:
        return step, "Put right what the refit found"
    if verdict == REPLACE:
        worn = [name for _, name, each in worst_first if each == REPLACE and name]
        return PLAN, f"Replace {in_a_row(worn)}: plan the rebuild" if worn else "Replace it: plan the rebuild"
    return PLAN, f"Rework {in_a_row(names)}: plan the rebuild" if names else "Rework: plan the rebuild"


def in_parts(done: list[str], bad: tuple[str, str] | None) -> tuple[str, str]:
    """The step that comes next while the unit lies in parts, where no torque is read and nothing bad is closed in."""
    if "rebuild" not in done and "plate_check" not in done:
        return PLATES, STEPS[PLATES]
    if bad is None or bad[0] in (CHECK, REFIT) or ("rebuild" in done and bad[0] not in (PLAN, REBUILD)):
        return CLOSE, STEPS[CLOSE]
    return bad


def step_text(name: str, defined: dict[str, Any] | None) -> str:
    """What a step is called for a unit.

    >>> step_text("refit", None), step_text("refit", {"sits": "centre"})
    ('Back into the axle', 'Back into its housing')
    """
    return str(where_it_sits(defined)["goes_back"]) if name == REFIT else STEPS[name]


def job_of(
    live: list[dict[str, Any]],
    held: dict[str, Any] | None,
    stripped: dict[str, Any] | None,
    judged: list[tuple[str, str, str]],
    due: list[dict[str, Any]],
    inspects: bool = False,
    defined: dict[str, Any] | None = None,
) -> dict[str, Any]:
    """What comes next for a unit, and the steps of the job with what is done.

    Parameters
    ----------
    live : list of dict
        The unit's entries that stand, by time.
    held, stripped : dict or None
        The entry that left its spring to a vice alone; the strip after which it is still in parts.
    judged : list of tuple
        As `after_verdict` has them, of this build.
    due : list of dict
        What is due, as `due_list` gives it.
    inspects : bool
        Whether its definition lists features of other parts: without any that is no step of its job.
    defined : dict or None
        Its definition: a unit that sits between the axles goes back into another housing.

    Returns
    -------
    dict
        next, name of the step that comes first; text, what to do; steps, in the order of the job: name, text and
        whether it is done since the newest torque check, and was not left half done or opened again since. A plan that
        was taken does the planning, as long as nothing was measured or fitted since.
    """
    done, bad, plan = done_since(live), after_verdict(judged, lead_of(live)), has_plan(live)
    if plan and bad is not None and bad[0] == PLAN:
        bad = (STRIP, STEPS[STRIP]) if stripped is None else (REBUILD, "Rebuild as planned")
    steps_done = [name for name in STEPS_IN_ORDER if KIND_OF_STEP[name] in done or (name == PLAN and plan)]
    # What was left half done, or was opened again, is not done.
    unfinished = ([held["kind"]] if held is not None else []) + ([CLOSE] if stripped is not None else [])
    if stripped is not None:
        since_strip = [entry["kind"] for entry in live[live.index(stripped) :]]
        step, text = in_parts(since_strip, bad)
    elif bad is not None:
        step, text = bad
    elif any(row["name"] == "recheck" for row in due):
        step, text = CHECK, "Check again after the first outing"
    else:
        step, text = CHECK, STEPS[CHECK]
    if held is not None:
        step, text = held["kind"], "Finish it: a vice alone holds the spring"
    return {
        "next": step,
        "text": text,
        "steps": [
            {"name": name, "text": step_text(name, defined), "done": name in steps_done and name not in unfinished}
            for name in STEPS_IN_ORDER
            if name != INSPECT or inspects
        ],
    }


def is_scale_in_doubt(check: dict[str, Any]) -> bool:
    """Whether a torque check was saved while nobody had said on which scale it was read."""
    return any(row["name"] == "unit" and row["weight"] == DOUBT for row in check["shown"].get("findings") or [])


def check_start(
    live: list[dict[str, Any]], rebuilt: dict[str, Any] | None, limits: dict[str, Any], life: Life
) -> dict[str, Any]:
    """What the next torque check starts with, so that nobody types what the log knows.

    Parameters
    ----------
    live : list of dict
        The unit's entries that stand, by time, its checks as this engine judges them.
    rebuilt : dict or None
        The last rebuild.
    limits : dict
        What it may be judged against, as `limits_of` gives it; empty where nothing is known.
    life : Life
        What it was used since that rebuild.

    Returns
    -------
    dict
        last, id of the newest torque check, whose way of holding and tool are the usual ones, or None; last_nm, the
        torque that the next check is likely to find, None where there is none to go by: plates fresh from a rebuild
        bed in first, and what was read on a scale in doubt would pass the next time; outings since the rebuild as far
        as they were logged or noted, 0 straight after it, or None; against, "order" for the first check of a rebuild
        that has not run yet, and "service" for all others, as far as they are known.
    """
    checks = of_kind(live, "torque_check")
    of_this_build = since(checks, rebuilt)
    fresh = rebuilt is not None and not of_this_build and not life.logged
    has_order, has_service = limits.get("order") is not None, limits.get("service") is not None
    against = "order" if has_order and (fresh or not has_service) else "service"
    certain = [check for check in of_this_build if not is_scale_in_doubt(check)]
    like = [check for check in certain[-1:] if not is_fresh(check)]
    return {
        "last": checks[-1]["id"] if checks else None,
        "last_nm": like[0]["shown"].get("value_nm") if like else None,
        "outings": 0 if fresh else life.outings if life.telling else None,
        "against": against,
    }
