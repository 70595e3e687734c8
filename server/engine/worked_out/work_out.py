"""Work out a depth, a free height or a friction from what could be measured instead."""

from typing import Any

from ..request.rounded import fixed
from ..request.units import DECIMALS, say
from ..request.written_in import WrittenIn, written_in_by
from ..unit.form import FORM as DEFINITION_FORM
from ..unit.marks import DEPTH_FROM, FRICTION_FROM
from .depth import depth_from_builds, depth_from_gap, depth_from_torque
from .friction import friction_from_torque
from .height import height_from_load
from .spread import Figure

WAYS = {
    "depth_from_gap": depth_from_gap,
    "depth_from_torque": depth_from_torque,
    "depth_from_builds": depth_from_builds,
    "height_from_load": height_from_load,
}

# Places after the point of a friction, one more than its doubt can be told by.
MU_PLACES = 4


def checked_fill(field: str, fill: dict[str, str]) -> float:
    """What a figure is, in SI, once it stands in its field as it was rounded; refuses what that field does not take."""
    form: Any = DEFINITION_FORM
    for name in field.split("."):
        form = form.fields[name]
    taken: float = form.read(fill, field)
    return taken


def row_of(figure: Figure) -> dict[str, float]:
    """A figure as results hold it."""
    return {"value": figure.value, "u": figure.u, "low": figure.low, "high": figure.high}


def work_out(request: dict[str, Any]) -> dict[str, Any]:
    """Work out what cannot be measured.

    Parameters
    ----------
    request : dict
        Checked by `FORM`.

    Returns
    -------
    dict
        field, path of the figure in a unit's definition; mm, a depth or height, or mu, a friction, the other None:
        value, u (standard uncertainty), low and high (95 %); fill, the figure as its field takes it; mark, what the
        definition keeps of it beside (see `marks`); text; doubt, what it is made of, largest first; warnings.

    Raises
    ------
    BadInput
        Too little is given, two answers fit, none does, the spring does not follow its formula there, or its curve is
        so flat that the answer could be anything.

    Examples
    --------
    A column of one disc that is 5.6 mm high under 3 kN.

    >>> from .form import FORM
    >>> spring = {"de_mm": 100, "di_mm": 51, "t_mm": 3.5}
    >>> press = {"from": "height_from_load", "spring": spring, "load": {"load_n": 3000, "height_mm": 5.6}}
    >>> work_out(FORM.read(press, ""))["fill"]
    {'typed': '5.981', 'unit': 'mm'}
    """
    written_in, way = written_in_by(request), request["from"]
    warnings: list[dict[str, Any]] = []
    if way in FRICTION_FROM:
        figure, basis, warnings = friction_from_torque(request, written_in)
    else:
        figure, basis = WAYS[way](request, written_in)
    if request["day"] is not None:
        basis += f", {request['day']}"
    return answer_of(way, figure, basis, written_in, warnings)


def answer_of(
    way: str, figure: Figure, basis: str, written_in: WrittenIn, warnings: list[dict[str, Any]]
) -> dict[str, Any]:
    """The answer to one way of working out."""
    is_mu = way in FRICTION_FROM
    field = "friction.mu" if is_mu else "cavity_mm" if way in DEPTH_FROM else "spring.l0_mm"
    if is_mu:
        fill = {"typed": fixed(figure.value, MU_PLACES), "unit": ""}
        value, low, high = [fixed(end, 3) for end in (figure.value, figure.low, figure.high)]
    else:
        fill = {"typed": fixed(figure.value, DECIMALS["mm"]), "unit": "mm"}
        value, low, high = [say(end, "mm", written_in.mm) for end in (figure.value, figure.low, figure.high)]
    title = "Friction" if is_mu else "Depth" if way in DEPTH_FROM else "Free height"
    taken = checked_fill(field, fill)
    mark: dict[str, Any] = {"from": way, "basis": basis}
    mark["value" if is_mu else "value_mm"], mark["u" if is_mu else "u_mm"] = taken, figure.u
    return {
        "field": field,
        "mm": None if is_mu else row_of(figure),
        "mu": row_of(figure) if is_mu else None,
        "fill": fill,
        "mark": mark,
        "text": f"{title} {value}, from {low} to {high} in 19 of 20 cases: worked out, not measured.",
        "doubt": figure.doubt,
        "warnings": warnings,
    }
