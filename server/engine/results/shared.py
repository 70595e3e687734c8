"""What many results hold: a verdict with its reason, findings, concerns, and what bedding in took."""

from ..doubt.finding import DOUBT, NOTE
from ..doubt.verdict import WORDS
from ..request.fields import Choice, Listing
from .fields import Figure, Nothing, Result, Words

VERDICT = Choice(WORDS, "the verdict")
REASON = Words("why, in one sentence", 2000)
NOT_JUDGED = Nothing("always empty: nothing is judged here")
TEXT = Words("the same in words")

FINDING = Result(
    {
        "name": Words("short name of what was found"),
        "weight": Choice({NOTE: "to know", DOUBT: "the verdict turns on it"}, "how much it counts"),
        "number": Figure("", "what was found, as a number"),
        "text": Words("what was found and what to do about it"),
    },
    "something noticed besides the figures themselves",
    needed=("name",),
)
FINDINGS = Listing(FINDING, 0, 200, "what was found")

CONCERN = Result(
    {"name": Words("short name"), "text": Words("one sentence")},
    "something to know",
    needed=("name",),
)


def concerns(meaning: str) -> Listing:
    """A list of things to know."""
    return Listing(CONCERN, 0, 200, meaning)


LOST_IN_BEDDING = Result(
    {
        "at": Words("when it was rebuilt, by the device's clock"),
        "first_nm": Figure("nm", "torque of the first check, before the plates bedded in", 0),
        "loss_nm": Figure("nm", "that less the checks after its first outings; below 0 where it rose"),
        "u_nm": Figure("nm", "standard doubt of that loss", 0),
    },
    "what a unit lost while its plates bedded in",
)
