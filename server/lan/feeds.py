"""Secret addresses under which a calendar program reads what is due: one for each device, each withdrawn by itself.

A calendar program can show no token, so the address itself is the secret. It opens nothing but the dates.
"""

import hmac
import json
import secrets
import threading
import uuid
from contextlib import suppress
from dataclasses import asdict, dataclass, replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

from ..log import LogFault
from . import private
from .devices import TOKEN_BYTES, hash_token

FILE = "feeds.json"
MOST = 100
# People see when a calendar last asked; that is not worth a write at each time.
SEEN_EVERY = timedelta(hours=6)


@dataclass(frozen=True)
class Feed:
    """An address that was given out.

    Attributes
    ----------
    id : str
        UUID, which is no secret.
    name : str
        Whose calendar it is for.
    token_sha256 : str
        SHA-256 of the secret part of the address, which has 256 random bits.
    made, seen, withdrawn : str
        When it was made, last read and withdrawn, in ISO 8601; empty if never.
    """

    id: str
    name: str
    token_sha256: str
    made: str
    seen: str = ""
    withdrawn: str = ""


class Feeds:
    """Every address, in one small file.

    Parameters
    ----------
    folder : Path
        The data folder's `lan`; made when the first address is.

    Raises
    ------
    LogFault
        The file exists and cannot be read.
    """

    def __init__(self, folder: Path) -> None:
        self.path = folder / FILE
        self.lock = threading.Lock()
        self.by_id: dict[str, Feed] = {feed.id: feed for feed in self.read()}

    def read(self) -> list[Feed]:
        """The addresses in the file; none if there is no file."""
        try:
            return [Feed(**fields) for fields in json.loads(self.path.read_bytes())["feeds"]]
        except FileNotFoundError:
            return []
        except (OSError, ValueError, KeyError, TypeError) as failure:
            raise LogFault(
                f"The calendars' addresses in {self.path} cannot be read: remove the file, and give new ones out."
            ) from failure

    def put(self, feed: Feed) -> Feed:
        """Keep an address, first in the file and then in memory."""
        by_id = {**self.by_id, feed.id: feed}
        private.make_folder(self.path.parent)
        private.write(self.path, json.dumps({"feeds": [asdict(row) for row in by_id.values()]}, indent=1).encode())
        self.by_id = by_id
        return feed

    def all(self) -> list[Feed]:
        """Every address that still counts, the newest first."""
        standing = [feed for feed in self.by_id.values() if not feed.withdrawn]
        return sorted(standing, key=lambda feed: feed.made, reverse=True)

    def add(self, name: str) -> tuple[Feed, str]:
        """Make an address; returns it and its secret part, which cannot be read again.

        Raises
        ------
        LogFault
            There are too many, or it cannot be written.
        """
        token = secrets.token_urlsafe(TOKEN_BYTES)
        with self.lock:
            if len(self.all()) >= MOST:
                raise LogFault(f"{MOST} calendars read what is due already: withdraw those that are no longer used.")
            made = datetime.now(UTC).isoformat(timespec="seconds")
            return self.put(Feed(str(uuid.uuid4()), name, hash_token(token), made)), token

    def of_token(self, token: str) -> Feed | None:
        """The address with this secret part, noted as read now; None if there is none or it was withdrawn."""
        token_sha256 = hash_token(token)
        match = None
        # Every address is compared, so that the time taken gives nothing away.
        for feed in self.by_id.values():
            if hmac.compare_digest(feed.token_sha256, token_sha256) and not feed.withdrawn:
                match = feed
        if match is not None:
            self.note_seen(match)
        return match

    def note_seen(self, feed: Feed) -> None:
        """Note that an address was read now."""
        now = datetime.now(UTC)
        if not feed.seen or now - datetime.fromisoformat(feed.seen) >= SEEN_EVERY:
            # A full disk must not keep anybody from reading.
            with suppress(LogFault), self.lock:
                self.put(replace(self.by_id[feed.id], seen=now.isoformat(timespec="seconds")))

    def withdraw(self, id: str) -> Feed | None:
        """Withdraw an address for good; returns it, or None if there is no such address."""
        with self.lock:
            feed = self.by_id.get(id)
            if feed is None or feed.withdrawn:
                return None
            return self.put(replace(feed, withdrawn=datetime.now(UTC).isoformat(timespec="seconds")))
