"""Guided strip and close: the steps in the order of the job, the cautions at each, and who signed.

The order of the steps is what saves fingers and eyes: the spring is held closed before the screws are touched, either
way, and nobody walks away while a vice alone holds it. Common practice, no source; the maker's procedure comes first.
"""

from typing import Any, NamedTuple

from ..request.errors import BadInput, inside
from ..request.fields import Choice, Field, Group, Listing, Number, Text, Whole
from ..request.letters import trimmed

Step = NamedTuple(
    "Step",
    [
        ("name", str),
        # What is done, as a signed line of the log says it.
        ("text", str),
        # How it is done, a sentence each.
        ("how", "list[str]"),
        # What can hurt somebody at this step.
        ("cautions", "list[str]"),
    ],
)

# The step that has to come before a screw is touched, and the number of this list of steps.
BEFORE_SCREWS = "held"
GUIDE = 2

HOLD = [
    "Use a vice or press rated for at least twice the force shown. A press with a tube and a guard is better than a "
    "vice.",
    "Flat plates on both sides, square, through the middle of the unit, on the cover's solid rim: not on a bearing "
    "seat, a gear or a spigot. The screws stay within reach.",
]
HOLD_CAUTIONS = [
    "The spring can throw the cover: safety glasses on, face and hands out of line with it.",
    "Soft jaws slip. No single clamp, and no jack under a bench.",
    "From here until the step that ends it, don't walk away: finish it now, or put the screws back.",
]

STRIP = [
    Step(
        "drained",
        "oil drained, and the magnet and the oil looked at",
        ["Let it cool first. Catch all of the oil and hand it in as used oil.", "Photograph what is on the magnet."],
        [
            "Hot oil burns: gloves on, face away from the plug.",
            "Where the car has to be lifted to reach the plug, stands come first: do what the next step says now.",
        ],
    ),
    Step(
        "lifted",
        "car on stands, on level hard ground",
        [
            "Stands under load-bearing points, chocks on both sides of each wheel that stays down.",
            "Shafts off as the maker says.",
        ],
        ["Nobody under the car, or in it, while it is lifted; never under a car that only a jack holds."],
    ),
    Step(
        "caps",
        "bearing caps and shims marked left and right, and kept",
        ["Caps go back to their own side, the way round that they came off. Bag the shims by side and measure them."],
        [],
    ),
    Step(
        "out",
        "unit out of the axle, on the bench, case clean outside",
        ["Keep it level, and the crown wheel off the bench."],
        ["It is heavy and oily: two people or a hoist."],
    ),
    Step(
        "marked",
        "cover, rings and case marked to each other",
        ["Paint or a scriber, not a punch on a hard face. Photograph it before anything moves."],
        [],
    ),
    Step("held", "spring held closed in a vice or press, safety glasses on", HOLD, HOLD_CAUTIONS),
    Step(
        "screws",
        "cover screws undone crosswise, a little each time",
        ["A quarter turn each, crosswise, until all are loose; only then out."],
        ["A screw that will not come: stop, leave the vice on, and put the others back before you look for a way."],
    ),
    Step(
        "relieved",
        "vice opened slowly until the spring is free",
        ["Open by a little at a time, and try the cover by hand, through gloves, before you take it off."],
        ["A cover that sticks lets go all at once: tap it with a soft hammer while the vice is open by a hair."],
    ),
    Step(
        "laid",
        "parts out, laid in their order, photographed",
        ["One pack at a time, each plate the way round that it sat; a photo of each pack as it lies."],
        [],
    ),
    Step(
        "cleaned",
        "parts cleaned",
        ["A solvent that suits plates and linings, in fresh air; wipe the plates dry."],
        [
            "Gloves on. No compressed air on bearings or on skin. Don't blow or brush the dust of old linings: wipe it "
            "off wet.",
        ],
    ),
]

CLOSE = [
    Step("clean", "every part clean and dry, no dirt on any face", [], ["Gloves on: plates have sharp edges."]),
    Step(
        "inside",
        "cross pins, gears and washers in their places, and seen",
        ["Look at each pin, gear and thrust washer before the packs hide them; turn the gears by hand."],
        [],
    ),
    Step("oiled", "plates oiled", ["With the oil that the unit will run in, both faces."], []),
    Step(
        "order",
        "order of the plates and way of the rings checked against the sheet",
        [
            "Read the sheet aloud, plate by plate; check which ramp is drive and which is coast.",
            "Coast ramps press on the way into a corner, off the throttle; drive ramps on the way out, under power.",
        ],
        [],
    ),
    Step(
        "cone",
        "disc spring the right way round, as the definition and the sheet have it",
        ["Its point faces as the sheet shows; where that does not, as it was taken out. Write it down."],
        ["The wrong way round the cover may stand off, or close without preload."],
    ),
    Step("cover", "cover on, to its mark", [], ["Fingers out from between cover and case."]),
    Step("held", "spring held closed in a vice or press, safety glasses on", HOLD, HOLD_CAUTIONS),
    Step(
        "flush",
        "cover flush, no plate caught on its splines",
        ["Feel the gap all round with a feeler while the vice comes down: it stays even."],
        ["It stops short, or tilts: open and look. Never force it: pins and lugs break, and covers crack."],
    ),
    Step(
        "started",
        "every screw started by hand, three turns before any wrench",
        [
            "New or inspected screws. Locking compound, dry or oiled: as their torque is meant.",
            "Never pull the cover down with the screws.",
        ],
        [],
    ),
    Step(
        "screws",
        "cover screws tightened crosswise to their torque, in two rounds",
        [
            "The first round to half of the torque, the second to all of it.",
            "Screws in compound that has cured, or tightened by angle, are not clicked again.",
        ],
        ["The vice stays on until every screw is at its torque."],
    ),
    Step("opened", "vice opened slowly", [], ["Not before every screw is at its torque."]),
    Step("turned", "turned through by hand, both ways, before the first reading", [], []),
]

