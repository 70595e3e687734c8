"""The one way in which the engine refuses a request."""

from typing import Any


class BadInput(ValueError):
    """A request cannot be answered as it stands.

    Attributes
    ----------
    field : str
        Dotted path of the field at fault, such as "steady_nm.forward.2"; empty when it is the request as a whole.
    reason : str
        One sentence that says what to do about it.
    """

    def __init__(self, field: str, reason: str) -> None:
        super().__init__(f"{field}: {reason}" if field else reason)
        self.field = field
        self.reason = reason


def inside(path: str, name: object) -> str:
    """Path of the field `name` inside `path`.

    >>> inside("plates", 2)
    'plates.2'
    """
    return f"{path}.{name}" if path else str(name)


def once_each(rows: list[dict[str, Any]], field: str, key: str, objection: str) -> None:
    """Refuse a list in which two rows have the same name.

    Parameters
    ----------
    rows : list of dict
        Each with its name under `key`.
    field : str
        Path of the list.
    key : str
        The field of a row that names it.
    objection : str
        How the sentence goes on after the name: what is wrong, and what to do.

    Raises
    ------
    BadInput
        At the second row of the same name.

    Examples
    --------
    >>> once_each([{"slot": "A1"}, {"slot": "A1"}], "plates", "slot", "is there twice: keep one of them.")
    Traceback (most recent call last):
    server.engine.request.errors.BadInput: plates.1.slot: A1 is there twice: keep one of them.
    """
    seen = set()
    for place, row in enumerate(rows):
        if row[key] in seen:
            raise BadInput(inside(inside(field, place), key), f"{row[key]} {objection}")
        seen.add(row[key])
