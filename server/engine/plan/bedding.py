"""Aiming above the order by what bedding in takes, as far as the log shows it.

After a rebuild the plates bed in and the torque drops in the first outings. Where the log of the unit, or of units
built alike, shows by how much, a plan aims above the order by that, never beyond the order's own upper edge, so that
the torque is as ordered once they have. A plan's torque is taken for what the first check reads.

The losses of several rebuilds are pooled with equal weight. Their doubt is that of the readings, and what the rebuilds
scatter beyond it, with Student's t as far as it comes from that scatter.

References
----------
1. R. DerSimonian, N. Laird, Controlled Clinical Trials 7 (1986) 177, for what scatters beyond the doubt of each; here
   with equal weights; from memory.
2. JCGM 100:2008, G.4: effective degrees of freedom.
"""

import math
from typing import Any, NamedTuple

from ..doubt.budget import INFINITE
from ..doubt.student_t import t_quantile
from ..request.fields import Group, Listing, Number, Text, YesNo
from ..request.letters import listed
from ..request.units import say
from ..request.written_in import WrittenIn

# One rebuild shows no scatter: another may lose that share more or less, as a standard deviation. Our own choice.
ALONE = 0.5

# Rebuilds to a torque further off the wanted than this share of it do not count: our own choice.
LIKE_SHARE = 0.25

# Fewer of the unit's own rebuilds are pooled with those of units built alike.
FEW = 2

LOSSES = Listing(
    Group(
        {
            "at": Text(40, "when it was rebuilt", default=""),
            "first_nm": Number(0.1, 5000, "nm", "torque of the first check after it, as stated"),
            "loss_nm": Number(-5000, 5000, "nm", "what it lost in its first outings; below 0 where it rose"),
            "u_nm": Number(0, 1000, "nm", "standard doubt of that loss"),
        },
        "what bedding in took after one rebuild",
    ),
    0,
    5,
    "what bedding in took after each of the last rebuilds",
    nouns="rebuilds",
)

FORM = Group(
    {
        "losses": LOSSES,
        "alike": Text(2000, "what units built alike have in common", default=""),
        "others": Listing(
            Group(
                {
                    "name": Text(60, "name of the unit"),
                    "alike": Text(2000, "what units built alike have in common", default=""),
                    "losses": LOSSES,
                },
                "another unit of the log",
            ),
            0,
            5000,
            "other units of the log; those built alike count where this one shows little",
            default=[],
            nouns="units",
        ),
        "aim_above": YesNo("whether the plan aims above the order by it", default=True),
    },
    "what the log shows of bedding in",
    default=None,
)

Lost = NamedTuple(
    "Lost",
    [
        # What bedding in takes, and half of the interval that holds it in 19 of 20 cases, N·m.
        ("loss", float),
        ("expanded", float),
        # Standard deviation of what the next rebuild loses about it, N·m.
        ("scatter", float),
        # The rebuilds' losses, N·m, the newest last; how many of them are this unit's own, and whose the others are.
        ("losses", "list[float]"),
        ("own", int),
        ("units", "list[str]"),
    ],
)


def counting(bedding: dict[str, Any], wanted: float) -> tuple[list[dict[str, Any]], int, list[str]]:
    """The rebuilds to about the wanted torque, N·m, that count, how many are own ones, and whose the others are."""

    def near(rows: list[dict[str, Any]]) -> list[dict[str, Any]]:
        return [row for row in rows if abs(row["first_nm"] - wanted) <= LIKE_SHARE * wanted]

    own = near(bedding["losses"])
    names: list[str] = []
    rows: list[dict[str, Any]] = []
    if len(own) < FEW and bedding["alike"]:
        for other in bedding["others"]:
            theirs = near(other["losses"]) if other["alike"] == bedding["alike"] else []
            if theirs:
                names.append(other["name"])
                rows += theirs
    return rows + own, len(own), names


