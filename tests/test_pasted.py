"""Pasted tables: what their rows, heads, columns and cells are taken for, whatever is in them."""

import json
import random
import subprocess
from collections.abc import Callable
from functools import partial
from typing import Any

import pytest

from .test_tables import node as node
from .test_tables import returned

Ask = Callable[..., list[Any]]

SIGNS = {"mm": "mm", "in": "inch", "inch": "inch", '"': "inch", "thou": "thou"}
FIELDS: list[dict[str, Any]] = [
    {"name": "name", "heads": ["name", "designation"]},
    {"name": "part", "heads": ["part", "type"], "options": {"friction": ["friction"], "shim": ["shim", "shims"]}},
    {"name": "mm", "heads": ["thickness", "mm"], "figure": True},
    {"name": "count", "heads": ["qty", "stock"], "whole": True},
    {"name": "minimum_mm", "heads": ["min", "minimum thickness"], "figure": True},
    {"name": "lowest_stock", "heads": ["min stock"]},
]


@pytest.fixture
def pasted(node: subprocess.Popen[str]) -> Ask:
    """What functions of pasted.js return, by name and arguments."""
    return partial(returned, node, "pasted.js")


@pytest.fixture
def stock(node: subprocess.Popen[str]) -> Ask:
    """What functions of stock.js return, by name and arguments."""
    return partial(returned, node, "stock.js")


def test_a_text_is_parted_by_the_sign_that_parts_its_lines_alike(pasted: Ask) -> None:
    cases: dict[str, tuple[list[list[str]], str]] = {
        "": ([], "tabs"),
        " \n\t\n": ([], "tabs"),
        "a\tb\r\n1\t2,5\r\n": ([["a", "b"], ["1", "2,5"]], "tabs"),
        "a;b\n1;2,5\n": ([["a", "b"], ["1", "2,5"]], "semicolons"),
        "a,b\n1,2.5\n": ([["a", "b"], ["1", "2.5"]], "commas"),
        "a|b\n1|2": ([["a", "b"], ["1", "2"]], "upright strokes"),
        # One column of figures with a decimal comma is no table of whole numbers.
        "2,50\n2,45\n": ([["2,50"], ["2,45"]], "tabs"),
        "thickness\n2,50\n2,45\n": ([["thickness"], ["2,50"], ["2,45"]], "tabs"),
        '"a; b";c\n"say ""so""";d': ([["a; b", "c"], ['say "so"', "d"]], "semicolons"),
        'a\t"two\nlines"\n3"\tx': ([["a", "two lines"], ['3"', "x"]], "tabs"),
        "\ufeffa\tb\n\u00a0c \t\u200bd": ([["a", "b"], ["c", "d"]], "tabs"),
    }
    found = pasted(*(("readTable", [text]) for text in cases))
    assert [(table["rows"], table["separated"]) for table in found] == list(cases.values())


def test_blank_rows_and_columns_go_and_every_row_keeps_its_number(pasted: Ask) -> None:
    [table] = pasted(("readTable", ["\n\tStock\t\n\t\t\n\tname\tmm\t\t\n\tF\t2.5\n\t\n"]))
    assert table["rows"] == [["Stock", ""], ["name", "mm"], ["F", "2.5"]]
    assert table["numbers"] == [2, 4, 5]


def test_what_was_written_comes_back_whatever_is_in_it(pasted: Ask) -> None:
    """A second way of writing, Python's own, and what it writes is read as it was."""
    import csv
    import io

    chance = random.Random(3)
    signs = ["a", "ü", "1", ",", ";", '"', "'", " x", "|", "-", "2.5"]
    for separator in "\t;":
        rows = [["".join(chance.choices(signs, k=4)) + "z" for _ in range(4)] for _ in range(60)]
        for row in rows:
            row[0] = row[0].replace("\t", "")
        written = io.StringIO()
        csv.writer(written, delimiter=separator).writerows(rows)
        [table] = pasted(("readTable", [written.getvalue()]))
        assert table["rows"] == [[" ".join(cell.split()) for cell in row] for row in rows]


def test_heads_say_what_columns_hold_by_what_fits_best(pasted: Ask) -> None:
    heads = ["Designation", "Type", "Min stock", "Minimum thickness (mm)", "Thickness [mm]", "Qty", "Remarks", "qty 2"]
    rows = [["Stock list of spring", ""], heads, ["F 1", "friction", "2", "2.2", "2.5", "4", "x", "9"]]
    columns, place, none, figures = pasted(
        ("columnsByHeads", [heads, FIELDS]),
        ("headsIn", [rows, FIELDS]),
        ("headsIn", [[["F 1", "2.5"]], FIELDS]),
        ("headsIn", [[["thickness", "2.5"]], FIELDS]),
    )
    assert columns == ["name", "part", "lowest_stock", "minimum_mm", "mm", "count", "", ""]
    assert place == 1
    assert none == figures == -1


