"""A car of the shop: what a corner needs of it, as far as it is known, each figure with its range."""

import math
from typing import Any

from ..request.errors import BadInput, inside
from ..request.field_names import quoted
from ..request.fields import Choice, Field, Group, Listing, Number, Text, Whole
from ..request.rounded import fixed
from ..request.units import INCH_MM, say, unit_labels
from ..request.written_in import with_written_in
from .height import CAUTION, LIFTED, height_of, height_within
from .usual import BRAKING, GRIPS, THROUGH, TYPED_WITHIN, USUAL, USUAL_GRIP, USUAL_SHARE, Range

AXLES = {"rear": "the rear axle is driven", "front": "the front axle is driven"}

CORNERS = ("front_left_kg", "front_right_kg", "rear_left_kg", "rear_right_kg")

# Where a figure comes from.
TYPED = "typed"
WORKED_OUT = "worked_out"
USUALLY = "usual"
SOURCES = {
    TYPED: "as it was typed",
    WORKED_OUT: "worked out from what was measured",
    USUALLY: "usual for such cars: common practice, no source",
}

# MicroPython's dictionaries keep no order.
FIGURES = (
    "mass_kg",
    "weight_share",
    "cg_mm",
    "track_mm",
    "wheelbase_mm",
    "tyre_mm",
    "transfer_share",
    "grip",
    "along",
    "sensitivity",
    "stiffness",
)

MEANINGS = {
    "mass_kg": "mass with driver",
    "weight_share": "share of the weight on the driven axle",
    "cg_mm": "height of the centre of gravity",
    "track_mm": "track of the driven axle",
    "wheelbase_mm": "wheelbase",
    "tyre_mm": "rolling radius of the driven tyres",
    "transfer_share": "driven axle's share of the load transfer",
    "grip": "grip sideways",
    "along": "grip along, as a share of that sideways",
    "sensitivity": "share of the grip lost where the load doubles",
    "stiffness": "stiffness of the tyres along",
}

FIELDS: dict[str, Field] = {
    "name": Text(60, "what the car is called", label="Name of the car"),
    "note": Text(2000, "anything worth knowing about it", default="", label="Anything to know about it"),
    "axle": Choice(AXLES, "which axle is driven", default="rear", label="Driven axle"),
    "mass_kg": Number(100, 10000, "kg", "mass of the whole car with its driver", default=None, label="Whole car"),
    "corners": Group(
        {
            "front_left_kg": Number(1, 3000, "kg", "weight on the front left wheel, by scales", label="Front left"),
            "front_right_kg": Number(1, 3000, "kg", "weight on the front right wheel, by scales", label="Front right"),
            "rear_left_kg": Number(1, 3000, "kg", "weight on the rear left wheel, by scales", label="Rear left"),
            "rear_right_kg": Number(1, 3000, "kg", "weight on the rear right wheel, by scales", label="Rear right"),
        },
        "weights by scales, with the driver in the seat",
        default=None,
        label="Weight",
    ),
    "cg_mm": Number(50, 2000, "mm", "height of the centre of gravity", default=None, label="Height, where it is known"),
    "lifted": LIFTED,
    "track_mm": Number(
        500, 3000, "mm", "from wheel to wheel on the driven axle", default=None, label="Track of the driven axle"
    ),
    "wheelbase_mm": Number(1000, 6000, "mm", "from axle to axle", default=None, label="Wheelbase"),
    "tyre_mm": Number(
        100, 1500, "mm", "rolling radius of the driven tyres", default=None, label="Or the rolling radius itself"
    ),
    "rolled": Group(
        {
            "turns": Whole(1, 50, "turns of the wheel", label="Turns of the tyre"),
            "distance_mm": Number(
                200,
                200000,
                "mm",
                "how far the car rolled meanwhile, with its driver in the seat",
                label="How far it rolled",
            ),
        },
        "the tyres as they were rolled",
        default=None,
    ),
    "transfer_share": Number(
        0,
        1,
        "",
        "share of the load transfer across that the driven axle carries",
        default=None,
        label="Driven axle's share of the load transfer",
    ),
    "tyres": Choice(
        {name: words for name, (words, _) in GRIPS.items()},
        "tyres and ground, in words",
        default=USUAL_GRIP,
        label="Tyres and ground",
    ),
    "grip": Number(
        0.02, 3, "", "grip sideways, where it is known better than in words", default=None, label="Grip sideways"
    ),
    "engine_nm": Number(
        1, 5000, "nm", "greatest torque of the engine", default=None, label="Greatest torque of the engine"
    ),
    "final_drive": Number(0.5, 20, "", "ratio of the final drive", default=None, label="Final drive"),
    "gears": Listing(
        Number(0.2, 20, "", "ratio of a gear"),
        1,
        12,
        "ratios of the gearbox, from the lowest gear up",
        default=None,
        label="Gear ratios, lowest gear first",
    ),
    "id": Text(40, "the car that this entry changes", default=""),
    "gone": Choice({"no": "in use", "yes": "no longer in use"}, "whether it is still kept", default="no"),
}

