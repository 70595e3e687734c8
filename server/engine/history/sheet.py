"""What stands on a unit's sheet, for each of its templates: the screen prints it, and the server draws it as a PDF."""

from typing import Any, NamedTuple

from ..doubt.verdict import WORDS
from ..records.marked_exchange import rows_in
from ..request.fields import Checked, Choice, Day, Group, Listing
from ..request.letters import trimmed, with_capital
from ..request.units import say, unit_labels
from ..request.written_in import with_written_in
from ..unit.features import FEATURE_PARTS, USED
from ..unit.marked_parts import key_of, name_of
from ..unit.sits import CENTRE, sits_in, where_it_sits
from .customers import names_of, owner_of
from .standing import kit_standing, standing

CUSTOMER, WORKSHOP, INSPECTION = "customer", "workshop", "inspection"
TEMPLATES = {
    CUSTOMER: "for the customer: what was ordered, reached and fitted, and what is due",
    WORKSHOP: "for the workshop: the same with hours, parts and what else was found",
    INSPECTION: "a list to be filled in by hand at the next look",
}
TITLES = {CUSTOMER: "Build sheet", WORKSHOP: "Workshop sheet", INSPECTION: "Inspection list"}
VERDICTS = {"go": "GO", "rework": "REWORK", "replace": "REPLACE", "measure_again": "MEASURE AGAIN"}
USUAL_NEXT = "Check torque at each meeting; open it once a season (common practice)."
# A unit between the axles has its own maker's order.
INTO_HOUSING = (
    "Front and rear output shafts each to its own side, end float and screws as its maker says; then turn both shafts "
    "by hand. Screws in cured compound or tightened by angle are not clicked again."
)
INTO_AXLE = (
    "Crown-wheel screws, carrier bearings, backlash, tooth contact; then recheck. Screws in cured compound or "
    "tightened by angle are not clicked again."
)
CAUTION = (
    "A disc spring under load can hurt: hold it closed in a vice before the cover screws are touched. The maker's "
    "figures and the local rules come first."
)
# What an inspection list asks for besides the plates.
BY_HAND = ["Torque forward", "Torque reverse", "Tool", "Calibrated up to", "How held", "Oil, outings"]
BY_HAND += ["Rings, cross pins", "Gears, washers, screws"]
# What is known of the unit and has a row on an inspection list too.
ON_A_LIST = ("Torque", "Checked", "Cover", "Next")
# A longer text goes on in the log; a sheet is one page.
MOST_LETTERS = 600
POINTS = 3
# More features of other parts than this have no room each for itself.
MOST_FEATURES = 12

FORM = Group(
    with_written_in(
        {
            "entries": Listing(Checked("an entry of the log"), 0, 100000, "all entries of the unit", nouns="entries"),
            "shop": Listing(
                Checked("an entry of the log"),
                0,
                100000,
                "the entries that belong to no unit, for the kit",
                default=[],
                nouns="entries",
            ),
            "today": Day("the day on the sheet"),
            "template": Choice(TEMPLATES, "whom the sheet is for", default=CUSTOMER),
        },
        "write_in",
        "write_lengths_in",
    ),
    "a sheet of a unit",
)

Reader = NamedTuple(
    "Reader",
    [
        # Unit of torque and of length that somebody reads in.
        ("nm", str),
        ("mm", str),
    ],
)


def sheet(request: dict[str, Any]) -> dict[str, Any]:
    """What stands on the sheet of a unit.

    Parameters
    ----------
    request : dict
        Checked by `FORM`.

    Returns
    -------
    dict
        sheet: None where there is no definition to go by, else template; name, owner and title; verdict, verdict_text
        and figure, blank on an inspection list; reason and findings; rows, what is known, each with title and text;
        caption, headings and parts of the table of parts, whose blank cells are filled in by hand; stack, from cover to
        floor, slot, part and mm, 0 for a spring; by_hand, what else is filled in by hand; caution.
    """
    known = {"entries": request["entries"], "today": request["today"], "write_in": request["write_in"]}
    found = standing(known)
    if found["built"] is None or not found["derived"] or found["derived"].get("checked") is None:
        return {"sheet": None}
    template, reader = request["template"], Reader(request["write_in"], request["write_lengths_in"])
    by_id = {entry["id"]: entry for entry in request["entries"]}
    newest = {kind: by_id[entry] for kind, entry in found["newest"].items() if entry in by_id}
    shop = kit_standing({"entries": request["shop"], "today": request["today"], "write_in": None})
    rows = check_rows(found, by_id, shop["tools"], reader) + work_rows(found, newest, reader, template)
    rows += build_rows(found, reader) + [("Marked parts", marked_in(found)), ("Other parts", other_parts(found))]
    rows.append(next_row(found))
    inspection = template == INSPECTION
    if inspection:
        rows = [row for row in rows if row[0] in ON_A_LIST]
    headings, parts = parts_of(found, reader, inspection)
    torque, label = found["torque"], unit_labels("mm")[reader.mm]
    answer = {
        "template": template,
        "name": found["unit"]["name"],
        "owner": owner_of(found["unit"], names_of(shop["customers"])),
        "title": f"{TITLES[template]}, {request['today']}",
        "verdict": None if inspection else found["verdict"],
        "verdict_text": "" if inspection else VERDICTS.get(found["verdict"] or "", "not judged"),
        "figure": "" if inspection else torque_in_words(torque, reader),
        "rows": [{"title": title, "text": shorten(text)} for title, text in rows if text],
        "caption": f"Thicknesses in {label}. {found['built']['measured_text']}" if parts else "",
        "headings": headings,
        "parts": [{"cells": cells} for cells in parts],
        "stack": stack_of(found),
        "by_hand": by_hand(found["features"]) if inspection else [],
        "caution": CAUTION,
    }
    answer.update(why(found, template))
    return {"sheet": answer}


