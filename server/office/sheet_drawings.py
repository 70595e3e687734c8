"""Drawings of a sheet: the stack to scale, and the code that leads back to the unit."""

from typing import Any

import segno
from reportlab.lib.colors import HexColor
from reportlab.platypus import Flowable

FONT = "SheetText"
INK, QUIET = "#14201f", "#4c5a58"
FILLS = {"friction": "#c79a5b", "separator": "#9fb1ae", "ring": "#d3d7c9", "spring": "#6f8f8a", "shim": "#dccb97"}
# Half the width of a part as it is drawn, in shares of the widest.
WIDTHS = {"friction": 0.86, "separator": 1.0, "ring": 1.0, "spring": 0.8, "shim": 0.9}
# Nominal height of a spring, which has no thickness of its own among the places.
SPRING_MM = 4.0
MOST_HEIGHT, EACH = 330.0, 14.0


class Stack(Flowable):  # type: ignore[misc]
    """The stack from the cover down, each part as thick as it is to the others, with its place beside it.

    Parameters
    ----------
    parts : list of dict
        slot, part and mm of each, in order.
    wide : float
        Room for it, points.
    """

    def __init__(self, parts: list[dict[str, Any]], wide: float) -> None:
        super().__init__()
        self.parts = [(row["slot"], row["part"], row["mm"] if row["mm"] > 0 else SPRING_MM) for row in parts]
        self.wide = wide
        total = sum(mm for _, _, mm in self.parts)
        self.tall = min(MOST_HEIGHT, EACH * len(self.parts))
        self.scale = self.tall / total if total else 0.0

    def wrap(self, *_: float) -> tuple[float, float]:
        """The room that it takes."""
        return self.wide, self.tall + 4

    def draw(self) -> None:
        """Draw it."""
        canvas: Any = self.canv
        middle, half = self.wide * 0.42, self.wide * 0.36
        top = self.tall
        canvas.setLineWidth(0.4)
        canvas.setStrokeColor(HexColor(INK))
        for slot, part, mm in self.parts:
            tall = mm * self.scale
            width = half * WIDTHS.get(part, 1.0)
            canvas.setFillColor(HexColor(FILLS.get(part, "#d3d7c9")))
            canvas.rect(middle - width, top - tall, 2 * width, tall, stroke=1, fill=1)
            canvas.setFillColor(HexColor(QUIET))
            size = max(3.0, min(7.5, tall))
            canvas.setFont(FONT, size)
            canvas.drawString(middle + half + 4, top - tall / 2 - size * 0.35, f"{slot} {part}"[:24])
            top -= tall
        canvas.setDash(3, 2)
        canvas.line(middle, -2, middle, self.tall + 2)


class Code(Flowable):  # type: ignore[misc]
    """A QR code (ISO/IEC 18004) of an address."""

    def __init__(self, address: str, size: float) -> None:
        super().__init__()
        self.rows = [bytes(row) for row in segno.make(address, error="m", micro=False).matrix]
        self.size = size

    def wrap(self, *_: float) -> tuple[float, float]:
        """The room that it takes."""
        return self.size, self.size

    def draw(self) -> None:
        """Draw it, with its quiet zone of four modules."""
        canvas: Any = self.canv
        each = self.size / (len(self.rows) + 8)
        canvas.setFillColor(HexColor("#000000"))
        for down, row in enumerate(self.rows):
            for across, dark in enumerate(row):
                if dark:
                    canvas.rect((across + 4) * each, self.size - (down + 5) * each, each, each, stroke=0, fill=1)
