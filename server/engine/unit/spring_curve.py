"""A disc spring on its own: its curve with the zones to stay out of, and its figures at a travel or at a load."""

from typing import Any

from ..request.errors import BadInput
from ..request.fields import Group, Number, Whole
from ..request.units import say
from ..request.written_in import with_written_in, written_in_by
from .spring import (
    FIELDS,
    Column,
    column_energy,
    column_load,
    column_squeeze,
    cone_height,
    disc_of,
    flat_at,
    free_height,
    peak,
    rate,
    rising_until,
)
from .spring_friction import has_friction, load_factors
from .spring_stress import flat_stress, stresses
from .spring_warnings import LEAST_TRAVEL, USUAL_TRAVEL, disc_concerns, travel_concerns

FORM = Group(
    with_written_in(
        {
            "spring": FIELDS,
            "deflection_mm": Number(0, 300, "mm", "how far the whole column is squeezed", default=None),
            "load_n": Number(0, 1e6, "n", "load of the whole column, instead of how far it is squeezed", default=None),
            "points": Whole(5, 400, "points of the curve", default=61),
        },
        "write_lengths_in",
    ),
    "a disc spring on its own",
)


def at(column: Column, fields: dict[str, Any], squeeze: float) -> dict[str, Any]:
    """The column's figures, squeezed by `squeeze` mm in all; `fields` are its checked fields."""
    disc, each, force = column.disc, squeeze / column.nests, column_load(column, squeeze)
    more, less = load_factors(fields)
    rubs = has_friction(fields)
    stress = stresses(disc, each)
    return {
        "deflection_mm": squeeze,
        "height_mm": free_height(column) - squeeze,
        "travel": each / flat_at(disc),
        "load_n": force,
        "closing_n": force * more if rubs else None,
        "opening_n": force * less if rubs else None,
        "rate_n_per_mm": column.parallel * rate(disc, each) / column.nests,
        "energy_j": column_energy(column, squeeze),
        "stress_nmm2": {"om": stress.om, "i": stress.i, "ii": stress.ii, "iii": stress.iii, "iv": stress.iv},
    }


def zones(column: Column) -> list[dict[str, Any]]:
    """The stretches of the travel that a drawing has to mark, from loose to flat, each with what happens there."""
    flat, rise = column.nests * flat_at(column.disc), column.nests * rising_until(column.disc)
    cone = column.nests * cone_height(column.disc)
    stretches = [
        ("slight", 0.0, LEAST_TRAVEL * cone, "hardly squeezed: works loose, and cracks sooner at its edge"),
        ("far", USUAL_TRAVEL * cone, flat, "the real load climbs above this curve"),
    ]
    if rise < flat:
        stretches.append(("past_peak", rise, flat, "a thicker plate gives less, and wear raises the torque"))
    return [{"name": name, "from_mm": start, "to_mm": end, "text": text} for name, start, end, text in stretches]


def squeeze_of(request: dict[str, Any], column: Column) -> float | None:
    """How far the request squeezes the column, mm, by its travel or by its load; None where it gives neither."""
    flat, rise = column.nests * flat_at(column.disc), column.nests * rising_until(column.disc)
    squeeze: float | None = request["deflection_mm"]
    force, written_in = request["load_n"], written_in_by(request)
    if squeeze is not None and force is not None:
        raise BadInput("load_n", "Give the deflection or the load, not both.")
    if squeeze is not None:
        # Free height less thickness is a rounded figure: a travel typed as flat counts as flat.
        if squeeze > flat * (1 + 1e-9):
            raise BadInput(
                "deflection_mm", f"The spring is flat at {say(flat, 'mm', written_in.mm)}: it goes no further."
            )
        return min(squeeze, flat)
    if force is None:
        return None
    most = column_load(column, rise)
    if force > most:
        raise BadInput(
            "load_n", f"This spring gives {say(most, 'n', written_in.n)} at most, at {say(rise, 'mm', written_in.mm)}."
        )
    return column_squeeze(column, force, "load_n")


def spring(request: dict[str, Any]) -> dict[str, Any]:
    """Figures of a disc spring, or of a column of equal ones.

    Parameters
    ----------
    request : dict
        Checked by `FORM`.

    Returns
    -------
    dict
        free_mm, flat_mm (travel until flat), most_n (largest load on the rising branch) at most_mm, flat_n, peak_mm or
        None, flat_stress_nmm2 at point OM; curve, rows of deflection_mm, load_n; zones; at, the figures at the
        travel or load given, or None; warnings.

    Raises
    ------
    BadInput
        A disc that cannot exist, both a travel and a load, a travel beyond flat, a load that it cannot give.

    References
    ----------
    1. DIN EN 16984:2017, Disc springs - Calculation.

    Examples
    --------
    >>> disc = {"de_mm": 50, "di_mm": 25.4, "t_mm": 3, "l0_mm": 4.1}
    >>> result = spring(FORM.read({"spring": disc, "deflection_mm": 0.825}, ""))
    >>> round(result["at"]["load_n"]), result["peak_mm"], [zone["name"] for zone in result["zones"]]
    (11976, None, ['slight', 'far'])
    """
    fields, unit = request["spring"], request["write_lengths_in"]
    column = Column(disc_of(fields), fields["parallel"], fields["series"])
    disc = column.disc
    flat, rise = column.nests * flat_at(disc), column.nests * rising_until(disc)
    squeeze = squeeze_of(request, column)
    top, steps = peak(disc), request["points"] - 1
    warnings = disc_concerns(disc, unit)
    if squeeze is not None:
        warnings = travel_concerns(squeeze / column.nests, disc, unit) + warnings
    return {
        "free_mm": free_height(column),
        "flat_mm": flat,
        "most_n": column_load(column, rise),
        "most_mm": rise,
        "flat_n": column_load(column, flat),
        "peak_mm": None if top is None else column.nests * top,
        "flat_stress_nmm2": flat_stress(disc),
        "curve": [
            {"deflection_mm": flat * place / steps, "load_n": column_load(column, flat * place / steps)}
            for place in range(steps + 1)
        ],
        "zones": zones(column),
        "at": None if squeeze is None else at(column, fields, squeeze),
        "warnings": warnings,
    }
