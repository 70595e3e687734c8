"""Makes marshmallow schemas from the engine's forms, so that no limit and no sentence is written twice.

The schemas' fields only describe. The form decides whether a value can be used, and has the sentence if it cannot.
"""

from typing import Any, ClassVar

from marshmallow import INCLUDE, RAISE, Schema, ValidationError, fields, validate

from ..engine.request.fields import (
    REQUIRED,
    Answered,
    Checked,
    Choice,
    Day,
    Field,
    Group,
    Listing,
    Number,
    Text,
    Whole,
    YesNo,
    amount,
)
from ..engine.request.units import UNITS
from ..log.entry import find_refusals


class FormSchema(Schema):
    """A schema that accepts what its form can use, and passes it on as it was typed."""

    form: ClassVar[Group]

    class Meta:
        """Fields that the form does not know are refused."""

        unknown = RAISE

    def load(self, data: Any, **_: Any) -> Any:
        """`data` itself.

        Raises
        ------
        ValidationError
            With a sentence at every field that cannot be used.
        """
        refusals = find_refusals(self.form, data)
        if refusals:
            raise ValidationError({refusal.field or "_schema": [refusal.reason] for refusal in refusals})
        return data


# By the form's id: a group that several forms share is one schema in the document too.
schema_classes: dict[int, type[FormSchema]] = {}


def schema_of(form: Group, name: str) -> type[FormSchema]:
    """The schema class of a form, under this name in the OpenAPI document."""
    if id(form) not in schema_classes:
        schema_fields = {key: field_of(field, name + camel(key)) for key, field in form.in_order}
        inner: dict[str, Any] = {**schema_fields, "form": form, "__doc__": form.meaning}
        if isinstance(form, Answered):
            inner["Meta"] = type("Meta", (), {"unknown": INCLUDE})
        schema_classes[id(form)] = type(name, (FormSchema,), inner)
    return schema_classes[id(form)]


def camel(name: str) -> str:
    """A field's name as part of a schema's: "steady_nm" gives "SteadyNm"."""
    return "".join(part.capitalize() for part in name.split("_"))


def field_of(field: Field, name: str) -> fields.Field[Any]:
    """The marshmallow field that describes an engine's field."""
    required = field.default is REQUIRED
    metadata: dict[str, Any] = {"description": describe(field)}
    if not required and field.default is not None:
        metadata["default"] = field.default
    common: dict[str, Any] = {"required": required, "allow_none": not required, "metadata": metadata}
    if isinstance(field, Number):
        kind = "integer" if isinstance(field, Whole) else "number"
        metadata["anyOf"] = [
            {"type": kind, "minimum": field.low, "maximum": field.high},
            {"type": "string", "maxLength": 20},
            {
                "type": "object",
                "properties": {
                    "typed": {"type": "string"},
                    "unit": {"type": "string", "enum": [unit for unit, _, _ in UNITS[field.unit]]},
                },
                "required": ["typed"],
                "additionalProperties": False,
            },
            *([] if required else [{"type": "null"}]),
        ]
        return fields.Raw(**{**common, "allow_none": None})
    if isinstance(field, Choice):
        return fields.String(validate=validate.OneOf(sorted(field.options)), **common)
    if isinstance(field, Text):
        return fields.String(validate=validate.Length(max=field.most), **common)
    if isinstance(field, Day):
        return fields.Date(**common)
    if isinstance(field, YesNo):
        return fields.Boolean(**common)
    if isinstance(field, Listing):
        item = field_of(field.of, name)
        return fields.List(item, validate=validate.Length(min=field.least, max=field.most), **common)
    if isinstance(field, Group):
        return fields.Nested(schema_of(field, name), **common)
    if isinstance(field, Checked):
        return fields.Dict(**common)
    return fields.String(**common)


def describe(field: Field) -> str:
    """A field's meaning, with its range and unit or the meaning of each of its words."""
    text = field.meaning
    if isinstance(field, Number):
        unit = UNITS[field.unit][0][0]
        text += f"; {amount(field.low, unit, field.unit)} to {amount(field.high, unit, field.unit)}"
    if isinstance(field, Choice):
        text += "; " + "; ".join(f"{word}: {field.options[word]}" for word in sorted(field.options))
    return sentence(text)


def sentence(words: str) -> str:
    """Words as a sentence, with a capital and a full stop.

    >>> sentence("the place in the stack")
    'The place in the stack.'
    """
    return words[:1].upper() + words[1:] + "."
