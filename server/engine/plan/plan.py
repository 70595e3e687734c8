"""Planning a rebuild: which plates bring the unit within its order, how surely, and what is proven about that.

The choices run from the most certain to meet the order to the one that changes the fewest plates. The packs differ by
no more, and no place changes by more, than the builder allows. A plan stays where a thicker stack gives more torque:
below the spring's peak.
"""

from typing import Any

from ..experience.torque_line import EXPERIENCE
from ..request.fields import Choice, Group, Listing, Number, Text, YesNo
from ..request.written_in import WrittenIn, with_written_in, written_in_by
from ..unit.as_built import DEFINITION
from ..unit.spring import FIELDS
from ..unit.usual_limits import CAVITY_WITHIN_MM
from .alternatives import alternatives, cannot
from .bedding import FORM as BEDDING
from .bedding import result_of
from .buying import on_offer, to_buy
from .choices import described
from .concerns import beside_the_builds, of_the_pieces, of_the_plan, of_the_spring
from .counting import arrangements
from .curve import plan_curve, seen_curve
from .front import Front
from .pieces import FITTED, SHELF
from .provable import TOOLS, provable
from .task import BY_BUILDS, BY_SPRING, Task

# How far apart the packs may be and how much a place may change, mm: common practice, no source.
MOST_APART_MM = 0.10
MOST_CHANGE_MM = 0.30

FORM = Group(
    with_written_in(
        {
            "unit": DEFINITION,
            "fitted": FITTED,
            "measured": Group(
                {
                    "torque_nm": Number(0.5, 5000, "nm", "breakaway torque, as the unit's order states it"),
                    "expanded_nm": Number(0, 1000, "nm", "its expanded uncertainty, two-sided, 95 %", default=0.0),
                },
                "a torque measured with the plates as they are fitted",
                default=None,
            ),
            "wanted": Group(
                {
                    "torque_nm": Number(
                        0.5, 5000, "nm", "breakaway torque, as the unit's order states it", label="Breakaway torque"
                    ),
                    "tolerance_nm": Number(0.05, 1000, "nm", "how far off it may be, either way", label="Give or take"),
                },
                "what is wanted, where it is not what was ordered",
                default=None,
                label="Wanted",
            ),
            "bedding": BEDDING,
            "shelf": SHELF,
            "springs": Listing(
                Group({"name": Text(40, "what the spring is called"), "spring": FIELDS}, "a spring in stock"),
                0,
                6,
                "other springs in stock, each for every spring place",
                default=[],
                nouns="springs",
            ),
            "balance_mm": Number(
                -50,
                50,
                "mm",
                "first pack less second when the cross pins sit in the middle, where it is not the definition's",
                default=None,
            ),
            "most_apart_mm": Number(
                0,
                20,
                "mm",
                "how far the packs may be off that, either way",
                default=MOST_APART_MM,
                label="Packs may differ by",
            ),
            "most_change_mm": Number(
                0,
                20,
                "mm",
                "how much one place may change; a worn plate may always get back to its thickness when new",
                default=MOST_CHANGE_MM,
                label="A place may change by",
            ),
            "spring_within_mm": Number(
                0,
                2,
                "mm",
                "how far off the free height of a disc may be that was gauged; left out, a new one's tolerance",
                default=None,
            ),
            "experience": EXPERIENCE,
            "by": Choice(
                {BY_SPRING: "the spring's curve", BY_BUILDS: "what builds in the log have shown"},
                "what the plan goes by; the spring where it is known, if empty",
                default=None,
            ),
            "cavity_within_mm": Number(0, 2, "mm", "how far off the depth may be", default=CAVITY_WITHIN_MM),
            "tools": TOOLS,
            "buying": YesNo("whether it is looked into what to buy for a better choice", default=True),
            "alternatives": YesNo(
                "whether other means are looked into as well, which may take many times as long", default=True
            ),
        },
        "write_in",
        "write_lengths_in",
    ),
    "planning a rebuild",
)


# What the first choice does not show once more beside the choices.
OF_A_CHOICE_ALONE = ("kind", "text", "at_most", "proof")


