"""Where the preload went: a change of torque shared out between plates, spring and friction.

Torque is friction times the load of the spring at its crush. Thinner plates and a spring that has set both take crush
away, and with a curved spring the part of either depends on the other. Shapley shares settle that: each cause gets the
mean of what it adds over all orders in which the three can have come. On the logarithm the shares add up to the whole
exactly, and friction, being a plain factor, keeps its own share.

References
----------
1. L. S. Shapley, A value for n-person games, Contributions to the Theory of Games II (1953), 307-317.
2. JCGM 100:2008, 5.1 and 5.2: propagation of uncertainty: see `loss_doubt`.
"""

import math
from typing import Any, NamedTuple

from ..plan.pieces import FITTED
from ..plan.places import places_of
from ..request.errors import BadInput, inside
from ..request.fields import Choice, Group, Number, Text
from ..request.letters import folded, trimmed
from ..request.rounded import fixed
from ..request.units import say
from ..request.written_in import with_written_in
from ..torque_check.form import TEMPERATURES
from ..torque_check.shared_doubt import PARTS
from ..unit.as_built import DEFINITION, Built, built_of, crush_of, friction_of, needs_preload, with_springs
from ..unit.friction import friction_warning
from ..unit.marks import marked_concerns
from ..unit.spring import Column, flat_at, with_free_height
from ..unit.spring_warnings import concern
from .loss_doubt import Doubt, depth_causes, doubt_of, height_causes, is_certain, plate_causes, slopes_at, torque_causes

PLATES = "plates"
SPRING = "spring"
FRICTION = "friction"
CAUSES = (PLATES, SPRING, FRICTION)

# The change as a whole, beside its causes.
WHOLE = "whole"

# A smaller change is written as 0.0 %.
LEAST_SHOWN = 0.05

MICROMETER_U_MM = 0.003
HEIGHT_U_MM = 0.01


def state(meaning: str) -> Group:
    """The fields of the unit at one time."""
    return Group(
        {
            "torque_nm": Number(0.5, 5000, "nm", "breakaway torque, as the unit's order states it"),
            "u_nm": Number(0, 1000, "nm", "its standard uncertainty", default=0.0),
            "parts": PARTS,
            "plates": FITTED,
            "plate_u_mm": Number(0, 1, "mm", "standard uncertainty of a plate's thickness", default=MICROMETER_U_MM),
            "gauge": Text(60, "micrometer that the plates were measured with", default=""),
            "gauge_u_mm": Number(0, 1, "mm", "standard uncertainty of what it is off by, at every plate", default=0.0),
            "l0_mm": Number(
                0.15, 40, "mm", "free height of one disc; the definition's where it was not measured", default=None
            ),
            "l0_u_mm": Number(0, 1, "mm", "standard uncertainty of the free height", default=HEIGHT_U_MM),
            "oil": Text(60, "oil in the unit; not known if empty", default=""),
            "temperature": Choice(TEMPERATURES, "how warm the unit was; not known if empty", default=None),
            "l0_within_mm": Number(
                0, 5, "mm", "how far off it may be besides, such as where it may have set since", default=None
            ),
        },
        meaning,
    )


FORM = Group(
    with_written_in(
        {"unit": DEFINITION, "before": state("the last good state"), "now": state("the unit as it is now")},
        "write_lengths_in",
    ),
    "a unit that has lost torque",
)

State = NamedTuple(
    "State",
    [
        ("torque", float),
        # Plates and rings together, mm.
        ("solids", float),
        # Free height of one disc, mm.
        ("height", float),
    ],
)