FORM = Group(with_written_in(FIELDS, "write_lengths_in"), "a car")


def figure_row(name: str, figure: Range, source: str, length_unit: str) -> dict[str, Any]:
    """A figure as results hold it; `length_unit` is the unit of length to write in."""
    size, places, sign = 1.0, 2, ""
    if name == "mass_kg":
        places, sign = 0, " kg"
    elif name.endswith("_mm"):
        size = {"mm": 1.0, "inch": INCH_MM, "thou": INCH_MM / 1000.0}[length_unit]
        places, sign = 1 if length_unit == "inch" else 0, " " + unit_labels("mm")[length_unit]
    value, low, high = [fixed(end / size, places) for end in figure]
    return {
        "name": name,
        "meaning": MEANINGS[name],
        "value": figure.value,
        "low": figure.low,
        "high": figure.high,
        "source": source,
        "text": f"{value}{sign} ({low} to {high})",
        "from": SOURCES[source],
    }


def typed_range(name: str, value: float) -> Range:
    """A figure that was typed, with how far off it may be."""
    within = TYPED_WITHIN[name]
    return Range(value, value * (1.0 - within), value * (1.0 + within))


def weighed(request: dict[str, Any]) -> tuple[tuple[Range, str], tuple[Range, str]]:
    """Mass of the car, kg, and the share of it on the driven axle, each with its source."""
    corners, mass, axle = request["corners"], request["mass_kg"], request["axle"]
    if corners is None:
        total = (USUAL["mass_kg"], USUALLY) if mass is None else (typed_range("mass_kg", mass), TYPED)
        return total, (USUAL_SHARE[axle], USUALLY)
    weight = sum(corners[name] for name in CORNERS)
    if mass is not None and abs(weight - mass) > 0.1 * mass:
        raise BadInput(
            "mass_kg",
            f"The scales under the wheels add up to {fixed(weight, 0)} kg: correct one of them, or leave this empty.",
        )
    share = sum(corners[name] for name in CORNERS if name.startswith(axle)) / weight
    if not 0.05 <= share <= 0.95:
        raise BadInput("corners", "Nearly all of the weight is on one axle: check what the scales read.")
    within = TYPED_WITHIN["weight_share"]
    return (
        (Range(weight, 0.99 * weight, 1.01 * weight), WORKED_OUT),
        (Range(share, max(0.05, share - within), min(0.95, share + within)), WORKED_OUT),
    )


def height_figure(request: dict[str, Any], mass: tuple[Range, str]) -> tuple[Range, str]:
    """Height of the centre of gravity, mm, with its source."""
    lifted = request["lifted"]
    if lifted is None:
        given = request["cg_mm"]
        return (USUAL["cg_mm"], USUALLY) if given is None else (typed_range("cg_mm", given), TYPED)
    if request["cg_mm"] is not None:
        raise BadInput("cg_mm", "Leave this empty: it is worked out from the lifted axle.")
    if mass[1] == USUALLY or request["wheelbase_mm"] is None:
        field = "mass_kg" if mass[1] == USUALLY else "wheelbase_mm"
        raise BadInput(field, "Give this as well: the height by a lifted axle rests on it.")
    value = height_of(lifted, mass[0].value, request["wheelbase_mm"], "lifted")
    within = height_within(lifted, mass[0].value, request["wheelbase_mm"])
    return Range(value, max(50.0, value - within), value + within), WORKED_OUT


