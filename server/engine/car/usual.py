"""What a car is like where nobody measured it, and how grip is told in words: common practice, no source."""

from typing import NamedTuple

Range = NamedTuple(
    "Range",
    [
        ("value", float),
        ("low", float),
        ("high", float),
    ],
)

# Of club and historic cars, for either axle driven.
USUAL = {
    "mass_kg": Range(1050.0, 750.0, 1400.0),
    "cg_mm": Range(500.0, 430.0, 580.0),
    "track_mm": Range(1420.0, 1300.0, 1550.0),
    "wheelbase_mm": Range(2450.0, 2250.0, 2650.0),
    "tyre_mm": Range(300.0, 280.0, 320.0),
    "transfer_share": Range(0.5, 0.35, 0.65),
    "along": Range(1.0, 0.9, 1.1),
    "sensitivity": Range(0.1, 0.05, 0.2),
    "stiffness": Range(20.0, 15.0, 30.0),
}

# Share of the weight on the driven axle.
USUAL_SHARE = {"rear": Range(0.5, 0.44, 0.56), "front": Range(0.6, 0.55, 0.65)}

# How far off a figure that was typed may be, as a share of it: read off scales, a tape, a data sheet.
TYPED_WITHIN = {
    "mass_kg": 0.02,
    "cg_mm": 0.06,
    "track_mm": 0.005,
    "wheelbase_mm": 0.005,
    "tyre_mm": 0.02,
    "weight_share": 0.01,
    "transfer_share": 0.1,
    "grip": 0.1,
}

# Grip sideways of tyres on a road, in words.
GRIPS = {
    "racing_slicks": ("slicks, warm, in the dry", Range(1.4, 1.2, 1.6)),
    "racing_treaded": ("treaded racing or semi-slick tyres, warm, in the dry", Range(1.15, 1.0, 1.3)),
    "historic": ("historic cross-ply racing tyres, in the dry", Range(1.0, 0.85, 1.15)),
    "road": ("road tyres, in the dry", Range(0.95, 0.8, 1.05)),
    "damp": ("a damp road", Range(0.8, 0.6, 0.95)),
    "wet": ("a wet road", Range(0.65, 0.45, 0.8)),
    "loose": ("gravel or wet grass", Range(0.45, 0.3, 0.6)),
    "snow": ("snow or ice", Range(0.2, 0.1, 0.35)),
}
USUAL_GRIP = "road"

# Share of the engine's torque that gears and joints let through, and engine braking as a share of the greatest torque.
THROUGH = Range(0.92, 0.87, 0.97)
BRAKING = Range(0.25, 0.15, 0.35)

# Deceleration by engine braking as a share of that of free fall, where the engine is not known.
BRAKING_DECELERATION = Range(0.08, 0.05, 0.12)
