"""Planning a rebuild: which plates bring the unit to the torque that is wanted, proven to be the best choice.

Within the tolerance the fewest changed plates come first, then sides of equal thickness, then the closest torque. A
plan stays where a thicker stack gives more torque: below the spring's peak.
"""

import math
from typing import Any

from ..doubt.budget import TWO_SIDED_95
from ..request.fields import Group, Listing, Number, Text, YesNo
from ..request.units import say
from ..request.written_in import with_words, words_of
from ..unit.as_built import DEFINITION, built_of, crush_of, friction_of, longest_rise, needs_preload
from ..unit.definition import order_concerns
from ..unit.friction import questioned
from ..unit.spring import FIELDS
from ..unit.spring_tolerance import load_tolerance
from ..unit.spring_warnings import concern, warnings_for
from .alternatives import alternatives, cannot
from .curve import plan_curve
from .pieces import FITTED, SHELF, usable
from .places import Stack, micrometres, places_of
from .target import Aim, chosen

FORM = Group(
    with_words(
        {
            "unit": DEFINITION,
            "fitted": FITTED,
            "measured": Group(
                {
                    "torque_nm": Number(0.5, 5000, "nm", "breakaway torque, as the unit's order states it"),
                    "expanded_nm": Number(0, 1000, "nm", "its expanded uncertainty, 95 %", default=0.0),
                },
                "a torque measured with the plates as they are fitted",
                default=None,
            ),
            "wanted": Group(
                {
                    "torque_nm": Number(0.5, 5000, "nm", "breakaway torque, as the unit's order states it"),
                    "tolerance_nm": Number(0.05, 1000, "nm", "how far off it may be, either way"),
                },
                "what is wanted, where it is not what was ordered",
                default=None,
            ),
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
                -50, 50, "mm", "first pack less second when the cross pins sit in the middle", default=0.0
            ),
            "alternatives": YesNo(
                "whether other means are looked into as well, which may take many times as long", default=True
            ),
        },
        "write_in",
        "write_lengths_in",
    ),
    "planning a rebuild",
)


def spread(aim: Aim, rows: list[dict[str, Any]], total: int, measured: dict[str, Any] | None) -> dict[str, Any]:
    """How far off the torque may come out, 95 %: from the pieces' thickness, the spring and the friction.

    Notes
    -----
    Each piece may be off by its own `within_mm`, evenly; a spring that was measured in the unit brings no doubt of its
    own, a new one that of its load tolerance; an assumed friction is not counted, and a note says so.
    """
    torque = aim.torque_at(total)
    step = 1 if aim.crush_at(total) <= longest_rise(aim.built) - 0.001 else -1
    slope = (aim.torque_at(total + step) - torque) / (step / 1000.0)
    plates = TWO_SIDED_95 * slope * math.sqrt(sum(row["within_mm"] ** 2 / 3 for row in rows))
    if measured is None:
        above, below = load_tolerance(aim.built.springs.disc.t)
        friction = 0.0
    else:
        above = below = 0.0
        friction = torque * measured["expanded_nm"] / measured["torque_nm"]
    up = math.sqrt(plates**2 + (torque * above / 100) ** 2 + friction**2)
    down = math.sqrt(plates**2 + (torque * below / 100) ** 2 + friction**2)
    return {
        "plates_nm": plates,
        "spring_above_nm": torque * above / 100,
        "spring_below_nm": torque * below / 100,
        "reading_nm": friction,
        "low_nm": max(0.0, torque - down),
        "high_nm": torque + up,
    }


