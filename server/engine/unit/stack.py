"""The stack: the whole axial chain from cover to floor, and how far the closed cover squeezes the spring.

Every plate thickness counts one to one, on either side, since the chain is one line through both packs.
"""

from typing import Any

from ..request.errors import BadInput, inside

FRICTION = "friction"
SEPARATOR = "separator"
RING = "ring"
SPRING = "spring"
SHIM = "shim"

PARTS = {
    FRICTION: "friction plate; what it turns with is the unit's own",
    SEPARATOR: "separator plate; turns with the other of output and case",
    RING: "ramp ring, turns with the case",
    SPRING: "disc spring",
    SHIM: "shim, turns with the case",
}

BETWEEN_RINGS = "between_rings"

LAYOUTS = {
    "in_line": "one spring in line with the packs, against the cover or the floor",
    "two_springs": "two springs in line, one at each end",
    BETWEEN_RINGS: "a spring between the ramp rings",
}


def sliding_faces(parts: list[str], outer_is_case: bool = True) -> int:
    """Sliding faces of one pack.

    Parameters
    ----------
    parts : list of str
        The pack's plates in order, each FRICTION, SEPARATOR or SHIM. Both ends bear on parts that turn with the case.
    outer_is_case : bool
        Whether what the pack bears on at its ends counts as a face; False counts between plates only.

    Returns
    -------
    int
        Faces at which a part that turns with the output rubs on one that turns with the case. Equal neighbours
        do not slide on each other.

    Examples
    --------
    Bhandari's example 11.8: five steel plates and four bronze ones between them make eight faces.

    >>> sliding_faces(["separator", "friction"] * 4 + ["separator"])
    8
    """
    sides = [part == FRICTION for part in parts]
    if outer_is_case:
        sides = [False] + sides + [False]
    return sum(1 for side, next_side in zip(sides, sides[1:]) if side != next_side)


def packs(chain: list[dict[str, Any]]) -> tuple[list[dict[str, Any]], list[dict[str, Any]]]:
    """The plates of the first pack (at the cover) and of the second (at the floor).

    Raises
    ------
    BadInput
        Other than two ramp rings, a pack without a friction plate, or a plate between the rings.
    """
    rings = [place for place, item in enumerate(chain) if item["part"] == RING]
    if len(rings) != 2:
        raise BadInput("chain", f"The stack needs exactly two ramp rings, one for each pack; it has {len(rings)}.")
    first_ring, second_ring = rings
    for place in range(first_ring + 1, second_ring):
        if chain[place]["part"] not in (SPRING, SHIM):
            raise BadInput(inside("chain", place), "Between the ramp rings only a spring or a shim can sit.")
    first, second = chain[:first_ring], chain[second_ring + 1 :]
    for name, pack in (("first", first), ("second", second)):
        if not any(item["part"] == FRICTION for item in pack):
            raise BadInput("chain", f"The {name} pack has no friction plate: add one between cover and floor.")
    return first, second


def layout_of(chain: list[dict[str, Any]], layout: str | None) -> str:
    """Where the spring sits: as it was given, or as the stack has it.

    Raises
    ------
    BadInput
        Not given, and the springs of the stack sit as in no layout.
    """
    if layout is not None:
        return layout
    places = [place for place, item in enumerate(chain) if item["part"] == SPRING]
    rings = [place for place, item in enumerate(chain) if item["part"] == RING]
    if not places:
        raise BadInput("chain", "The stack has no place for the disc spring: add it where it sits.")
    if len(places) == 1 and rings[0] < places[0] < rings[1]:
        return BETWEEN_RINGS
    return "two_springs" if len(places) > 1 else "in_line"


def check_springs(chain: list[dict[str, Any]], layout: str | None, may_lack: bool = False) -> int:
    """How many places hold springs, checked against the layout.

    Parameters
    ----------
    chain : list of dict
        From cover to floor, with two ramp rings.
    layout : str or None
        Where the spring sits; None where nobody said.
    may_lack : bool
        Whether a stack without a spring will do while nobody said where it sits, its sizes being unknown as well.
    """
    places = [place for place, item in enumerate(chain) if item["part"] == SPRING]
    rings = [place for place, item in enumerate(chain) if item["part"] == RING]
    if not places and layout is None and may_lack:
        return 0
    layout = layout_of(chain, layout)
    wanted = 2 if layout == "two_springs" else 1
    if len(places) != wanted:
        places_wanted = "two spring places" if wanted == 2 else "one spring place"
        raise BadInput("chain", f"This layout has {places_wanted}; the stack has {len(places)}.")
    between = [place for place in places if rings[0] < place < rings[1]]
    if (layout == BETWEEN_RINGS) != bool(between):
        where = "between the ramp rings" if layout == BETWEEN_RINGS else "outside the ramp rings"
        raise BadInput(inside("chain", places[0]), f"In this layout the spring sits {where}.")
    for place in places:
        for beside in (place - 1, place + 1):
            if 0 <= beside < len(chain) and chain[beside]["part"] == FRICTION:
                raise BadInput(
                    inside("chain", beside),
                    "A friction plate must not rub on the spring: put a separator between them.",
                )
    return len(places)


def crush(chain: list[dict[str, Any]], spring_mm: float, cavity_mm: float) -> float:
    """How far the closed cover squeezes the springs together, mm; below 0 the stack is loose.

    Parameters
    ----------
    chain : list of dict
        Parts with "part" and "new_mm", springs without a thickness.
    spring_mm : float
        Free height of all springs together, mm.
    cavity_mm : float
        Depth from the cover's face to the floor, mm.
    """
    solid: float = sum(item["new_mm"] for item in chain if item["part"] != SPRING)
    return solid + spring_mm - cavity_mm
