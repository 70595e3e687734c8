"""What a plan is asked for, put together once: the unit, its places, the shelf, the friction and what is wanted."""

from typing import Any

from ..experience.torque_line import TorqueLine
from ..request.errors import BadInput
from ..request.rounded import fixed
from ..request.written_in import written_in_by
from ..unit.as_built import Built, built_of, crush_of, friction_of, needs_preload, torque_per_newton
from ..unit.friction import LEAST_MU, MOST_MU
from ..unit.known import require
from ..unit.marks import doubt_of, even_within, height_within
from ..unit.spring import cone_height
from ..unit.spring_warnings import LEAST_TRAVEL
from .bedding import lost
from .front import Front
from .outcome import MU_LOG, Outcome
from .pieces import of_family, usable
from .places import lean_of, micrometres, places_of
from .seen import SeenAim, SeenOutcome
from .stack import Stack
from .target import Aim

# What a plan may go by.
BY_SPRING = "spring"
BY_BUILDS = "builds"


def refuse_doubtful(travel: float, mu: float | None) -> None:
    """Refuse to plan from a check that says nothing of the friction, and say what to measure first.

    Parameters
    ----------
    travel : float
        Travel of each disc with the plates as they are fitted, as a share of its cone height.
    mu : float or None
        Apparent friction that the measured torque comes to; None where the rubbing ring is not known.

    Raises
    ------
    BadInput
        Travel below `LEAST_TRAVEL`: there a hundredth of a millimetre moves the preload by more than a plan can hold.
        Friction outside `LEAST_MU` to `MOST_MU`: some figure that went in is wrong, and a plan would carry it on.
    """
    if travel < LEAST_TRAVEL:
        raise BadInput(
            "measured",
            f"The spring is at {fixed(100 * travel, 0)} % of its travel: below {fixed(100 * LEAST_TRAVEL, 0)} % a "
            "check says nothing to plan by. First measure the plates, the depth and the spring's free height, or fit "
            "it with plates as when new, check the torque, and plan from that.",
        )
    if mu is not None and not LEAST_MU <= mu <= MOST_MU:
        raise BadInput(
            "measured",
            f"The last check comes to a friction of {fixed(mu, 3)}, and plates in oil have {LEAST_MU} to {MOST_MU}: no "
            "plan from it. First measure the plates, the depth and the spring, and check the torque again, held as "
            "stated.",
        )


def plans_by_builds(request: dict[str, Any]) -> bool:
    """Whether a plan goes by builds in the log: where the request says so, or nothing is known of the spring."""
    if request["by"] is not None:
        return bool(request["by"] == BY_BUILDS)
    definition = request["unit"]
    knows_spring = definition["spring"] is not None and definition["cavity_mm"] is not None
    # A measured torque stands in for the rubbing ring.
    knows_force = knows_spring and (definition["friction"] is not None or request["measured"] is not None)
    return request["experience"] is not None and not knows_force


def line_of(request: dict[str, Any], needed: bool) -> TorqueLine | None:
    """The line through the builds; where it is not needed to plan by, None if they are too few for one."""
    if request["experience"] is None:
        if needed:
            raise BadInput("experience", "Give the builds to plan by.")
        return None
    try:
        return TorqueLine(request["experience"], written_in_by(request))
    except BadInput:
        if needed:
            raise
        return None


