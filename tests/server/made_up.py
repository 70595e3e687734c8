"""Requests made up from the interface's own OpenAPI document, by Schemathesis: any request that the document allows.

Making them up takes longer than answering them, and depends on nothing but the program, so they are kept until that
changes.
"""

import hashlib
import json
import pickle
from collections.abc import Iterator
from importlib.metadata import version
from pathlib import Path
from typing import Any

import schemathesis
from filelock import FileLock
from hypothesis import HealthCheck, given, settings
from schemathesis.core import NotSet
from schemathesis.core.result import Ok

from .processes import ROOT

# Beside what Hypothesis itself keeps, which git passes over.
KEPT = ROOT / ".hypothesis" / "made_up"
# What a request is made of but for its operation, which cannot be kept.
PARTS = (
    "method",
    "path_parameters",
    "headers",
    "cookies",
    "query",
    "body",
    "media_type",
    "multipart_content_types",
)
Case = schemathesis.Case[Any]
# Label of an operation, and the parts of a request to it.
Kept = list[tuple[str, dict[str, Any]]]


def operations_of(document: Any) -> Iterator[Any]:
    """Each operation of a document; AssertionError if it describes one that cannot be asked."""
    for operation in document.get_all_operations():
        assert isinstance(operation, Ok)
        yield operation.ok()


def make_up(operation: Any, most: int) -> Kept:
    """As many requests for an operation as are wanted, or all that there are."""
    made: Kept = []

    @settings(max_examples=most, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True)
    @given(case=operation.as_strategy())
    def keep(case: Case) -> None:
        parts = {part: getattr(case, part) for part in PARTS}
        made.append((operation.label, {part: said for part, said in parts.items() if not isinstance(said, NotSet)}))

    keep()
    return made


def fingerprint(document: Any, most: int) -> str:
    """A hash that changes with all that requests are made up of: literals of the program are tried as well."""
    makers = [f"{name} {version(name)}" for name in ("hypothesis", "schemathesis")]
    found = hashlib.sha256(json.dumps([document.raw_schema, most, makers]).encode())
    for file in [Path(__file__), *sorted(Path(ROOT, "server").rglob("*.py"))]:
        found.update(file.read_bytes())
    return found.hexdigest()[:16]


def made_up(document: Any, most: int) -> Kept:
    """So many requests for every operation, from the kept file; the first who asks makes them up."""
    KEPT.mkdir(parents=True, exist_ok=True)
    file = KEPT / f"{fingerprint(document, most)}.pickle"
    with FileLock(KEPT / "lock"):
        if not file.is_file():
            made = [row for operation in operations_of(document) for row in make_up(operation, most)]
            for old in KEPT.glob("*.pickle"):
                old.unlink()
            file.write_bytes(pickle.dumps(made))
        kept: Kept = pickle.loads(file.read_bytes())
    return kept


def cases(document: Any, kept: Kept) -> dict[str, list[Case]]:
    """What is asked of each of a document's operations, by their labels."""
    operations = {operation.label: operation for operation in operations_of(document)}
    cases_by_label: dict[str, list[Case]] = {label: [] for label in operations}
    for label, parts in kept:
        if label in operations:
            cases_by_label[label].append(operations[label].Case(**parts))
    return cases_by_label


def spread(all_cases: list[Case], most: int) -> list[Case]:
    """As many of them as are wanted, early ones and late ones: Hypothesis begins with what is simple."""
    count = min(most, len(all_cases))
    return [all_cases[number * len(all_cases) // count] for number in range(count)]