# Names of the first guide's steps: entries that were signed by it stay complete.
FIRST_GUIDE = {
    "strip": ["drained", "out", "marked", "held", "screws", "relieved", "laid"],
    "close": ["clean", "oiled", "order", "held", "flush", "screws", "opened", "turned"],
}

# The step after which the vice no longer holds the spring alone.
ENDS_HOLDING = {"strip": "relieved", "close": "screws"}


def form(steps: list[Step], meaning: str, more: "dict[str, Field] | None" = None) -> Group:
    """The form of a guided procedure, with `more` fields of its own."""
    names = {step.name: step.text for step in steps}
    fields: dict[str, Field] = dict(more or {})
    fields.update(
        {
            "done": Listing(Choice(names, "a step"), 1, len(steps), "steps that were done, in order", nouns="steps"),
            "guide": Whole(1, GUIDE, "list of steps that was followed: 1 is the shorter, older one", default=1),
            "vice_n": Number(0, 200000, "n", "force that the vice has to hold, as it was shown", default=None),
            "signed": Text(60, "who did it and signs for it"),
            "note": Text(2000, "anything that was seen", default="", label="Anything you noticed"),
        }
    )
    return Group(fields, meaning)


# What becomes of a part that was found bad and is not exchanged.
PUT_RIGHT, LEFT = "put_right", "left"
ANSWERS = {PUT_RIGHT: "put right", LEFT: "left as it is"}

ANSWER = Group(
    {
        "name": Text(60, "part that was found bad"),
        "answer": Choice(ANSWERS, "what became of it", label="What becomes of it?"),
        "why": Text(200, "what was done, or why it stays", default="", label="What was done, or why it stays"),
    },
    "an answer to what was found",
)

STRIP_FORM = form(STRIP, "a unit stripped")
CLOSE_FORM = form(
    CLOSE,
    "a unit closed",
    {"answers": Listing(ANSWER, 0, 100, "answers to what the strip found bad", default=None, nouns="answers")},
)


def held_by_vice(procedure: str, done: list[str]) -> bool:
    """Whether after these steps a vice alone holds the spring, or is about to.

    Parameters
    ----------
    procedure : str
        "strip" or "close".
    done : list of str
        Names of the steps that were done.

    Examples
    --------
    >>> held_by_vice("strip", ["held", "screws"]), held_by_vice("strip", ["held", "screws", "relieved"])
    (True, False)
    >>> held_by_vice("close", ["held", "started"]), held_by_vice("close", ["held", "screws"])
    (True, False)
    """
    return BEFORE_SCREWS in done and ENDS_HOLDING[procedure] not in done


def check_sign_off(request: dict[str, Any], procedure: str, steps: list[Step]) -> dict[str, Any]:
    """What is left to do; refuses steps twice, screws before the spring is held, and a vice opened too early."""
    done: list[str] = request["done"]
    for place, name in enumerate(done):
        before = done[:place]
        if name in before:
            raise BadInput(inside("done", place), "This step is there twice: keep one of them.")
        if name in ("screws", "started") and BEFORE_SCREWS not in before:
            raise BadInput(inside("done", place), "Hold the spring closed in a vice before the screws are touched.")
        if request["guide"] > 1 and name == "opened" and "screws" not in before:
            raise BadInput(inside("done", place), "Tighten every cover screw before the vice is opened.")
    names = FIRST_GUIDE[procedure] if request["guide"] == 1 else [step.name for step in steps]
    left = [name for name in names if name not in done]
    return {
        "verdict": None,
        "complete": not left,
        "left": left,
        "held_by_vice": held_by_vice(procedure, done),
        "signed": request["signed"],
    }


def strip(request: dict[str, Any]) -> dict[str, Any]:
    """Check a strip's sign-off.

    Parameters
    ----------
    request : dict
        Checked by `STRIP_FORM`.

    Returns
    -------
    dict
        complete; left, the steps of the guide that was followed and not done; held_by_vice, whether a vice alone holds
        the spring; signed; verdict, always None.

    Raises
    ------
    BadInput
        A step twice, the screws before the spring is held, or the vice opened before the screws are tight.
    """
    return check_sign_off(request, "strip", STRIP)


def close(request: dict[str, Any]) -> dict[str, Any]:
    """Check a close's sign-off: as `strip`, for the steps of `CLOSE`; a part that stays bad needs a reason."""
    for place, row in enumerate(request["answers"] or []):
        if row["answer"] == LEFT and not trimmed(row["why"]):
            raise BadInput(inside(inside("answers", place), "why"), f"Say why {row['name']} stays as it is.")
    return check_sign_off(request, "close", CLOSE)


def steps(_: dict[str, Any]) -> dict[str, Any]:
    """The steps of both procedures, in order, with how each is done and its cautions, for the screens that guide.

    `holds` says of each step whether a vice alone holds the spring once it is done.
    """
    answer: dict[str, Any] = {"guide": GUIDE}
    for procedure, in_order in (("strip", STRIP), ("close", CLOSE)):
        names = [step.name for step in in_order]
        answer[procedure] = [
            {
                "name": step.name,
                "text": step.text,
                "how": step.how,
                "cautions": step.cautions,
                "holds": held_by_vice(procedure, names[: place + 1]),
            }
            for place, step in enumerate(in_order)
        ]
    return answer
