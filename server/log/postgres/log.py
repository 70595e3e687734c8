"""The log of one workshop in a database: entries are only ever added, and each is durable before it is acknowledged."""

import json
from collections.abc import Hashable, Iterable
from contextlib import suppress
from datetime import UTC
from functools import cached_property
from pathlib import Path
from types import TracebackType
from typing import Any, NamedTuple, Self

from psycopg import errors

from ..answer import ALREADY_THERE, REFUSED, STORED, Answer, is_same
from ..clock import NEWEST, PcClock
from ..contents import Contents
from ..digest import digest_of
from ..erasing import KIND, Erasures
from ..faults import LogFault
from ..gaps import describe_gaps, without_skipped
from ..identity import Identity
from ..layout import Line
from ..returned import MOST_ROWS, Returned
from ..store import PAGE_BYTES
from ..stored_entry import as_written, with_verdict
from . import erasing
from .address import Connection
from .database import Database, one_value
from .faults import NoWorkshop
from .photos import DatabasePhotos
from .texts import DAMAGED, entry_of, line_of, text_of

WORKSHOP_ROW = (
    "select log_id::text, generation::text, receipt_key, name, demo, gaps, skipped, erased, came_back, timeline "
    "from workshop where id = %s"
)
LAST_NUMBER = "select coalesce(max(seq), 0) from entry where workshop = %s"
# A page is a run of numbers, never the first rows of what is left: that would sort all of it.
PAGE = """
    select seq, said, sum(octet_length(said)) over (order by seq) from entry
    where workshop = %(workshop)s and seq >= %(first)s and seq < %(first)s + %(most)s order by seq
"""
DIGESTS = """
    select unit, encode(sha256(convert_to(ids, 'UTF8')), 'hex') from
    (select unit, string_agg(id::text || ' ' || seq || chr(10), '' order by id) as ids
    from entry where workshop = %s group by unit) as row order by unit
"""
GAPS = """
    select before + 1, seq - 1 from
    (select seq, lag(seq, 1, 0::bigint) over (order by seq) as before from entry where workshop = %s) as row
    where seq > before + 1 order by seq
"""
ADD_ENTRIES = """
    select number, is_new, said_before from add_entries(%b::uuid[], %b::text[], %b::bigint[], %b::text[], %s, %s)
"""
BEGIN_GENERATION = """
    update workshop set generation = %s, skipped = %s, top = greatest(top, %s), timeline = %s where id = %s
"""
NOTE_RETURNED = """
    insert into returned (workshop, generation, source, entries, photos, at) values (%s, %s, %s, %s, %s, now())
    on conflict (workshop, generation, source) do update
    set entries = returned.entries + excluded.entries, photos = returned.photos + excluded.photos, at = now()
"""
DELETE_OLDEST_RETURNED = """
    delete from returned where workshop = %s and (generation, source) in
    (select generation, source from returned where workshop = %s order by at desc, source offset %s)
"""


ADOPT = """
    update workshop set log_id = %s, generation = %s, receipt_key = %s, demo = %s, gaps = %s, skipped = %s,
    top = greatest(top, %s) where id = %s
"""
NOTE_GAPS = """
    update workshop set gaps = given.gaps, generation = coalesce(given.generation::uuid, workshop.generation)
    from (select %s as id, %s as gaps, %s as generation) as given where workshop.id = given.id returning 1
"""
EMPTY_DIGEST = digest_of([])
LOG_CHANGED = "The log was changed from elsewhere just now: send again."
# How often what is to be added is looked at anew.
TRIES = 5


class WorkshopState(NamedTuple):
    """What the row of a workshop says."""

    identity: Identity
    erased: int
    came_back: int
    timeline: str


