"""A unit's sheet, as it is printed and drawn."""

from ..history.sheet import TEMPLATES
from ..request.fields import Choice, Listing
from ..unit.stack import PARTS
from .fields import Figure, Maybe, Result, Words
from .shared import REASON, VERDICT

SHEET = Result(
    {
        "sheet": Maybe(
            Result(
                {
                    "template": Choice(TEMPLATES, "whom it is for"),
                    "name": Words("the unit's name"),
                    "owner": Words("whose it is"),
                    "title": Words("what the sheet is, and its day"),
                    "verdict": Maybe(VERDICT),
                    "verdict_text": Words("the same in words; blank on a list that is filled in by hand"),
                    "figure": Words("the torque that was reached; blank on such a list"),
                    "reason": REASON,
                    "findings": Listing(Words("a finding"), 0, 100000, "what else was found"),
                    "rows": Listing(
                        Result({"title": Words("its heading"), "text": Words("what is known")}, "a row"),
                        0,
                        100,
                        "what is known, from top to bottom",
                    ),
                    "caption": Words("what stands above the table of parts"),
                    "headings": Listing(Words("a heading"), 0, 20, "headings of the table of parts"),
                    "parts": Listing(
                        Result(
                            {"cells": Listing(Words("a cell"), 0, 20, "its cells; blank ones are filled in")}, "a part"
                        ),
                        0,
                        80,
                        "the parts of the stack but its springs, from cover to floor",
                    ),
                    "stack": Listing(
                        Result(
                            {
                                "slot": Words("place in the stack"),
                                "part": Choice(PARTS, "what sits there"),
                                "mm": Figure("mm", "its thickness; 0 for a spring", 0),
                            },
                            "a part",
                        ),
                        0,
                        80,
                        "the stack from cover to floor",
                    ),
                    "by_hand": Listing(Words("what is asked"), 0, 20, "what is filled in by hand besides the table"),
                    "caution": Words("what to beware of"),
                },
                "a sheet",
            )
        ),
    },
    "the sheet of a unit; empty where there is no definition to go by",
)
