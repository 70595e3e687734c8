"""Result forms made from other forms: a request as it was checked, and a result as an entry keeps it."""

from ..request.fields import REQUIRED, Choice, Field, Group, Listing, Number, Text, Whole
from .fields import Cases, Count, Either, Figure, Mapping, Maybe, Result, Sometimes, Stored, Typed, Words

# Characters of a word that an engine of another version may have used in place of one that this engine knows.
OTHER_WORD = 200


def in_si(form: Field, meaning: str = "") -> Field:
    """The form of a checked request: every field there, each number plain and in SI.

    Fields that a request has to give are `needed` in what is stored: forms gain only fields that may be left out.
    """
    plain = form
    if isinstance(form, Whole):
        plain = Count(form.meaning, form.low, form.high)
    elif isinstance(form, Number):
        plain = Figure(form.unit, form.meaning, form.low, form.high)
    elif isinstance(form, Text):
        plain = Words(form.meaning, form.most)
    elif isinstance(form, Listing):
        plain = Listing(in_si(form.of), form.least, form.most, meaning or form.meaning, nouns=form.nouns)
    elif isinstance(form, Group):
        fields = {name: in_si(field) for name, field in form.fields.items()}
        needed = tuple(name for name, field in form.fields.items() if field.default is REQUIRED)
        plain = Result(fields, meaning or form.meaning, needed)
    return Maybe(plain) if form.default is None else plain


def as_stored(form: Field, needed: bool = True) -> Field:
    """The same form for a result that an entry keeps as it was shown.

    Results gain fields as the engine grows, so that older entries have fewer and newer ones others: only what is
    `needed` has to be there and is checked in full. Of the rest each value only has to be of its kind.

    Parameters
    ----------
    form : Field
        Of a whole result, or of a part of one.
    needed : bool
        Whether its values have to be those that this engine knows.
    """
    if isinstance(form, Sometimes):
        return as_stored(form.of, needed)
    if isinstance(form, Maybe):
        return Maybe(as_stored(form.of, needed))
    if isinstance(form, Result):
        if form.stored is None:
            fields = {name: as_stored(field, name in form.needed) for name, field in form.in_order}
            form.stored = Stored(fields, form.meaning, form.needed)
        return form.stored
    if isinstance(form, Cases):
        return as_stored(merged(form))
    if isinstance(form, Either):
        return Either([as_stored(possible) for possible in form.forms], form.meaning)
    if isinstance(form, Listing):
        return Listing(as_stored(form.of), form.least, form.most, form.meaning, nouns=form.nouns)
    if isinstance(form, Mapping):
        return Mapping(as_stored(form.of), form.names, form.meaning)
    if isinstance(form, Typed):
        return form
    if needed:
        return form
    if isinstance(form, Figure):
        return Figure(form.unit, form.meaning)
    return Words(form.meaning, OTHER_WORD) if isinstance(form, Choice) else form


def merged(form: Cases) -> Result:
    """All cases in one, for what is stored: which fields a case had is a matter of the engine that showed it."""
    fields: dict[str, Field] = {form.by: Words(form.says, OTHER_WORD)}
    for case in form.cases.values():
        fields.update(case.fields)
    always = [name for name in fields if all(name in case.needed for case in form.cases.values())]
    return Result(fields, form.meaning, tuple(always))
