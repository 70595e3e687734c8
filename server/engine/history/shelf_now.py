"""The shelf that stands: what lies on it, what plans reserve, what is to be bought, and why."""

from typing import Any

from ..part_checks.plates import PLATES
from ..plan.pieces import MOST_PIECES, SAME_CLASS_MM, with_limits
from ..request.fields import Checked, Group, Listing, Text
from ..request.letters import trimmed
from ..request.sorting import in_order
from ..request.units import say
from ..request.written_in import WrittenIn, with_written_in, written_in_by
from .shelf_stock import Shelf, Stock, by_time, in_books, piece_in
from .shelf_words import of_class, trail_of

FORM = Group(
    with_written_in(
        {
            "counts": Listing(
                Checked("a count that stands, as `kit_standing` has it"), 0, 100000, "counts in the order of arrival"
            ),
            "count_ids": Listing(
                Text(40, "id of an entry", default=""),
                0,
                100000,
                "every count of this shop, corrected ones among them: by these a rebuild of another shop is known",
                default=[],
            ),
            "units": Listing(
                Group(
                    {
                        "unit": Text(40, "id of the unit"),
                        "name": Text(80, "what it is called", default=""),
                        "moves": Listing(
                            Checked("a move, as `standing` has it under shelf"), 0, 100000, "what its rebuilds moved"
                        ),
                        "plan": Checked("the plan that was taken, as `standing` has it under shelf", default=None),
                    },
                    "a unit",
                ),
                0,
                100000,
                "every unit with a rebuild or a plan that concerns the shelf",
                default=[],
            ),
            "for_unit": Text(40, "id of the unit that is planned: its own plan reserves nothing from it", default=""),
        },
        "write_lengths_in",
    ),
    "the shelf that stands",
)

# As many names as an entry names of the other book, so that there is room for those of its own.
MOST_NAMED = 40


def shelf_now(request: dict[str, Any]) -> dict[str, Any]:
    """What stands of the shelf.

    Parameters
    ----------
    request : dict
        Checked by `FORM`: what `kit_standing` says of the counts, and `standing` of each unit.

    Returns
    -------
    dict
        rows, by kind of plate, classes before pieces that have run, then by thickness and name: name, part, mm, count
        (how many there are now), wanted (how many plans that were taken mean to fit), free (what they leave), to_buy,
        lowest_stock or None, short (how many more were fitted than there were), is_low (whether fewer are left than the
        lowest stock, or than plans want), used (whether it is a piece that has run), within_mm, minimum_mm with
        usual_minimum, lowest_mm, new_mm and family, counted_at and counted_by (of the count that stands for it),
        counted_in (id of that count, where it has a row for it),
        wanted_by (unit, name, count), says (sentences: where it disagrees, what is lacking) and trail (where the number
        comes from, the newest first: see `trail_of`).
        count, how many plates there are in all; reserved, how many of them plans want; to_buy, the buying list of all
        plans and lowest stocks: name, part, mm, count, text; says, what to know of the shelf as a whole; disagrees,
        whether any class has a number that cannot be; pieces, what a plan for `for_unit` may use, and pieces_text, what
        of the shelf is not among them; entry, id of the count of the whole shelf that stands, or None; knows, what
        an entry names of the other book: counts for a rebuild or plan, moves for a count.
    """
    here = WrittenIn("nm", written_in_by(request).mm, "n")
    units = [own_moves(unit, request["count_ids"]) for unit in request["units"]]
    shelf = Shelf(request["counts"], [moved_in(move, unit) for unit in units for move in unit["moves"]])
    stocks = [shelf.stock_of(name) for name in shelf.names()]
    rows = [row_of(stock, shelf, here) for stock in stocks if is_shown(stock)]
    gone = reserve(rows, units, shelf.ran())
    rows = with_limits_of(in_order([row for row in rows if is_row(row)], by_kind))
    for row in rows:
        number_row(row)
        row["says"] += of_class(row, here)
    pieces, pieces_text = for_plan(rows, request["for_unit"])
    return {
        "rows": [without_own(row) for row in rows if not row["virtual"]],
        "count": sum(row["count"] for row in rows),
        "reserved": sum(min(row["count"], row["wanted"]) for row in rows),
        "to_buy": [buying_row(row, here) for row in rows if row["to_buy"]],
        "says": gone + ([] if request["counts"] else never_counted(shelf)),
        "disagrees": any(row["short"] or row["unsure"] for row in rows),
        "pieces": pieces,
        "pieces_text": pieces_text,
        "entry": shelf.whole["id"] if shelf.whole else None,
        "knows": {
            "counts": [count["id"] for count in heads(request["counts"])][-MOST_NAMED:],
            "moves": [move["id"] for move in heads(shelf.moves)][-MOST_NAMED:],
        },
    }