class Task:
    """The checked request of a plan, and what it comes to before anything is chosen.

    Parameters
    ----------
    request : dict
        Checked by `plan.FORM`.

    Attributes
    ----------
    built : Built or None
        The unit with the spring as it is; None where the plan goes by builds.
    line : TorqueLine or None
        What builds in the log have shown, where they were given and are enough.
    seen : SeenOutcome or None
        How a rebuild may come out by them.
    shelf, unfit : list
        Pieces above their own limit and of no other plate family, and the names of those below their limit.
    of_others, unsure : list
        Names of the pieces of another plate family, and of those whose family nobody can tell.
    stack : Stack
        The places, and what the shelf may put into them.
    now : int
        Thickness as fitted, without the springs, micrometres.
    mu : float or None
        Friction to plan with: apparent, or assumed where no torque was measured; times the radius, mm, where `rings` is
        not true; None where the plan goes by builds.
    rings : bool
        Whether the plates' rubbing ring is known.
    wanted : dict
        torque_nm and tolerance_nm.
    lost, aims : Lost or None, bool
        What bedding in takes, as far as the log shows it, and whether the plan aims above the order by it.

    Raises
    ------
    BadInput
        A definition that contradicts itself or lacks what a plan needs, a slot that contradicts itself, no torque to
        plan for, or a measured torque that no plan may be worked out from: see `refuse_doubtful`.
    """

    def __init__(self, request: dict[str, Any]) -> None:
        self.request = request
        definition, self.measured = request["unit"], request["measured"]
        by_builds = plans_by_builds(request)
        self.line = line_of(request, by_builds)
        self.seen = None if self.line is None else SeenOutcome(self.line)
        require(definition, ("chain",), "A plan", "unit")
        # Without the rubbing ring a measured torque does: see `built_of`.
        self.rings = definition["friction"] is not None
        no_ring = self.measured is not None and not self.rings
        self.built = None if by_builds else built_of(definition, subject="A plan by the spring", ring=not no_ring)
        self.places = places_of(definition["chain"], request["fitted"], "fitted")
        above, self.unfit = usable(request["shelf"])
        self.shelf, self.of_others, self.unsure = of_family(above, definition["plate_family"])
        self.stack = self.stack_of(self.shelf)
        self.now = self.stack.now()
        self.mu = None if self.built is None else self.built.mu
        if self.built is not None and self.measured is not None:
            crush = crush_of(self.built, self.now / 1000.0)
            force = needs_preload(self.built, crush, "fitted")
            self.mu = friction_of(self.built, self.measured["torque_nm"], force)
            travel = crush / self.built.springs.nests / cone_height(self.built.springs.disc)
            refuse_doubtful(travel, self.mu if self.rings else None)
        self.wanted = request["wanted"] or definition["order"]
        if self.wanted is None:
            raise BadInput("wanted.torque_nm", "Say which torque is wanted: this unit has none ordered.")
        # Builds count as they were once bedded in.
        bedding = None if self.built is None else request["bedding"]
        self.lost = lost(bedding, self.wanted["torque_nm"])
        self.aims = bedding is not None and bedding["aim_above"]
        if self.built is None and self.line is not None:
            self.line.refuse_unseen(self.wanted["torque_nm"], "wanted.torque_nm")
        given = request["balance_mm"]
        self.balance = lean_of(definition["chain"]) if given is None else micrometres(given)

    def stack_of(self, shelf: list[dict[str, Any]], more_shims: bool = False, most_change: int | None = None) -> Stack:
        """The unit's places with another shelf, more shims, or another bound on what a place may change by."""
        change = micrometres(self.request["most_change_mm"]) if most_change is None else most_change
        return Stack(self.places, shelf, change, more_shims)

    def by_builds(self) -> tuple[Any, Any]:
        """Target and outcome by what builds have shown."""
        line = self.line
        if line is None:
            raise BadInput("experience", "Give the builds to plan by.")
        return SeenAim(line, self.wanted["torque_nm"], self.wanted["tolerance_nm"]), self.seen

    def by_spring(self, built: Built, before: Built | None = None) -> tuple[Any, Any]:
        """Target and outcome by the spring's curve; `before` as `front` has it."""
        mu = built.mu if self.mu is None else self.mu
        bedding = self.lost if self.aims else None
        aim = Aim(built, mu, self.wanted["torque_nm"], self.wanted["tolerance_nm"], bedding)
        each = torque_per_newton(built, mu)
        definition = self.request["unit"]
        gauged = height_within(definition, self.request["spring_within_mm"])
        mu_log = doubt_of(definition, "mu") / built.mu or MU_LOG
        return aim, Outcome(built, each, self.now, self.measured, gauged, before, mu_log)

    def front(
        self,
        stack: Stack,
        built: Built | None,
        before: Built | None = None,
        single: bool = False,
        most_apart: int | None = None,
    ) -> Front:
        """The good choices for a stack.

        Parameters
        ----------
        stack : Stack
            Places and shelf.
        built : Built or None
            The unit with the spring and the faces to plan for; None to plan by what builds have shown.
        before : Built, optional
            The unit as it was measured, where that had another spring.
        single : bool
            Whether the most certain alone is wanted.
        most_apart : int, optional
            How far apart the packs may be, micrometres, where it is not what the request says.
        """
        aim, outcome = self.by_builds() if built is None else self.by_spring(built, before)
        apart = micrometres(self.request["most_apart_mm"]) if most_apart is None else most_apart
        depth_within = even_within(self.request["unit"], "cavity_mm", self.request["cavity_within_mm"])
        return Front(stack, aim, outcome, self.balance, apart, depth_within, single)
