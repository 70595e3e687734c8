"""Calculations: the engine's, one address each."""

from typing import Any

from flask import Response, jsonify

from ..engine import CALCULATIONS, Calculation, calc
from .forms import camel, schema_of
from .problems import problem
from .results import reference
from .strict import Subject

subject = Subject("calc", __name__, url_prefix="/api/calc", description="Calculations and verdicts.")

# What stands is asked under /api/units, from entries that were checked on their way in.
FROM_ENTRIES = ("change", "kit_standing", "outlook", "standing")
OFFERED = [one for name, one in sorted(CALCULATIONS.items()) if name not in FROM_ENTRIES]


def offer(calculation: Calculation) -> None:
    """Give a calculation its address."""

    def answer(request: dict[str, Any]) -> Response:
        return jsonify(calc(calculation.name, request))

    answer.__name__ = f"calc_{calculation.name}"
    answer.__doc__ = calculation.meaning
    # An instance, since a class would be made into one anew at every request.
    schema = schema_of(calculation.form, camel(calculation.name) + "Request")
    described = subject.response(200, reference(calculation.name), description="The result.")(answer)
    taking = subject.arguments(schema(), description=calculation.form.meaning)(described)
    subject.route(f"/{calculation.name}", methods=["POST"])(taking)


for each in OFFERED:
    offer(each)


@subject.route("/<name>", methods=["POST"])
@subject.doc(deprecated=True, summary="Answers 404 for every other name")
def unknown(name: str) -> Response:
    """Say which calculations there are."""
    return problem(404, f"There is no calculation {name!r}. Choose one of: {', '.join(one.name for one in OFFERED)}.")
