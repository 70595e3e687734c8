"""The units in which a request wants its sentences."""

from typing import Any, NamedTuple

from .fields import Choice, Field
from .units import unit_labels

WrittenIn = NamedTuple(
    "WrittenIn",
    [
        # Unit of torque, of length and of force.
        ("nm", str),
        ("mm", str),
        ("n", str),
    ],
)

FIELDS = {
    "write_in": ("nm", "torque"),
    "write_lengths_in": ("mm", "length"),
    "write_forces_in": ("n", "force"),
}


def with_written_in(fields: dict[str, Field], *names: str) -> dict[str, Field]:
    """A form's own fields, followed by the units of its sentences: names out of `FIELDS`."""
    for name in names:
        si, what = FIELDS[name]
        fields[name] = Choice(unit_labels(si), f"unit of {what} that sentences are written in", default=si)
    return fields


def written_in_by(request: dict[str, Any]) -> WrittenIn:
    """The units that a checked request asks for; SI where its form has no such field."""
    return WrittenIn(
        *[request.get(name, FIELDS[name][0]) for name in ("write_in", "write_lengths_in", "write_forces_in")]
    )
