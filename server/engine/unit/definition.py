"""A unit's definition: what it is made of, what was ordered, and what its figures come to."""

from typing import Any

from ..request.errors import BadInput, inside, once_each
from ..request.fields import Choice, Group, Listing, Number, Text, Whole, YesNo
from ..request.units import say
from .friction import pack_torque, uniform_pressure_radius, uniform_wear_radius
from .held import JUDGED_ON, STATED_FOR, packs_in_torque
from .pressing import RAMPS, pressing_of
from .spring import FIELDS, Column, disc_of, flat_at, free_height, load
from .spring_warnings import concern, warnings_for
from .stack import LAYOUTS, PARTS, SPRING, check_springs, crush, packs, sliding_faces
from .usual_limits import plate_limits
from .warming import WARMING, warm_figures

# The narrow end of the first disc's cone.
CONES = {"cover": "its point faces the cover", "floor": "its point faces the floor"}

FORM = Group(
    {
        "name": Text(60, "name of the unit"),
        "owner": Text(80, "whose it is", default=""),
        "note": Text(2000, "anything worth knowing about it", default=""),
        "plate_family": Text(80, "plates that fit it: rubbing ring, lugs or splines, material", default=""),
        "order": Group(
            {
                "torque_nm": Number(1, 2000, "nm", "breakaway torque ordered"),
                "tolerance_nm": Number(0.1, 500, "nm", "how far off it may be, either way"),
            },
            "what the customer ordered",
        ),
        "judged_on": Choice(JUDGED_ON, "reading that order and limits are for", default="steady"),
        "stated_for": Choice(
            STATED_FOR, "way of holding that order and limits are stated for", default="one_output_held"
        ),
        "service": Group(
            {
                "low_nm": Number(0, 2000, "nm", "lowest torque at which it may run again"),
                "high_nm": Number(0, 4000, "nm", "highest torque at which it may run again", default=None),
                "plates_every_days": Whole(
                    7, 3650, "days after which its plates are measured again; 365 if empty", default=None
                ),
            },
            "limits between rebuilds",
        ),
        "hub_ratio": Number(0.2, 10, "", "turns of the output for one turn of the wheel", default=1.0),
        "layout": Choice(LAYOUTS, "where the spring sits"),
        "spring": FIELDS,
        "cavity_mm": Number(5, 500, "mm", "depth from the cover's face to the floor"),
        "chain": Listing(
            Group(
                {
                    "slot": Text(20, "place in the stack"),
                    "part": Choice(PARTS, "what sits there"),
                    "new_mm": Number(0.05, 80, "mm", "thickness when new or as fitted", default=None),
                    "minimum_mm": Number(0.02, 80, "mm", "thickness at which it has to be replaced", default=None),
                    "cone_to": Choice(CONES, "side that the point of a disc spring's cone faces", default=None),
                },
                "one part of the stack",
            ),
            5,
            80,
            "the stack from cover to floor",
            nouns="parts",
        ),
        "friction": Group(
            {
                "inner_mm": Number(10, 390, "mm", "inside diameter of the rubbing ring"),
                "outer_mm": Number(15, 400, "mm", "outside diameter of the rubbing ring"),
                "mu": Number(0.02, 0.5, "", "coefficient of friction, plates in oil", default=0.1),
                "run_in": YesNo("whether the plates are run in", default=True),
            },
            "the rubbing ring of the plates",
        ),
        # Groups of other modules are made anew, so that they come in this order on the form.
        "ramps": Group(RAMPS.fields, RAMPS.meaning, default=None),
        "cover": Group(
            {
                "screws": Whole(2, 24, "how many screws hold the cover"),
                "screw_mm": Number(3, 20, "mm", "thread diameter"),
                "torque_nm": Number(1, 300, "nm", "torque of a screw"),
                "start_mm": Number(
                    0, 20, "mm", "gap under the cover when the screws first catch; assumed if empty", default=None
                ),
            },
            "the cover and its screws",
            default=None,
        ),
        "limits": plate_limits(),
        "warming": Group(WARMING.fields, WARMING.meaning, default=None),
    },
    "a unit's definition",
)


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


