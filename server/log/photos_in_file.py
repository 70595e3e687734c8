"""Photos inside a saved unit: each in base64 with its SHA-256, as the phone writes them too."""

import base64
import binascii
from typing import Any

from .photos import MOST_BYTES, Photos, WrongPhoto, is_intact


def photos_shown_by(entries: list[Any]) -> list[str]:
    """The SHA-256 of every photo that entries show, each once, in order."""
    bodies = [
        entry["body"]
        for entry in entries
        if isinstance(entry, dict) and entry.get("kind") == "photo" and isinstance(entry.get("body"), dict)
    ]
    return list(dict.fromkeys(body["sha256"] for body in bodies if isinstance(body.get("sha256"), str)))


def pack_photos(photos: Photos, entries: list[Any]) -> tuple[list[dict[str, str]], int]:
    """The photos that entries show, in the form of a saved unit, and how many are missing or damaged.

    Returns
    -------
    tuple
        A list of `{"sha256", "jpeg"}`, each photo in base64, and the number of those that are missing or damaged.
    """
    packed = []
    shown = photos_shown_by(entries)
    for sha256 in shown:
        data = photos.read(sha256)
        if data is not None and is_intact(sha256, data):
            packed.append({"sha256": sha256, "jpeg": base64.b64encode(data).decode()})
    return packed, len(shown) - len(packed)


def take_photos(photos: Photos, packed: Any, entries: list[Any]) -> tuple[int, int]:
    """Store those photos of a saved unit that entries show.

    Parameters
    ----------
    photos : Photos
        The photos of the data folder.
    packed : Any
        What the file holds under `photos`, not checked yet.
    entries : list
        The file's entries that are in the log; a photo that none of them shows is not stored.

    Returns
    -------
    tuple of int
        How many were new, and how many were damaged.

    Raises
    ------
    LogFault
        A photo cannot be written.
    """
    shown = set(photos_shown_by(entries))
    new = damaged = 0
    for photo in packed if isinstance(packed, list) else []:
        sha256 = photo.get("sha256") if isinstance(photo, dict) else None
        if not isinstance(sha256, str) or sha256 not in shown or (progress := photos.progress(sha256)).whole:
            continue
        try:
            data = base64.b64decode(photo.get("jpeg") or "", validate=True)
            if not is_intact(sha256, data) or len(data) > MOST_BYTES:
                raise WrongPhoto
            # Its beginning may have arrived from a phone already.
            photos.add(sha256, progress.size, data[progress.size :], len(data))
        except (binascii.Error, TypeError, ValueError, WrongPhoto):
            damaged += 1
        else:
            new += 1
    return new, damaged
