"""Photos, each in a file named after the SHA-256 of its content, which its entry names.

A photo arrives in pieces and may stop anywhere: what has arrived is kept, and the phone goes on from there.
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
    """How many bytes of a photo have arrived, and whether that is all of it."""

    size: int
    whole: bool


class WrongPhoto(Exception):
    """What arrived cannot be the photo that was named; the message says what to do."""


def is_intact(sha256: str, data: bytes) -> bool:
    """Whether a photo's content is the one that its name stands for."""
    return hashlib.sha256(data).hexdigest() == sha256


class Photos:
    """The photos of a data folder.

    Parameters
    ----------
    root : Path
        The data folder.
    """

    def __init__(self, root: Path) -> None:
        self.folder = root / FOLDER
        self.lock = threading.Lock()

    def file(self, sha256: str) -> Path:
        """The file of a whole photo."""
        return self.folder / f"{sha256}.jpg"

    def part(self, sha256: str) -> Path:
        """The file of a photo of which only the beginning has arrived."""
        return self.folder / f"{sha256}.part"

    def progress(self, sha256: str, total: int = MOST_BYTES) -> Progress:
        """How much of a photo of `total` bytes has arrived; of more than that nothing is of use."""
        if self.file(sha256).exists():
            return Progress(self.file(sha256).stat().st_size, True)
        part = self.part(sha256)
        size = part.stat().st_size if part.is_file() else 0
        return Progress(size if size <= total else 0, False)

    def add(self, sha256: str, at: int, piece: bytes, total: int) -> Progress:
        """Store a piece of a photo.

        Parameters
        ----------
        sha256 : str
            The photo's name.
        at : int
            Where in the photo the piece begins, in bytes.
        piece : bytes
            The piece.
        total : int
            Size of the whole photo, in bytes.

        Returns
        -------
        Progress
            How much has arrived now; a whole photo is durable. A piece that does not begin where the last one ended is
            not stored: the phone goes on from what this says.

        Raises
        ------
        WrongPhoto
            It is too large, is not a JPEG photo, or its content is not what its name says.
        LogFault
            It cannot be written.
        """
        with self.lock:
            progress = self.progress(sha256, total)
            # Pieces in another order, or an answer that was lost.
            if progress.whole or at != progress.size:
                return progress
            if total > MOST_BYTES or at + len(piece) > total:
                raise WrongPhoto(f"A photo may have at most {MOST_BYTES} bytes, and no more than it says: shrink it.")
            if at == 0 and not piece.startswith(JPEG):
                raise WrongPhoto("This is not a JPEG photo: send one.")
            try:
                self.folder.mkdir(exist_ok=True)
                with open(self.part(sha256), "ab") as file:
                    # What is longer than the photo, perhaps from another program, would never become the photo.
                    file.truncate(at)
                    file.write(piece)
                    file.flush()
                    os.fsync(file.fileno())
                if at + len(piece) < total:
                    return Progress(at + len(piece), False)
                if not is_intact(sha256, self.part(sha256).read_bytes()):
                    self.part(sha256).unlink()
                    raise WrongPhoto("What arrived is not the photo that was named: send it again from the start.")
                os.replace(self.part(sha256), self.file(sha256))
                durable.sync_folder(self.folder)
                durable.sync_folder(self.folder.parent)
            except OSError as failure:
                raise fault_of(failure, "store the photo") from failure
            return Progress(total, True)

    def read(self, sha256: str) -> bytes | None:
        """The content of a photo, or None if it has not arrived whole."""
        try:
            return self.file(sha256).read_bytes()
        except FileNotFoundError:
            return None
        except OSError as failure:
            raise fault_of(failure, "read the photo", reading=True) from failure

    def files(self) -> list[Path]:
        """The files of all whole photos."""
        return sorted(self.folder.glob("*.jpg")) if self.folder.exists() else []

    def find_faults(self) -> list[str]:
        """A sentence for each damaged photo: its content is not what its name says."""
        faults = []
        for path in self.files():
            try:
                intact = is_intact(path.stem, path.read_bytes())
            except OSError as failure:
                raise LogFault(f"{path} cannot be read: {failure.strerror}.") from failure
            if not intact:
                faults.append(f"The photo {path.name} is damaged: put it back from a backup.")
        return faults
