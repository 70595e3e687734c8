"""What a store can do with photos, each named after the SHA-256 of its content, which its entry names.

A photo arrives in pieces and may stop anywhere: what has arrived is kept, and the phone goes on from there.
"""

import hashlib
from abc import ABC, abstractmethod
from typing import NamedTuple

MOST_BYTES = 4_000_000
JPEG = b"\xff\xd8\xff"
TOO_LARGE = f"A photo may have at most {MOST_BYTES} bytes, and no more than it says: shrink it."
NOT_JPEG = "This is not a JPEG photo: send one."
WRONG_CONTENT = "What arrived is not the photo that was named: send it again from the start."


class Progress(NamedTuple):
    """How many bytes of a photo have arrived, and whether that is all of it."""

    size: int
    whole: bool


class WrongPhoto(Exception):
    """What arrived cannot be the photo that was named; the message says what to do."""


def is_intact(sha256: str, data: bytes) -> bool:
    """Whether a photo's content is the one that its name stands for."""
    return hashlib.sha256(data).hexdigest() == sha256


def refuse_piece(at: int, piece: bytes, total: int) -> None:
    """Refuse a piece that cannot be one of a JPEG photo of `total` bytes.

    Raises
    ------
    WrongPhoto
        It is too large, or does not begin as a JPEG photo does.
    """
    if total > MOST_BYTES or at + len(piece) > total:
        raise WrongPhoto(TOO_LARGE)
    if at == 0 and not piece.startswith(JPEG):
        raise WrongPhoto(NOT_JPEG)


class Photos(ABC):
    """The photos of a log; safe to use from several threads."""

    @abstractmethod
    def progress(self, sha256: str, total: int = MOST_BYTES) -> Progress:
        """How much of a photo of `total` bytes has arrived; of more than that nothing is of use."""

    @abstractmethod
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
            not stored, nor looked at: the phone goes on from what this says.

        Raises
        ------
        WrongPhoto
            It is too large, is not a JPEG photo, or its content is not what its name says.
        LogFault
            It cannot be written.
        """

    @abstractmethod
    def put_whole(self, sha256: str, data: bytes) -> None:
        """Store a whole photo that was found to be intact, durable on return; one that is there stays.

        Raises
        ------
        LogFault
            It cannot be written.
        """

    @abstractmethod
    def read(self, sha256: str) -> bytes | None:
        """The content of a photo, or None if it has not arrived whole."""

    @abstractmethod
    def names(self) -> list[str]:
        """The names of all whole photos, sorted."""

    @abstractmethod
    def find_faults(self) -> list[str]:
        """A sentence for each damaged photo: its content is not what its name says."""
