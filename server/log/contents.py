"""What a log holds, read as a whole without changing it: for backups, exports and checks."""

from typing import NamedTuple

from .layout import Line


class Contents(NamedTuple):
    """What a log holds, up to its newest entry when the reading began.

    Attributes
    ----------
    last : int
        Number of that entry; 0 in an empty log.
    lines : dict
        The lines of each unit by its id; of the shop under "".
    faults : list of str
        One or two sentences for each damage.
    """

    last: int
    lines: dict[str, list[Line]]
    faults: list[str]

    @property
    def entries(self) -> int:
        """How many entries there are."""
        return sum(map(len, self.lines.values()))
