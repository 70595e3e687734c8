"""The command's labels: which of them, on which sheet, and the file that they go into."""

import argparse
from datetime import date
from pathlib import Path
from typing import Any

from .engine import BadInput
from .engine.request.units import unit_labels
from .exporting import DAMAGED, count, print_problems, refuse_target, write_exported
from .log import LogFault
from .log.stored_entry import read_entry
from .office.label_paper import CUSTOM, SHEETS, in_words, paper_of
from .office.label_pdf import write_labels
from .office.labels import FORM, GROUPS, Label, chosen, labels_of
from .office.sheet_pdf import NoLibrary
from .places import place_of


def add_options(command: argparse.ArgumentParser) -> None:
    """Add what may be chosen of labels."""
    command.add_argument(
        "what",
        nargs="*",
        metavar="WHAT",
        help=f"{', '.join(GROUPS)}, or the name of a unit, a class or a tool; all of them if left out",
    )
    command.add_argument("--to", type=Path, metavar="FILE.pdf", required=True, help="the file to write")
    command.add_argument("--force", action="store_true", help="replace the file if there is one")
    known = "; ".join(f"{name}: {in_words(name)}" for name in SHEETS)
    command.add_argument("--sheet", choices=[*SHEETS, CUSTOM], default=next(iter(SHEETS)), help=known)
    command.add_argument(
        "--measures",
        metavar="NAME=VALUE,...",
        default="",
        help="of a custom sheet: page, across, down, width_mm, height_mm, gap_across_mm, gap_down_mm, left_mm, top_mm",
    )
    command.add_argument("--start", type=int, default=1, help="first label of the sheet that is still there (1)")
    command.add_argument("--copies", type=int, default=1, help="how many of each (1)")
    command.add_argument("--outline", action="store_true", help="a line round each, to cut plain paper by")
    command.add_argument("--lengths", choices=list(unit_labels("mm")), default="mm", help="unit of lengths (mm)")
    command.add_argument("--address", required=True, help="Slipbook's address, to which the codes lead")


def run(options: argparse.Namespace) -> int:
    """Draw labels."""
    place = place_of(options)
    refuse_target(options.to, place, options.force)
    with place.whole() as whole:
        contents = whole.contents
    entries = {unit: [read_entry(line) for line in lines] for unit, lines in contents.lines.items()}
    shop = entries.pop("", [])
    labels = labels_of(entries, shop, date.today().isoformat(), options.lengths)
    found = wanted(labels, options.what)
    settings = {
        "labels": [{"key": label.key, "copies": options.copies} for label in found],
        "sheet": options.sheet,
        "start": options.start,
    }
    try:
        request: dict[str, Any] = FORM.read({**settings, **read_measures(options.measures)}, "")
        paper = paper_of(request["sheet"], request["custom"])
        drawn = chosen(labels, request["labels"])
        data = write_labels(drawn, paper, request["start"], options.address, options.outline)
    except BadInput as refusal:
        raise LogFault(f"{refusal.field}: {refusal.reason}") from refusal
    except NoLibrary as lacking:
        raise LogFault(str(lacking)) from lacking
    write_exported(data, options.to, options.force)
    sheets = -(-(len(drawn) + options.start - 1) // paper.labels)
    print(f"{options.to} has {count(len(drawn), 'label')} on {count(sheets, 'sheet')}.")
    print_problems(contents.faults)
    return DAMAGED if contents.faults else 0


def read_measures(text: str) -> dict[str, Any]:
    """The measures of a custom sheet as a request has them; nothing where none are given.

    >>> read_measures("page=a4,across=2,width_mm=90.5")
    {'custom': {'page': 'a4', 'across': '2', 'width_mm': '90.5'}}
    """
    pairs = [part.partition("=") for part in text.split(",") if part.strip()]
    return {"custom": {name.strip(): value.strip() for name, _, value in pairs}} if pairs else {}


def wanted(labels: list[Label], names: list[str]) -> list[Label]:
    """The labels of these groups and names, each once.

    Raises
    ------
    LogFault
        There is no such group or name, or nothing to label.
    """
    found: dict[str, Label] = {}
    for name in names or list(GROUPS):
        some = [label for label in labels if name in (label.group, label.title, label.key)]
        if not some and name not in GROUPS:
            raise LogFault(f"There is no {name!r}: name a unit, a class or a tool, or one of {', '.join(GROUPS)}.")
        found.update({label.key: label for label in some})
    if not found:
        raise LogFault("There is nothing to label yet.")
    return list(found.values())
