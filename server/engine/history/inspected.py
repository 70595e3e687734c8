"""What was found last of each feature that a unit's definition lists, and how it went since its part was replaced.

A rebuild replaces only what it names: whatever else was found of a part counts until somebody looks at it again.
"""

from typing import Any

from ..doubt.verdict import ORDER
from ..records.marked_exchange import rows_in
from ..unit.features import FEATURE_PARTS
from ..unit.marked_parts import IN_STACK, key_of
from .gauged import newest_rows
from .limits_today import feature_today
from .tightened import Tightened, counted_row, is_counted
from .timeline import of_kind, since

FIGURES = ("lowest_mm", "highest_mm", "guard_mm", "low_mm", "high_mm", "change_mm", "uses")

NEVER = "Not inspected yet."
REPLACED = "Replaced, and not inspected since."


def exchanged_in(rebuild: dict[str, Any], features: list[dict[str, Any]]) -> dict[str, dict[str, Any]]:
    """The features whose part a rebuild exchanged for a marked one, each with its row.

    A row that names a feature of its part as its place is about that feature alone. A ring that came or went says
    nothing of what is inspected of both rings.
    """
    found: dict[str, dict[str, Any]] = {}
    for row in rows_in(rebuild["body"]):
        if row["part"] not in IN_STACK:
            names = [feature["name"] for feature in features if feature["part"] == row["part"]]
            alone = [name for name in names if key_of(name) == key_of(row["place"])]
            for name in alone or ([] if row["part"] == "other" else names):
                found[name] = row
    return found


def replaced_in(live: list[dict[str, Any]], features: list[dict[str, Any]]) -> dict[str, list[dict[str, Any]]]:
    """For each feature the rebuilds that say that its part was replaced, in order of time."""
    renewed: dict[str, list[dict[str, Any]]] = {}
    for entry in of_kind(live, "rebuild"):
        replaced = entry["body"].get("replaced") or []
        exchanged = exchanged_in(entry, features)
        for name in replaced + [each for each in sorted(exchanged) if each not in replaced]:
            renewed.setdefault(name, []).append(entry)
    return renewed


def rows_named(checks: list[dict[str, Any]], name: str) -> list[tuple[dict[str, Any], dict[str, Any]]]:
    """Every inspection's row of a feature, with its entry, in order of time."""
    return [(entry, row) for entry in checks for row in entry["shown"].get("features", []) if row["name"] == name]


def trend_of_feature(checks: list[dict[str, Any]], name: str) -> list[dict[str, Any]]:
    """How a feature went, by inspection: those that have a figure, in order of time."""
    points = []
    for entry, row in rows_named(checks, name):
        if row.get("lowest_mm") is not None or row.get("uses") is not None:
            point = {figure: row.get(figure) for figure in ("lowest_mm", "highest_mm", "guard_mm", "uses", "verdict")}
            point["id"], point["at"] = entry["id"], entry["at"]
            points.append(point)
    return points


def inspected_now(
    live: list[dict[str, Any]], defined: dict[str, Any] | None, whys: list[str] | None = None
) -> list[dict[str, Any]]:
    """What stands of each feature of a definition, in its order.

    Parameters
    ----------
    live : list of dict
        Entries that stand, in order of time.
    defined : dict or None
        The definition in SI; nothing stands of a feature that it has no longer.
    whys : list of str, optional
        Gets a sentence for each row that stands because nobody can tell which was last.

    Returns
    -------
    list of dict
        name, part, measure; verdict and reason, verdict None where it has no limit, was never inspected or not since
        its part was replaced; the figures of `FIGURES`; at and id of the inspection, None without; at_closing, what
        whoever closes the unit has to know of screws, blank for nothing; trend, since its part was replaced. Screws
        that the log counts are judged by it, whether or not somebody inspected them: see `counted_row`.
    """
    features = (defined or {}).get("features") or []
    if not features:
        return []
    checks, renewed = of_kind(live, "inspection"), replaced_in(live, features)
    newest = newest_rows(checks, "features", "name", renewed, whys)
    by_id = {entry["id"]: entry for entry in checks}
    answer = []
    for feature in features:
        name = feature["name"]
        rebuilds = renewed.get(name, [])
        row: dict[str, Any] = dict.fromkeys(FIGURES)
        row.update({"name": name, "part": feature["part"], "measure": feature["measure"], "at": None, "id": None})
        row.update({"verdict": None, "reason": REPLACED if rebuilds else NEVER})
        if name in newest:
            last = newest[name]
            found = [each for _, each in rows_named([by_id[last["id"]]], name)][-1]
            row.update({"verdict": last["verdict"], "reason": last["reason"]})
            row.update({"at": last["at"], "id": last["id"]})
            row.update({figure: found.get(figure) for figure in FIGURES})
            row = feature_today(row, feature, by_id[last["id"]])
        row["at_closing"] = ""
        if is_counted(feature):
            stands = by_id.get(row["id"])
            row.update(counted_now(live, features, feature, rebuilds[-1] if rebuilds else None, stands, row["uses"]))
        row["trend"] = trend_of_feature(since(checks, rebuilds[-1] if rebuilds else None), name)
        answer.append(row)
    return answer


def counted_now(
    live: list[dict[str, Any]],
    features: list[dict[str, Any]],
    feature: dict[str, Any],
    fitted: dict[str, Any] | None,
    inspected: dict[str, Any] | None,
    typed: int | None,
) -> dict[str, Any]:
    """What stands of screws that the log counts, since the rebuild that fitted them: see `counted_row`."""
    marked = None if fitted is None else exchanged_in(fitted, features).get(feature["name"])
    before = 0 if marked is None else marked["uses"]
    return counted_row(feature, Tightened(live, feature["counted"]), fitted, before, inspected, typed)


def judged_of(features: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Those that have a verdict."""
    return [row for row in features if row["verdict"] is not None]


def judged_parts(features: list[dict[str, Any]]) -> list[tuple[str, str]]:
    """Each part with the worst verdict on it, as sentences name it: one that has no kind goes by its feature's name.

    >>> crack = {"name": "Case cracks", "part": "case", "verdict": "go"}
    >>> judged_parts([crack, {"name": "Case bore", "part": "case", "verdict": "replace"}])
    [('case', 'replace')]
    """
    worst: dict[str, str] = {}
    for row in judged_of(features):
        name = row["name"] if row["part"] == "other" else FEATURE_PARTS[row["part"]]
        worst[name] = max(worst.get(name, ORDER[0]), row["verdict"], key=ORDER.index)
    return [(name, worst[name]) for name in sorted(worst)]
