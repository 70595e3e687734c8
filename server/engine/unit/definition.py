"""A unit's definition: what it is made of, what was ordered, and what its figures come to."""

from typing import Any

from ..request.errors import BadInput, inside, once_each
from ..request.field_names import quoted
from ..request.rounded import fixed
from ..request.units import say
from .features import check_features
from .form import FORM
from .friction import pack_torque, uniform_pressure_radius, uniform_wear_radius
from .held import packs_in_torque
from .marked_parts import check_marked
from .marks import marked_concerns, marked_figures, marks_that_hold
from .pressing import pressing_of
from .spring import Column, disc_of, flat_at, free_height, load
from .spring_warnings import concern, warnings_for
from .stack import SPRING, check_springs, crush, packs, sliding_faces
from .warming import warm_figures

# Figures of the stack, None as long as what they rest on is not known.
STACK_FIGURES = ("faces", "free_mm", "crush_mm", "deflection_mm", "travel", "preload_n", "warm")


def check_chain(chain: list[dict[str, Any]]) -> None:
    """Refuse a slot that stands twice, a part without a thickness, and a limit above the thickness when new."""
    once_each(chain, "chain", "slot", "is in the stack twice: give each part its own name.")
    for place, item in enumerate(chain):
        path = inside("chain", place)
        if item["part"] == SPRING:
            if item["new_mm"] is not None:
                raise BadInput(
                    inside(path, "new_mm"),
                    "Leave this empty: the spring's height comes from its own figures.",
                )
            continue
        if item["new_mm"] is None:
            raise BadInput(inside(path, "new_mm"), "Give the thickness of this part.")
        if item["minimum_mm"] is not None and item["minimum_mm"] >= item["new_mm"]:
            raise BadInput(
                inside(path, "minimum_mm"),
                f"The limit must be below the thickness when new, {say(item['new_mm'], 'mm')}.",
            )


def check_order(order: dict[str, Any] | None, service: dict[str, Any] | None, nm: str) -> None:
    """Refuse a tolerance or limits for running that cannot belong to the torque ordered; `nm` is what it writes in."""
    if order is not None and order["tolerance_nm"] >= order["torque_nm"]:
        raise BadInput("order.tolerance_nm", f"This must be smaller than {quoted(FORM, 'order.torque_nm')}.")
    if service is None:
        return
    low, high = service["low_nm"], service["high_nm"]
    if low is not None and high is not None and high <= low:
        raise BadInput("service.high_nm", f"This must be above {quoted(FORM, 'service.low_nm')}, {say(low, 'nm', nm)}.")
    if order is not None and low is not None and low > order["torque_nm"]:
        ordered = say(order["torque_nm"], "nm", nm)
        raise BadInput("service.low_nm", f"This must not be above {quoted(FORM, 'order.torque_nm')}, {ordered}.")


def check_depth(squeeze: float, cavity: float) -> None:
    """Refuse a stack that misses the depth, mm, by more than a quarter of it: one of the figures is wrong."""
    if abs(squeeze) > 0.25 * cavity:
        word = "short of" if squeeze < 0 else "over"
        raise BadInput(
            "cavity_mm",
            f"The stack is {say(abs(squeeze), 'mm')} {word} this depth: check the depth and the thicknesses.",
        )


