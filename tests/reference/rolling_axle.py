"""An axle rolled through a corner in small steps of time: two wheels, two tyres, and a clutch with dry friction.

Newton's law for each wheel, Coulomb friction between them (the clutch holds both at one speed as long as it can), tyres
that push in proportion to slip until they slide, and what the grip along has left beside the side force. Where asked,
loads and side force follow the torques on the ground with a lag. Nothing is solved for: it rolls until it is steady,
or a wheel runs away. Many axles roll at once.
"""

from typing import Any

import numpy

GRAVITY = 9.80665
STEP_S = 5e-4
# Moment of inertia of a wheel, kg m2, and how fast loads and side force follow, s: steady states know neither.
INERTIA = 1.1
LAG_S = 0.02


def column(requests: list[dict[str, Any]], name: str) -> Any:
    return numpy.array([request[name] for request in requests], dtype=float)


class Rolling:
    """Axles in their corners; `requests` as `corner` takes them, with figures by hand."""

    def __init__(self, requests: list[dict[str, Any]]) -> None:
        self.rear = numpy.array([request["axle"] == "rear" for request in requests])
        get = {name: column(requests, name) for name in requests[0] if name != "axle"}
        self.get = get
        self.radius, self.track, self.base = get["tyre_mm"] / 1e3, get["track_mm"] / 1e3, get["wheelbase_mm"] / 1e3
        self.torque = get["torque_nm"]
        self.weight = get["weight_share"] * get["mass_kg"] * GRAVITY
        self.asked = get["weight_share"] * get["mass_kg"] * get["lateral_ms2"]
        self.turned = get["transfer_share"] * get["mass_kg"] * get["lateral_ms2"] * get["cg_mm"] / 1e3 / self.track
        speed = numpy.sqrt(get["lateral_ms2"] * get["radius_m"])
        bend = self.track / 2 / get["radius_m"]
        self.ground = [speed * (1 - bend), speed * (1 + bend)]
        slope = numpy.where(self.torque >= 0, get["s_drive"], get["s_coast"]) * abs(self.torque)
        self.holds = numpy.where(get["adds"] > 0, get["preload_nm"] + slope, numpy.maximum(get["preload_nm"], slope))

    def tyres(self, moved: Any, sideways: Any) -> list[tuple[Any, Any]]:
        """For the inner and the outer wheel: torque for a slip of 1, and the most on the ground."""
        half = (self.weight + moved) / 2
        inner = numpy.maximum(0.0, half - self.turned)
        loads = [inner, numpy.maximum(0.0, self.weight + moved - inner)]
        grip = [
            self.get["grip"] * (1 - self.get["sensitivity"] * (load * 2 / self.weight - 1)) * load for load in loads
        ]
        side = numpy.maximum(0.0, self.asked + sideways)
        answer = []
        for load, force in zip(loads, grip):
            # One slip angle: each wheel is asked for the same share of what it has.
            taken = numpy.minimum(force, force * side / (grip[0] + grip[1]))
            most = self.radius * self.get["along"] * numpy.sqrt(force**2 - taken**2)
            answer.append((self.radius * self.get["stiffness"] * load, most))
        return answer

    def roll(self, seconds: float) -> tuple[Any, Any, Any]:
        """Torque on the ground of the inner and the outer wheel at the end, N·m, and whether both had become steady."""
        speeds = [ground / self.radius for ground in self.ground]
        # Nothing but the clutch brings a wheel in the air to its speed: it starts with the other one.
        speeds[0] = numpy.where(self.weight / 2 > self.turned, speeds[0], speeds[1])
        moved = sideways = numpy.zeros_like(self.torque)
        for _ in range(round(seconds / STEP_S)):
            feet, ease = [], []
            for wheel, (stiff, most) in enumerate(self.tyres(moved, sideways)):
                slip = speeds[wheel] * self.radius / self.ground[wheel] - 1
                feet.append(numpy.clip(stiff * slip, -most, most))
                ease.append(STEP_S / (INERTIA + STEP_S * stiff * self.radius / self.ground[wheel]))
            free = [speeds[wheel] + ease[wheel] * (self.torque / 2 - feet[wheel]) for wheel in (0, 1)]
            # What the clutch would have to carry for one speed of both, and what it can.
            wanted = 2 * (free[1] - free[0]) / (ease[0] + ease[1])
            carried = numpy.clip(wanted, -self.holds, self.holds)
            after = [free[0] + ease[0] * carried / 2, free[1] - ease[1] * carried / 2]
            rates = [abs(after[wheel] - speeds[wheel]) / STEP_S for wheel in (0, 1)]
            speeds = after
            along = (feet[0] + feet[1]) / self.radius
            shift = numpy.where(self.rear, 1, -1) * along * self.get["cg_mm"] / 1e3 / self.base
            turning = -(feet[0] - feet[1]) * self.track / 2 / self.radius
            push = numpy.where(self.rear, 1, -1) * turning / self.base
            follow = STEP_S / LAG_S
            moved = moved + follow * (self.get["pitch"] * shift - moved)
            sideways = sideways + follow * (self.get["yaw_balance"] * push - sideways)
        return feet[0], feet[1], (rates[0] < 0.01) & (rates[1] < 0.01)
