"""The paired devices of a workshop, a row each."""

import uuid
from collections.abc import Callable
from contextlib import suppress
from datetime import datetime
from typing import TYPE_CHECKING, Any

from ...log import LogFault
from ..register import SEEN_EVERY, Device, hash_token, is_due_again, make_token, time_as_text, utc_now

if TYPE_CHECKING:
    from ...log.postgres import Database

COLUMNS = "id, name, role, token_sha256, paired, seen, revoked"


def device_of(row: tuple[Any, ...]) -> Device:
    """The device that a row is of."""
    id, name, role, token_sha256, paired, seen, revoked = row
    revoked_at = time_as_text(revoked) if revoked else ""
    return Device(str(id), name, role, token_sha256, time_as_text(paired), time_as_text(seen), revoked_at)


class DatabaseDevices:
    """Every device of a workshop.

    Parameters
    ----------
    database : Database
        The database.
    workshop : int
        The workshop's number.
    now : callable
        Tells the time, with its offset.
    """

    def __init__(self, database: "Database", workshop: int, now: Callable[[], datetime] = utc_now) -> None:
        self.database = database
        self.workshop = workshop
        self.now = now

    def all(self) -> list[Device]:
        """Every device, the newest first; those that were shut out come last."""
        query = f"select {COLUMNS} from device where workshop = %s order by revoked is not null, paired desc"
        with self.database.workshop(self.workshop) as connection:
            return [device_of(row) for row in connection.execute(query, [self.workshop])]

    def add(self, name: str, role: str) -> tuple[Device, str]:
        """Add a device; returns it and its token, which cannot be read again."""
        token = make_token()
        now = self.now()
        row = (str(uuid.uuid4()), name, role, hash_token(token), now, now, None)
        insert = f"insert into device (workshop, {COLUMNS}) values (%s, %s, %s, %s, %s, %s, %s, %s)"
        with self.database.workshop(self.workshop) as connection:
            connection.execute(insert, [self.workshop, *row])
        return device_of(row), token

    def note_seen(self, device: Device) -> None:
        """Note that a device was here now, at most once an hour."""
        now = self.now()
        if is_due_again(device.seen, now, SEEN_EVERY):
            # A full disk must not keep anybody from reading, nor a standby that is away.
            with suppress(LogFault), self.database.workshop(self.workshop) as connection:
                connection.execute("set local synchronous_commit to off")
                connection.execute(
                    "update device set seen = %s where workshop = %s and id = %s", [now, self.workshop, device.id]
                )

    def rename(self, id: str, name: str) -> Device | None:
        """Give a device another name; returns it, or None if there is no such device."""
        return self.change(id, "name = %s", name)

    def revoke(self, id: str) -> Device | None:
        """Shut a device out; returns it, or None if there is no such device."""
        return self.change(id, "revoked = coalesce(revoked, %s)", self.now())

    def change(self, id: str, change: str, value: object) -> Device | None:
        """Change a field of a device; returns it, or None if there is no such device."""
        update = f"update device set {change} where workshop = %s and id = %s returning {COLUMNS}"
        with self.database.workshop(self.workshop) as connection:
            row = connection.execute(update, [value, self.workshop, id]).fetchone()
        return device_of(row) if row else None
