"""What stands on the labels of units, of bags of plates on the shelf and of the tools of the kit."""

from collections.abc import Mapping
from typing import Any, NamedTuple
from urllib.parse import quote

from ..engine import BadInput, calc
from ..engine.history.customers import names_of, owner_of
from ..engine.records.kit import TOOLS
from ..engine.request.fields import Choice, Group, Listing, Text, Whole
from ..engine.request.units import say, unit_labels
from .label_paper import CUSTOM, MEASURES, SHEETS, in_words

UNITS, BAGS, KIT = "units", "bags", "kit"
GROUPS = {UNITS: "units", BAGS: "bags of plates", KIT: "tools of the kit"}
# Far more than anybody sticks on in a day.
MOST_LABELS = 2000

FORM = Group(
    {
        "labels": Listing(
            Group(
                {
                    "key": Text(200, "the label's `key`, as they are listed"),
                    "copies": Whole(1, 100, "how many of it", default=1),
                },
                "a label",
            ),
            1,
            MOST_LABELS,
            "what gets a label, in this order",
            nouns="labels",
        ),
        "sheet": Choice({**{name: in_words(name) for name in SHEETS}, CUSTOM: "by its own measures"}, "the sheet"),
        "custom": MEASURES,
        "start": Whole(1, 800, "the first label of the sheet that is still there, line by line", default=1),
        "outline": Choice({"no": "no", "yes": "yes, to cut plain paper by"}, "a line round each", default="no"),
        "lengths": Choice(unit_labels("mm"), "unit of its lengths", default="mm"),
    },
    "labels to be printed",
)


class Label(NamedTuple):
    """A label.

    Attributes
    ----------
    group : str
        One of `GROUPS`.
    key : str
        By which it is chosen.
    title : str
        Its name, the largest on it.
    lines : list of str
        What stands below.
    path : str
        Where its code leads, behind the address of Slipbook.
    """

    group: str
    key: str
    title: str
    lines: list[str]
    path: str


def labels_of(
    units: Mapping[str, list[dict[str, Any]]], shop: list[dict[str, Any]], today: str, lengths: str = "mm"
) -> list[Label]:
    """Every label that there can be: of units by name, of bags in the order of the shelf, and of tools by name.

    Parameters
    ----------
    units : mapping
        The entries of each unit.
    shop : list of dict
        The entries that belong to no unit.
    today : str
        The day, in ISO 8601.
    lengths : str
        Unit of its lengths.
    """
    found = [(unit, calc("standing", {"entries": entries})) for unit, entries in units.items()]
    kit = calc("kit_standing", {"entries": shop, "today": today})
    names = names_of(kit["customers"])
    all_labels = [label_of_unit(unit, standing["unit"], names) for unit, standing in found if standing["unit"]]
    all_labels.sort(key=lambda label: (label.title.casefold(), label.key))
    for_shelf = [{"unit": unit, "name": name_of(standing), **standing["shelf"]} for unit, standing in found]
    shelf_request = {
        "counts": kit["counts"],
        "count_ids": kit["count_ids"],
        "units": for_shelf,
        "write_lengths_in": lengths,
    }
    all_labels += [label_of_bag(row, lengths) for row in calc("shelf_now", shelf_request)["rows"]]
    return all_labels + [label_of_tool(tool) for tool in kit["tools"]]


def name_of(standing: dict[str, Any]) -> str:
    """What a unit is called; empty where its definition has not arrived."""
    return str((standing["unit"] or {}).get("name", ""))


def label_of_unit(unit: str, definition: dict[str, Any], owners: dict[str, str]) -> Label:
    """The label of a unit."""
    # The end of its number tells two units of one name apart.
    lines = [owner_of(definition, owners), f"unit {unit[-8:]}"]
    return Label(UNITS, f"unit:{unit}", definition["name"], lines, f"#/unit/{unit}")


def label_of_bag(row: dict[str, Any], lengths: str) -> Label:
    """The label of a bag of plates: class, thickness, limit and count."""
    counted = f", counted {row['counted_at'][:10]}" if row["counted_at"] else ""
    usual = " (common practice)" if row["usual_minimum"] else ""
    lines = [
        f"{row['part'] or 'plate'}, {say(row['mm'], 'mm', lengths)}",
        f"limit {say(row['minimum_mm'], 'mm', lengths)}{usual}",
        f"{row['count']} {'piece' if row['count'] == 1 else 'pieces'}{counted}",
        row["family"] or "",
    ]
    name = row["name"]
    return Label(BAGS, f"bag:{name}", name, lines, f"#/shelf/bag/{quote(name, safe='')}")


def label_of_tool(tool: dict[str, Any]) -> Label:
    """The label of a tool: what it is, and up to when its calibration holds."""
    due = tool["body"][tool["tool"]].get("calibration_due")
    lines = [TOOLS[tool["tool"]], f"calibrated until {due}" if due else "no calibration date"]
    return Label(KIT, f"tool:{tool['id']}", tool["name"], lines, f"#/kit/tool/{tool['id']}")


def chosen(labels: list[Label], wanted: list[dict[str, Any]]) -> list[Label]:
    """The labels that were asked for, each as often as it was.

    Raises
    ------
    BadInput
        One is not there, or they are too many.
    """
    by_key = {label.key: label for label in labels}
    if sum(row["copies"] for row in wanted) > MOST_LABELS:
        raise BadInput("labels", f"These are more than {MOST_LABELS} labels: print them in several goes.")
    found = []
    for place, row in enumerate(wanted):
        label = by_key.get(row["key"])
        if label is None:
            raise BadInput(f"labels.{place}.key", "This is no longer in the log or on the shelf: choose again.")
        found += [label] * row["copies"]
    return found
