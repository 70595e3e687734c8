"""The phones that were let in: their names, roles and tokens, of which only hashes are kept."""

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
# When a device was last seen is a help for people: not worth a write at every request.
SEEN_EVERY = timedelta(hours=1)


@dataclass(frozen=True)
class Device:
    """A device that was paired.

    Attributes
    ----------
    id : str
        UUID.
    name : str
        What its owner calls it.
    role : str
        One of `ROLES`.
    token_sha256 : str
        SHA-256 of its token, in hexadecimal. A token is 256 random bits, so that no slower hash is needed.
    paired, seen, revoked : str
        ISO 8601; `revoked` is empty while it may come in.
    """

    id: str
    name: str
    role: str
    token_sha256: str
    paired: str
    seen: str
    revoked: str = ""


def digest(token: str) -> str:
    """What is kept of a token."""
    return hashlib.sha256(token.encode()).hexdigest()


def utc_now() -> datetime:
    """The time now."""
    return datetime.now(UTC)


class Devices:
    """Every device, in one small file.

    Parameters
    ----------
    folder : Path
        The data folder's `lan`, which exists.
    now : callable
        Time with its offset.

    Raises
    ------
    LogFault
        The file is there and cannot be read: nobody is forgotten over damage.
    """

    def __init__(self, folder: Path, now: Callable[[], datetime] = utc_now) -> None:
        self.path = folder / FILE
        self.now = now
        self.lock = threading.Lock()
        self.kept: dict[str, Device] = {one.id: one for one in self.read()}

    def read(self) -> list[Device]:
        """What the file holds."""
        try:
            return [Device(**one) for one in json.loads(self.path.read_bytes())["devices"]]
        except FileNotFoundError:
            return []
        except (OSError, ValueError, KeyError, TypeError) as failure:
            raise LogFault(
                f"The list of paired devices in {self.path} cannot be read: put it back from a copy, "
                "or remove it and pair every phone again."
            ) from failure

    def write(self, kept: dict[str, Device]) -> None:
        """Keep these devices, once they are on the disk."""
        text = json.dumps({"devices": [asdict(one) for one in kept.values()]}, ensure_ascii=False, indent=1)
        private.write(self.path, text.encode())
        self.kept = kept

    def all(self) -> list[Device]:
        """Every device, the newest first, those that were revoked last."""
        newest = sorted(self.kept.values(), key=lambda one: one.paired, reverse=True)
        return sorted(newest, key=lambda one: bool(one.revoked))

    def add(self, name: str, role: str) -> tuple[Device, str]:
        """Let a device in; answers it and its token, which nobody can read again."""
        token = secrets.token_urlsafe(TOKEN_BYTES)
        with self.lock:
            now = self.now().isoformat(timespec="seconds")
            device = Device(str(uuid.uuid4()), name, role, digest(token), now, now)
            self.write({**self.kept, device.id: device})
        return device, token

    def of_token(self, token: str) -> Device | None:
        """The device with this token, also if it was revoked."""
        wanted = digest(token)
        found = None
        # Every one is compared, so that the time taken tells nothing.
        for device in self.kept.values():
            if hmac.compare_digest(device.token_sha256, wanted):
                found = device
        return found

    def note_seen(self, device: Device) -> None:
        """Note that a device was here."""
        now = self.now()
        if now - datetime.fromisoformat(device.seen) >= SEEN_EVERY:
            # A full disk keeps nobody from reading.
            with suppress(LogFault):
                self.change(device.id, seen=now.isoformat(timespec="seconds"))

    def rename(self, id: str, name: str) -> Device | None:
        """Give a device another name; None if there is no such device."""
        return self.change(id, name=name)

    def revoke(self, id: str) -> Device | None:
        """Let a device in no more; None if there is no such device."""
        known = self.kept.get(id)
        if known is None or known.revoked:
            return known
        return self.change(id, revoked=self.now().isoformat(timespec="seconds"))

    def change(self, id: str, **changes: str) -> Device | None:
        """A device with some of its fields changed."""
        with self.lock:
            if id not in self.kept:
                return None
            device = replace(self.kept[id], **changes)
            self.write({**self.kept, id: device})
            return device
