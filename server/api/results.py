"""Makes JSON schemas of results from the engine's forms of them."""

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
from .forms import describe as describe_request

JsonSchema = dict[str, Any]

NULL: JsonSchema = {"type": "null"}

# Forms with a name of their own; all others are written out where they are used. A result that several calculations
# share has its shape's name. What an entry keeps of a result is a form of its own, with fewer required fields.
NAMED: dict[str, Field] = {**SHAPES}
NAMED.update({f"{camel(name)}Result": form for name, form in RESULTS.items() if form not in SHAPES.values()})
NAMED.update({f"Stored{name}": as_stored(form) for name, form in NAMED.items() if isinstance(form, Result)})
NAMES = {id(form): name for name, form in NAMED.items()}


def walk(form: Field) -> Iterator[Field]:
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
    for part in inner:
        yield from walk(part)


def find_named(forms: Iterable[Field]) -> dict[str, Field]:
    """The named forms among some forms and their parts, by name."""
    used = {id(part) for form in forms for part in walk(form)}
    return {name: form for name, form in NAMED.items() if id(form) in used}


def make_schemas() -> dict[str, JsonSchema]:
    """The document's named schemas of results."""
    return {name: full_schema(form) for name, form in find_named(RESULTS.values()).items()}


def refer_to_result(calculation: str) -> JsonSchema:
    """The schema of a calculation's result, by reference if it has a name."""
    return schema_of(RESULTS[calculation])


def schema_of(form: Field) -> JsonSchema:
    """A form's schema; a reference to it if it has a name."""
    if id(form) in NAMES:
        return {"$ref": f"#/components/schemas/{NAMES[id(form)]}"}
    return full_schema(form)


def full_schema(form: Field) -> JsonSchema:
    """A form's schema in full."""
    if isinstance(form, Maybe):
        return {"anyOf": [schema_of(form.of), NULL]}
    if isinstance(form, Sometimes):
        # OpenAPI 3.1 allows a description beside a reference.
        return {**schema_of(form.of), "description": describe(form)}
    kind = next(kind for kind in type(form).__mro__ if kind in KINDS)
    return {**KINDS[kind](form), "description": describe(form)}


def describe(form: Field) -> str:
    """A form's meaning, with its unit or the meaning of each of its words."""
    if isinstance(form, Maybe):
        return describe(form.of)
    if isinstance(form, Sometimes):
        return f"{describe(form.of)[:-1]}; only where {form.when}."
    if isinstance(form, Figure) and form.unit:
        return sentence(f"{form.meaning}; {WRITTEN.get(form.unit) or UNITS[form.unit][0][1]}")
    if isinstance(form, Mapping):
        return sentence(f"{form.meaning}; by {form.names}")
    return describe_request(form)


def figure_schema(form: Figure) -> JsonSchema:
    """A number, with its limits if it has any."""
    limits = {"minimum": form.low, "maximum": form.high}
    kind = "integer" if isinstance(form, Count) else "number"
    return {"type": kind, **{name: limit for name, limit in limits.items() if limit is not None}}


def group_schema(form: Result | Stored) -> JsonSchema:
    """Named fields; what an entry keeps may have others too."""
    if isinstance(form, Stored):
        required = list(form.needed)
    else:
        required = [name for name, field in form.in_order if not isinstance(field, Sometimes)]
    return {
        "type": "object",
        "properties": {name: schema_of(field) for name, field in form.in_order},
        "required": required,
        "additionalProperties": isinstance(form, Stored),
    }


def cases_schema(form: Cases) -> JsonSchema:
    """One of several groups, each with the field's value that tells which group it is."""
    schemas = []
    for case, group in form.cases.items():
        schema = full_schema(group)
        schema["properties"] = {form.by: {"const": case, "description": sentence(form.says)}, **schema["properties"]}
        schema["required"] = [form.by, *schema["required"]]
        schemas.append(schema)
    return {"oneOf": schemas}


KINDS: dict[type[Field], Callable[[Any], JsonSchema]] = {
    Figure: figure_schema,
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
    Result: group_schema,
    Stored: group_schema,
    Cases: cases_schema,
    Either: lambda form: {"anyOf": [schema_of(option) for option in form.forms]},
    Typed: lambda _: {"type": "object"},
}