def plan(request: dict[str, Any]) -> dict[str, Any]:
    """Plan a rebuild.

    Parameters
    ----------
    request : dict
        Checked by `FORM`. Thicknesses count in whole micrometres.

    Returns
    -------
    dict
        possible; proven, whether no choice with as few changes is better; changes, torque_nm, off_nm, crush_mm,
        preload_n, apart_mm (first pack less second, less what it should be), solids_mm and added_mm (that less the
        plates and rings as fitted), stack (a row for every part: slot, part, action keep or fit, piece, mm, was_mm);
        spread_nm; now, with the plates as fitted; mu and torque_per_n; window_mm of the plates and rings; proof, with
        the number of arrangements covered, as text since it outgrows a JSON number; nearest and ways, where it is not
        possible; alternatives (shim, spring, order), each with what it affects, or None where they were not asked for
        and the plan is possible without; warnings.

    Raises
    ------
    BadInput
        A definition or a slot that contradicts itself, or a measured torque of a stack that has no preload.

    References
    ----------
    1. The search and why it covers every arrangement: `arrangements`.
    """
    definition, measured = request["unit"], request["measured"]
    built = built_of(definition)
    places = places_of(definition["chain"], request["fitted"], "fitted")
    shelf, unfit = usable(request["shelf"])
    stack = Stack(places, shelf)
    balance = math.floor(request["balance_mm"] * 1000.0 + 0.5)
    now, found = stack.now(), []
    mu = built.mu
    if measured is not None:
        force = needs_preload(built, crush_of(built, now / 1000.0), "fitted")
        mu = friction_of(built, measured["torque_nm"], force)
        doubt = questioned(mu)
        if doubt is not None:
            found.append(concern("friction", doubt))
    else:
        found.append(
            concern("assumed_friction", f"No torque was measured with these plates: a friction of {mu:.3f} is assumed.")
        )
    if unfit:
        found.append(concern("unfit", f"Not used, below its limit: {', '.join(unfit)}."))
    wanted = request["wanted"] or definition["order"]
    found += order_concerns(wanted, definition["service"], words_of(request).nm)
    aim = Aim(built, mu, wanted["torque_nm"], wanted["tolerance_nm"])
    answer, words = chosen(stack, aim, balance), words_of(request)
    if answer["possible"]:
        total = micrometres(answer["solids_mm"])
        answer["added_mm"] = (total - now) / 1000.0
        answer["spread_nm"] = spread(aim, answer["stack"], total, measured)
        low, high = answer["spread_nm"]["low_nm"], answer["spread_nm"]["high_nm"]
        if low < aim.torque - aim.tolerance or high > aim.torque + aim.tolerance:
            ends = f"{say(low, 'nm', words.nm)} to {say(high, 'nm', words.nm)}"
            text = f"It may come out from {ends}: check the torque before it goes out."
            found.append(concern("spread", text))
        each = answer["crush_mm"] / built.springs.nests
        found = warnings_for(answer["crush_mm"], each, built.springs.disc, words.mm) + found
    others = None
    if request["alternatives"] or not answer["possible"]:
        others = alternatives(request, definition, built, places, shelf, stack, mu, wanted, balance)
    answer.update(
        {
            "wanted_nm": {
                "torque_nm": wanted["torque_nm"],
                "tolerance_nm": wanted["tolerance_nm"],
                "low_nm": wanted["torque_nm"] - wanted["tolerance_nm"],
                "high_nm": wanted["torque_nm"] + wanted["tolerance_nm"],
            },
            "now": {
                "torque_nm": aim.torque_at(now),
                "crush_mm": aim.crush_at(now),
                "solids_mm": now / 1000.0,
            },
            "mu": mu,
            "torque_per_n": aim.each,
            "window_mm": None if aim.low > aim.high else {"low_mm": aim.low / 1000.0, "high_mm": aim.high / 1000.0},
            "proof": proof(stack, answer),
            "alternatives": others,
            "warnings": found,
        }
    )
    answer.update(plan_curve(aim, now))
    if not answer["possible"]:
        answer.update(cannot(stack, aim, others or [], words))
    return answer


def proof(stack: Stack, answer: dict[str, Any]) -> dict[str, Any]:
    """How much was covered, and the sentence that says so, or what it leaves open."""
    count, ways = stack.arrangements.count, stack.arrangements.sums
    sums = 0
    for row in ways.values():
        sums |= row
    many = bin(sums).count("1")
    end = "None of them comes within the tolerance."
    if answer["possible"]:
        end = (
            "None within the tolerance changes fewer plates; of those none is better balanced; of those none is closer."
        )
        if not answer["proven"]:
            end = (
                "None within the tolerance changes fewer plates. They are too many and too different to prove that "
                "none of those is better balanced or closer: leave rows off the shelf to have that proven."
            )
    return {
        "arrangements": str(count),
        "thicknesses": many,
        "text": f"Arrangements covered: {count}, with {many} different thicknesses of the stack. {end}",
    }
