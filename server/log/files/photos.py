"""Photos as files, each named after the SHA-256 of its content."""

import os
import threading
from pathlib import Path

from .. import durable
from ..faults import LogFault, fault_of
from ..photos import MOST_BYTES, WRONG_CONTENT, Photos, Progress, WrongPhoto, is_intact, refuse_piece

PHOTOS_FOLDER = "photos"


class FolderPhotos(Photos):
    """The photos of a data folder.

    Parameters
    ----------
    root : Path
        The data folder.
    """

    def __init__(self, root: Path) -> None:
        self.folder = root / PHOTOS_FOLDER
        self.lock = threading.Lock()

    def file(self, sha256: str) -> Path:
        """The file of a whole photo."""
        return self.folder / f"{sha256}.jpg"

    def part(self, sha256: str) -> Path:
        """The file of a photo of which only the beginning has arrived."""
        return self.folder / f"{sha256}.part"

    def progress(self, sha256: str, total: int = MOST_BYTES) -> Progress:
        if self.file(sha256).exists():
            return Progress(self.file(sha256).stat().st_size, True)
        part = self.part(sha256)
        size = part.stat().st_size if part.is_file() else 0
        return Progress(size if size <= total else 0, False)

    def add(self, sha256: str, at: int, piece: bytes, total: int) -> Progress:
        with self.lock:
            progress = self.progress(sha256, total)
            # Pieces in another order, or an answer that was lost.
            if progress.whole or at != progress.size:
                return progress
            refuse_piece(at, piece, total)
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
                    raise WrongPhoto(WRONG_CONTENT)
                os.replace(self.part(sha256), self.file(sha256))
                durable.sync_folder(self.folder)
                durable.sync_folder(self.folder.parent)
            except OSError as failure:
                raise fault_of(failure, "store the photo") from failure
            return Progress(total, True)

    def put_whole(self, sha256: str, data: bytes) -> None:
        if self.file(sha256).exists():
            return
        try:
            self.folder.mkdir(exist_ok=True)
            durable.write(self.file(sha256), data)
        except OSError as failure:
            raise fault_of(failure, "store a photo") from failure

    def read(self, sha256: str) -> bytes | None:
        try:
            return self.file(sha256).read_bytes()
        except FileNotFoundError:
            return None
        except OSError as failure:
            raise fault_of(failure, "read the photo", reading=True) from failure

    def files(self) -> list[Path]:
        """The files of all whole photos."""
        return sorted(self.folder.glob("*.jpg")) if self.folder.exists() else []

    def names(self) -> list[str]:
        return [path.stem for path in self.files()]

    def find_faults(self) -> list[str]:
        faults = []
        for path in self.files():
            try:
                intact = is_intact(path.stem, path.read_bytes())
            except OSError as failure:
                raise LogFault(f"{path} cannot be read: {failure.strerror}.") from failure
            if not intact:
                faults.append(f"The photo {path.name} is damaged: put it back from a backup.")
        return faults
