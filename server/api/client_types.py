"""Makes the web side's types from the engine's forms; `npm run types` in webui runs it.

python -m server.api.client_types
"""

import json
import textwrap
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any

from ..engine import CALCULATIONS, KINDS
from ..engine.part_checks.plates import MICROMETER
from ..engine.plan.pieces import FITTED, SHELF
from ..engine.request.fields import REQUIRED, Checked, Choice, Day, Field, Group, Listing, Number, Text, YesNo
from ..engine.results import RESULTS
from ..engine.results.fields import (
    Cases,
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
from ..engine.results.unit import NEW_UNIT
from ..engine.torque_check.wrench import SCALE, WRENCH
from ..engine.unit.as_built import NAMELESS
from ..engine.unit.spring import FIELDS
from .forms import camel, sentence
from .results import NAMES, describe, find_named

FILE = Path(__file__).resolve().parents[2] / "webui" / "engine" / "calculations.d.ts"
WIDEST = 120
STEP = "  "

# Groups that are in several requests, or that screens pass on, by the names of their types.
SHARED: dict[str, Field] = {
    "DiscSpring": FIELDS,
    "FittedPlate": FITTED.of,
    "Micrometer": MICROMETER,
    "NamelessUnit": NAMELESS,
    "NewUnit": NEW_UNIT.form,
    "Scale": SCALE,
    "ShelfPiece": SHELF.of,
    "Wrench": WRENCH,
}

HEAD = """\
// Made by `npm run types` from the forms of server/engine: change those, and run it again.
// What each calculation is asked, what it answers, and what an entry of each kind keeps of both.

/** A number as a request takes it: in SI, as a number or as it was typed, or as it was typed in another unit. */
export type Typed = number | string | { typed: string | number | null; unit?: string };

/** Something that is being typed: any of it may be missing, and a choice may be any text. The engine says what is. */
export type AsTyped<T> = T extends string
  ? string
  : T extends object[]
    ? AsTyped<T[number]>[]
    : T extends object
      ? { [Name in keyof T]?: AsTyped<T[Name]> | null }
      : T;
"""

TAIL = """\
/** What a calculation is asked. */
export type RequestOf<Name extends keyof Calculations> = Calculations[Name]["request"];

/** What a calculation answers. */
export type ResultOf<Name extends keyof Calculations> = Calculations[Name]["result"];

/** The request that an entry of a kind keeps. */
export type BodyOf<Kind extends keyof Kinds> = Kinds[Kind]["body"];

/** The result that an entry of a kind keeps. */
export type ShownOf<Kind extends keyof Kinds> = Kinds[Kind]["shown"];
"""


class Types:
    """TypeScript for the engine's forms."""

    def __init__(self) -> None:
        # A request's group is found by its fields: several groups share the same fields, each with its own meaning.
        self.names = dict(NAMES)
        forms = sorted(
            ((camel(name) + "Request", calculation.form) for name, calculation in CALCULATIONS.items()), key=by_length
        )
        self.requests: dict[str, Group] = {}
        for name, form in [*SHARED.items(), *forms]:
            if isinstance(form, Group) and form.fields and id(form.fields) not in self.names:
                self.names[id(form.fields)] = name
                self.requests[name] = form

    def text(self) -> str:
        """The whole file."""
        stored = {name: as_stored(RESULTS[kind.calculation]) for name, kind in KINDS.items()}
        results = find_named([*RESULTS.values(), *stored.values()])
        texts = [HEAD]
        texts += [declare(name, comment(form.meaning), self.group(form)) for name, form in self.requests.items()]
        texts += [declare(name, comment(form.meaning), self.whole(form)) for name, form in results.items()]
        calculations = [
            (
                calculation.meaning[:-1],
                name,
                f"{{ request: {self.of(calculation.form)}; result: {self.of(RESULTS[name])} }}",
            )
            for name, calculation in sorted(CALCULATIONS.items())
        ]
        texts.append(declare("Calculations", comment("every calculation by its name"), block(calculations)))
        kinds = []
        for name, kind in sorted(KINDS.items()):
            body, shown = self.of(CALCULATIONS[kind.calculation].form), self.of(stored[name])
            kinds.append((kind.meaning, name, f"{{ body: {body}; shown: {shown} }}"))
        meaning = "what an entry of each kind keeps: the request as it was typed, and the result as it was shown"
        texts.append(declare("Kinds", comment(meaning), block(kinds)))
        texts.append(TAIL)
        return "\n".join(texts)

    def of(self, form: Field, indent: str = "") -> str:
        """A form's type, by its name if it has one."""
        own_form = form.fields if isinstance(form, Group) and id(form) not in self.names else form
        return self.names.get(id(own_form)) or self.whole(form, indent)

    def whole(self, form: Field, indent: str = "") -> str:
        """A form's type in full."""
        kind = next(kind for kind in type(form).__mro__ if kind in WRITERS)
        return WRITERS[kind](self, form, indent)

    def group(self, form: Group, indent: str = "") -> str:
        """Named fields; those with `?` may be left out."""
        return block(self.fields(form, indent), indent)

    def fields(self, form: Group, indent: str) -> list[tuple[str, str, str]]:
        """A group's fields, each (meaning, name, type)."""
        fields = []
        for name, field in form.fields.items():
            kind = self.of(field, indent + STEP)
            if not isinstance(form, (Result, Stored)) and field.default is not REQUIRED:
                # A field that was left blank arrives as null, or as empty text.
                kind += ' | "" | null' if isinstance(field, Choice) else " | null"
            meaning = field.meaning if isinstance(field, Choice) else describe(field)[:-1]
            fields.append((meaning, f"{name}?" if may_be_missing(form, name) else name, kind))
        return fields

    def listing(self, form: Listing, indent: str) -> str:
        """A list."""
        item = self.of(form.of, indent)
        is_union = isinstance(form.of, (Choice, Maybe, Cases, Either)) and not item.isidentifier()
        return f"({item})[]" if is_union else f"{item}[]"

    def cases(self, form: Cases, indent: str) -> str:
        """One of several groups, which one field tells apart."""
        return " | ".join(
            block([(form.says, form.by, json.dumps(case)), *self.fields(rest, indent)], indent)
            for case, rest in form.cases.items()
        )


def by_length(named_field: tuple[str, Field]) -> tuple[int, str]:
    """Sort key: the shortest name first, which is the plainer where two calculations share a form."""
    return len(named_field[0]), named_field[0]


def may_be_missing(form: Group, name: str) -> bool:
    """Whether a field may be left out."""
    if isinstance(form, Stored):
        return name not in form.needed
    if isinstance(form, Result):
        return isinstance(form.fields[name], Sometimes)
    return form.fields[name].default is not REQUIRED


def union(options: Iterable[str]) -> str:
    """The type of one of a few words."""
    return " | ".join(json.dumps(word) for word in sorted(options))


WRITERS: dict[type[Field], Callable[[Types, Any, str], str]] = {
    Number: lambda *_: "Typed",
    Figure: lambda *_: "number",
    Choice: lambda _, form, __: union(form.options),
    Text: lambda *_: "string",
    Day: lambda *_: "string",
    YesNo: lambda *_: "boolean",
    Nothing: lambda *_: "null",
    Checked: lambda *_: "object",
    Group: Types.group,
    Listing: Types.listing,
    Cases: Types.cases,
    Maybe: lambda types, form, indent: f"{types.of(form.of, indent)} | null",
    Sometimes: lambda types, form, indent: types.of(form.of, indent),
    Mapping: lambda types, form, indent: f"Record<string, {types.of(form.of, indent)}>",
    Either: lambda types, form, indent: " | ".join(types.of(option, indent) for option in form.forms),
    Typed: lambda types, form, indent: types.of(form.form, indent),
}


def block(fields: list[tuple[str, str, str]], indent: str = "") -> str:
    """Fields in braces, each (meaning, name, type) below its meaning."""
    if not fields:
        return "Record<string, never>"
    inner = indent + STEP
    lines = [f"{comment(meaning, inner)}\n{wrap_field(f'{name}: {kind};', inner)}" for meaning, name, kind in fields]
    return "\n".join(["{", *lines, indent + "}"])


def wrap_field(field: str, indent: str) -> str:
    """A field's line; if a union makes it too long, a line for each of the union's types."""
    if "\n" not in field and len(indent + field) > WIDEST:
        name, _, kind = field.partition(": ")
        field = "\n".join([f"{name}:", *(f"{indent}{STEP}| {option}" for option in kind.split(" | "))])
    return indent + field


def comment(meaning: str, indent: str = "") -> str:
    """A meaning as a comment: a sentence, on one line if it fits."""
    line = f"{indent}/** {sentence(meaning)} */"
    if len(line) <= WIDEST:
        return line
    wrapped = textwrap.wrap(sentence(meaning), WIDEST - len(indent) - 3)
    return "\n".join([f"{indent}/**", *(f"{indent} * {line}" for line in wrapped), f"{indent} */"])


def declare(name: str, comment_text: str, kind: str) -> str:
    """A named type below its comment."""
    if kind.startswith("{") and "\n} | {" not in kind:
        return f"{comment_text}\nexport interface {name} {kind}\n"
    return f"{comment_text}\nexport type {name} = {kind};\n"


if __name__ == "__main__":
    FILE.write_text(Types().text(), encoding="utf-8", newline="\n")