def by_hand(features: list[dict[str, Any]]) -> list[str]:
    """What is filled in by hand: a unit that lists features of other parts has each of them, if the page has room."""
    if not features:
        return BY_HAND
    names = [row["name"] for row in features]
    if len(names) > MOST_FEATURES:
        parts = [FEATURE_PARTS[row["part"]] for row in features]
        names = [with_capital(part) for place, part in enumerate(parts) if part not in parts[:place]]
    return BY_HAND[:-1] + names


def other_parts(found: dict[str, Any]) -> str:
    """What stands of the features of other parts, those that were inspected by their verdict."""
    phrases = []
    for row in found["features"]:
        if row["at"] is None or row["measure"] == USED:
            reason = row["reason"].replace(f"{row['name']}: ", "")
            phrases.append(f"{row['name']}: {reason[:1].lower()}{reason[1:-1]}")
        else:
            phrases.append(f"{row['name']}: {WORDS.get(row['verdict'] or '', 'not judged')}, {row['at'][:10]}")
    return "; ".join(phrases)


def why(found: dict[str, Any], template: str) -> dict[str, Any]:
    """Why the verdict is what it is, and what else was found; the workshop reads what its figures rest on too."""
    if template == INSPECTION:
        return {"reason": "", "findings": []}
    texts = [row["text"] for row in found["findings"]]
    if template == WORKSHOP:
        # What was worked out has a row of its own.
        texts += [row["text"] for row in found["built"]["warnings"] if not row["name"].startswith("worked_out")]
    return {"reason": found["reason"], "findings": [text for text in texts if text != found["reason"]]}


def torque_in_words(torque: dict[str, Any] | None, reader: Reader) -> str:
    """The torque that was reached."""
    return say(torque["value_nm"], "nm", reader.nm) if torque and torque["value_nm"] else "not checked"


def shorten(text: str) -> str:
    """A text as far as a sheet has room for it.

    >>> shorten("x" * 700)[-38:]
    'xxxxxx… (the whole text is in the log)'
    """
    return text if len(text) <= MOST_LETTERS else f"{text[:MOST_LETTERS]}… (the whole text is in the log)"


def stack_of(found: dict[str, Any]) -> list[dict[str, Any]]:
    """Place, part and thickness of each part of the stack in order; a spring has none."""
    now = {row["slot"]: row["mm"] or 0.0 for row in found["built"]["places"]}
    chain = found["derived"]["checked"].get("chain") or []
    return [{"slot": part["slot"], "part": part["part"], "mm": now.get(part["slot"], 0.0)} for part in chain]


def limits_in_words(checked: dict[str, Any], reader: Reader) -> str:
    """The torque that a unit was ordered with and its limits for running, in sentences."""
    order, service = checked["order"], checked["service"] or {}
    sentences = []
    if order:
        sentences.append(
            f"Ordered {say(order['torque_nm'], 'nm', reader.nm)} ± {say(order['tolerance_nm'], 'nm', reader.nm)}."
        )
    ends = [say(service[name], "nm", reader.nm) if service.get(name) else "" for name in ("low_nm", "high_nm")]
    low, high = ends
    span = f"from {low} to {high}" if low and high else f"from {low}" if low else f"up to {high}" if high else ""
    if span:
        sentences.append(f"It may run {span}.")
    return " ".join(sentences) or "No torque ordered, no limit given."


