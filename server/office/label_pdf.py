"""Draws labels as a PDF (ISO 32000), text as text, each with its code and wholly within its own edges.

reportlab draws them, as it does a unit's sheet: see `sheet_pdf`.
"""

import io
from typing import Any

from ..engine import BadInput
from .label_paper import LabelPaper
from .labels import Label
from .sheet_pdf import NoLibrary, use_fonts, words

MISSING = (
    "Labels want the library reportlab, which is not installed here: install Slipbook as slipbook[pdf] on the "
    "workshop's PC."
)
POINTS_PER_MM = 72 / 25.4
# Printers are off by about so much.
PAD_MM = 2.0
# A phone at arm's length still reads a code whose modules are as large as this: common practice, no source.
LEAST_MODULE_MM = 0.3
WIDEST_CODE_MM = 45.0


def write_labels(labels: list[Label], paper: LabelPaper, start: int, address: str, outline: bool = False) -> bytes:
    """Labels as a PDF of as many pages as they take.

    Parameters
    ----------
    labels : list of Label
        What is drawn, in this order.
    paper : LabelPaper
        The sheet.
    start : int
        The first label that is still on the first sheet, from 1.
    address : str
        Slipbook's address, to which the codes lead.
    outline : bool
        Whether each has a line round it.

    Returns
    -------
    bytes
        The file.

    Raises
    ------
    NoLibrary
        What draws it is not installed.
    BadInput
        There is no such label on the sheet, or it is too small for a code that a phone reads.
    """
    if start > paper.labels:
        raise BadInput("start", f"This sheet has {paper.labels} labels: start at one of them.")
    try:
        from reportlab.pdfgen.canvas import Canvas
    except ImportError as failure:
        raise NoLibrary(MISSING) from failure
    use_fonts()
    data = io.BytesIO()
    canvas = Canvas(data, pagesize=(paper.wide * POINTS_PER_MM, paper.tall * POINTS_PER_MM), invariant=True)
    canvas.setTitle("Labels")
    canvas.setCreator("Slipbook")
    for number, label in enumerate(labels, start - 1):
        if number % paper.labels == 0 and number >= start:
            canvas.showPage()
        draw_label(canvas, label, paper, number % paper.labels, f"{address.rstrip('/')}/{label.path}", outline)
    canvas.showPage()
    canvas.save()
    return data.getvalue()


def draw_label(canvas: Any, label: Label, paper: LabelPaper, number: int, address: str, outline: bool) -> None:
    """Draw one label in its place: the code on the left, or at the top of a tall one, and the words in what is left."""
    from .sheet_drawings import Code

    left, top = (length * POINTS_PER_MM for length in paper.place(number))
    width, height, pad = (length * POINTS_PER_MM for length in (paper.width, paper.height, PAD_MM))
    bottom = paper.tall * POINTS_PER_MM - top - height
    canvas.saveState()
    if outline:
        canvas.setLineWidth(0.3)
        canvas.setStrokeColorRGB(0.6, 0.6, 0.6)
        canvas.rect(left, bottom, width, height)
    # Whatever there is to draw, nothing of it gets onto the next label.
    edges = canvas.beginPath()
    edges.rect(left, bottom, width, height)
    canvas.clipPath(edges, stroke=0, fill=0)
    is_tall = height > 1.25 * width
    room = min(width - 2 * pad, 0.6 * height) if is_tall else min(height - 2 * pad, 0.5 * width)
    size = min(room, WIDEST_CODE_MM * POINTS_PER_MM)
    code = Code(address, size)
    refuse_small(code, size)
    across = left + (width - size) / 2 if is_tall else left + pad
    code.drawOn(canvas, across, bottom + height - pad - size if is_tall else bottom + (height - size) / 2)
    if is_tall:
        box = (left + pad, bottom + pad, width - 2 * pad, height - size - 3 * pad)
    else:
        box = (left + pad + size + pad / 2, bottom + pad, width - size - 2.5 * pad, height - 2 * pad)
    draw_words(canvas, label, box)
    canvas.restoreState()


def refuse_small(code: Any, size: float) -> None:
    """Refuse a code that a phone could not read.

    Raises
    ------
    BadInput
        The label is too small for it.
    """
    modules = len(code.rows) + 8
    if size / modules / POINTS_PER_MM < LEAST_MODULE_MM:
        least = modules * LEAST_MODULE_MM
        raise BadInput(
            "sheet", f"These labels are too small: the code takes {least:.0f} mm each way. Take larger ones."
        )


def draw_words(canvas: Any, label: Label, box: tuple[float, float, float, float]) -> None:
    """Draw the words into a box, smaller where they are too much for it."""
    from reportlab.platypus import KeepInFrame

    left, bottom, width, height = box
    # A title that fits into two lines, and lines that can be read at arm's length.
    size = max(7.0, min(16.0, height / 5, width / 6))
    texts = [words(label.title, size, bold=True, gap=1.5)]
    texts += [words(line, max(6.0, min(10.0, 0.62 * size)), gap=0.5) for line in label.lines if line]
    kept = KeepInFrame(width, height, texts, mode="shrink")
    _, used = kept.wrapOn(canvas, width, height)
    kept.drawOn(canvas, left, bottom + (height - used) / 2)
