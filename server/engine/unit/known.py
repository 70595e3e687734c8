"""What is known of a unit: the sections of its definition, what each opens, and the one sentence for what is missing.

Nobody knows everything about a unit on the first day. A definition holds what is known; what needs more says so.
"""

from typing import Any, NamedTuple

from ..request.errors import BadInput, inside
from ..request.letters import listed, with_capital

Section = NamedTuple(
    "Section",
    [
        # Its name: for all but the limits that of the definition's field.
        ("name", str),
        # The first of its fields, which is where it is filled in.
        ("field", str),
        # What it is called in a sentence.
        ("words", str),
    ],
)

LIMITS = "limits"

# In the order in which they are usually got to know.
SECTIONS = [
    Section(LIMITS, "service.low_nm", "a lowest torque or the torque ordered"),
    Section("chain", "chain", "the plates and rings"),
    Section("spring", "spring.de_mm", "the disc spring's sizes"),
    Section("cavity_mm", "cavity_mm", "the depth from cover face to floor"),
    Section("friction", "friction.inner_mm", "the plates' rubbing ring"),
    Section("ramps", "ramps.pin_radius_mm", "the ramps' radius and angles"),
    Section("cover", "cover.screws", "the cover screws"),
]

# What the preload is worked out from, and what the torque is.
PRELOAD = ("chain", "spring", "cavity_mm")
TORQUE = ("chain", "spring", "cavity_mm", "friction")
LOCK = ("chain", "spring", "cavity_mm", "friction", "ramps")
# What makes a torque of a force, and what the lock is worked out from where a torque was measured: preload is in that.
PACKS = ("chain", "friction")
LOCK_MEASURED = ("chain", "friction", "ramps")
SCREWS = ("chain", "spring", "cavity_mm", "cover")

Ability = NamedTuple(
    "Ability",
    [
        ("name", str),
        # The beginning of the sentence that says what it needs.
        ("subject", str),
        # Names of the sections that it needs, and those that are enough once a torque was measured.
        ("needs", Any),
        ("measured", Any),
        # What it gives, as a sentence lists it.
        ("gives", str),
    ],
)

ABILITIES = [
    Ability(
        "check",
        "A verdict on the torque",
        (LIMITS,),
        (LIMITS,),
        "torque checks with a verdict, the trend, when it is due",
    ),
    Ability("stack", "The stack", ("chain",), ("chain",), "a verdict on each plate, the stack drawn, sliding faces"),
    Ability(
        "spring",
        "The spring's curve",
        ("spring",),
        ("spring",),
        "the spring's curve and danger zones, checks of its height",
    ),
    Ability("preload", "The force at the vice", PRELOAD, PRELOAD, "crush, preload and the force at the vice"),
    Ability(
        "torque",
        "The torque worked out from the parts",
        TORQUE,
        PRELOAD,
        "the torque by the parts, a plan, where it went",
    ),
    Ability("lock", "The lock", LOCK, LOCK_MEASURED, "the lock on drive and coast, traction"),
    Ability("screws", "What the screws hold", SCREWS, SCREWS, "what the screws hold, their torque at each step"),
]


def has_limits(definition: dict[str, Any]) -> bool:
    """Whether a definition has a torque ordered, or a limit for running; a torque of 0 limits nothing."""
    service = definition.get("service") or {}
    return definition.get("order") is not None or bool(service.get("low_nm") or service.get("high_nm"))


def is_known(definition: dict[str, Any], section: str) -> bool:
    """Whether a section of a definition is filled in."""
    return has_limits(definition) if section == LIMITS else definition.get(section) is not None


def missing(definition: dict[str, Any], needs: Any) -> list[Section]:
    """Those sections among `needs` that a definition does not have, in their usual order."""
    return [section for section in SECTIONS if section.name in needs and not is_known(definition, section.name)]