def own_moves(unit: dict[str, Any], count_ids: list[str]) -> dict[str, Any]:
    """A unit without moves and plan that name counts of another shop: those were of that shop's shelf."""

    def is_own(entry: dict[str, Any]) -> bool:
        return not entry["elsewhere"] or any(name in count_ids for name in entry["elsewhere"])

    kept = unit.copy()
    kept["moves"] = [move for move in unit["moves"] if is_own(move)]
    kept["plan"] = unit["plan"] if unit["plan"] is not None and is_own(unit["plan"]) else None
    return kept


def moved_in(move: dict[str, Any], unit: dict[str, Any]) -> dict[str, Any]:
    """A move with the unit that it was made in."""
    row = move.copy()
    row["unit"], row["unit_name"] = unit["unit"], unit["name"]
    return row


def heads(entries: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Those of some counts or moves that no other of them knew, by time."""
    known = {name for entry in entries for name in entry["knew"]}
    return in_order([entry for entry in entries if entry["first"] not in known and entry["id"] not in known], by_time)


def is_shown(stock: Stock) -> bool:
    """Whether a name is a row: a piece that has run is one while it is there, a class while a count has it."""
    if in_books(stock) != 0 or stock.unsure:
        return True
    return stock.piece is not None and stock.piece.get("new_mm") is None


def row_of(stock: Stock, shelf: Shelf, here: WrittenIn) -> dict[str, Any]:
    """The row of a name, without what plans and limits make of it."""
    number = in_books(stock)
    piece = stock.piece or fitted_as(stock, shelf)
    trail, says = trail_of(stock, here)
    row = {
        "name": stock.name,
        # A ring that was fitted by a name is none.
        "part": piece["part"] if piece["part"] in PLATES else None,
        "mm": piece["mm"],
        "count": max(number, 0),
        "short": max(-number, 0),
        "lowest_stock": (stock.piece or {}).get("lowest_stock"),
        "within_mm": piece.get("within_mm"),
        "own_minimum": piece.get("minimum_mm"),
        "lowest_mm": piece.get("lowest_mm"),
        "new_mm": piece.get("new_mm"),
        "family": piece.get("family"),
        "counted_at": stock.count["at"] if stock.count else None,
        "counted_by": stock.count["who"] if stock.count else "",
        "counted_in": stock.count["id"] if stock.count and piece_in(stock.count, stock.name) else None,
        "wanted_by": [],
        "says": says,
        "trail": trail,
        "unsure": bool(stock.unsure),
        "virtual": False,
    }
    return row


def fitted_as(stock: Stock, shelf: Shelf) -> dict[str, Any]:
    """What is known of a name that no row of the shelf has now: as it ran, as another count has it, or as fitted."""
    listed = [piece for count in shelf.counts for piece in count["pieces"] if trimmed(piece["name"]) == stock.name]
    moved = [row for move in shelf.moves for row in move["taken"] + move["kept"] if row["name"] == stock.name]
    ran = [row for row in moved + listed if row.get("new_mm") is not None]
    last: dict[str, Any] = (ran or moved + listed)[-1]
    return last


def reserve(rows: list[dict[str, Any]], units: list[dict[str, Any]], ran: set[str]) -> list[str]:
    """Enter what plans want into the rows, which get those that have to be bought; returns what is there no more.

    `ran` are the names of pieces that have run: such a one cannot be bought again.
    """
    gone = []
    for unit in in_order(units, lambda unit: (unit["name"], unit["unit"])):
        if unit["plan"] is None:
            continue
        lacking: dict[str, int] = {}
        for part in unit["plan"]["fitted"]:
            row = row_for(rows, part)
            if row is None and trimmed(part["piece"]) in ran:
                lacking[part["piece"]] = lacking.get(part["piece"], 0) + 1
                continue
            if row is None:
                row = bought_row(part)
                rows.append(row)
            # A class that was only ever fitted may not say its kind, which the plan does.
            row["part"] = row["part"] or part["part"]
            mine = [wanted for wanted in row["wanted_by"] if wanted["unit"] == unit["unit"]]
            if mine:
                mine[0]["count"] += 1
            else:
                row["wanted_by"].append({"unit": unit["unit"], "name": unit["name"], "count": 1})
        names = ", ".join(f"{lacking[name]} × {name}" for name in sorted(lacking))
        if names:
            gone.append(f"Planned for {unit['name'] or 'a unit'}, and no longer on the shelf: {names}. Plan it again.")
    return gone


def row_for(rows: list[dict[str, Any]], part: dict[str, Any]) -> dict[str, Any] | None:
    """The row that a planned plate is of: that of its name, else the class of its kind that is as thick."""
    of_kind = [row for row in rows if row["part"] in (part["part"], None)]
    # A plate that is to be bought may have no other name than its kind's.
    for row in of_kind:
        if row["name"] == trimmed(part["piece"]) and (not part["bought"] or is_same(row, part)):
            return row
    for row in of_kind:
        if row["new_mm"] is None and is_same(row, part):
            return row
    return None


def is_same(row: dict[str, Any], part: dict[str, Any]) -> bool:
    """Whether a row is as thick as a planned plate."""
    return abs(float(row["mm"]) - float(part["mm"])) < SAME_CLASS_MM


def bought_row(part: dict[str, Any]) -> dict[str, Any]:
    """A row for a class that the shelf does not have, and a plan wants to be bought."""
    row: dict[str, Any] = dict.fromkeys(
        ("lowest_stock", "within_mm", "own_minimum", "lowest_mm", "new_mm", "family", "counted_at", "counted_in")
    )
    row.update({"name": trimmed(part["piece"]), "part": part["part"], "mm": part["mm"], "count": 0, "short": 0})
    row.update({"counted_by": "", "wanted_by": [], "says": [], "trail": [], "unsure": False, "virtual": True})
    return row


def is_row(row: dict[str, Any]) -> bool:
    """Whether a row says anything: its kind is known, or something about it does not add up."""
    return bool(row["part"] in PLATES or row["short"] or row["unsure"] or row["wanted_by"])


def by_kind(row: dict[str, Any]) -> tuple[Any, ...]:
    """Order of the rows: kind of plate, classes before pieces that have run, thickness, name."""
    kinds = sorted(PLATES)
    kind = kinds.index(row["part"]) if row["part"] in kinds else len(kinds)
    return (kind, row["new_mm"] is not None, row["mm"], row["name"], row["virtual"])


def with_limits_of(rows: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """The rows with the limit of each, and whether it is only common practice."""
    for row in rows:
        row["minimum_mm"] = row["own_minimum"]
    return with_limits(rows)


def number_row(row: dict[str, Any]) -> None:
    """Work out what plans and the lowest stock make of a row's number."""
    wanted = sum(entry["count"] for entry in row["wanted_by"])
    lowest = row["lowest_stock"] or 0
    row["used"] = row["new_mm"] is not None
    row["wanted"], row["free"] = wanted, max(row["count"] - wanted, 0)
    # A piece that has run cannot be bought.
    row["to_buy"] = 0 if row["used"] else max(wanted + lowest - row["count"], 0)
    row["is_low"] = row["count"] < wanted + lowest


def without_own(row: dict[str, Any]) -> dict[str, Any]:
    """A row as the answer has it."""
    return {name: row[name] for name in row if name not in ("own_minimum", "virtual", "unsure")}


def buying_row(row: dict[str, Any], here: WrittenIn) -> dict[str, Any]:
    """A line of the buying list."""
    thick = say(row["mm"], "mm", here.mm)
    whose = " and ".join(f"{entry['count']} for {entry['name'] or 'a unit'}" for entry in row["wanted_by"])
    parts = [part for part in (whose, f"lowest stock {row['lowest_stock']}" if row["lowest_stock"] else "") if part]
    return {
        "name": row["name"],
        "part": row["part"],
        "mm": row["mm"],
        "count": row["to_buy"],
        "text": f"{row['to_buy']} × {row['name']} ({row['part']}, {thick}): {', '.join(parts)}; {row['count']} here.",
    }


def never_counted(shelf: Shelf) -> list[str]:
    """What to say of a shelf that was never counted and from which plates were taken."""
    return ["The shelf was never counted: count it once, and rebuilds keep it from then on."] if shelf.moves else []


def for_plan(rows: list[dict[str, Any]], unit: str) -> tuple[list[dict[str, Any]], str]:
    """What a plan for a unit may use of the rows, and what of the shelf is not among it, in words."""
    pieces, reserved, others = [], 0, set()
    for row in rows:
        elsewhere = [entry for entry in row["wanted_by"] if entry["unit"] != unit]
        kept = min(row["count"], sum(entry["count"] for entry in elsewhere))
        if kept:
            reserved += kept
            others |= {entry["name"] or "a unit" for entry in elsewhere}
        if row["count"] > kept and row["part"] in PLATES:
            piece = {"name": row["name"], "part": row["part"], "mm": row["mm"], "count": row["count"] - kept}
            known = {name: row[name] for name in ("within_mm", "new_mm", "lowest_mm", "family")}
            known["minimum_mm"] = row["own_minimum"]
            piece.update({name: known[name] for name in known if known[name] is not None})
            pieces.append(piece)
    says = []
    if reserved:
        plates = "1 plate is" if reserved == 1 else f"{reserved} plates are"
        says.append(f"{plates} left out: planned for {', '.join(sorted(others))}.")
    if len(pieces) > MOST_PIECES:
        says.append(
            f"A plan looks at {MOST_PIECES} rows; {len(pieces) - MOST_PIECES} pieces that have run are left out."
        )
        pieces = [piece for piece in pieces if "new_mm" not in piece] + [piece for piece in pieces if "new_mm" in piece]
    return pieces[:MOST_PIECES], " ".join(says)