def order_concerns(
    order: dict[str, Any] | None, service: dict[str, Any] | None, unit: str = "nm"
) -> list[dict[str, Any]]:
    """Where an order and the limits for running contradict each other; each concern has the name of the field at fault.

    Parameters
    ----------
    order : dict or None
        torque_nm and tolerance_nm, as ordered or as a plan wants them.
    service : dict or None
        low_nm and high_nm between rebuilds; 0 or None where there is none.
    unit : str
        Unit of torque to write in.

    Notes
    -----
    Definitions of older versions may hold such a contradiction, so it is a warning and not refused.

    Examples
    --------
    >>> fighting = order_concerns({"torque_nm": 90, "tolerance_nm": 5}, {"low_nm": 60, "high_nm": 85})
    >>> [row["name"] for row in fighting]
    ['service.high_nm']
    """
    if order is None or service is None:
        return []
    torque, off = order["torque_nm"], order["tolerance_nm"]
    concerns = []
    for name, limit, word, side, sign in (
        ("service.low_nm", service["low_nm"], "lowest", "below", -1.0),
        ("service.high_nm", service["high_nm"], "highest", "above", 1.0),
    ):
        if not limit or sign * (torque + sign * off - limit) <= 1e-9 * torque:
            continue
        edge = f"{say(limit, 'nm', unit)}, the {word} at which it may run"
        if sign * (torque - limit) > 0:
            text = (
                f"The torque ordered, {say(torque, 'nm', unit)}, is {side} {edge}: a unit set just as ordered would "
                "have to be re-set at once. Correct the order or the limit."
            )
        else:
            text = (
                f"The order reaches to {say(torque + sign * off, 'nm', unit)}, {side} {edge}: a unit set within its "
                "order may have to be re-set at once. Correct the order or the limit."
            )
        concerns.append(concern(name, text))
    return concerns


def check_ring(ring: dict[str, Any]) -> None:
    """Refuse a rubbing ring that is inside out."""
    if ring["outer_mm"] <= ring["inner_mm"]:
        raise BadInput("friction.outer_mm", f"This must be above {quoted(FORM, 'friction.inner_mm')}.")


def radius_of(ring: dict[str, Any]) -> float:
    """Effective radius of the plates on their rubbing ring, mm."""
    radius = uniform_wear_radius if ring["run_in"] else uniform_pressure_radius
    return radius(ring["inner_mm"] / 2, ring["outer_mm"] / 2)


def stack_figures(request: dict[str, Any]) -> dict[str, Any]:
    """Sliding faces, and free height, crush, travel and preload of the stack, as far as its parts are known."""
    chain, spring, cavity = request["chain"], request["spring"], request["cavity_mm"]
    figures: dict[str, Any] = dict.fromkeys(STACK_FIGURES)
    figures["warnings"] = []
    disc = None if spring is None else disc_of(spring)
    if chain is None:
        return figures
    check_chain(chain)
    first, second = packs(chain)
    places = check_springs(chain, request["layout"], may_lack=spring is None)
    faces = [sliding_faces([item["part"] for item in pack if item["part"] != SPRING]) for pack in (first, second)]
    figures["faces"] = {"first": faces[0], "second": faces[1]}
    if spring is None or disc is None:
        return figures
    nests = spring["series"] * places
    springs = Column(disc, spring["parallel"], nests)
    if cavity is None:
        figures["free_mm"] = crush(chain, free_height(springs), 0.0)
        return figures
    squeeze = crush(chain, free_height(springs), cavity)
    check_depth(squeeze, cavity)
    each = max(0.0, squeeze / nests)
    figures.update(
        {
            "free_mm": cavity + squeeze,
            "crush_mm": squeeze,
            "deflection_mm": each,
            "travel": each / flat_at(disc),
            "preload_n": spring["parallel"] * load(disc, min(each, flat_at(disc))),
            "warm": warm_figures(request["warming"], cavity, squeeze, springs),
            "warnings": warnings_for(squeeze, each, disc),
        }
    )
    return figures


def worked_out(request: dict[str, Any], nm: str = "nm") -> dict[str, Any]:
    """What `unit` answers, but a spring that would be flat is a warning: engines before 1.17 accepted it so.

    `nm` is the unit of torque to write in.
    """
    order, service, ring = request["order"], request["service"], request["friction"]
    figures = stack_figures(request)
    check_order(order, service, nm)
    if ring is not None:
        check_ring(ring)
    once_each(request["other_ramps"], "other_ramps", "name", "is there twice: give each pair a name of its own.")
    # Entries of engines before 1.48 have none.
    check_features(request.get("features") or [])
    # Entries of engines before 1.59 have none.
    check_marked(request.get("marked_parts") or [], "marked_parts")
    if request["ramps"] is not None:
        # Refuses gears whose cone angle cannot be known.
        pressing_of(request["ramps"], request["ramps"]["drive_deg"])
    figures.update({"radius_mm": None if ring is None else radius_of(ring), "pack_nm": None, "breakaway_nm": None})
    force, faces = figures["preload_n"], figures["faces"]
    if ring is not None and force is not None:
        torques = [pack_torque(faces[pack], ring["mu"], figures["radius_mm"], force) for pack in ("first", "second")]
        figures["pack_nm"] = {"first": torques[0], "second": torques[1]}
        figures["breakaway_nm"] = sum(torques) / 2 * packs_in_torque(request["stated_for"])
    figures["warnings"] = figures["warnings"] + order_concerns(order, service, nm) + marked_concerns(request)
    checked = request.copy()
    checked["worked_out"] = marks_that_hold(request)
    figures.update({"worked_out": marked_figures(request), "checked": checked})
    return figures