def test_without_heads_cells_say_it(pasted: Ask) -> None:
    rows = [["F 1", "friction", "4", "2,50"], ["F 2", "Shims", "12", "2.45 mm"], ["", "", "", ""]]
    [columns] = pasted(("columnsByCells", [rows, FIELDS]))
    assert columns == ["name", "part", "count", "mm"]


def test_heads_name_units_in_brackets_or_at_their_end(pasted: Ask) -> None:
    cases = {
        "Thickness (mm)": "mm",
        "t [in]": "inch",
        "Thickness in mm": "mm",
        "t/µm": "um",
        "t, microns": "um",
        "Thickness, in.": "inch",
        "In stock": None,
        "Thickness": None,
        "constructor": None,
        "": None,
    }
    assert pasted(*(("unitOfHead", [head, SIGNS]) for head in cases)) == list(cases.values())


def test_a_cell_is_a_figure_in_its_own_unit_or_in_its_columns(pasted: Ask) -> None:
    cases: dict[tuple[str, str], Any] = {
        ("2,50", "mm"): {"typed": "2,50", "unit": "mm"},
        ("2.5 mm", "inch"): {"typed": "2.5", "unit": "mm"},
        ('0.0984"', "mm"): {"typed": "0.0984", "unit": "inch"},
        ("98 thou", "mm"): {"typed": "98", "unit": "thou"},
        # A micrometre is a thousandth of a millimetre, and no figure is lost by writing it so.
        ("2485", "um"): {"typed": "2.485", "unit": "mm"},
        ("2485 µm", "inch"): {"typed": "2.485", "unit": "mm"},
        ("25,5", "um"): {"typed": "0.0255", "unit": "mm"},
        ("-5", "um"): {"typed": "-0.005", "unit": "mm"},
        ("20000", "um"): {"typed": "20", "unit": "mm"},
        # What is no figure is left for the engine to refuse.
        ("about 2", "mm"): {"typed": "about 2", "unit": "mm"},
        ("NaN", "um"): {"typed": "NaN", "unit": "mm"},
        ("2 yards", "mm"): {"typed": "2 yards", "unit": "mm"},
        ("1.2.3", "um"): {"typed": "1.2.3", "unit": "mm"},
        ("", "mm"): None,
        ("–", "mm"): None,
        ("N/A", "mm"): None,
    }
    assert pasted(*(("quantityOf", [cell, unit, SIGNS]) for cell, unit in cases)) == list(cases.values())


def test_micrometres_are_as_exact_as_they_were_written(pasted: Ask) -> None:
    from decimal import Decimal

    chance = random.Random(11)
    figures = [f"{chance.randint(0, 99999)}{chance.choice(['', '.5', ',25', '.0'])}" for _ in range(300)]
    found = pasted(*(("quantityOf", [figure, "um", SIGNS]) for figure in figures))
    for figure, quantity in zip(figures, found, strict=True):
        assert Decimal(quantity["typed"]) == Decimal(figure.replace(",", ".")) / 1000, figure


def test_words_mean_an_option_only_where_they_mean_one(pasted: Ask) -> None:
    options = FIELDS[1]["options"]
    cases = {
        "Friction plates": "friction",
        "SHIM": "shim",
        "friction": "friction",
        "friction shim": "friction shim",
        "washer": "washer",
        "toString": "toString",
        "-": "",
        "": "",
    }
    assert pasted(*(("choiceOf", [cell, options]) for cell in cases)) == list(cases.values())


def test_days_are_taken_where_they_can_be_no_other(pasted: Ask) -> None:
    cases = {
        "2027-03-31": "2027-03-31",
        "2027/3/1": "2027-03-01",
        "2027-03-31 00:00:00": "2027-03-31",
        "31.3.2027": "2027-03-31",
        "1.2.2027": "2027-02-01",
        "31/03/2027": "2027-03-31",
        "03/31/2027": "2027-03-31",
        "3/4/2027": "3/4/2027",
        "next year": "next year",
        "-": "",
    }
    assert pasted(*(("dayOf", [cell]) for cell in cases)) == list(cases.values())


