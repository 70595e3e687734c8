"""The engine's calculations, each at an address of its own."""

from typing import Any

from flask import Response, jsonify

from ..engine import CALCULATIONS, Calculation, calc
from ..engine.request.calculation import NO_CALCULATION
from ..engine.request.fields import Checked, Listing
from .forms import camel, schema_of
from .problems import problem
from .results import refer_to_result
from .strict import Subject

subject = Subject("calc", __name__, url_prefix="/api/calc", description="Calculations and verdicts.")


def is_of_entries(calculation: Calculation) -> bool:
    """Whether it works on entries of the log as they are, which were checked on arrival; /api/units answers these."""
    fields = calculation.form.fields.values()
    return any(isinstance(field, Listing) and isinstance(field.of, Checked) for field in fields)


OFFERED = [calculation for _, calculation in sorted(CALCULATIONS.items()) if not is_of_entries(calculation)]


def add_address(calculation: Calculation) -> None:
    """Give a calculation its address."""

    def view(request: dict[str, Any]) -> Response:
        return jsonify(calc(calculation.name, request))

    view.__name__ = f"calc_{calculation.name}"
    view.__doc__ = calculation.meaning
    # An instance, since flask-smorest would make one of a class at every request.
    schema = schema_of(calculation.form, camel(calculation.name) + "Request")()
    view = subject.response(200, refer_to_result(calculation.name), description="The result.")(view)
    view = subject.arguments(schema, description=calculation.form.meaning)(view)
    subject.route(f"/{calculation.name}", methods=["POST"])(view)


for offered in OFFERED:
    add_address(offered)


@subject.route("/<name>", methods=["POST"])
@subject.doc(deprecated=True, summary="Answers 404 for every other name")
def unknown(**_: str) -> Response:
    """Say where to find which calculations there are."""
    return problem(404, NO_CALCULATION)