def shapley(causes: tuple[str, ...], worth: Any) -> dict[str, float]:
    """Each cause's share of worth(all) - worth(none).

    Parameters
    ----------
    causes : tuple of str
        A few causes; the work doubles with each.
    worth : callable
        Set of causes at work, as a tuple in the order of `causes`, -> number.

    Returns
    -------
    dict
        Shares that add up to the whole, whatever the order of the causes [1]_.

    Examples
    --------
    >>> worths = {(): 0.0, ("a",): 1.0, ("b",): 2.0, ("a", "b"): 5.0}
    >>> shares = shapley(("a", "b"), worths.get)
    >>> shares["a"], shares["b"]
    (2.0, 3.0)
    """
    many = len(causes)
    shares = dict.fromkeys(causes, 0.0)
    for mask in range(1 << many):
        present = tuple(cause for place, cause in enumerate(causes) if mask >> place & 1)
        # Of all orders, the share in which just these have come before the next cause.
        ahead = len(present)
        for place, cause in enumerate(causes):
            if mask >> place & 1:
                continue
            joined = tuple(name for spot, name in enumerate(causes) if (mask | 1 << place) >> spot & 1)
            weight = factorial(ahead) * factorial(many - ahead - 1) / factorial(many)
            shares[cause] += weight * (worth(joined) - worth(present))
    return shares


def factorial(number: int) -> int:
    """Product of the whole numbers up to `number`."""
    return number * factorial(number - 1) if number > 1 else 1


def with_height(built: Built, height: float) -> Built:
    """The same unit with discs of another free height; crush and cone both follow it."""
    springs = built.springs
    return with_springs(built, Column(with_free_height(springs.disc, height), springs.parallel, springs.nests))


def force_at(built: Built, solids: float, height: float, field: str) -> float:
    """Preload, N, with these plates and this free height; refuses a loose or a flat spring."""
    other = with_height(built, height)
    return needs_preload(other, crush_of(other, solids), field)


def log_shares(built: Built, before: State, now: State) -> dict[str, float]:
    """Shares of ln(torque now / torque before)."""
    forces: dict[tuple[bool, bool], float] = {}
    for thin in (False, True):
        for set_ in (False, True):
            solids = (now if thin else before).solids
            height = (now if set_ else before).height
            forces[(thin, set_)] = math.log(force_at(built, solids, height, "now.plates"))
    friction = {
        False: math.log(before.torque) - forces[(False, False)],
        True: math.log(now.torque) - forces[(True, True)],
    }

    def worth(present: tuple[str, ...]) -> float:
        return forces[(PLATES in present, SPRING in present)] + friction[FRICTION in present]

    return shapley(CAUSES, worth)


def read_state(built: Built, definition: dict[str, Any], given: dict[str, Any], field: str) -> State:
    """A state from its fields; refuses one that is not possible."""
    places = places_of(definition["chain"], given["plates"], inside(field, "plates"))
    height = built.springs.disc.l0 if given["l0_mm"] is None else given["l0_mm"]
    thickness, path = built.springs.disc.t, inside(field, "l0_mm")
    if not thickness < height <= 5 * thickness:
        raise BadInput(path, f"The free height must lie above the disc's thickness, {say(thickness, 'mm')}: check it.")
    known = State(given["torque_nm"], sum(place.size for place in places) / 1000.0, height)
    force_at(built, known.solids, height, inside(field, "plates"))
    return known


def doubts(
    built: Built, definition: dict[str, Any], sides: tuple[Any, Any], states: tuple[State, State]
) -> dict[str, Doubt]:
    """How far off each share and the whole change may be."""
    causes = torque_causes(sides[0], sides[1])
    causes += plate_causes(definition["chain"], sides[0], sides[1])
    causes += depth_causes(definition) + height_causes(definition, sides[0], sides[1])
    moved = [(which, place) for cause in causes for which, place, amount in cause.amounts if amount != 0.0]

    def shares(before: list[float], now: list[float]) -> dict[str, float]:
        shares_then = log_shares(built, State(*before), State(*now))
        shares_then[WHOLE] = math.log(now[0] / before[0])
        return shares_then

    slopes = slopes_at(shares, states, sorted(set(moved)))
    return {
        name: doubt_of(causes, lambda which, place, name=name: slopes[(which, place)][name])
        for name in (CAUSES + (WHOLE,))
    }


