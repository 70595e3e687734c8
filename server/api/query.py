"""Parameters of a query that several subjects have."""

from collections.abc import Iterable, Mapping

from marshmallow import fields, validate


def one_of(names: Iterable[str], first: str, description: str) -> fields.String:
    """A parameter that is one of a few names, and `first` where it is left out."""
    known = list(names)
    return fields.String(
        load_default=first,
        validate=validate.OneOf(known, error=f"Choose one of: {', '.join(map(repr, known))}."),
        metadata={"description": description},
    )


def in_words(meanings: Mapping[str, str]) -> str:
    """Names with their meanings, as a description.

    >>> in_words({"a4": "A4", "letter": "8.5 × 11 inch"})
    'a4: A4; letter: 8.5 × 11 inch.'
    """
    return "; ".join(f"{name}: {meaning}" for name, meaning in meanings.items()) + "."
