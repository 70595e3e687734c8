"""Draws a unit's sheet as one page of PDF (ISO 32000), text as text.

reportlab draws it; it comes with `pip install slipbook[pdf]` and is asked for only where a sheet is drawn.
"""

import base64
import io
import re
from itertools import zip_longest
from typing import Any, NamedTuple
from xml.sax.saxutils import escape

from ..engine import calc
from ..engine.history.sheet import INSPECTION
from ..log.directions import undirected

MEDIA_TYPE = "application/pdf"
PAPERS = {"a4": "A4, 210 × 297 mm", "letter": "letter, 8.5 × 11 inch"}
MISSING = (
    "Sheets as PDF want the library reportlab, which is not installed here: install Slipbook as slipbook[pdf], or "
    "print the sheet from the screen."
)

MARGIN = 34.0
GREEN, INK, QUIET, LINE, TINT = "#0d4f4a", "#14201f", "#4c5a58", "#b9c2bd", "#eef1ea"
UNWRITABLE = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\ud800-\udfff\ufffe\uffff]")
NORMAL, BOLD = "SheetText", "SheetBold"


class Letterhead(NamedTuple):
    """Who hands a sheet out: name, lines below it, and the mark, a picture, or nothing."""

    name: str
    lines: list[str]
    mark: bytes | None


def letterhead_of(shop: list[dict[str, Any]]) -> Letterhead | None:
    """The workshop's letterhead, from the entries of the shop; None where it has none."""
    body = calc("kit_standing", {"entries": shop})["letterhead"]
    if body is None:
        return None
    mark = base64.b64decode(body.get("mark") or "")
    return Letterhead(body["name"], (body.get("lines") or "").splitlines(), mark or None)


class NoLibrary(Exception):
    """reportlab is not installed."""


def write_sheet(sheet: dict[str, Any], paper: str, address: str, head: Letterhead | None = None) -> bytes:
    """A sheet as a PDF of one page.

    Parameters
    ----------
    sheet : dict
        What stands on it, as the engine's calculation of that name answers.
    paper : str
        One of `PAPERS`.
    address : str
        Where the code on it leads.
    head : Letterhead, optional
        Who hands it out.

    Returns
    -------
    bytes
        The file.

    Raises
    ------
    NoLibrary
        What draws it is not installed.
    """
    try:
        from reportlab.lib import pagesizes
        from reportlab.pdfgen.canvas import Canvas
        from reportlab.platypus import Frame, KeepInFrame
    except ImportError as failure:
        raise NoLibrary(MISSING) from failure
    use_fonts()
    wide, tall = pagesizes.A4 if paper == "a4" else pagesizes.letter
    data = io.BytesIO()
    canvas = Canvas(data, pagesize=(wide, tall), invariant=True)
    canvas.setTitle(writable(f"{sheet['name']}, {sheet['title']}"))
    canvas.setAuthor(writable(head.name if head else "Slipbook"))
    canvas.setCreator("Slipbook")
    inner = wide - 2 * MARGIN
    frame = Frame(MARGIN, MARGIN, inner, tall - 2 * MARGIN, 0, 0, 0, 0)
    # Whatever is too much for the page is drawn smaller, and nothing is left out.
    frame.addFromList([KeepInFrame(inner, tall - 2 * MARGIN, flow(sheet, inner, address, head), mode="shrink")], canvas)
    canvas.showPage()
    canvas.save()
    return data.getvalue()


def use_fonts() -> None:
    """Make known the fonts that are put into each sheet, so that every reader shows the same letters."""
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    if NORMAL in pdfmetrics.getRegisteredFontNames():
        return
    try:
        import font_roboto
    except ImportError as failure:
        raise NoLibrary(MISSING) from failure
    pdfmetrics.registerFont(TTFont(NORMAL, font_roboto.Roboto))
    pdfmetrics.registerFont(TTFont(BOLD, font_roboto.RobotoBold))
    pdfmetrics.registerFontFamily(NORMAL, normal=NORMAL, bold=BOLD, italic=NORMAL, boldItalic=BOLD)


def writable(text: str) -> str:
    """A text as one paragraph, without what cannot be drawn."""
    return " ".join(undirected(UNWRITABLE.sub(" ", text)).split())


def words(text: str, size: float = 8.5, bold: bool = False, colour: str = INK, gap: float = 2.0) -> Any:
    """A paragraph; what looks like a mark in a text is a letter of it."""
    from reportlab.lib.styles import ParagraphStyle
    from reportlab.platypus import Paragraph

    style = ParagraphStyle(
        "sheet",
        fontName=BOLD if bold else NORMAL,
        fontSize=size,
        leading=1.25 * size,
        textColor=colour,
        spaceAfter=gap,
        # A name without a blank must not run over the edge.
        splitLongWords=1,
    )
    return Paragraph(escape(writable(text)), style)