def check_rows(
    found: dict[str, Any], by_id: dict[str, Any], kit: list[dict[str, Any]], reader: Reader
) -> list[tuple[str, str]]:
    """What was ordered and what was reached, with which tool."""
    torque, checked = found["torque"], found["derived"]["checked"]
    judged = "steady turning" if checked["judged_on"] == "steady" else "first move"
    held = "case held" if checked["stated_for"] == "case_held" else "one output held"
    rows = [("Torque", f"{limits_in_words(checked, reader)} Judged on {judged}, {held}.")]
    if torque:
        guard = torque.get("guard_nm")
        band = f", guard band {say(guard, 'nm', reader.nm)}" if isinstance(guard, (int, float)) else ""
        reached = f"{torque_in_words(torque, reader)}, " if torque["value_nm"] else ""
        rows.append(("Checked", f"{reached}{torque['at'][:10]} by {torque['who']}{band}"))
        rows.append(("Tool", tool_in_words(by_id[torque["id"]]["body"], kit)))
    return rows


def tool_in_words(body: dict[str, Any], kit: list[dict[str, Any]]) -> str:
    """The tool that a check was read with, and up to when its calibration held."""
    tool = body.get("wrench") or body.get("scale") or {}
    name = tool.get("name")
    if not name:
        return ""
    due = tool.get("calibration_due")
    calibrated = f"its calibration held up to {due}" if due else "no calibration is noted"
    past = [row for row in kit if row["name"] == name and row["overdue"]]
    return f"{name}; {calibrated}{'; by the kit it has run out' if past else ''}"


def work_rows(found: dict[str, Any], newest: dict[str, Any], reader: Reader, template: str) -> list[tuple[str, str]]:
    """What was done at the last rebuild, what was exchanged, and who closed the unit."""
    rows, rebuilt, rebuild = [], found["rebuilt"], newest.get("rebuild")
    if rebuilt:
        rows.append(("Rebuilt", f"{rebuilt['at'][:10]}{' by ' + rebuild['who'] if rebuild else ''}"))
    if rebuild:
        body = rebuild["body"]
        rows += [("Work done", body.get("note") or ""), ("Exchanged", exchanged(found, rebuild, reader))]
        rows += [("Spring, when rebuilt", body.get("spring") or ""), ("Oil", body.get("oil") or "")]
        if template == WORKSHOP:
            rows += [("Hours", typed(body.get("hours"))), ("Cost of the parts", typed(body.get("parts_cost")))]
    closing = newest.get("close")
    if closing:
        rows.append(("Closed", f"{closing['at'][:10]}, signed {closing['body'].get('signed', '')}"))
    return rows


def typed(value: Any) -> str:
    """A figure as it was typed."""
    plain = value.get("typed") if isinstance(value, dict) else value
    return "" if plain is None else str(plain)


def limits_of_places(found: dict[str, Any]) -> dict[str, float | None]:
    """The limit of each place, mm; None where it is common practice only."""
    places = found["built"]["places"]
    return {row["slot"]: None if row["usual_minimum"] else row["minimum_mm"] for row in places}


def exchanged(found: dict[str, Any], rebuild: dict[str, Any], reader: Reader) -> str:
    """The parts that the last rebuild fitted, each with its thickness and its limit."""
    limits = limits_of_places(found)
    phrases = []
    for part in rebuild["shown"]["fitted"]:
        limit = part.get("minimum_mm") or limits.get(part["slot"])
        bound = f" (limit {say(limit, 'mm', reader.mm)})" if limit else ""
        phrases.append(f"{part['slot']} {say(part['mm'], 'mm', reader.mm)}{bound}")
    phrases += [f"{name} replaced" for name in rebuild["body"].get("replaced") or []]
    for row in rows_in(rebuild["body"]):
        went = name_of(row["part"], row["mark"] if key_of(row["mark"]) else "without a mark")
        phrases.append(f"{went} for {trimmed(row['out_mark'])}" if key_of(row["out_mark"]) else went)
    return ", ".join(phrases)


def marked_in(found: dict[str, Any]) -> str:
    """The marked parts that are in a unit, each with its place."""
    phrases = []
    for stay in found["marked_parts"]["stays"]:
        if stay["to_at"] is None:
            place = f" ({stay['place']})" if stay["place"] else ""
            phrases.append(name_of(stay["part"], stay["mark"]) + place)
    return ", ".join(phrases)


