"""What builds in the log have shown, as results hold it."""

from ..experience.torque_line import EXPERIENCE as FOR_PLAN
from ..request.fields import Field, Listing, YesNo
from .fields import Figure, Maybe, Result, Words
from .from_forms import in_si

THICKNESS = Figure("mm", "plates and rings of the whole stack together", 0)

TORQUE = Figure("nm", "breakaway torque", 0)

ABOVE = Figure("mm", "how much thicker that is than the thinnest", 0)

POINT = Result({"thickness_mm": THICKNESS, "above_mm": ABOVE, "torque_nm": TORQUE}, "one build")

SHOWN: dict[str, Field] = {
    "text": Words("what it rests on"),
    "tenth_text": Words("what a tenth of a millimetre more gives, and over which thickness, in words"),
    "base_nm": Figure("nm", "torque at which a drawing may begin", 0),
    "tenth_nm": Figure("nm", "what a tenth of a millimetre more gives"),
    "tenth_within_nm": Figure("nm", "how far off that may be, either way, 95 %", 0),
    "low_mm": Figure("mm", "the thinnest stack that was built", 0),
    "high_mm": Figure("mm", "the thickest", 0),
    "own": Listing(POINT, 0, 100, "builds of this unit"),
    "others": Listing(POINT, 0, 6000, "builds of other units of its pattern"),
    "curve": Listing(
        Result(
            {
                "thickness_mm": THICKNESS,
                "above_mm": ABOVE,
                "torque_nm": Figure("nm", "what is expected"),
                "low_nm": Figure("nm", "19 of 20 builds come out above this and", 0),
                "high_nm": Figure("nm", "below this"),
            },
            "one point",
        ),
        2,
        100,
        "the line and its band, over the thickness that was built",
    ),
}

EXPERIENCE = Result(SHOWN, "what builds in the log have shown of torque over thickness")

BUILT_BEFORE = Result(
    {
        "rebuilt_at": Maybe(Words("when it was rebuilt; empty for the unit as it was taken in")),
        "check": Maybe(Words("id of the check that counts; empty where there is none")),
        "at": Maybe(Words("when that was")),
        "thickness_mm": Maybe(THICKNESS),
        "torque_nm": Maybe(TORQUE),
        "u_nm": Maybe(Figure("nm", "standard uncertainty of that", 0)),
        "counts": YesNo("whether it has both, and the present spring"),
        "text": Words("what it is, or why it does not count"),
    },
    "a build",
)

FOUND = Result(
    {
        "builds": Listing(BUILT_BEFORE, 0, 100000, "every build of the unit, in order of time"),
        "shown": Maybe(EXPERIENCE),
        "why": Words("why nothing can be said; blank where it can"),
        "for_plan": in_si(FOR_PLAN, "what a plan takes for its experience"),
    },
    "what builds in the log have shown",
)

WEAR = Result(
    {
        "torque": Maybe(
            Result(
                {
                    "per_use_nm": Figure("nm", "what the torque changes by for each outing"),
                    "per_use_within_nm": Figure("nm", "how far off that may be, either way, 95 %", 0),
                    "likely_use": Maybe(
                        Figure("", "outings at which the line meets the limit; empty if not in sight", 0)
                    ),
                    "due_use": Maybe(
                        Figure("", "outings at which a reading below it has a chance of 5 %; empty if not in sight", 0)
                    ),
                    "left_use": Maybe(Figure("", "that less the outings so far", 0)),
                    "checks": Listing(
                        Result({"use": Figure("", "outings since the rebuild", 0), "torque_nm": TORQUE}, "a check"),
                        1,
                        100000,
                        "the checks since the rebuild, once bedded in, by use",
                    ),
                    "curve": Listing(
                        Result(
                            {
                                "use": Figure("", "outings since the rebuild", 0),
                                "value_nm": Figure("nm", "the line"),
                                "low_nm": Figure("nm", "19 of 20 readings lie above this and", 0),
                                "high_nm": Figure("nm", "below this"),
                            },
                            "one point",
                        ),
                        2,
                        100,
                        "the line and its band",
                    ),
                    "text": Words("the same in words"),
                },
                "the torque since the rebuild",
            )
        ),
        "plates": Listing(
            Result(
                {
                    "part": Words("kind of plate", 20),
                    "per_use_mm": Figure("mm", "what one loses for each outing"),
                    "per_use_within_mm": Figure("mm", "how far off that may be, either way, 95 %", 0),
                    "due_use": Maybe(
                        Figure("", "outings at which one may first be at its limit; empty if not in sight", 0)
                    ),
                    "text": Words("the same in words"),
                },
                "a kind of plate",
            ),
            0,
            5,
            "kinds of plate that were measured after use",
        ),
    },
    "wear by earlier builds and those of the unit's pattern",
)
