"""The engine's calculations, each at an address of its own."""

from typing import Any

from flask import Response, jsonify

from ..engine import CALCULATIONS, Calculation, calc
from .forms import camel, schema_of
from .problems import problem
from .results import refer_to_result
from .strict import Subject

subject = Subject("calc", __name__, url_prefix="/api/calc", description="Calculations and verdicts.")

# These work on entries; /api/units answers them from entries that were checked on arrival.
FROM_ENTRIES = ("change", "judged_again", "kit_standing", "outlook", "standing")
OFFERED = [calculation for name, calculation in sorted(CALCULATIONS.items()) if name not in FROM_ENTRIES]


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
def unknown(name: str) -> Response:
    """Say which calculations there are."""
    names = ", ".join(calculation.name for calculation in OFFERED)
    return problem(404, f"There is no calculation {name!r}. Choose one of: {names}.")