def test_blank_cells_take_what_stands_above_them_and_never_what_stands_below(pasted: Ask) -> None:
    found, none = pasted(("filledDown", [["", "friction", "", "", "shim", ""]]), ("filledDown", [[]]))
    assert found == {"cells": ["", "friction", "friction", "friction", "shim", "shim"], "filled": 3}
    assert none == {"cells": [], "filled": 0}


def test_rows_meet_what_is_there_by_name_whatever_its_case_and_blanks(stock: Ask) -> None:
    there = [{"name": "F 2.50", "id": 1}, {"name": "S 1", "id": 2}]
    rows = [{"name": " f  2.50"}, {"name": "new"}]
    pairs, gone, first, same_shim, shim_and_plate = stock(
        ("paired", [rows, there]),
        ("unnamed", [rows, there]),
        ("firstOfName", [["A", "b", " a", "B ", "", ""]]),
        ("isOneClass", [{"part": "shim", "mm": 2.5}, {"part": "shim", "mm": 2.5004}]),
        ("isOneClass", [{"part": "shim", "mm": 2.5}, {"part": "friction", "mm": 2.5}]),
    )
    assert [pair.get("twin") for pair in pairs] == [there[0], None]
    assert gone == [there[1]]
    assert first == [None, None, 0, 1, None, None]
    assert (same_shim, shim_and_plate) == (True, False)


def test_a_day_is_told_from_other_text_where_no_head_says_it(pasted: Ask) -> None:
    fields = [
        {"name": "name", "heads": []},
        {"name": "due", "heads": [], "day": True},
        {"name": "range", "heads": [], "like": r"^\d+-\d+\D*$"},
        {"name": "step", "heads": [], "figure": True},
    ]
    rows = [["Beam", "20-200 Nm", "0,5", "31.3.2027"], ["Dial", "0-250", "1.5 Nm", "2027-05-01"]]
    with_range, without = pasted(
        ("columnsByCells", [rows, fields]), ("columnsByCells", [[[row[0], row[3], "red"] for row in rows], fields])
    )
    assert with_range == ["name", "range", "step", "due"]
    # A remark is no range.
    assert without == ["name", "due", ""]


def test_words_of_an_option_in_names_do_not_make_them_options(pasted: Ask) -> None:
    rows = [["Friction A", "friction"], ["Shim B", "friction"], ["Shim C", "shim"]]
    columns, single = pasted(("columnsByCells", [rows, FIELDS]), ("columnsByCells", [rows[:1], FIELDS]))
    assert columns == single == ["name", "part"]


def test_ranges_are_read_however_they_are_written(node: subprocess.Popen[str]) -> None:
    cases = {
        "20-200 Nm": {"low": "20 Nm", "high": "200 Nm"},
        "0,5 – 5 kgf": {"low": "0,5 kgf", "high": "5 kgf"},
        "20...200": {"low": "20", "high": "200"},
        "0 to 25.4 mm": {"low": "0 mm", "high": "25.4 mm"},
        "10 lbf·ft - 80 lbf·ft": {"low": "10 lbf·ft", "high": "80 lbf·ft"},
        "150 Nm": {"low": "", "high": "150 Nm"},
        "up to 50 kg": {"low": "", "high": "50 kg"},
        "": None,
        "large": None,
        "1-2-3": None,
        "2027-03-31": None,
    }
    found = returned(node, "tools.js", *(("rangeOf", [cell]) for cell in cases))
    assert found == list(cases.values())


def test_figures_are_the_same_however_they_are_written(node: subprocess.Popen[str]) -> None:
    def mm(typed: str) -> dict[str, str]:
        return {"typed": typed, "unit": "mm"}

    inch = {"typed": "0.01", "unit": "inch"}
    cases = [
        (mm("0,010"), mm("0.01"), True),
        (mm("0.01"), mm("0.02"), False),
        (mm("0.01"), inch, False),
        ({"typed": "0", "unit": "n"}, {"typed": "0.0", "unit": "kgf"}, True),
        ("4", "4.0", True),
        ("", "", True),
        ("", "0", False),
        ("abc", "abc", True),
        ("abc", "4", False),
    ]
    found = returned(node, "tools.js", *(("isSameFigure", [figure, written]) for figure, written, _ in cases))
    assert found == [same for _, _, same in cases]


def test_ten_thousand_rows_are_read_at_once(pasted: Ask) -> None:
    text = "name\tmm\n" + "".join(f"F {number}\t2.5\n" for number in range(10000))
    [table] = pasted(("readTable", [text]))
    assert len(table["rows"]) == 10001
    assert json.dumps(table["rows"][-1]) == '["F 9999", "2.5"]'
