"""The one way in which the engine refuses a request."""


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