def lost(bedding: dict[str, Any] | None, wanted: float) -> Lost | None:
    """What bedding in takes; None where the log does not show that it takes anything.

    Parameters
    ----------
    bedding : dict or None
        Checked by `FORM`.
    wanted : float
        The torque that is wanted, N·m.

    Notes
    -----
    With n losses of mean m, scatter s and standard doubts u_k: tau^2 = s^2 less the mean of u_k^2, 0 at least; the
    variance of m is the sum of u_k^2 over n^2, and tau^2 / n, of which only the latter has n - 1 degrees of freedom. It
    is shown where m is above 0 by the one-sided 95 % of that.

    Examples
    --------
    >>> rows = [{"first_nm": 93.0, "loss_nm": loss, "u_nm": 1.0} for loss in (2.9, 3.5)]
    >>> found = lost({"losses": rows, "alike": "", "others": []}, 90.0)
    >>> round(found.loss, 2), round(found.expanded, 2)
    (3.2, 1.39)
    """
    rows, own, names = counting(bedding, wanted) if bedding is not None else ([], 0, [])
    if not rows:
        return None
    count, losses = len(rows), [row["loss_nm"] for row in rows]
    mean = sum(losses) / count
    of_readings = sum(row["u_nm"] ** 2 for row in rows) / count
    beyond = 0.0
    if count > 1:
        beyond = max(0.0, sum((loss - mean) ** 2 for loss in losses) / (count - 1) - of_readings)
    variance = (of_readings + beyond) / count
    dof = (count - 1) * ((of_readings + beyond) / beyond) ** 2 if beyond > 0.0 else INFINITE
    if mean <= t_quantile(0.05, dof) * math.sqrt(variance):
        return None
    of_next = (ALONE * mean) ** 2 if count == 1 else beyond
    expanded = t_quantile(0.025, dof) * math.sqrt(variance)
    return Lost(mean, expanded, math.sqrt(variance + of_next), losses, own, names)


def aimed_above(found: Lost | None, tolerance: float) -> float:
    """How far above the order to aim, N·m: never beyond its upper edge."""
    return 0.0 if found is None else min(found.loss, tolerance)


def result_of(found: Lost | None, aims: bool, tolerance: float, written_in: WrittenIn) -> dict[str, Any] | None:
    """What a plan says of bedding in; None where the log does not show it."""
    if found is None:
        return None
    above = aimed_above(found, tolerance) if aims else 0.0
    return {
        "loss_nm": found.loss,
        "expanded_nm": found.expanded,
        "above_nm": above,
        "rebuilds": len(found.losses),
        "aimed": aims,
        "text": sentence(found, above, written_in),
    }


def sentence(found: Lost, above: float, written_in: WrittenIn) -> str:
    """How far above the order is aimed, and what shows that."""

    def written(torque: float) -> str:
        return say(torque, "nm", written_in.nm)

    count = len(found.losses)
    figures = [written(loss).split(" ")[0] for loss in found.losses[:-1]] + [written(found.losses[-1])]
    several = listed(figures)
    doubt = f"one rebuild alone, give or take {written(found.expanded)}"
    if count > 1:
        doubt = f"on the whole {written(found.loss)}, give or take {written(found.expanded)}"
    word = "rebuild" if count == 1 else f"{count} rebuilds"
    shown = f"after the last {word} this unit lost {several} in its first outings"
    if found.units:
        whose = f"{'this unit and ' if found.own else ''}units built alike ({', '.join(found.units)})"
        shown = f"after the last {word} {whose} lost {several} in their first outings"
    if above <= 0.0:
        return f"Not aimed above the order: {shown} ({doubt})."
    edge = ", its upper edge" if above < found.loss else ""
    short = f", so expect {written(found.loss - above)} less than ordered once it has bedded in" if edge else ""
    return f"Aimed {written(above)} above the order{edge}: {shown} ({doubt}){short}."
