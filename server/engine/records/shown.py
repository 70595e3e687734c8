"""What the result that was shown has to be, where later figures are derived from it."""

from ..doubt.verdict import WORDS as VERDICTS
from ..request.errors import BadInput
from ..request.fields import TYPE_A_NUMBER, Choice, Field, Group, Listing, Text


class Figure(Field):
    """A number in a result, or null where there is none."""

    def read(self, value: object, path: str) -> object:  # noqa: D102
        if isinstance(value, bool) or not isinstance(value, (int, float)):
            raise BadInput(path, TYPE_A_NUMBER)
        return value


class OpenGroup(Group):
    """A group in which other fields are left alone: results gain fields as the engine grows."""

    def read(self, value: object, path: str) -> dict[str, object]:  # noqa: D102
        if isinstance(value, dict):
            value = {name: given for name, given in value.items() if name in self.fields}
        return super().read(value, path)


VERDICT = Choice(VERDICTS, "the verdict that was shown")
REASON = Text(2000, "the reason that was shown", default="")

TORQUE_CHECK = OpenGroup(
    {
        "verdict": VERDICT,
        "reason": REASON,
        "value_nm": Figure("the torque", default=None),
        "guard_nm": Figure("its guard band", default=None),
        "low_nm": Figure("the low limit", default=None),
        "high_nm": Figure("the high limit", default=None),
        "findings": Listing(
            OpenGroup({"name": Text(60, "its name"), "text": Text(2000, "its sentence", default="")}, "a finding"),
            0,
            200,
            "what was found",
            default=[],
        ),
    },
    "a torque check's result",
)

PLATE_CHECK = OpenGroup(
    {
        "verdict": VERDICT,
        "reason": REASON,
        "plates": Listing(
            OpenGroup(
                {
                    "slot": Text(20, "its place"),
                    "verdict": VERDICT,
                    "reason": REASON,
                    "lowest_mm": Figure("its lowest reading"),
                    "minimum_mm": Figure("its limit", default=None),
                },
                "a plate",
            ),
            1,
            200,
            "every plate",
        ),
    },
    "a plate check's result",
)