def explain_missing(subject: str, sections: list[Section]) -> str:
    """What something needs, in one sentence.

    >>> explain_missing("The lock", [SECTIONS[3]])
    'The lock needs the depth from cover face to floor: add it to the unit.'
    """
    them = "them" if len(sections) > 1 or sections[0].name in ("chain", "spring", "ramps", "cover") else "it"
    return f"{subject} needs {listed([section.words for section in sections])}: add {them} to the unit."


def require(definition: dict[str, Any], needs: Any, subject: str, path: str) -> None:
    """Refuse a definition that lacks what is needed.

    Parameters
    ----------
    definition : dict
        A unit's definition, checked, at `path` of a request.
    needs : sequence of str
        Names of sections.
    subject : str
        What needs them: the beginning of the sentence.
    path : str
        Path of the definition.

    Raises
    ------
    BadInput
        At the field in which the first of what is missing is filled in.
    """
    sections = missing(definition, needs)
    if sections:
        raise BadInput(inside(path, sections[0].field), explain_missing(subject, sections))


def needs_of(ability: Ability, measured: bool) -> Any:
    """Names of the sections that an ability needs, with a torque `measured` or without."""
    return ability.measured if measured else ability.needs


def lacks_of(definition: dict[str, Any], measured: bool = False) -> list[dict[str, str]]:
    """What cannot be done yet: name of the ability, field at which to go on, and the sentence.

    `measured` tells whether a torque of the unit as it is built was measured, which some of it can do with.
    """
    rows = []
    for ability in ABILITIES:
        sections = missing(definition, needs_of(ability, measured))
        if sections:
            text = explain_missing(ability.subject, sections)
            rows.append({"name": ability.name, "field": sections[0].field, "text": text})
    return rows


def title_of(section: Section) -> str:
    """What a section is called at the head of a line."""
    return with_capital(section.words)


def sections_of(definition: dict[str, Any]) -> list[dict[str, Any]]:
    """Every section, known or not: its name, field and title, whether it is known, and what it gives.

    Of what a section gives only together with others, the first is said, and nothing where it gives something already.
    """
    rows = []
    for section in SECTIONS:
        row: dict[str, Any] = {"name": section.name, "field": section.field, "title": title_of(section)}
        row["known"] = is_known(definition, section.name)
        row["gives"] = gives_in_words(definition, section)
        rows.append(row)
    return rows


def gives_in_words(definition: dict[str, Any], section: Section) -> str:
    """What a section gives, in one sentence: the first two things, of all that hang on it.

    >>> gives_in_words({}, SECTIONS[3])
    "Crush, preload and the force at the vice, together with the plates and rings and the disc spring's sizes."
    """
    needing = [ability for ability in ABILITIES if section.name in ability.needs]
    lacking = [
        [row.words for row in missing(definition, ability.needs) if row.name != section.name] for ability in needing
    ]
    texts = [ability.gives for ability, others in zip(needing, lacking) if not others]
    if not texts:
        texts = [f"{needing[0].gives}, together with {listed(lacking[0])}"]
    text = "; ".join(texts[:2])
    return with_capital(text) + "."


def opens_of(definition: dict[str, Any], measured: bool = False) -> list[dict[str, Any]]:
    """What each section that is not known yet would open: its name, its field, a title, whether at once, and a text.

    Of what a section opens only together with others, the first is said. `measured` as in `lacks_of`.
    """
    rows = []
    for section in missing(definition, [section.name for section in SECTIONS]):
        at_once, later = [], []
        for ability in ABILITIES:
            needs = needs_of(ability, measured)
            others = [other for other in missing(definition, needs) if other.name != section.name]
            if section.name in needs and not others:
                at_once.append(ability.gives)
            elif section.name in needs:
                later.append(f"with {listed([other.words for other in others])}: {ability.gives}")
        title = title_of(section)
        opens = {"name": section.name, "field": section.field, "title": title, "at_once": bool(at_once)}
        opens["text"] = f"{title}: {'; '.join(at_once + later[:1])}."
        rows.append(opens)
    return rows
