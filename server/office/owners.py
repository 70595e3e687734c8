"""The customers of a log, for whatever leaves the workshop."""

from typing import Any

from ..engine import calc


def customers_of(shop: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """The customers that stand, from the entries of the shop."""
    if not any(entry["kind"] == "customer" for entry in shop):
        return []
    customers: list[dict[str, Any]] = calc("kit_standing", {"entries": shop})["customers"]
    return customers