def refuse_flat(request: dict[str, Any], figures: dict[str, Any]) -> None:
    """Refuse a stack over which the cover could not close with every part new, at the figure that is likeliest wrong.

    Raises
    ------
    BadInput
        At the free height where the spring would be flat; at the depth where plates and rings alone fill it.
    """
    travel = figures["travel"]
    if travel is not None and travel >= 1.0:
        raise BadInput(
            "spring.l0_mm",
            f"The spring would be squeezed to {fixed(100 * travel, 0)} % of its travel, and the cover could not close: "
            "check its height and thickness, the depth and the plates, and leave empty what was not measured.",
        )
    chain, depth = request["chain"], request["cavity_mm"]
    if chain is not None and depth is not None and travel is None:
        over = crush(chain, 0.0, depth)
        if over >= 0:
            raise BadInput(
                "cavity_mm",
                f"Plates and rings alone are {say(over, 'mm')} over this depth, with no room for the spring: check the "
                "depth and the thicknesses.",
            )


def unit(request: dict[str, Any]) -> dict[str, Any]:
    """Check what is known of a unit, and work out what it should do with every part new as far as that goes.

    Parameters
    ----------
    request : dict
        Checked by `FORM`; only the name has to be known.

    Returns
    -------
    dict
        faces of the first and the second pack; free_mm, crush_mm, deflection_mm of each disc, travel, preload_n;
        pack_nm of both packs; breakaway_nm as order and limits are stated; radius_mm; warm, what it comes to once it
        has warmed through: each None where what it rests on is not known; warnings, of the spring, of an order and
        limits that contradict each other, and of figures that were worked out; worked_out, the figures that were not
        measured (see `marked_figures`); checked, the definition itself in SI.

    Notes
    -----
    What a unit lacks follows from its definition, so entries do not keep it: `so_far` and `standing` say it.

    Raises
    ------
    BadInput
        A stack, spring or limit that contradicts itself, at its field.

    Examples
    --------
    >>> result = unit(FORM.read({"name": "Hillclimb", "service": {"low_nm": 45}}, ""))
    >>> result["breakaway_nm"], result["checked"]["service"]["low_nm"]
    (None, 45.0)
    """
    figures = worked_out(request)
    refuse_flat(request, figures)
    return figures


def contradiction(definition: dict[str, Any], nm: str = "nm") -> dict[str, str] | None:
    """Where a definition, in SI, contradicts itself: field and text; None where it does not.

    Such a definition is refused today, but older engines accepted some. A stack that is loose with every part new has
    no torque, whatever somebody read; and no torque can be both as ordered and above the highest at which it may run.
    `nm` is the unit of torque to write in.
    """
    try:
        figures = worked_out(definition, nm)
        refuse_flat(definition, figures)
    except BadInput as refusal:
        return {"field": refusal.field, "text": refusal.reason}
    if figures["crush_mm"] is not None and figures["crush_mm"] <= 0:
        return {"field": "cavity_mm", "text": figures["warnings"][0]["text"]}
    order, service = definition["order"], definition["service"]
    high = None if service is None else service["high_nm"]
    # 0 limits nothing.
    if order is not None and high and order["torque_nm"] > high:
        texts = [row["text"] for row in order_concerns(order, service, nm) if row["name"] == "service.high_nm"]
        return {"field": "service.high_nm", "text": texts[0]}
    return None
