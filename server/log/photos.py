"""The pictures that photo entries name, each in a file called by its content's SHA-256.

A picture arrives in pieces and may stop anywhere: what came is kept, and the rest is asked for from there on.
"""

import hashlib
import os
import threading
from pathlib import Path
from typing import NamedTuple

from . import durable
from .faults import LogFault, fault_of

FOLDER = "photos"
MOST_BYTES = 4_000_000
JPEG = b"\xff\xd8\xff"


class Progress(NamedTuple):
    """How much of a picture has arrived, and whether that is all of it."""

    size: int
    whole: bool


class WrongPicture(Exception):
    """What arrived cannot be the picture that was named; the message says what to do."""


def is_named(sha256: str, data: bytes) -> bool:
    """Whether content is what its name says."""
    return hashlib.sha256(data).hexdigest() == sha256


class Photos:
    """The pictures of a data folder.

    Parameters
    ----------
    root : Path
        The data folder.
    """

    def __init__(self, root: Path) -> None:
        self.folder = root / FOLDER
        self.lock = threading.Lock()

    def file(self, sha256: str) -> Path:
        """Where a whole picture is."""
        return self.folder / f"{sha256}.jpg"

    def part(self, sha256: str) -> Path:
        """Where the beginning of a picture is that has not arrived whole."""
        return self.folder / f"{sha256}.part"

    def progress(self, sha256: str) -> Progress:
        """How much of a picture is here."""
        for path, whole in ((self.file(sha256), True), (self.part(sha256), False)):
            if path.exists():
                return Progress(path.stat().st_size, whole)
        return Progress(0, False)

    def add(self, sha256: str, at: int, piece: bytes, total: int) -> Progress:
        """Take in a piece of a picture.

        Parameters
        ----------
        sha256 : str
            The picture's name.
        at : int
            Where the piece begins; what was sent before is not sent again.
        piece : bytes
            The piece.
        total : int
            Size of the whole picture.

        Returns
        -------
        Progress
            How much is here now; the whole picture is durable.

        Raises
        ------
        WrongPicture
            The piece does not fit what is here, or the whole is not what its name says.
        LogFault
            It cannot be written.
        """
        with self.lock:
            now = self.progress(sha256)
            # Another order of arrival, or an answer that was lost: the asker goes on from what is here.
            if now.whole or at != now.size:
                return now
            if total > MOST_BYTES or at + len(piece) > total:
                raise WrongPicture(
                    f"A picture may have {MOST_BYTES} bytes at most, and no more than it says: shrink it."
                )
            if at == 0 and not piece.startswith(JPEG):
                raise WrongPicture("This is no JPEG picture: send one.")
            try:
                self.folder.mkdir(exist_ok=True)
                with open(self.part(sha256), "ab") as file:
                    file.write(piece)
                    file.flush()
                    os.fsync(file.fileno())
                if at + len(piece) < total:
                    return Progress(at + len(piece), False)
                if not is_named(sha256, self.part(sha256).read_bytes()):
                    self.part(sha256).unlink()
                    raise WrongPicture("What arrived is not the picture that was named: send it again from the start.")
                os.replace(self.part(sha256), self.file(sha256))
                durable.settle(self.folder)
                durable.settle(self.folder.parent)
            except OSError as failure:
                raise fault_of(failure, "keep the picture") from failure
            return Progress(total, True)

    def read(self, sha256: str) -> bytes | None:
        """A whole picture, or None where it is not here."""
        try:
            return self.file(sha256).read_bytes()
        except FileNotFoundError:
            return None
        except OSError as failure:
            raise fault_of(failure, "read the picture") from failure

    def whole(self) -> list[Path]:
        """The files of all whole pictures."""
        return sorted(self.folder.glob("*.jpg")) if self.folder.exists() else []

    def damaged(self) -> list[str]:
        """What is wrong with pictures, a sentence each: content that is not what the name says."""
        found = []
        for path in self.whole():
            try:
                good = is_named(path.stem, path.read_bytes())
            except OSError as failure:
                raise LogFault(f"{path} cannot be read: {failure.strerror}.") from failure
            if not good:
                found.append(f"The picture {path.name} is damaged: put it back from a backup.")
        return found