def plan(request: dict[str, Any]) -> dict[str, Any]:
    """Plan a rebuild.

    Parameters
    ----------
    request : dict
        Checked by `FORM`. Thicknesses count in whole micrometres.

    Returns
    -------
    dict
        possible; choices, at most five, from the most certain to the fewest plates: each with kind, changes, torque_nm,
        off_nm, chance to meet the order and the same in words, text (all of it in one line), crush_mm, preload_n,
        apart_mm (first pack less second, less what it should be), solids_mm, added_mm (that less the plates and rings
        as fitted), stack (a row for every part: slot, part, action keep or fit, piece, mm, was_mm, within_mm,
        minimum_mm, usual_minimum), spread_nm, proven (whether no choice with as few changes can be better by more than
        2 in 100), at_most (chances that no other choice is above), proof in words and warnings. The first choice's own
        fields stand beside them once more, as they did when there was one choice alone.

        Then now, with the plates as fitted; mu and torque_per_n; window_mm of the plates and rings that are expected
        within the order; proof, with the number of arrangements covered, as text since it outgrows a JSON number;
        bedding, what the log shows of it and how far above the order is aimed for it, or None where it shows nothing;
        nearest and ways, where it is not possible; buy, what the shelf lacks for a better choice; provable, what the
        kit's tools can say of the order; alternatives, each with what it affects, or None where they were not asked for
        and the plan is possible without; by, what it goes by: the spring's curve, or builds in the log, and then all
        that rests on a spring is None; experience, what those builds have shown (see `TorqueLine.shown`); warnings.

    Raises
    ------
    BadInput
        A definition or a slot that contradicts itself, a measured torque of a stack that has no preload, builds that
        are too few to plan by, or a torque outside what they have shown.

    References
    ----------
    1. The choices and what is proven of them: `front`. How the torque may come out: `outcome`, and by builds `seen`.
    """
    task = Task(request)
    written_in, front = written_in_by(request), task.front(task.stack, task.built)
    aim = front.aim
    choices = described(front, written_in)
    proven = provable(request["tools"], request["unit"], task.wanted, written_in.nm)
    known = of_the_plan(task, proven, written_in)
    for choice, chosen in zip(choices, front.choices):
        own = of_the_spring(task, choice, written_in) + beside_the_builds(task, choice, chosen.doubts, written_in)
        choice["warnings"] = own + known + of_the_pieces(task, choice, written_in)
    answer: dict[str, Any] = {"possible": bool(choices), "warnings": known, "provable": proven}
    answer["bedding"] = result_of(task.lost, task.aims, aim.tolerance, written_in)
    if choices:
        answer.update({name: choices[0][name] for name in choices[0] if name not in OF_A_CHOICE_ALONE})
        answer["choices"] = choices
    others = alternatives(task) if request["alternatives"] or not choices else None
    answer.update(expected(aim, task))
    answer["proof"] = proof(task, front)
    answer["buy"] = bought(task, front, written_in) if request["buying"] else None
    answer["alternatives"] = others
    answer["by"] = BY_BUILDS if task.built is None else BY_SPRING
    shown = None if task.line is None else task.line.shown()
    answer["experience"] = shown
    if task.built is None and shown is not None:
        answer.update(seen_curve(shown["curve"], task.now))
    else:
        answer.update(plan_curve(aim, task.now))
    if not choices:
        answer.update(cannot(task, front, others or []))
    return answer


def expected(aim: Any, task: Task) -> dict[str, Any]:
    """What is ordered, what the plates as fitted give, and which thicknesses are expected within the order."""
    return {
        "wanted_nm": {
            "torque_nm": aim.torque,
            "tolerance_nm": aim.tolerance,
            "low_nm": aim.torque - aim.tolerance,
            "high_nm": aim.torque + aim.tolerance,
        },
        "now": {
            "torque_nm": aim.now_at(task.now),
            "crush_mm": aim.crush_at(task.now),
            "solids_mm": task.now / 1000.0,
        },
        "mu": task.mu if task.rings else None,
        "torque_per_n": aim.each,
        "window_mm": None if aim.low > aim.high else {"low_mm": aim.low / 1000.0, "high_mm": aim.high / 1000.0},
    }


def bought(task: Task, front: Front, written_in: WrittenIn) -> dict[str, Any] | None:
    """What to buy for a better choice than the shelf allows."""
    offered = on_offer(task.stack, task.shelf) if front.could_gain() else []
    if not offered:
        return None
    more = task.front(task.stack_of(task.shelf + offered), task.built, single=True)
    return to_buy(more, front, written_in)


def proof(task: Task, front: Front) -> dict[str, Any]:
    """How much was covered, and the sentence that says so."""
    count, exact = arrangements(task.stack)
    many = front.thicknesses()
    more = "" if exact else " or more"
    end = "None of them is expected within the order with the packs as even as they have to be."
    if front.gave_up and not front.choices:
        end = (
            "None was found that is expected within the order. They are too many and too different to prove that there "
            "is none: take rows off the shelf to have it proven."
        )
    if front.choices:
        end = "What is proven about each choice is shown beside it."
    return {
        "arrangements": str(count),
        "thicknesses": many,
        "text": f"Arrangements covered: {count}{more}, with {many} different thicknesses of the stack. {end}",
    }
