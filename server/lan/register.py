"""What is known of who may come in: devices and their tokens, codes, calendars' addresses and how much was sent today.

`files` keeps it in a folder, for one workshop and one process; `postgres` keeps it in a database, for many workshops
and as many processes as serve them. All else goes by what is said here, and the same tests hold for both.
"""

import hashlib
import secrets
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Protocol

TRACKSIDE = "trackside"
BENCH = "bench"
ROLES = (TRACKSIDE, BENCH)

TOKEN_BYTES = 32
# People see when a device was last here; that is not worth a write at every request.
SEEN_EVERY = timedelta(hours=1)
# The same for calendars, which ask by themselves.
READ_EVERY = timedelta(hours=6)
MOST_FEEDS = 100
TOO_MANY_FEEDS = f"{MOST_FEEDS} calendars read what is due already: withdraw those that are no longer used."
# How many bytes a device may send in a day, by what is written to: far more than a busy day's entries, and some
# hundred photos.
MOST_BYTES_A_DAY = {"log": 50 * 1000 * 1000, "photos": 500 * 1000 * 1000}


@dataclass(frozen=True)
class Device:
    """A paired device.

    Attributes
    ----------
    id : str
        UUID.
    name : str
        What its owner calls it.
    role : str
        One of `ROLES`.
    token_sha256 : str
        SHA-256 of its token, in hexadecimal. A token has 256 random bits, so a slower hash is not needed.
    paired, seen, revoked : str
        When it was paired, last seen and shut out, in ISO 8601; `revoked` is empty while it may come in.
    """

    id: str
    name: str
    role: str
    token_sha256: str
    paired: str
    seen: str
    revoked: str = ""


@dataclass(frozen=True)
class Feed:
    """A secret address under which a calendar program reads what is due.

    Such a program can show no token, so the address itself is the secret. It opens nothing but the dates.

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


def make_token() -> str:
    """A new token, which nobody can guess."""
    return secrets.token_urlsafe(TOKEN_BYTES)


def hash_token(token: str) -> str:
    """The hash that is kept of a token."""
    return hashlib.sha256(token.encode()).hexdigest()


def utc_now() -> datetime:
    """The time now, in UTC."""
    return datetime.now(UTC)


def time_as_text(time: datetime) -> str:
    """A time as devices and feeds have it.

    >>> time_as_text(datetime(2026, 11, 25, 9, 30, 12, 345678, UTC))
    '2026-11-25T09:30:12+00:00'
    """
    return time.astimezone(UTC).isoformat(timespec="seconds")


def is_due_again(noted: str, now: datetime, interval: timedelta) -> bool:
    """Whether it is time to note again that somebody was here; `noted` is when that was last noted, empty if never."""
    return not noted or now - datetime.fromisoformat(noted) >= interval


class Devices(Protocol):
    """The paired devices of a workshop: their names, their roles, and the hashes of their tokens."""

    def all(self) -> list[Device]:
        """Every device, the newest first; those that were shut out come last."""

    def add(self, name: str, role: str) -> tuple[Device, str]:
        """Add a device; returns it and its token, which cannot be read again."""

    def note_seen(self, device: Device) -> None:
        """Note that a device was here now, at most once in `SEEN_EVERY`; a full disk keeps nobody from reading."""

    def rename(self, id: str, name: str) -> Device | None:
        """Give a device another name; returns it, or None if there is no such device."""

    def revoke(self, id: str) -> Device | None:
        """Shut a device out; returns it, or None if there is no such device."""


class Pairing(Protocol):
    """At most one open code of a workshop, for one device.

    Wrong tries are counted by address, so that a guesser locks nobody else out. A new code gives everybody new tries,
    since only the bench can make one. The limit for all addresses together stops a guesser who has many of them:
    `MOST_IN_ALL` tries are fewer than one in 600 million of a code's 30^8 values.
    """

    def open(self, role: str) -> str:
        """Make a code for a role, valid for `CODE_VALID_S`; an earlier code that is still open becomes invalid.

        Returns
        -------
        str
            The code as it is shown.
        """

    def use(self, typed: str, address: str) -> str:
        """Use the code up.

        Parameters
        ----------
        typed : str
            The code as it was typed.
        address : str
            The IP address of the device on which it was typed.

        Returns
        -------
        str
            The role for which the code was made.

        Raises
        ------
        PairingLocked, PairingClosed, WrongCode
            The device is not let in.
        """


class SentAmounts(Protocol):
    """How much each device of a workshop sends in a day, so that one that went wrong fills neither log nor disk.

    It may be forgotten when the server starts anew.
    """

    def count(self, device_id: str, target: str, size: int) -> bool:
        """Count what a device sends; returns False if that would be more than it may send in a day, and counts nothing.

        Parameters
        ----------
        device_id : str
            The device.
        target : str
            What it writes to: a key of `MOST_BYTES_A_DAY`; for anything else there is no limit.
        size : int
            How much it sends, in bytes.
        """


class Feeds(Protocol):
    """The secret addresses of a workshop: one for each calendar, each withdrawn by itself."""

    def all(self) -> list[Feed]:
        """Every address that still counts, the newest first."""

    def add(self, name: str) -> tuple[Feed, str]:
        """Make an address; returns it and its secret part, which cannot be read again.

        Raises
        ------
        LogFault
            There are too many, or it cannot be written.
        """

    def note_read(self, feed: Feed) -> None:
        """Note that an address was read now, at most once in `READ_EVERY`."""

    def withdraw(self, id: str) -> Feed | None:
        """Withdraw an address for good; returns it, or None if there is no such address."""


class Register(Protocol):
    """Who may come into one workshop."""

    @property
    def devices(self) -> Devices:
        """Its devices."""

    @property
    def pairing(self) -> Pairing:
        """Its open code."""

    @property
    def amounts(self) -> SentAmounts:
        """What its devices have sent today."""

    @property
    def feeds(self) -> Feeds:
        """Its calendars."""


class Guesses(Protocol):
    """How often wrong tokens and codes came lately, from all devices together."""

    def count(self) -> int:
        """Count a wrong guess; returns how many there were within `pacing.GUESSES_WITHIN_S`, this one too."""


class Registers(Protocol):
    """The registers of every workshop of a store. A workshop is known by its number, and by None where there is one."""

    @property
    def guesses(self) -> Guesses:
        """Wrong guesses."""

    def register_of(self, workshop: int | None) -> Register:
        """The register of a workshop."""

    def find_device(self, token: str) -> tuple[int | None, Device] | None:
        """The device with this token and its workshop, also if it was shut out; None if there is none."""

    def find_feed(self, secret: str) -> tuple[int | None, Feed] | None:
        """The address with this secret part and its workshop; None if there is none or it was withdrawn."""

    def find_workshop(self, code: str) -> int | None:
        """The workshop whose code this may be, going by how the code begins.

        Raises
        ------
        PairingClosed
            It is no workshop's.
        """
