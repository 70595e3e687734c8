"""JSON schemas of results, made from the forms that the engine declares for them."""

from collections.abc import Callable, Iterable, Iterator
from typing import Any

from ..engine.request.fields import Choice, Day, Field, Group, Listing, Text, YesNo
from ..engine.request.units import UNITS
from ..engine.results import RESULTS, SHAPES
from ..engine.results.fields import (
    WRITTEN,
    Cases,
    Count,
    Either,
    Figure,
    Mapping,
    Maybe,
    Nothing,
    Result,
    Sometimes,
    Stored,
    Typed,
)
from ..engine.results.from_forms import as_stored
from .forms import camel, sentence
from .forms import described as of_request

JsonSchema = dict[str, Any]

NULL: JsonSchema = {"type": "null"}

# Forms that have a name of their own; all others stand where they are used. A result that several calculations share
# goes by its shape's name. What an entry keeps of a result is another form, with fewer demands.
NAMED: dict[str, Field] = {**SHAPES}
NAMED.update({f"{camel(name)}Result": form for name, form in RESULTS.items() if form not in SHAPES.values()})
NAMED.update({f"Stored{name}": as_stored(form) for name, form in NAMED.items() if isinstance(form, Result)})
NAMES = {id(form): name for name, form in NAMED.items()}


def parts(form: Field) -> Iterator[Field]:
    """A form and every form inside it."""
    yield form
    inner: list[Field] = []
    if isinstance(form, (Maybe, Sometimes, Listing, Mapping)):
        inner = [form.of]
    elif isinstance(form, Group):
        inner = list(form.fields.values())
    elif isinstance(form, Either):
        inner = form.forms
    elif isinstance(form, Cases):
        inner = list(form.cases.values())
    for one in inner:
        yield from parts(one)


def named_in(forms: Iterable[Field]) -> dict[str, Field]:
    """The forms with a name that some forms need, themselves included, by name."""
    found = {id(part) for form in forms for part in parts(form)}
    return {name: form for name, form in NAMED.items() if id(form) in found}


def schemas() -> dict[str, JsonSchema]:
    """Every named schema of the document that a result's form makes."""
    return {name: whole(form) for name, form in named_in(RESULTS.values()).items()}


def reference(calculation: str) -> JsonSchema:
    """Where a calculation's result stands in the document."""
    return schema_of(RESULTS[calculation])


def schema_of(form: Field) -> JsonSchema:
    """A form's schema, or where it stands if it has a name."""
    if id(form) in NAMES:
        return {"$ref": f"#/components/schemas/{NAMES[id(form)]}"}
    return whole(form)


def whole(form: Field) -> JsonSchema:
    """A form's schema in full."""
    if isinstance(form, Maybe):
        return {"anyOf": [schema_of(form.of), NULL]}
    if isinstance(form, Sometimes):
        # Beside a reference a description of its own may stand, since OpenAPI 3.1.
        return {**schema_of(form.of), "description": described(form)}
    kind = next(kind for kind in type(form).__mro__ if kind in KINDS)
    return {**KINDS[kind](form), "description": described(form)}


def described(form: Field) -> str:
    """What a form means, with its unit or the meaning of each word."""
    if isinstance(form, Maybe):
        return described(form.of)
    if isinstance(form, Sometimes):
        return f"{described(form.of)[:-1]}; only where {form.when}."
    if isinstance(form, Figure) and form.unit:
        return sentence(f"{form.meaning}; {WRITTEN.get(form.unit) or UNITS[form.unit][0][1]}")
    if isinstance(form, Mapping):
        return sentence(f"{form.meaning}; by {form.names}")
    return of_request(form)


def figure(form: Figure) -> JsonSchema:
    """A number, with its ends where it has any."""
    ends = {"minimum": form.low, "maximum": form.high}
    kind = "integer" if isinstance(form, Count) else "number"
    return {"type": kind, **{name: end for name, end in ends.items() if end is not None}}


def group(form: Result | Stored) -> JsonSchema:
    """Named fields, closed where nothing else may stand beside them."""
    if isinstance(form, Stored):
        always = list(form.needed)
    else:
        always = [name for name, field in form.in_order if not isinstance(field, Sometimes)]
    return {
        "type": "object",
        "properties": {name: schema_of(field) for name, field in form.in_order},
        "required": always,
        "additionalProperties": isinstance(form, Stored),
    }


def cases(form: Cases) -> JsonSchema:
    """One of several groups, each with the value of the field that says which it is."""
    found = []
    for case, rest in form.cases.items():
        one = whole(rest)
        one["properties"] = {form.by: {"const": case, "description": sentence(form.says)}, **one["properties"]}
        one["required"] = [form.by, *one["required"]]
        found.append(one)
    return {"oneOf": found}


KINDS: dict[type[Field], Callable[[Any], JsonSchema]] = {
    Figure: figure,
    Choice: lambda form: {"type": "string", "enum": sorted(form.options)},
    Text: lambda form: {"type": "string", "maxLength": form.most},
    Day: lambda _: {"type": "string", "format": "date"},
    YesNo: lambda _: {"type": "boolean"},
    Nothing: lambda _: NULL,
    Listing: lambda form: {
        "type": "array",
        "items": schema_of(form.of),
        "minItems": form.least,
        "maxItems": form.most,
    },
    Mapping: lambda form: {"type": "object", "additionalProperties": schema_of(form.of)},
    Result: group,
    Stored: group,
    Cases: cases,
    Either: lambda form: {"anyOf": [schema_of(one) for one in form.forms]},
    Typed: lambda _: {"type": "object"},
}