def check_order(order: dict[str, Any], service: dict[str, Any]) -> None:
    """Refuse a tolerance or limits for running that cannot belong to the torque ordered."""
    if order["tolerance_nm"] >= order["torque_nm"]:
        raise BadInput("order.tolerance_nm", "The tolerance must be smaller than the torque itself.")
    if service["high_nm"] is not None and service["high_nm"] <= service["low_nm"]:
        raise BadInput(
            "service.high_nm", f"The highest torque must be above the lowest, {say(service['low_nm'], 'nm')}."
        )
    if service["low_nm"] > order["torque_nm"]:
        raise BadInput("service.low_nm", f"This must not be above the torque ordered, {say(order['torque_nm'], 'nm')}.")


def check_depth(squeeze: float, cavity: float) -> None:
    """Refuse a stack that misses the depth, mm, by more than a quarter of it: one of the figures is wrong."""
    if abs(squeeze) > 0.25 * cavity:
        word = "short of" if squeeze < 0 else "over"
        raise BadInput(
            "cavity_mm",
            f"The stack is {say(abs(squeeze), 'mm')} {word} this depth: check the depth and the thicknesses.",
        )


def order_concerns(order: dict[str, Any], service: dict[str, Any], unit: str = "nm") -> list[dict[str, Any]]:
    """Where an order and the limits for running contradict each other; each concern has the name of the field at fault.

    Parameters
    ----------
    order : dict
        torque_nm and tolerance_nm, as ordered or as a plan wants them.
    service : dict
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


def unit(request: dict[str, Any]) -> dict[str, Any]:
    """Check a unit's definition and work out what it should do with every part new.

    Parameters
    ----------
    request : dict
        Checked by `FORM`.

    Returns
    -------
    dict
        faces of the first and the second pack; free_mm, crush_mm, deflection_mm of each disc, preload_n;
        pack_nm of both packs; breakaway_nm as order and limits are stated; radius_mm; warm, what it comes to once it
        has warmed through, or None; warnings, of the spring, and of an order and limits that contradict each other;
        checked, the definition itself in SI.

    Raises
    ------
    BadInput
        A stack, spring or limit that contradicts itself, at its field.
    """
    chain, layout = request["chain"], request["layout"]
    check_chain(chain)
    first, second = packs(chain)
    places = check_springs(chain, layout)
    order, service = request["order"], request["service"]
    check_order(order, service)
    ring = request["friction"]
    if ring["outer_mm"] <= ring["inner_mm"]:
        raise BadInput("friction.outer_mm", "The outside diameter must be above the inside diameter.")
    if request["ramps"] is not None:
        # Refuses gears whose cone angle cannot be known.
        pressing_of(request["ramps"], request["ramps"]["drive_deg"])
    spring = request["spring"]
    disc = disc_of(spring)
    nests = spring["series"] * places
    springs = Column(disc, spring["parallel"], nests)
    squeeze = crush(chain, free_height(springs), request["cavity_mm"])
    check_depth(squeeze, request["cavity_mm"])
    each = max(0.0, squeeze / nests)
    force = spring["parallel"] * load(disc, min(each, flat_at(disc)))
    radius_of = uniform_wear_radius if ring["run_in"] else uniform_pressure_radius
    radius = radius_of(ring["inner_mm"] / 2, ring["outer_mm"] / 2)
    faces = [sliding_faces([item["part"] for item in pack if item["part"] != SPRING]) for pack in (first, second)]
    torques = [pack_torque(count, ring["mu"], radius, force) for count in faces]
    breakaway = sum(torques) / 2 * packs_in_torque(request["stated_for"])
    return {
        "faces": {"first": faces[0], "second": faces[1]},
        "free_mm": request["cavity_mm"] + squeeze,
        "crush_mm": squeeze,
        "deflection_mm": each,
        "travel": each / flat_at(disc),
        "preload_n": force,
        "radius_mm": radius,
        "pack_nm": {"first": torques[0], "second": torques[1]},
        "breakaway_nm": breakaway,
        "warm": warm_figures(request["warming"], request["cavity_mm"], squeeze, springs),
        "warnings": warnings_for(squeeze, each, disc) + order_concerns(order, service),
        "checked": request,
    }
