"""The few names of CPython's `typing` that the engine imports, for MicroPython, which has none of them."""

from collections import namedtuple

Any = object


def NamedTuple(name, fields):
    """A named tuple from (name, type) pairs."""
    return namedtuple(name, [field[0] for field in fields])
