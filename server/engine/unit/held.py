"""How a unit can be held, which of the two torques the wrench then feels, and which torque an order is for."""

ONE_OUTPUT_HELD = "one_output_held"
CASE_HELD = "case_held"
STATED_FOR = {
    ONE_OUTPUT_HELD: "one output held, case free: the mean of both packs",
    CASE_HELD: "case held, other output free: the sum of both packs, twice as much",
}


# How the unit can be held, and which of the two torques the wrench then feels.
HELD = {
    "bench_output_held": (ONE_OUTPUT_HELD, "on the bench, one output held, case free"),
    "bench_case_held": (CASE_HELD, "on the bench, case held in the vice, other output free"),
    "car_one_wheel_down": (ONE_OUTPUT_HELD, "on the car, one driven wheel down, gearbox in neutral"),
    "car_both_wheels_up": (CASE_HELD, "on the car, both driven wheels up, in gear"),
}

JUDGED_ON = {
    "steady": "steady turning, after it has broken away",
    "first_move": "the peak at the first move",
}


def packs_in_torque(held: str) -> int:
    """How many mean pack torques the wrench feels: 1 with the case free, 2 with the case held.

    Parameters
    ----------
    held : str
        A key of `HELD`, or one of `STATED_FOR`.

    Examples
    --------
    >>> packs_in_torque("car_one_wheel_down"), packs_in_torque("bench_case_held")
    (1, 2)
    """
    return 2 if HELD.get(held, (held, ""))[0] == CASE_HELD else 1
