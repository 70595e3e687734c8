"""What is known of a plate besides its thickness: its limit and its doubt, which go with it from shelf to stack."""

from typing import Any

# Fields that entries of older versions do not have. A result holds them only where they were given, so that such an
# entry is judged as it was shown.
MAY_BE_BLANK = ("minimum_mm", "new_mm", "within_mm", "family", "lowest_mm", "lowest_stock", "bought")


def as_given(rows: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Checked rows without the fields that were left blank.

    >>> as_given([{"mm": 2.5, "minimum_mm": None}])
    [{'mm': 2.5}]
    """
    return [{name: row[name] for name in row if not (name in MAY_BE_BLANK and row[name] is None)} for row in rows]
