"""Of a unit's entries a digest, by which a phone and the log find out whether both have the same."""

import hashlib
from collections.abc import Iterable


def digest_of(ids: Iterable[tuple[str, int]]) -> str:
    """SHA-256 of a line `id number` for each of a unit's entries, in the order of ids: phones make it of theirs."""
    lines = [f"{entry_id} {seq}\n" for entry_id, seq in sorted(ids)]
    return hashlib.sha256("".join(lines).encode()).hexdigest()
