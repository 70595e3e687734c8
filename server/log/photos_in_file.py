"""Pictures inside a unit's file: text in base64 under the SHA-256 of each, as the phone writes them too."""

import base64
import binascii
from typing import Any

from .photos import MOST_BYTES, Photos, WrongPicture, is_named


def shown_by(entries: list[Any]) -> list[str]:
    """The SHA-256 of every picture that entries show, each once, in their order."""
    bodies = [
        entry["body"]
        for entry in entries
        if isinstance(entry, dict) and entry.get("kind") == "photo" and isinstance(entry.get("body"), dict)
    ]
    return list(dict.fromkeys(body["sha256"] for body in bodies if isinstance(body.get("sha256"), str)))


def pictures_of(photos: Photos, entries: list[Any]) -> tuple[list[dict[str, str]], int]:
    """The pictures that entries show, as a file holds them, and how many of them are not here whole.

    Returns
    -------
    tuple
        Of `{"sha256", "jpeg"}` each, the picture in base64, and the count of those that are missing or damaged.
    """
    found = []
    wanted = shown_by(entries)
    for sha256 in wanted:
        data = photos.read(sha256)
        if data is not None and is_named(sha256, data):
            found.append({"sha256": sha256, "jpeg": base64.b64encode(data).decode()})
    return found, len(wanted) - len(found)


def take_pictures(photos: Photos, given: Any, entries: list[Any]) -> tuple[int, int]:
    """Take in what a file holds of the pictures that entries show.

    Parameters
    ----------
    photos : Photos
        Those of the data folder.
    given : Any
        What the file has under `photos`, be it what it may.
    entries : list
        Those of the file that are in the log; a picture that none of them shows stays out.

    Returns
    -------
    tuple of int
        How many were new here, and how many were no whole picture.

    Raises
    ------
    LogFault
        One cannot be written.
    """
    wanted = set(shown_by(entries))
    new = bad = 0
    for one in given if isinstance(given, list) else []:
        sha256 = one.get("sha256") if isinstance(one, dict) else None
        if not isinstance(sha256, str) or sha256 not in wanted or (here := photos.progress(sha256)).whole:
            continue
        try:
            data = base64.b64decode(one.get("jpeg") or "", validate=True)
            if not is_named(sha256, data) or len(data) > MOST_BYTES:
                raise WrongPicture
            # The beginning of it may have come from a phone already.
            photos.add(sha256, here.size, data[here.size :], len(data))
        except (binascii.Error, TypeError, ValueError, WrongPicture):
            bad += 1
        else:
            new += 1
    return new, bad