def flow(sheet: dict[str, Any], wide: float, address: str, head: Letterhead | None) -> list[Any]:
    """What stands on the page, from top to bottom."""
    from reportlab.platypus import Spacer

    from .sheet_drawings import Stack

    parts: list[Any] = [letterhead(head, wide), Spacer(1, 8)] if head else []
    parts += [heading(sheet, wide, address), Spacer(1, 6)]
    if sheet["verdict_text"]:
        parts += [verdict(sheet, wide), words(sheet["reason"])]
        parts += [words(f"! {text}", bold=True) for text in sheet["findings"]]
    half = wide if sheet["template"] == INSPECTION or not sheet["stack"] else wide * 0.62
    facts = grid(
        [[words(row["title"], bold=True), words(row["text"])] for row in sheet["rows"]], [0.24 * half, 0.76 * half]
    )
    drawn = None if half == wide else Stack(sheet["stack"], wide - half - 14)
    parts += [columns(facts, drawn, half, wide), Spacer(1, 6)]
    if sheet["parts"]:
        parts += [words(sheet["caption"], 8, colour=QUIET), part_table(sheet, wide), Spacer(1, 6)]
    if sheet["template"] == INSPECTION:
        parts += [blank_lines(sheet["by_hand"], wide), Spacer(1, 6)]
    parts += [words(f"! {sheet['caution']}", 8, bold=True), Spacer(1, 12)]
    return [*parts, words("Signed: ______________________________     Day: ________________", 9)]


def grid(cells: list[list[Any]], widths: list[float], lines: bool = True, pad: float = 1.5) -> Any:
    """A table; with a line under each row."""
    from reportlab.platypus import Table, TableStyle

    style: list[Any] = [("VALIGN", (0, 0), (-1, -1), "TOP"), ("LEFTPADDING", (0, 0), (-1, -1), 2)]
    style += [(side, (0, 0), (-1, -1), pad) for side in ("TOPPADDING", "BOTTOMPADDING")]
    style += [("RIGHTPADDING", (0, 0), (-1, -1), 4)]
    style += [("LINEBELOW", (0, 0), (-1, -1), 0.4, LINE)] if lines else []
    return Table(cells, widths, style=TableStyle(style), hAlign="LEFT")


def columns(left: Any, right: Any, half: float, wide: float) -> Any:
    """Two things side by side; the first alone where there is no second."""
    return left if right is None else grid([[left, right]], [half, wide - half], lines=False, pad=0)


def letterhead(head: Letterhead, wide: float) -> Any:
    """Who hands the sheet out."""
    texts = [words(head.name, 13, bold=True, colour=GREEN, gap=1)]
    texts += [words(line, 8, colour=QUIET, gap=0) for line in head.lines]
    mark = picture(head.mark) if head.mark else None
    return grid([[texts, mark or ""]], [wide - 130, 130])


def picture(data: bytes) -> Any:
    """A mark, as large as there is room for it; None where it is no picture."""
    from reportlab.platypus import Image

    try:
        image = Image(io.BytesIO(data), hAlign="RIGHT")
        scale = min(124 / image.imageWidth, 48 / image.imageHeight)
        image.drawWidth, image.drawHeight = image.imageWidth * scale, image.imageHeight * scale
    except Exception:  # a damaged picture must not keep anybody from a sheet
        return None
    return image


def heading(sheet: dict[str, Any], wide: float, address: str) -> Any:
    """The unit, its owner, what this is, and the way back to it."""
    from .sheet_drawings import Code

    texts = [words(sheet["name"], 17, bold=True, gap=3)]
    texts += [words(sheet["owner"], 10)] if sheet["owner"] else []
    texts.append(words(sheet["title"], 8.5, colour=QUIET))
    return grid([[texts, Code(address, 62)]], [wide - 70, 70], lines=False)


def verdict(sheet: dict[str, Any], wide: float) -> Any:
    """The verdict in a word and the torque, as the largest on the page."""
    row = [words(sheet["verdict_text"], 15, bold=True, colour=GREEN), words(sheet["figure"], 17, bold=True)]
    table = grid([row], [wide * 0.55, wide * 0.45], lines=False, pad=4)
    table.setStyle([("BACKGROUND", (0, 0), (-1, -1), TINT)])
    return table


def part_table(sheet: dict[str, Any], wide: float) -> Any:
    """The table of parts."""
    cells = [[words(text, 7.5, bold=True, gap=0) for text in sheet["headings"]]]
    cells += [[words(text, 7.5, gap=0) for text in row["cells"]] for row in sheet["parts"]]
    by_hand = sheet["template"] == INSPECTION
    table = grid(cells, [wide / len(sheet["headings"])] * len(sheet["headings"]), pad=3.5 if by_hand else 0.6)
    return boxed(table) if by_hand else table


def boxed(table: Any) -> Any:
    """A table with lines all round its cells, to be written in."""
    table.setStyle([("INNERGRID", (0, 0), (-1, -1), 0.4, LINE), ("BOX", (0, 0), (-1, -1), 0.4, LINE)])
    return table


def blank_lines(lines: list[str], wide: float) -> Any:
    """What is filled in by hand besides the plates."""
    titles = [words(text, 8, bold=True, gap=0) for text in lines]
    cells = [[left, "", right, ""] for left, right in zip_longest(titles[::2], titles[1::2], fillvalue="")]
    return boxed(grid(cells, [0.16 * wide, 0.34 * wide] * 2, pad=5))
