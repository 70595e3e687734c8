"""Invented stock lists, as people keep them in spreadsheets and as these are copied."""

import random

# What is wrong in the list of 300 rows: the plate, the column and how the sentence begins or ends.
WRONG = {
    17: ("Thickness", "about 2", "Type a number, for example 72.5; got 'about 2'."),
    40: ("How many", "-3", "This must be at least 0; got -3."),
    41: ("Thickness", "NaN", "Type a number, for example 72.5; got 'NaN'."),
    77: ("Name", "F 076", "F 076 is on the shelf twice: give each piece or class its own name."),
    150: ("Thickness", "", "Fill this in."),
    200: ("Limit", "9,9", "S 200 is not above this limit:"),
    222: ("How many", "a few", "Type a number, for example 72.5; got 'a few'."),
    299: ("Thickness", "1.2.3", "Type a number, for example 72.5; got '1.2.3'."),
}
COLUMNS = ("Name", "Thickness", "How many", "Limit")
HEADS = ("Designation", "Plate type", "Thickness (mm)", "In stock", "Wear limit [mm]", "Min stock", "Remarks")
ROWS = 300


def thickness_of(number: int) -> float:
    """Thickness of a plate of the list, mm."""
    if number <= 140:
        return 2.0 + 0.005 * number
    return 1.2 + 0.005 * (number - 140) if number <= 260 else 0.05 + 0.01 * (number - 260)


def written(mm: float, way: float) -> str:
    """A thickness as one person or another writes it."""
    if way < 0.5:
        return f"{mm:.3f}".replace(".", ",")
    if way < 0.6:
        return f"{mm:.3f} mm"
    if way < 0.65:
        return f"{1000 * mm:.0f} µm"
    return f"{mm / 25.4:.6f} in" if way < 0.7 else f"{mm:.3f}"


def messy_list(seed: int = 7) -> str:
    """A list with 300 plates: a title, blank rows, merged cells, both decimal signs, four units, and mistakes."""
    chance = random.Random(seed)
    lines = ["Stock list\t\t\t\t\t\t", "", "\t".join(HEADS)]
    before = ""
    for number in range(1, ROWS + 1):
        mm = thickness_of(number)
        part = "Friction plates" if number <= 140 else "Steel" if number <= 260 else "Shim"
        limit = f"{0.9 * mm:.2f}" if chance.random() < 0.3 and part != "Shim" else ""
        cells = {
            "Name": f"{part[0]} {number:03d}",
            "Thickness": written(mm, chance.random()),
            "How many": str(chance.randint(0, 12)),
            "Limit": limit,
        }
        if number in WRONG:
            column, text, _ = WRONG[number]
            cells[column] = text
        name, thickness, count, limit = (cells[column] for column in COLUMNS)
        lowest = str(chance.randint(1, 4)) if chance.random() < 0.4 else chance.choice(["", "-"])
        remark = chance.choice(["", "shelf 2", '"so called" old stock', "see list"])
        lines.append("\t".join([name, part if part != before else "", thickness, count, limit, lowest, remark]))
        before = part
        if number % 50 == 0:
            lines.append("\t" * 6)
    return "\r\n".join(lines) + "\r\n"
