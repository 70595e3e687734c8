"""The registers of all workshops of a database."""

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any

from ..pacing import GUESSES_WITHIN_S
from ..pairing import PairingClosed, split_code
from ..register import MOST_BYTES_A_DAY, Device, Feed, hash_token
from .devices import COLUMNS as DEVICE_COLUMNS
from .devices import DatabaseDevices, device_of
from .feeds import COLUMNS as FEED_COLUMNS
from .feeds import DatabaseFeeds, feed_of
from .pairing import DatabasePairing

if TYPE_CHECKING:
    from ...log.postgres import Database


class DatabaseSentAmounts:
    """What each device of a workshop has sent today; forgotten when the database breaks down."""

    def __init__(self, database: "Database", workshop: int) -> None:
        self.database = database
        self.workshop = workshop

    def count(self, device_id: str, target: str, size: int) -> bool:
        """Count what a device sends; returns False if that would be more than it may send in a day."""
        if target not in MOST_BYTES_A_DAY:
            return True
        if size > MOST_BYTES_A_DAY[target]:
            return False
        # What was sent on an earlier day counts as nothing.
        insert = """
            insert into amount values (%(workshop)s, %(device)s, %(to)s, (now() at time zone 'utc')::date, %(size)s)
            on conflict (workshop, device, target) do update
            set day = excluded.day,
                sent = excluded.sent + case when amount.day = excluded.day then amount.sent else 0 end
            where amount.day <> excluded.day or amount.sent + excluded.sent <= %(most)s
            returning true
        """
        values = {
            "workshop": self.workshop,
            "device": device_id,
            "to": target,
            "size": size,
            "most": MOST_BYTES_A_DAY[target],
        }
        with self.database.workshop(self.workshop) as connection:
            return connection.execute(insert, values).fetchone() is not None


class DatabaseGuesses:
    """Wrong guesses, of all processes together; forgotten when the database breaks down."""

    def __init__(self, database: "Database") -> None:
        self.database = database

    def count(self) -> int:
        """Count a wrong guess; returns how many there were lately."""
        with self.database.nowhere() as connection:
            row = connection.execute("select count_guess(%s)", [GUESSES_WITHIN_S]).fetchone()
        return int(row[0]) if row else 0


@dataclass(frozen=True)
class DatabaseRegister:
    """Who may come into one workshop of a database."""

    database: "Database"
    workshop: int

    @property
    def devices(self) -> DatabaseDevices:
        """Its devices."""
        return DatabaseDevices(self.database, self.workshop)

    @property
    def pairing(self) -> DatabasePairing:
        """Its open code."""
        return DatabasePairing(self.database, self.workshop)

    @property
    def amounts(self) -> DatabaseSentAmounts:
        """What its devices have sent today."""
        return DatabaseSentAmounts(self.database, self.workshop)

    @property
    def feeds(self) -> DatabaseFeeds:
        """Its calendars."""
        return DatabaseFeeds(self.database, self.workshop)


class DatabaseRegisters:
    """The registers of all workshops of a database."""

    def __init__(self, database: "Database") -> None:
        self.database = database

    @cached_property
    def guesses(self) -> DatabaseGuesses:
        """Wrong guesses."""
        return DatabaseGuesses(self.database)

    def register_of(self, workshop: int | None) -> DatabaseRegister:
        """The register of a workshop."""
        assert workshop is not None, "In a database each request is for a workshop."
        return DatabaseRegister(self.database, workshop)

    def find_device(self, token: str) -> tuple[int, Device] | None:
        """The device with this token and its workshop, also if it was shut out; None if there is none."""
        row = self.find_by_hash(f"select workshop, {DEVICE_COLUMNS} from device_of_token(%s)", token)
        return (row[0], device_of(row[1:])) if row else None

    def find_feed(self, secret: str) -> tuple[int, Feed] | None:
        """The address with this secret part and its workshop; None if there is none or it was withdrawn."""
        row = self.find_by_hash(f"select workshop, {FEED_COLUMNS} from feed_of_secret(%s)", secret)
        return (row[0], feed_of(row[1:])) if row else None

    def find_by_hash(self, query: str, secret: str) -> tuple[Any, ...] | None:
        """What the database finds by the hash of a secret: an index is asked, and gives nothing away of 256 bits."""
        with self.database.nowhere() as connection:
            return connection.execute(query, [hash_token(secret)]).fetchone()

    def find_workshop(self, code: str) -> int:
        """The workshop whose code this may be.

        Raises
        ------
        PairingClosed
            The code says no workshop.
        """
        workshop, _ = split_code(code)
        if workshop is None or workshop >= 2**31:
            raise PairingClosed
        return workshop
