"""Requests of every kind, made from the forms themselves: fitting ones, ones at and beyond the edges, and nonsense."""

import copy
import functools
from typing import Any

from hypothesis import strategies as st

from server.engine import CALCULATIONS
from server.engine.request.fields import Checked, Choice, Day, Field, Group, Listing, Number, Text, Whole, YesNo
from server.engine.request.units import UNITS

from .samples import samples

# A strategy that is known is kept: to put one together, and to look whether it holds, costs more than to draw from it.

NONSENSE: st.SearchStrategy[Any] = st.sampled_from(
    [
        None,
        "",
        "abc",
        "1,2,3",
        "1.2,3",
        "-",
        "−5",
        "1e5",
        "9" * 30,
        True,
        False,
        0,
        -1,
        0.5,
        1e15,
        1e300,
        5e-324,
        -1e308,
        float("nan"),
        float("inf"),
        -float("inf"),
        10**40,
        [],
        [[]],
        [None],
        {},
        {"typed": "5"},
        {"typed": "5", "unit": "furlong"},
        {"typed": None, "unit": "mm"},
        {"typed": [], "unit": []},
        {"unit": "nm"},
        {"other": 1},
    ]
)


def numbers(field: Number) -> st.SearchStrategy[Any]:
    """In range, at its ends, just beyond them; as a number, as text, and as a quantity."""
    ends = [field.low, field.high, field.low - 1e-9, field.high + 1e-9, field.low * 1.0001, field.high * 0.9999]
    if isinstance(field, Whole):
        inside: st.SearchStrategy[Any] = st.integers(int(field.low), int(field.high))
    else:
        inside = st.floats(field.low, field.high)
    units = st.sampled_from([unit for unit, _, _ in UNITS[field.unit]])
    return st.one_of(
        inside,
        inside,
        st.sampled_from(ends),
        st.sampled_from(ends).map(lambda number: f"{number:.6f}".replace(".", ",")),
        st.builds(lambda number, unit: {"typed": f"{number:.4f}", "unit": unit}, st.sampled_from(ends), units),
    )


@functools.cache
def values(field: Field) -> st.SearchStrategy[Any]:
    """Values for one field, of which most fit it."""
    return st.one_of([fitting(field)] * 15 + [NONSENSE])


def fitting(field: Field) -> st.SearchStrategy[Any]:
    """Values of the kind that a field takes, at and around its limits."""
    if isinstance(field, Number):
        return numbers(field)
    if isinstance(field, Choice):
        return st.sampled_from(sorted(field.options))
    if isinstance(field, Day):
        return st.dates().map(str)
    if isinstance(field, YesNo):
        return st.booleans()
    if isinstance(field, Text):
        return st.text(max_size=min(field.most + 1, 12))
    if isinstance(field, Listing):
        return st.lists(values(field.of), min_size=max(0, field.least), max_size=min(field.most, field.least + 3))
    if isinstance(field, Group):
        return groups(field)
    assert isinstance(field, Checked)
    return st.just({})


@functools.cache
@st.composite
def groups(draw: st.DrawFn, form: Group) -> dict[str, Any]:
    """Named fields; those that may be left out are, half of the time."""
    answer = {}
    for name, field in sorted(form.fields.items()):
        if field.default is None and draw(st.booleans()):
            continue
        answer[name] = draw(values(field))
    return answer


def steps(form: Field, request: Any, path: tuple[Any, ...] = ()) -> list[tuple[tuple[Any, ...], Field]]:
    """Every place in a request that one of the form's fields describes."""
    found = [(path, form)] if path else []
    if isinstance(form, Group) and isinstance(request, dict):
        for name, field in sorted(form.fields.items()):
            found += steps(field, request.get(name), (*path, name))
    if isinstance(form, Listing) and isinstance(request, list) and not isinstance(form.of, Checked):
        for place, item in enumerate(request):
            found += steps(form.of, item, (*path, place))
    return found


@functools.cache
def known_requests(calculation: str) -> st.SearchStrategy[Any]:
    """The sample requests of a calculation, to be copied before they are changed."""
    return st.sampled_from([entry["request"] for entry in samples(calculation)])


@st.composite
def near_samples(draw: st.DrawFn, calculation: str) -> Any:
    """A known request of which a few places were typed anew; in contrast to `groups` it mostly gets to the physics."""
    request = copy.deepcopy(draw(known_requests(calculation)))
    for _ in range(draw(st.integers(0, 3))):
        places = steps(CALCULATIONS[calculation].form, request)
        if not places:
            break
        # Single values more often than whole groups, which hardly ever fit the rest.
        single = [place for place in places if not isinstance(place[1], (Group, Listing))]
        path, field = draw(st.sampled_from(single * 4 + places))
        new = values(field)
        known = got(request, path)
        if isinstance(known, (int, float)) and not isinstance(known, bool):
            new = st.one_of(*[around(known)] * 3, new)
        # Copied, since what is drawn may be shared between requests and is changed by the next round.
        put(request, path, copy.deepcopy(draw(new)), draw(st.integers(0, 19)) == 0)
    return request


def around(known: float) -> st.SearchStrategy[Any]:
    """Values a little off a known one, whole where that is whole."""
    if isinstance(known, int):
        return st.integers(known - 2, known + 2)
    return st.floats(0.9, 1.1).map(lambda factor: known * factor)


def got(request: Any, path: tuple[Any, ...]) -> Any:
    """What is at one place of a request; None where there is nothing."""
    for step in path:
        try:
            request = request[step]
        except (KeyError, IndexError, TypeError):
            return None
    return request


def put(request: Any, path: tuple[Any, ...], value: Any, drop: bool) -> None:
    """Set one place of a request, or take it away; a place whose parents are missing is left alone."""
    parent = got(request, path[:-1])
    if isinstance(parent, dict) and drop:
        parent.pop(path[-1], None)
    elif isinstance(parent, dict) or (isinstance(parent, list) and path[-1] < len(parent)):
        parent[path[-1]] = value