def percent(share: float) -> float:
    """Change in percent that a share on the logarithm is, on its own."""
    return 100.0 * (math.exp(share) - 1.0)


def explain_share(
    cause: str, share: float, before: State, now: State, unit: str, certain: bool, alike: tuple[str, str, bool]
) -> str:
    """A cause in plain words, with what to do about it; within its doubt, first measure again."""
    size = f"{fixed(abs(percent(share)), 0)} %"
    if cause == PLATES:
        gone = before.solids - now.solids
        if gone < 0:
            return f"The plates are {say(-gone, 'mm', unit)} thicker than before: check what was fitted, and for dirt."
        end = "fit thicker ones, or a shim." if certain else "that is within the doubt, so measure every plate."
        return f"{say(gone, 'mm', unit)} gone from the plates: {end}"
    if cause == SPRING:
        gone = before.height - now.height
        word = "lower" if gone >= 0 else "higher"
        end = "it has set, so fit a new one." if gone >= 0 else "check that it is the same one, and measure again."
        if not certain:
            end = "that is within the doubt, so gauge it before you fit another."
        return f"Each disc is {say(abs(gone), 'mm', unit)} {word} than before: {end}"
    return f"Friction {'down' if share < 0 else 'up'} {size}: {friction_in_words(share < 0, alike)}"


def alike_of(before: dict[str, Any], now: dict[str, Any]) -> tuple[str, str, bool]:
    """What may have changed friction without the plates: another oil, another warmth; and whether both are alike.

    Each is a clause, empty where nobody says that it differs.
    """
    was, is_ = trimmed(before["oil"]), trimmed(now["oil"])
    oils, warmths = (was, is_), (before["temperature"], now["temperature"])
    oil = f"another oil is in it (then {was}, now {is_})" if all(oils) and folded(was) != folded(is_) else ""
    warmth = f"it was {warmths[0]} then and {warmths[1]} now" if all(warmths) and warmths[0] != warmths[1] else ""
    return oil, warmth, all(oils) and all(warmths) and not oil and not warmth


def friction_in_words(is_down: bool, alike: tuple[str, str, bool]) -> str:
    """What changed friction may come from and what to do: what differs in the log comes before the plates."""
    oil, warmth, same = alike
    if warmth:
        both = f"{oil}, and " if oil else ""
        return f"{both}{warmth}, which alone changes friction. Check it again as warm as then before you open it."
    if oil:
        return f"{oil}, and friction goes by the oil. Check it in one oil before you blame the plates."
    where = "in the same oil and as warm as then, so " if same else ""
    if is_down:
        what = "glazed plates or oil that has aged" if same else "glazed plates or the wrong oil"
        return f"{where}{what}. Look at the plates' faces and change the oil."
    return f"{where}dry, dirty or scored plates. Clean them and look at their faces before it runs."