def rolling_figure(request: dict[str, Any]) -> tuple[Range, str]:
    """Rolling radius of the driven tyres, mm, with its source."""
    rolled, given = request["rolled"], request["tyre_mm"]
    if rolled is None:
        return (USUAL["tyre_mm"], USUALLY) if given is None else (typed_range("tyre_mm", given), TYPED)
    if given is not None:
        raise BadInput("tyre_mm", "Leave this empty: it is worked out from how far the car rolled.")
    radius = rolled["distance_mm"] / rolled["turns"] / (2.0 * math.pi)
    if not 100.0 <= radius <= 1500.0:
        shown = say(radius, "mm", request["write_lengths_in"])
        raise BadInput(
            "rolled.distance_mm", f"That makes a radius of {shown}: check this and {quoted(FORM, 'rolled.turns')}."
        )
    return Range(radius, 0.99 * radius, 1.01 * radius), WORKED_OUT


def figures_of(request: dict[str, Any]) -> list[dict[str, Any]]:
    """Every figure that a corner needs of a checked car, with its range and its source."""
    mass, share = weighed(request)
    found = {"mass_kg": mass, "weight_share": share, "cg_mm": height_figure(request, mass)}
    found["tyre_mm"] = rolling_figure(request)
    for name in ("track_mm", "wheelbase_mm", "transfer_share"):
        given = request[name]
        found[name] = (USUAL[name], USUALLY) if given is None else (typed_range(name, given), TYPED)
    transfer = found["transfer_share"][0]
    found["transfer_share"] = (Range(transfer.value, transfer.low, min(1.0, transfer.high)), found["transfer_share"][1])
    grip = request["grip"]
    found["grip"] = (GRIPS[request["tyres"]][1], USUALLY) if grip is None else (typed_range("grip", grip), TYPED)
    for name in ("along", "sensitivity", "stiffness"):
        found[name] = (USUAL[name], USUALLY)
    return [figure_row(name, found[name][0], found[name][1], request["write_lengths_in"]) for name in FIGURES]


def torques_of(request: dict[str, Any]) -> list[dict[str, Any]]:
    """Torque at the driven axle at full throttle and by engine braking, in each gear; nothing where it is not known."""
    engine, final, gears = request["engine_nm"], request["final_drive"], request["gears"]
    if engine is None or final is None or gears is None:
        return []
    rows = []
    for place, ratio in enumerate(gears):
        if place and ratio >= gears[place - 1]:
            raise BadInput(inside("gears", place), "Each gear must have a smaller ratio than the one below it.")
        torque = engine * ratio * final
        rows.append(
            {
                "gear": place + 1,
                "torque_nm": torque * THROUGH.value,
                "low_nm": torque * THROUGH.low,
                "high_nm": torque * THROUGH.high,
                # Losses help the engine to brake.
                "braking_nm": torque * BRAKING.value,
            }
        )
    return rows


def car(request: dict[str, Any]) -> dict[str, Any]:
    """A car as far as it is known.

    Parameters
    ----------
    request : dict
        Checked by `FORM`; only the name has to be known.

    Returns
    -------
    dict
        verdict, always None; figures, a row each: name, meaning, value with low and high, source (typed, worked_out or
        usual) and text; gears, torque at the driven axle in each, N·m, at full throttle and by engine braking, empty
        where engine, gears or final drive are not known; usual, how many figures nobody measured; text; caution, what
        to mind where an axle is lifted.

    Raises
    ------
    BadInput
        Figures that contradict each other.
    """
    figures = figures_of(request)
    guessed = [row["meaning"] for row in figures if row["source"] == USUALLY and row["name"] in MEASURABLE]
    text = "Everything that a corner needs of this car was measured or typed."
    if guessed:
        text = f"Not known of this car, so usual ranges are used (common practice, no source): {', '.join(guessed)}."
    return {
        "verdict": None,
        "figures": figures,
        "gears": torques_of(request),
        "usual": len(guessed),
        "text": text,
        "caution": CAUTION,
    }


# What a workshop can measure or look up; the rest only the tyre's maker knows.
MEASURABLE = ("mass_kg", "weight_share", "cg_mm", "track_mm", "wheelbase_mm", "tyre_mm")