def build_rows(found: dict[str, Any], reader: Reader) -> list[tuple[str, str]]:
    """How a unit is built."""
    built, derived = found["built"], found["derived"]
    checked = derived["checked"]
    spring, ramps, cover = [checked.get(name) for name in ("spring", "ramps", "cover")]
    worked_out = built.get("worked_out") or []
    rows = (
        [("Spring", spring_in_words(spring, checked.get("chain") or [], marked(worked_out, "l0_mm"), reader))]
        if spring
        else []
    )
    if built["crush_mm"] is not None:
        rows.append((f"Crush, preload{marked(worked_out, 'cavity_mm')}", crush_in_words(built, derived, reader)))
    if ramps:
        rows.append(("Ramps", ramps_in_words(ramps, checked)))
    faces = derived.get("faces")
    if faces:
        rows.append(("Sliding faces", f"{faces['first']} and {faces['second']}"))
    rows.append(("Worked out, not measured", " ".join([with_basis(row) for row in worked_out])))
    if cover:
        screws = f"{cover['screws']:g} × M{cover['screw_mm']:g}"
        rows.append(("Cover", f"{screws} at {say(cover['torque_nm'], 'nm', reader.nm)}"))
    sits = where_it_sits(checked)
    if sits["text"]:
        rows = [("Sits", sits["text"])] + rows
    if sits["where"] == CENTRE:
        return rows + [("Into its housing", INTO_HOUSING)]
    return rows + [("Into the axle", INTO_AXLE)]


def ramps_in_words(ramps: dict[str, Any], unit: dict[str, Any]) -> str:
    """Both ramp angles, with when each presses."""
    off, on = ("off the throttle", "under power") if sits_in(unit) == CENTRE else ("into a corner", "out of it")
    return f"coast {ramps['coast_deg']:g}° ({off}), drive {ramps['drive_deg']:g}° ({on})"


def with_basis(row: dict[str, Any]) -> str:
    """What was worked out, and from what."""
    return f"{row['text']} From {row['basis']}." if row.get("basis") else row["text"]


def marked(worked_out: list[dict[str, Any]], name: str) -> str:
    """The mark of a figure that was worked out."""
    return " (worked out)" if any(row["name"] == name for row in worked_out) else ""


def spring_in_words(spring: dict[str, Any], chain: list[dict[str, Any]], mark: str, reader: Reader) -> str:
    """The disc spring, and which way its cones face."""
    facing = "".join(
        [f"; {place['slot']}: its point faces the {place['cone_to']}" for place in chain if place.get("cone_to")]
    )
    parallel = spring.get("parallel") or 1
    nested = f", {parallel} nested" if parallel > 1 else ""
    *sizes, height = [spring[name] for name in ("de_mm", "di_mm", "t_mm", "l0_mm")]
    # In millimetres a disc goes by its round figures.
    if reader.mm == "mm":
        written_sizes, high = [f"{size:g}" for size in sizes], f"{height:g} mm"
    else:
        written_sizes, high = [bare(size, reader) for size in sizes], say(height, "mm", reader.mm)
    return f"{' × '.join(written_sizes)}, free height {high}{nested}{mark}{facing}"


def crush_in_words(built: dict[str, Any], derived: dict[str, Any], reader: Reader) -> str:
    """Crush and preload as it is built, and when all was new."""
    preload = "none" if built["preload_n"] is None else say(built["preload_n"], "n")
    crush, force = derived.get("crush_mm"), derived.get("preload_n")
    # An entry of another version may lack what only that version worked out.
    as_new = ""
    if crush is not None and force is not None:
        as_new = f"; {say(crush, 'mm', reader.mm)}, {say(force, 'n')} when new"
    return f"{say(built['crush_mm'], 'mm', reader.mm)}, {preload} with these plates{as_new}"


def next_row(found: dict[str, Any]) -> tuple[str, str]:
    """What is due next."""
    return ("Next", " ".join([row["text"] for row in found["due"]]) or USUAL_NEXT)


def bare(value: float | None, reader: Reader) -> str:
    """A length without its unit, which stands above the table; a stroke for what is not known."""
    return say(value, "mm", reader.mm).split(" ")[0] if value else "–"


def parts_of(found: dict[str, Any], reader: Reader, inspection: bool) -> tuple[list[str], list[list[str]]]:
    """The table of parts: headings, and a row for each place but the springs'; with cells to be filled in on a list."""
    limits = limits_of_places(found)
    headings = ["Place", "Part", "Fitted", "Last" if inspection else "Measured", "Limit"]
    blank = [f"Point {number + 1}" for number in range(POINTS)] + ["Marks"] if inspection else []
    rows = []
    for row in found["built"]["places"]:
        figures = [bare(value, reader) for value in (row["new_mm"], row["lowest_mm"], limits[row["slot"]])]
        rows.append([row["slot"], row["part"]] + figures + [""] * len(blank))
    return headings + blank, rows