def loss(request: dict[str, Any]) -> dict[str, Any]:
    """Where the preload went.

    Parameters
    ----------
    request : dict
        Checked by `FORM`. Plates and free heights that are not given are those of the definition, give or take what
        their class and the standard permit.

    Returns
    -------
    dict
        change_percent of the torque, and change, the same in a sentence; change_log with its u_log and expanded_log
        (half of the interval that holds 95 %); certain (whether it is more than that); shares, a row each for plates,
        spring and friction: share_log (these add up to change_log), factor (what it multiplies the torque by), u_log
        and expanded_log, low_log and high_log (the interval, which lies unevenly about the share where a spring's
        tolerance does), share (of the change, None where there is none), percent (what it does on its own),
        size_percent (without its sign) and shows (whether it is more than nothing), certain, text; cause (the largest
        that pulls the torque the way it went, None where none is certain) and text; before and now (crush_mm,
        preload_n, mu, which is None without the rubbing ring); warnings.

    Raises
    ------
    BadInput
        A definition or plates that contradict themselves; a stack that is loose, or a spring that is flat, before, now,
        or with the one's plates and the other's spring.
    """
    definition = request["unit"]
    # Shares of a ratio of two torques: the rubbing ring counts in neither.
    built = built_of(definition, subject="Where the torque went", ring=False)
    before = read_state(built, definition, request["before"], "before")
    now = read_state(built, definition, request["now"], "now")
    shares = log_shares(built, before, now)
    doubt = doubts(built, definition, (request["before"], request["now"]), (before, now))
    alike = alike_of(request["before"], request["now"])
    change = math.log(now.torque / before.torque)
    rows = []
    for cause in CAUSES:
        row = share_row(cause, shares[cause], doubt[cause], change)
        written, is_certain_ = request["write_lengths_in"], row["certain"]
        row["text"] = explain_share(cause, shares[cause], before, now, written, is_certain_, alike)
        rows.append(row)
    certain = is_certain(change, doubt[WHOLE])
    leading, text = explain_change(rows, change, certain)
    sides = {
        field: figures(built, known, inside(field, "plates"), definition["friction"])
        for field, known in (("before", before), ("now", now))
    }
    warnings = marked_concerns(definition, request["write_lengths_in"], friction=False)
    for field in ("before", "now"):
        mu = sides[field]["mu"]
        warning = None if mu is None else friction_warning(mu)
        if warning is not None:
            warnings.append(concern("friction_" + field, warning))
    return {
        "change_percent": percent(change),
        "change": say_change(change),
        "change_log": change,
        "u_log": doubt[WHOLE].u,
        "expanded_log": doubt[WHOLE].expanded,
        "certain": certain,
        "shares": rows,
        "cause": leading,
        "text": text,
        "before": sides["before"],
        "now": sides["now"],
        "warnings": warnings,
    }


def share_row(cause: str, share: float, doubt: Doubt, change: float) -> dict[str, Any]:
    """A cause's share of the `change`, on the logarithm, as results hold it; its sentence is added to it."""
    return {
        "cause": cause,
        "share_log": share,
        "factor": math.exp(share),
        "u_log": doubt.u,
        "expanded_log": doubt.expanded,
        "low_log": share + doubt.middle - doubt.expanded,
        "high_log": share + doubt.middle + doubt.expanded,
        "share": share / change if change != 0.0 else None,
        "percent": percent(share),
        "size_percent": abs(percent(share)),
        "shows": abs(percent(share)) >= LEAST_SHOWN,
        "certain": is_certain(share, doubt),
    }


def figures(built: Built, known: State, field: str, ring: dict[str, Any] | None) -> dict[str, Any]:
    """What a state comes to; no friction where the rubbing `ring` is not known."""
    other = with_height(built, known.height)
    crush = crush_of(other, known.solids)
    force = needs_preload(other, crush, field)
    return {
        "torque_nm": known.torque,
        "crush_mm": crush,
        "travel": crush / (other.springs.nests * flat_at(other.springs.disc)),
        "preload_n": force,
        "mu": None if ring is None else friction_of(built, known.torque, force),
    }


def say_change(change: float) -> str:
    """The whole change in a sentence.

    >>> say_change(math.log(0.9))
    'The torque lost 10 %.'
    """
    return f"The torque {'lost' if change < 0 else 'gained'} {fixed(abs(percent(change)), 0)} %."


def explain_change(rows: list[dict[str, Any]], change: float, certain: bool) -> tuple[str | None, str]:
    """The cause, and the whole change in plain words."""
    if not certain:
        return None, "The torque has not changed by more than the readings' doubt: there is nothing to look for."
    way = -1.0 if change < 0 else 1.0
    pulling = [row for row in rows if way * row["share_log"] > 0 and row["certain"]]
    whole = say_change(change)
    if not pulling:
        return (
            None,
            f"{whole} No cause is clear of its doubt: measure plates and spring more closely.",
        )
    first = max(pulling, key=lambda row: way * row["share_log"])
    against = [row for row in rows if way * row["share_log"] < 0 and row["certain"]]
    masked = f" Partly hidden by this: {against[0]['text']}" if against else ""
    return first["cause"], f"{whole} {first['text']}{masked}"
