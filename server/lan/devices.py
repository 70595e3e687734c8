"""The paired devices: their names, their roles, and the hashes of their tokens."""

import hashlib
import hmac
import json
import secrets
import threading
import uuid
from collections.abc import Callable
from contextlib import suppress
from dataclasses import asdict, dataclass, replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

from ..log import LogFault
from . import private

TRACKSIDE = "trackside"
BENCH = "bench"
ROLES = (TRACKSIDE, BENCH)

FILE = "devices.json"
TOKEN_BYTES = 32
# People see when a device was last here; that is not worth a write at every request.
SEEN_EVERY = timedelta(hours=1)


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


def hash_token(token: str) -> str:
    """The hash that is kept of a token."""
    return hashlib.sha256(token.encode()).hexdigest()


def utc_now() -> datetime:
    """The time now, in UTC."""
    return datetime.now(UTC)


class Devices:
    """Every device, in one small file.

    Parameters
    ----------
    folder : Path
        The data folder's `lan`, which exists.
    now : callable
        Tells the time, with its offset.

    Raises
    ------
    LogFault
        The file exists and cannot be read: damage must not make Slipbook forget devices.
    """

    def __init__(self, folder: Path, now: Callable[[], datetime] = utc_now) -> None:
        self.path = folder / FILE
        self.now = now
        self.lock = threading.Lock()
        self.by_id: dict[str, Device] = {device.id: device for device in self.read()}

    def read(self) -> list[Device]:
        """The devices in the file; none if there is no file."""
        try:
            return [Device(**fields) for fields in json.loads(self.path.read_bytes())["devices"]]
        except FileNotFoundError:
            return []
        except (OSError, ValueError, KeyError, TypeError) as failure:
            raise LogFault(
                f"The list of paired devices in {self.path} cannot be read: put it back from a copy, "
                "or remove it and pair every phone again."
            ) from failure

    def write(self, by_id: dict[str, Device]) -> None:
        """Replace the devices, first in the file and then in memory."""
        text = json.dumps({"devices": [asdict(device) for device in by_id.values()]}, ensure_ascii=False, indent=1)
        private.write(self.path, text.encode())
        self.by_id = by_id

    def all(self) -> list[Device]:
        """Every device, the newest first; those that were shut out come last."""
        newest_first = sorted(self.by_id.values(), key=lambda device: device.paired, reverse=True)
        return sorted(newest_first, key=lambda device: bool(device.revoked))

    def add(self, name: str, role: str) -> tuple[Device, str]:
        """Add a device; returns it and its token, which cannot be read again."""
        token = secrets.token_urlsafe(TOKEN_BYTES)
        with self.lock:
            now = self.now().isoformat(timespec="seconds")
            device = Device(str(uuid.uuid4()), name, role, hash_token(token), now, now)
            self.write({**self.by_id, device.id: device})
        return device, token

    def of_token(self, token: str) -> Device | None:
        """The device with this token, also if it was shut out; None if there is none."""
        token_sha256 = hash_token(token)
        match = None
        # Every device is compared, so that the time taken gives nothing away.
        for device in self.by_id.values():
            if hmac.compare_digest(device.token_sha256, token_sha256):
                match = device
        return match

    def note_seen(self, device: Device) -> None:
        """Note that a device was here now, at most once an hour."""
        now = self.now()
        if now - datetime.fromisoformat(device.seen) >= SEEN_EVERY:
            # A full disk must not keep anybody from reading.
            with suppress(LogFault):
                self.change(device.id, seen=now.isoformat(timespec="seconds"))

    def rename(self, id: str, name: str) -> Device | None:
        """Give a device another name; returns it, or None if there is no such device."""
        return self.change(id, name=name)

    def revoke(self, id: str) -> Device | None:
        """Shut a device out; returns it, or None if there is no such device."""
        device = self.by_id.get(id)
        if device is None or device.revoked:
            return device
        return self.change(id, revoked=self.now().isoformat(timespec="seconds"))

    def change(self, id: str, **changes: str) -> Device | None:
        """Change some fields of a device; returns it, or None if there is no such device."""
        with self.lock:
            if id not in self.by_id:
                return None
            device = replace(self.by_id[id], **changes)
            self.write({**self.by_id, id: device})
            return device
