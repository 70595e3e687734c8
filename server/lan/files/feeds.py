"""The calendars' addresses of a data folder, in one small file."""

import json
import threading
import uuid
from contextlib import suppress
from dataclasses import asdict, replace
from pathlib import Path

from ...log import LogFault
from .. import private
from ..register import (
    MOST_FEEDS,
    READ_EVERY,
    TOO_MANY_FEEDS,
    Feed,
    hash_token,
    is_due_again,
    make_token,
    time_as_text,
    utc_now,
)

FEEDS_FILE = "feeds.json"


class FolderFeeds:
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
        self.path = folder / FEEDS_FILE
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

    def keep(self, feed: Feed) -> Feed:
        """Keep an address, first in the file and then in memory."""
        by_id = {**self.by_id, feed.id: feed}
        private.make_folder(self.path.parent)
        private.write(self.path, json.dumps({"feeds": [asdict(row) for row in by_id.values()]}, indent=1).encode())
        self.by_id = by_id
        return feed

    def all(self) -> list[Feed]:
        """Every address that still counts, the newest first."""
        current = [feed for feed in self.by_id.values() if not feed.withdrawn]
        return sorted(current, key=lambda feed: feed.made, reverse=True)

    def add(self, name: str) -> tuple[Feed, str]:
        """Make an address; returns it and its secret part, which cannot be read again.

        Raises
        ------
        LogFault
            There are too many, or it cannot be written.
        """
        token = make_token()
        with self.lock:
            if len(self.all()) >= MOST_FEEDS:
                raise LogFault(TOO_MANY_FEEDS)
            return self.keep(Feed(str(uuid.uuid4()), name, hash_token(token), time_as_text(utc_now()))), token

    def note_read(self, feed: Feed) -> None:
        """Note that an address was read now."""
        now = utc_now()
        if is_due_again(feed.seen, now, READ_EVERY):
            # A full disk must not keep anybody from reading.
            with suppress(LogFault), self.lock:
                self.keep(replace(self.by_id[feed.id], seen=time_as_text(now)))

    def withdraw(self, id: str) -> Feed | None:
        """Withdraw an address for good; returns it, or None if there is no such address."""
        with self.lock:
            feed = self.by_id.get(id)
            if feed is None or feed.withdrawn:
                return None
            return self.keep(replace(feed, withdrawn=time_as_text(utc_now())))
