"""The paired devices of a data folder, in one small file."""

import json
import threading
import uuid
from collections.abc import Callable
from contextlib import suppress
from dataclasses import asdict, replace
from datetime import datetime
from pathlib import Path

from ...log import LogFault
from .. import private
from ..register import SEEN_EVERY, Device, hash_token, is_due_again, make_token, time_as_text, utc_now

DEVICES_FILE = "devices.json"


class FolderDevices:
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
        self.path = folder / DEVICES_FILE
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
        token = make_token()
        with self.lock:
            now = time_as_text(self.now())
            device = Device(str(uuid.uuid4()), name, role, hash_token(token), now, now)
            self.write({**self.by_id, device.id: device})
        return device, token

    def note_seen(self, device: Device) -> None:
        """Note that a device was here now, at most once an hour."""
        now = self.now()
        if is_due_again(device.seen, now, SEEN_EVERY):
            # A full disk must not keep anybody from reading.
            with suppress(LogFault):
                self.change(device.id, seen=time_as_text(now))

    def rename(self, id: str, name: str) -> Device | None:
        """Give a device another name; returns it, or None if there is no such device."""
        return self.change(id, name=name)

    def revoke(self, id: str) -> Device | None:
        """Shut a device out; returns it, or None if there is no such device."""
        device = self.by_id.get(id)
        if device is None or device.revoked:
            return device
        return self.change(id, revoked=time_as_text(self.now()))

    def change(self, id: str, **changes: str) -> Device | None:
        """Change some fields of a device; returns it, or None if there is no such device."""
        with self.lock:
            if id not in self.by_id:
                return None
            device = replace(self.by_id[id], **changes)
            self.write({**self.by_id, id: device})
            return device
