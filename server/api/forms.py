"""Marshmallow schemas made from the engine's forms, so that a limit or a sentence is never written twice.

The schemas' fields describe; whether a value may be used, and the sentence if not, is the form's to say.
"""

from typing import Any, ClassVar

from marshmallow import RAISE, Schema, ValidationError, fields, validate

from ..engine.request.fields import (
    REQUIRED,
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
    """A schema that loads whatever its form can use, and hands it on as it was typed."""

    form: ClassVar[Group]

    class Meta:
        """What the form does not know is refused."""

        unknown = RAISE

    def load(self, data: Any, **_: Any) -> Any:
        """`data` itself.

        Raises
        ------
        ValidationError
            With a sentence at every field that cannot be used.
        """
        found = find_refusals(self.form, data)
        if found:
            raise ValidationError({one.field or "_schema": [one.reason] for one in found})
        return data


# A group that several forms share is one schema in the document too.
made: dict[int, type[FormSchema]] = {}


def schema_of(form: Group, name: str) -> type[FormSchema]:
    """The schema class of a form, under this name in the OpenAPI document."""
    if id(form) not in made:
        described = {key: field_of(field, name + camel(key)) for key, field in form.in_order}
        made[id(form)] = type(name, (FormSchema,), {**described, "form": form, "__doc__": form.meaning})
    return made[id(form)]


def camel(name: str) -> str:
    """A field's name as part of a schema's: "steady_nm" gives "SteadyNm"."""
    return "".join(part.capitalize() for part in name.split("_"))


def field_of(field: Field, name: str) -> fields.Field[Any]:
    """The marshmallow field that describes an engine's field."""
    given = field.default is REQUIRED
    about: dict[str, Any] = {"description": described(field)}
    if not given and field.default is not None:
        about["default"] = field.default
    usual: dict[str, Any] = {"required": given, "allow_none": not given, "metadata": about}
    if isinstance(field, Number):
        kind = "integer" if isinstance(field, Whole) else "number"
        about["anyOf"] = [
            {"type": kind, "minimum": field.low, "maximum": field.high},
            {"type": "string", "maxLength": 20},
            {
                "type": "object",
                "properties": {
                    "typed": {"type": "string"},
                    "unit": {"type": "string", "enum": [one for one, _, _ in UNITS[field.unit]]},
                },
                "required": ["typed"],
                "additionalProperties": False,
            },
            *([] if given else [{"type": "null"}]),
        ]
        return fields.Raw(**{**usual, "allow_none": None})
    if isinstance(field, Choice):
        return fields.String(validate=validate.OneOf(sorted(field.options)), **usual)
    if isinstance(field, Text):
        return fields.String(validate=validate.Length(max=field.most), **usual)
    if isinstance(field, Day):
        return fields.Date(**usual)
    if isinstance(field, YesNo):
        return fields.Boolean(**usual)
    if isinstance(field, Listing):
        inner = field_of(field.of, name)
        return fields.List(inner, validate=validate.Length(min=field.least, max=field.most), **usual)
    if isinstance(field, Group):
        return fields.Nested(schema_of(field, name), **usual)
    if isinstance(field, Checked):
        return fields.Dict(**usual)
    return fields.String(**usual)


def described(field: Field) -> str:
    """A field's meaning, with its range and unit or the meaning of each word."""
    told = field.meaning
    if isinstance(field, Number):
        unit = UNITS[field.unit][0][0]
        told += f"; {amount(field.low, unit, field.unit)} to {amount(field.high, unit, field.unit)}"
    if isinstance(field, Choice):
        told += "; " + "; ".join(f"{word}: {field.options[word]}" for word in sorted(field.options))
    return sentence(told)


def sentence(words: str) -> str:
    """Words as a sentence.

    >>> sentence("the place in the stack")
    'The place in the stack.'
    """
    return words[:1].upper() + words[1:] + "."
