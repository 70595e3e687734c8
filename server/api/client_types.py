"""The web side's types, made from the engine's forms: `npm run types` in webui writes them.

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
from ..engine.torque_check.wrench import SCALE, WRENCH
from ..engine.unit.spring import FIELDS
from .forms import camel, sentence
from .results import NAMES, described, named_in

FILE = Path(__file__).resolve().parents[2] / "webui" / "engine" / "calculations.d.ts"
WIDEST = 120
STEP = "  "

# Groups that several requests hold, or that screens hand about, by the name that they get here.
SHARED: dict[str, Field] = {
    "DiscSpring": FIELDS,
    "FittedPlate": FITTED.of,
    "Micrometer": MICROMETER,
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
        # Groups of requests go by their fields: the same ones stand in several groups, each with a meaning of its own.
        self.names = dict(NAMES)
        asked = sorted(((camel(name) + "Request", one.form) for name, one in CALCULATIONS.items()), key=by_length)
        self.requests: dict[str, Group] = {}
        for name, form in [*SHARED.items(), *asked]:
            if isinstance(form, Group) and form.fields and id(form.fields) not in self.names:
                self.names[id(form.fields)] = name
                self.requests[name] = form

    def text(self) -> str:
        """The whole file."""
        kept = {name: as_stored(RESULTS[kind.calculation]) for name, kind in KINDS.items()}
        answered = named_in([*RESULTS.values(), *kept.values()])
        texts = [HEAD]
        texts += [declared(name, comment(form.meaning), self.group(form)) for name, form in self.requests.items()]
        texts += [declared(name, comment(form.meaning), self.whole(form)) for name, form in answered.items()]
        calculations = [
            (one.meaning[:-1], name, f"{{ request: {self.of(one.form)}; result: {self.of(RESULTS[name])} }}")
            for name, one in sorted(CALCULATIONS.items())
        ]
        texts.append(declared("Calculations", comment("every calculation by its name"), block(calculations)))
        kinds = [
            (kind.meaning, name, f"{{ body: {self.of(CALCULATIONS[kind.calculation].form)}; shown: {self.of(shown)} }}")
            for (name, kind), shown in zip(sorted(KINDS.items()), [kept[name] for name in sorted(kept)])
        ]
        about = "what an entry of each kind keeps: the request as it was typed, and the result as it was shown"
        texts.append(declared("Kinds", comment(about), block(kinds)))
        texts.append(TAIL)
        return "\n".join(texts)

    def of(self, form: Field, indent: str = "") -> str:
        """A form's type, or its name if it has one."""
        by = form.fields if isinstance(form, Group) and id(form) not in self.names else form
        return self.names.get(id(by)) or self.whole(form, indent)

    def whole(self, form: Field, indent: str = "") -> str:
        """A form's type in full."""
        kind = next(kind for kind in type(form).__mro__ if kind in WRITERS)
        return WRITERS[kind](self, form, indent)

    def group(self, form: Group, indent: str = "") -> str:
        """Named fields, of which those with `?` may be left out."""
        return block(self.fields(form, indent), indent)

    def fields(self, form: Group, indent: str) -> list[tuple[str, str, str]]:
        """A group's fields, each (meaning, name, type)."""
        found = []
        for name, field in form.fields.items():
            kind = self.of(field, indent + STEP)
            if not isinstance(form, (Result, Stored)) and field.default is not REQUIRED:
                # What was not typed comes as nothing, or as blank text.
                kind += ' | "" | null' if isinstance(field, Choice) else " | null"
            told = field.meaning if isinstance(field, Choice) else described(field)[:-1]
            found.append((told, f"{name}?" if may_be_missing(form, name) else name, kind))
        return found

    def listing(self, form: Listing, indent: str) -> str:
        """A list."""
        of = self.of(form.of, indent)
        union = isinstance(form.of, (Choice, Maybe, Cases, Either)) and not of.isidentifier()
        return f"({of})[]" if union else f"{of}[]"

    def cases(self, form: Cases, indent: str) -> str:
        """One of several groups, told apart by one field."""
        return " | ".join(
            block([(form.says, form.by, json.dumps(case)), *self.fields(rest, indent)], indent)
            for case, rest in form.cases.items()
        )


def by_length(named: tuple[str, Field]) -> tuple[int, str]:
    """The shortest name first: where two calculations share a form, that is the plainer one."""
    return len(named[0]), named[0]


def may_be_missing(form: Group, name: str) -> bool:
    """Whether a field may be left out."""
    if isinstance(form, Stored):
        return name not in form.needed
    if isinstance(form, Result):
        return isinstance(form.fields[name], Sometimes)
    return form.fields[name].default is not REQUIRED


def words(options: Iterable[str]) -> str:
    """One of a few words."""
    return " | ".join(json.dumps(word) for word in sorted(options))


WRITERS: dict[type[Field], Callable[[Types, Any, str], str]] = {
    Number: lambda *_: "Typed",
    Figure: lambda *_: "number",
    Choice: lambda _, form, __: words(form.options),
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
    Either: lambda types, form, indent: " | ".join(types.of(one, indent) for one in form.forms),
    Typed: lambda types, form, indent: types.of(form.form, indent),
}


def block(fields: list[tuple[str, str, str]], indent: str = "") -> str:
    """Fields in braces, each (meaning, name, type) below its meaning."""
    if not fields:
        return "Record<string, never>"
    inner = indent + STEP
    lines = [f"{comment(told, inner)}\n{line(f'{name}: {kind};', inner)}" for told, name, kind in fields]
    return "\n".join(["{", *lines, indent + "}"])


def line(field: str, indent: str) -> str:
    """A field's line; where one of many words makes it too long, each word has its own."""
    if "\n" not in field and len(indent + field) > WIDEST:
        name, _, union = field.partition(": ")
        field = "\n".join([f"{name}:", *(f"{indent}{STEP}| {word}" for word in union.split(" | "))])
    return indent + field


def comment(told: str, indent: str = "") -> str:
    """A comment that says something in a sentence: of one line where it fits."""
    line = f"{indent}/** {sentence(told)} */"
    if len(line) <= WIDEST:
        return line
    wrapped = textwrap.wrap(sentence(told), WIDEST - len(indent) - 3)
    return "\n".join([f"{indent}/**", *(f"{indent} * {line}" for line in wrapped), f"{indent} */"])


def declared(name: str, told: str, kind: str) -> str:
    """A named type with its comment."""
    if kind.startswith("{") and "\n} | {" not in kind:
        return f"{told}\nexport interface {name} {kind}\n"
    return f"{told}\nexport type {name} = {kind};\n"


if __name__ == "__main__":
    FILE.write_text(Types().text(), encoding="utf-8", newline="\n")
