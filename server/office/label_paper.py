"""Sheets of labels: their measures, and where on the page each label lies. All lengths in mm."""

from typing import Any, NamedTuple

from ..engine import BadInput
from ..engine.request.fields import Choice, Group, Number, Whole

# Width and height: ISO 216, and 8.5 by 11 inch of ANSI Y14.1.
PAGES = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
PAGE_NAMES = {"a4": "A4", "letter": "letter"}
CUSTOM = "custom"
# Room for a code that a phone reads, with a word beside or below it.
LEAST_MM, MOST_MM = 18.0, 290.0

# Sheets that are easily had, by their measures alone: page, labels across and down, width and height of each, and the
# gaps between them. What is left of the page is shared between its edges.
SHEETS: dict[str, tuple[str, int, int, float, float, float, float]] = {
    "a4_3x8": ("a4", 3, 8, 70.0, 37.0, 0.0, 0.0),
    "a4_3x7": ("a4", 3, 7, 63.5, 38.1, 2.5, 0.0),
    "a4_2x7": ("a4", 2, 7, 99.1, 38.1, 2.5, 0.0),
    "a4_2x4": ("a4", 2, 4, 99.1, 67.7, 2.5, 0.0),
    "letter_3x10": ("letter", 3, 10, 66.7, 25.4, 3.1, 0.0),
    "letter_2x5": ("letter", 2, 5, 101.6, 50.8, 4.8, 0.0),
}

MEASURES = Group(
    {
        "page": Choice(PAGE_NAMES, "the page"),
        "across": Whole(1, 20, "labels side by side"),
        "down": Whole(1, 40, "labels below each other"),
        "width_mm": Number(LEAST_MM, MOST_MM, "mm", "width of a label"),
        "height_mm": Number(LEAST_MM, MOST_MM, "mm", "height of a label"),
        "gap_across_mm": Number(0, 100, "mm", "gap between two side by side", default=0.0),
        "gap_down_mm": Number(0, 100, "mm", "gap between two below each other", default=0.0),
        "left_mm": Number(0, 200, "mm", "edge on the left; as on the right if empty", default=None),
        "top_mm": Number(0, 200, "mm", "edge at the top; as at the bottom if empty", default=None),
    },
    "a sheet of labels",
    default=None,
)


class LabelPaper(NamedTuple):
    """A sheet of labels.

    Attributes
    ----------
    wide, tall : float
        The page.
    across, down : int
        Labels side by side, and below each other.
    width, height : float
        Of a label.
    left, top : float
        Where the first one begins, from the page's left and upper edge.
    step_across, step_down : float
        From the edge of one to that of the next.
    """

    wide: float
    tall: float
    across: int
    down: int
    width: float
    height: float
    left: float
    top: float
    step_across: float
    step_down: float

    @property
    def labels(self) -> int:
        """How many labels are on a sheet."""
        return self.across * self.down

    def place(self, number: int) -> tuple[float, float]:
        """Left and upper edge of a label, by its number on the sheet from 0, line by line."""
        return (
            self.left + number % self.across * self.step_across,
            self.top + number // self.across * self.step_down,
        )


def in_words(name: str) -> str:
    """The measures of a known sheet: its page, how many labels across and down, and the size of each.

    >>> in_words("a4_3x8")
    'A4, 3 × 8 labels, 70 × 37 mm'
    """
    page, across, down, width, height, *_ = SHEETS[name]
    return f"{PAGE_NAMES[page]}, {across} × {down} labels, {width:g} × {height:g} mm"


def paper_of(sheet: str, custom: dict[str, Any] | None) -> LabelPaper:
    """A known sheet, or one by its own measures, as `MEASURES` has them checked.

    Raises
    ------
    BadInput
        Its labels do not fit on its page, or its measures are missing.
    """
    if sheet != CUSTOM:
        names = ("page", "across", "down", "width_mm", "height_mm", "gap_across_mm", "gap_down_mm")
        return laid_out({**dict(zip(names, SHEETS[sheet], strict=True)), "left_mm": None, "top_mm": None})
    if custom is None:
        raise BadInput("custom", "Give the measures of the sheet, or choose one of the known ones.")
    return laid_out(custom)


def laid_out(measures: dict[str, Any]) -> LabelPaper:
    """A sheet by its measures."""
    wide, tall = PAGES[measures["page"]]
    left, step_across = along(wide, measures, "across", "width_mm", "gap_across_mm", "left_mm")
    top, step_down = along(tall, measures, "down", "height_mm", "gap_down_mm", "top_mm")
    across, down = measures["across"], measures["down"]
    size = measures["width_mm"], measures["height_mm"]
    return LabelPaper(wide, tall, across, down, *size, left, top, step_across, step_down)


def along(page: float, measures: dict[str, Any], count: str, size: str, gap: str, edge: str) -> tuple[float, float]:
    """Where labels begin in one direction, and how far it is from one to the next."""
    step = measures[size] + measures[gap]
    taken = measures[count] * step - measures[gap]
    # Measures are read off a sheet with a rule.
    if taken > page + 0.5:
        most = int((page + 0.5 + measures[gap]) / step)
        raise BadInput(
            f"custom.{count}",
            f"These labels take {taken:.1f} mm and the page has {page:g} mm: at most {most} fit, or they are smaller.",
        )
    begin = measures[edge]
    if begin is None:
        return max(0.0, (page - taken) / 2), step
    if begin + taken > page + 0.5:
        raise BadInput(
            f"custom.{edge}", f"With this edge the last label ends {begin + taken - page:.1f} mm beyond the page."
        )
    return begin, step
