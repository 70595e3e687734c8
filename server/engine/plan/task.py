"""What a plan is asked for, put together once: the unit, its places, the shelf, the friction and what is wanted."""

from typing import Any

from ..request.errors import BadInput
from ..unit.as_built import Built, built_of, crush_of, friction_of, needs_preload, torque_per_newton
from ..unit.friction import LEAST_MU, MOST_MU
from ..unit.spring import cone_height
from ..unit.spring_warnings import LEAST_TRAVEL
from .front import Front
from .outcome import Outcome
from .pieces import of_family, usable
from .places import lean_of, micrometres, places_of
from .stack import Stack
from .target import Aim


def refuse_doubtful(travel: float, mu: float) -> None:
    """Refuse to plan from a check that says nothing of the friction, and say what to measure first.

    Parameters
    ----------
    travel : float
        Travel of each disc with the plates as they are fitted, as a share of its cone height.
    mu : float
        Apparent friction that the measured torque comes to.

    Raises
    ------
    BadInput
        Travel below `LEAST_TRAVEL`: there a hundredth of a millimetre moves the preload by more than a plan can hold.
        Friction outside `LEAST_MU` to `MOST_MU`: some figure that went in is wrong, and a plan would carry it on.
    """
    if travel < LEAST_TRAVEL:
        raise BadInput(
            "measured",
            f"The spring is at {100 * travel:.0f} % of its travel: below {100 * LEAST_TRAVEL:.0f} % a check says "
            "nothing to plan by. First measure the plates, the depth and the spring's free height, or fit it with "
            "plates as when new, check the torque, and plan from that.",
        )
    if not LEAST_MU <= mu <= MOST_MU:
        raise BadInput(
            "measured",
            f"The last check comes to a friction of {mu:.3f}, and plates in oil have {LEAST_MU} to {MOST_MU}: no plan "
            "from it. First measure the plates, the depth and the spring, and check the torque again, held as stated.",
        )


class Task:
    """The checked request of a plan, and what it comes to before anything is chosen.

    Parameters
    ----------
    request : dict
        Checked by `plan.FORM`.

    Attributes
    ----------
    built : Built
        The unit with the spring as it is.
    shelf, unfit : list
        Pieces above their own limit and of no other plate family, and the names of those below their limit.
    of_others, unsure : list
        Names of the pieces of another plate family, and of those whose family nobody can tell.
    stack : Stack
        The places, and what the shelf may put into them.
    now : int
        Thickness as fitted, without the springs, micrometres.
    mu : float
        Friction to plan with: apparent, or assumed where no torque was measured.
    wanted : dict
        torque_nm and tolerance_nm.

    Raises
    ------
    BadInput
        A definition or a slot that contradicts itself, or a measured torque that no plan may be worked out from: see
        `refuse_doubtful`.
    """

    def __init__(self, request: dict[str, Any]) -> None:
        self.request = request
        definition, self.measured = request["unit"], request["measured"]
        self.built = built_of(definition)
        self.places = places_of(definition["chain"], request["fitted"], "fitted")
        above, self.unfit = usable(request["shelf"])
        self.shelf, self.of_others, self.unsure = of_family(above, definition["plate_family"])
        self.stack = self.stack_of(self.shelf)
        self.now = self.stack.now()
        self.mu = self.built.mu
        if self.measured is not None:
            crush = crush_of(self.built, self.now / 1000.0)
            force = needs_preload(self.built, crush, "fitted")
            self.mu = friction_of(self.built, self.measured["torque_nm"], force)
            refuse_doubtful(crush / self.built.springs.nests / cone_height(self.built.springs.disc), self.mu)
        self.wanted = request["wanted"] or definition["order"]
        given = request["balance_mm"]
        self.balance = lean_of(definition["chain"]) if given is None else micrometres(given)

    def stack_of(self, shelf: list[dict[str, Any]], more_shims: bool = False, most_change: int | None = None) -> Stack:
        """The unit's places with another shelf, more shims, or another bound on what a place may change by."""
        change = micrometres(self.request["most_change_mm"]) if most_change is None else most_change
        return Stack(self.places, shelf, change, more_shims)

    def front(
        self,
        stack: Stack,
        built: Built,
        before: Built | None = None,
        single: bool = False,
        most_apart: int | None = None,
    ) -> Front:
        """The good choices for a stack.

        Parameters
        ----------
        stack : Stack
            Places and shelf.
        built : Built
            The unit with the spring and the faces to plan for.
        before : Built, optional
            The unit as it was measured, where that had another spring.
        single : bool
            Whether the most certain alone is wanted.
        most_apart : int, optional
            How far apart the packs may be, micrometres, where it is not what the request says.
        """
        aim = Aim(built, self.mu, self.wanted["torque_nm"], self.wanted["tolerance_nm"])
        each = torque_per_newton(built, self.mu)
        outcome = Outcome(built, each, self.now, self.measured, self.request["spring_within_mm"], before)
        apart = micrometres(self.request["most_apart_mm"]) if most_apart is None else most_apart
        return Front(stack, aim, outcome, self.balance, apart, self.request["cavity_within_mm"], single)