class DatabaseLog:
    """The log of one workshop; made anew for each request, since it reads the workshop's row once.

    Parameters
    ----------
    database : Database
        Where it is.
    workshop : int
        The workshop.

    Raises
    ------
    LogFault
        It cannot be read, or there is no such workshop.
    """

    def __init__(self, database: Database, workshop: int) -> None:
        self.database, self.workshop = database, workshop
        self.photos = DatabasePhotos(database, workshop)
        self.state = self._read_state()
        database.keep(("gaps", workshop), self._find_gaps)

    def __enter__(self) -> Self:  # noqa: D105
        return self

    def __exit__(self, kind: type[BaseException] | None, value: BaseException | None, at: TracebackType | None) -> None:  # noqa: D105
        self.close()

    def close(self) -> None:
        """Nothing is held between two transactions."""

    def _read_state(self) -> WorkshopState:
        """What the workshop's row says now; a new generation begins first if the server is another than it was."""
        with self.database.workshop(self.workshop) as connection:
            state = self._state_in(connection)
            return state if state.timeline == self.database.timeline else self._begin_anew(connection)

    def _state_in(self, connection: Connection, lock: bool = False) -> WorkshopState:
        """What the workshop's row says; with `lock`, nobody else adds entries until the transaction ends."""
        row = connection.execute((WORKSHOP_ROW + (" for update" if lock else "")).encode(), [self.workshop]).fetchone()
        if row is None:
            raise NoWorkshop("This workshop is not in the database any more.")
        log_id, generation, key, name, demo, gaps, skipped, erased, came_back, timeline = row
        identity = Identity(log_id, generation, key, name, demo, json.loads(gaps), json.loads(skipped))
        return WorkshopState(identity, erased, came_back, timeline)

    def _begin_anew(self, connection: Connection) -> WorkshopState:
        """Begin a new generation, since the server is another, or was played back: phones may have what it lacks."""
        state_before = self._state_in(connection, lock=True)
        if state_before.timeline == self.database.timeline:
            return state_before
        last = one_value(connection, LAST_NUMBER, [self.workshop])
        restored = state_before.identity.restored(last)
        parameters = (restored.generation, json.dumps(restored.skipped), restored.floor, self.database.timeline)
        connection.execute(BEGIN_GENERATION, (*parameters, self.workshop))
        return self._state_in(connection)

    @property
    def identity(self) -> Identity:
        """Which log it is."""
        return self.state.identity

    @property
    def erased(self) -> Hashable:
        """Another value whenever something was erased."""
        return self.state.erased

    @cached_property
    def clock(self) -> PcClock:
        """The clock of the machine on which this process runs, and whether it may be gone by."""

        def start() -> PcClock:
            clock = PcClock()
            with suppress(LogFault):
                clock.start(self.after(max(0, self.last - NEWEST), NEWEST)[0])
            return clock

        clock: PcClock = self.database.keep(("clock", self.workshop), start)
        return clock

    @property
    def problems(self) -> list[str]:
        """What the user must know of: entries that are missing."""
        gaps = [(first, last) for first, last in self.identity.gaps]
        return [describe_gaps(gaps)] if gaps else []

    @cached_property
    def returned(self) -> Returned:
        """What came back to it that it had lost."""
        query = "select generation::text, source, entries, photos, at from returned where workshop = %s order by at"
        rows = [
            {"generation": generation, "source": source, "entries": entries, "photos": photos}
            | {"at": at.astimezone(UTC).isoformat(timespec="seconds")}
            for generation, source, entries, photos, at in self._rows(query)
        ]
        return Returned(rows, self.state.came_back)

    def _rows(self, query: str, *parameters: Any) -> list[tuple[Any, ...]]:
        """The rows of a query about this workshop."""
        with self.database.workshop(self.workshop) as connection:
            return connection.execute(query.encode(), [self.workshop, *parameters]).fetchall()

    def _value(self, query: str, *parameters: Any) -> Any:
        """The only value that a query about this workshop answers; None where it answers nothing."""
        with self.database.workshop(self.workshop) as connection:
            return one_value(connection, query, [self.workshop, *parameters])

    @property
    def last(self) -> int:
        """Number of the newest entry; 0 in an empty log."""
        return int(self._value(LAST_NUMBER))

    def units(self) -> list[str]:
        """Every unit that has entries, in the order of their ids."""
        return [unit for unit in self.states() if unit]

    def states(self) -> dict[str, Hashable]:
        """Of each unit that has entries, and of the shop under "", another value whenever entries of it came."""
        query = "select unit, count(*), max(seq) from entry where workshop = %s group by unit order by unit"
        return {unit: (count, last) for unit, count, last in self._rows(query)}

    def of_unit(self, unit: str) -> list[dict[str, Any]]:
        """All entries of a unit in the order of their numbers; for "", those that belong to no unit."""
        query = "select seq, said from entry where workshop = %s and unit = %s order by seq"
        return [entry_of(seq, text) for seq, text in self._rows(query, unit)]

    def find(self, entry_id: str) -> dict[str, Any] | None:
        """The entry with this id, or None."""
        rows = self._rows("select seq, said from entry where workshop = %s and id = %s::uuid", entry_id)
        return entry_of(*rows[0]) if rows else None

    def known(self, entry_ids: Iterable[str]) -> set[str]:
        """Those of these ids under which the log has entries."""
        ids = list(entry_ids)
        if not ids:
            return set()
        with self.database.workshop(self.workshop) as connection:
            known_ids = self._known_in(connection, ids)
        return {entry_id for entry_id in ids if entry_id.lower() in known_ids}

    def _known_in(self, connection: Connection, ids: list[str]) -> set[str]:
        """Those of these ids that are there, in small letters."""
        query = "select id::text from entry where workshop = %s and id = any (%b::uuid[])"
        return {row[0] for row in connection.execute(query, [self.workshop, ids]).fetchall()}

    def id_of(self, seq: int) -> str:
        """The id of the entry with this number; empty if there is none."""
        return self._value("select id::text from entry where workshop = %s and seq = %s", seq) or ""

    def after(self, seq: int, most: int) -> tuple[list[dict[str, Any]], bool]:
        """The next entries after number `seq`, at most `most` and no more than a page holds; whether more follow."""
        with self.database.workshop(self.workshop) as connection:
            parameters = [self.workshop, seq]
            first = one_value(connection, "select min(seq) from entry where workshop = %s and seq > %s", parameters)
            if first is None:
                return [], False
            rows = connection.execute(PAGE, {"workshop": self.workshop, "first": first, "most": most}).fetchall()
            page = [row for row in rows if row[2] <= PAGE_BYTES] or rows[:1]
            query_for_more = "select exists (select from entry where workshop = %s and seq > %s)"
            has_more = bool(one_value(connection, query_for_more, [self.workshop, page[-1][0]]))
        return [entry_of(number, text) for number, text, _ in page], has_more

    def add(self, entries: list[dict[str, Any]]) -> list[Answer]:
        """Add entries, durable on return: see `Log.add`."""
        if not entries:
            return []
        for _ in range(TRIES):
            with self.database.workshop(self.workshop) as connection:
                answers = self._add_in(connection, entries)
            if answers is not None:
                return answers
            # Something was erased meanwhile, or another server has taken over.
            self.state = self._read_state()
        raise LogFault(LOG_CHANGED)

    def _add_in(self, connection: Connection, entries: list[dict[str, Any]]) -> list[Answer] | None:
        """Add entries in a transaction; None if the workshop's row is no longer as it was read."""
        known_ids = self._known_in(connection, [entry["id"] for entry in entries])
        # What comes under the id of an entry that is there is only compared with it, and may be anything.
        new = {index: entry for index, entry in enumerate(entries) if entry["id"].lower() not in known_ids}
        if any("judged" not in entry and "agrees" not in entry for entry in new.values()):
            # It was known to whoever checked it, and is not to the server that answers now.
            raise LogFault(LOG_CHANGED)
        if any(entry["kind"] == KIND for entry in new.values()):
            self.state = self._state_in(connection, lock=True)
            erasures = erasing.read_erasures(connection, self.workshop, self.identity.key)
            new_erasures = erasing.learn_new(connection, self.workshop, erasures, [*new.values()])
        else:
            erasures, new_erasures = self._erasures(connection), []
        handed = {index: erasures.apply_to(entry) for index, entry in new.items()}
        rows = self._call_add_entries(connection, entries, handed)
        if not rows:
            return None
        answers = []
        for index, (entry, (seq, is_new, text_before)) in enumerate(zip(entries, rows)):
            in_log = with_verdict(as_written(handed[index], seq)) if is_new else entry_of(seq, text_before)
            answer = STORED if is_new else ALREADY_THERE if is_same(in_log, entry) else REFUSED
            answers.append(Answer(answer, in_log))
        if not new_erasures:
            return answers
        erasing.erase(connection, self.workshop, erasures, new_erasures)
        connection.execute("update workshop set erased = erased + 1 where id = %s", [self.workshop])
        self.state = self._state_in(connection)
        # What this very batch brought may have been among what was erased.
        return [answer._replace(entry=erasures.apply_to(answer.entry)) for answer in answers]

    def _call_add_entries(
        self, connection: Connection, entries: list[dict[str, Any]], new: dict[int, dict[str, Any]]
    ) -> list[tuple[Any, ...]]:
        """Hand entries to the function that adds them: the new ones, by their places, with what they say."""
        indexes = range(len(entries))
        ids = [entry["id"] for entry in entries]
        units = [new[index]["unit"] if index in new else None for index in indexes]
        numbers = [new[index].get("seq") if index in new else None for index in indexes]
        texts = [text_of(new[index]) if index in new else None for index in indexes]
        state_read = (self.state.erased, self.database.timeline)
        return connection.execute(ADD_ENTRIES, [ids, units, numbers, texts, *state_read]).fetchall()

    def _erasures(self, connection: Connection) -> Erasures:
        """All erasures of the log as the workshop's row was read; kept by this process until there are more."""
        name, kept_by_name = ("erasures", self.workshop), self.database.kept
        count, key = self.state.erased, self.identity.key
        if name not in kept_by_name or kept_by_name[name][0] != (count, key):
            kept_by_name[name] = ((count, key), erasing.read_erasures(connection, self.workshop, key))
        erasures: Erasures = kept_by_name[name][1]
        return erasures

    def digests(self) -> dict[str, str]:
        """Of each unit, and of the shop under "", a digest of its entries' ids and numbers."""
        return {"": EMPTY_DIGEST, **dict(self._rows(DIGESTS))}

    def ids_of(self, unit: str) -> list[tuple[str, int]]:
        """Id and number of each of a unit's entries."""
        query = "select id::text, seq from entry where workshop = %s and unit = %s order by seq"
        return [(entry_id, seq) for entry_id, seq in self._rows(query, unit)]

    def adopt(self, identity: Identity) -> None:
        """Become another log, of which a backup is brought back: see `Log.adopt`. The workshop keeps its name."""
        parameters = (identity.log_id, identity.generation, identity.key, identity.demo)
        numbers = (json.dumps(identity.gaps), json.dumps(identity.skipped), identity.floor)
        with self.database.workshop(self.workshop) as connection:
            self._state_in(connection, lock=True)
            if one_value(connection, "select exists (select from entry where workshop = %s)", [self.workshop]):
                raise LogFault("This log has entries of its own, and logs are never mixed.")
            try:
                connection.execute(ADOPT, (*parameters, *numbers, self.workshop))
            except errors.UniqueViolation as failure:
                raise LogFault("This log is in the database already, as another workshop.") from failure
        self.state = self._read_state()

    def note_returned(self, source: str, entries: int = 0, photos: int = 0) -> None:
        """Note what a device brought back."""
        add_to_total = "update workshop set came_back = came_back + %s where id = %s"
        with self.database.workshop(self.workshop) as connection:
            connection.execute(add_to_total, [entries, self.workshop])
            connection.execute(NOTE_RETURNED, [self.workshop, self.identity.generation, source, entries, photos])
            connection.execute(DELETE_OLDEST_RETURNED, [self.workshop, self.workshop, MOST_ROWS])
        self._find_gaps()

    def _find_gaps(self) -> bool:
        """Note which entries are missing; begin a new generation if some are that were not known to be."""
        rows = self._rows(GAPS)
        self.state = self._read_state()
        identity = self.identity
        gaps = without_skipped([(first, last) for first, last in rows], identity.skipped)
        runs = [list(gap) for gap in gaps]
        if runs != identity.gaps:
            generation = identity.next_generation(runs).generation if without_skipped(gaps, identity.gaps) else None
            self._rows(NOTE_GAPS, json.dumps(runs), generation)
            self.state = self._read_state()
        return True

    def contents(self) -> Contents:
        """What it holds, read anew as a whole, with what is found damaged on the way."""
        lines: dict[str, list[Line]] = {}
        faults, last = [], 0
        query = "select unit, id::text, seq, said from entry where workshop = %s order by seq"
        with self.database.workshop(self.workshop) as connection, connection.cursor("contents") as rows:
            rows.itersize = 500
            for unit, entry_id, seq, text in rows.execute(query, [self.workshop]):
                line = line_of(seq, text)
                last = seq
                if line is None or (line.id, line.unit) != (entry_id, unit):
                    faults.append(DAMAGED.format(seq=seq))
                else:
                    lines.setdefault(unit, []).append(line)
        self._find_gaps()
        return Contents(last, dict(sorted(lines.items())), [*faults, *self.problems])

    def would_lose(self, _: Path) -> bool:
        """Whether what is kept at this path would be lost with the log itself: a database has no such paths."""
        return False


def log_of(database: Database, workshop: int | None) -> DatabaseLog:
    """The log of a workshop, as it is now.

    Raises
    ------
    LogFault
        No workshop is named, or it is not there.
    """
    if workshop is None:
        raise LogFault("Nobody said which workshop this is about: pair the device.")
    return DatabaseLog(database, workshop)
