"""One file that holds a whole log, and a data folder made from it again."""

import hashlib
import json
import os
import secrets
import shutil
import zipfile
import zlib
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path

from . import durable
from .faults import Damage, LogFault, fault_of
from .folder import UNIT_NAME, Folder
from .layout import read_file, write_file
from .photos import FOLDER, MOST_BYTES, Photos, is_named
from .survey import Survey, survey

ABOUT = "slipbook.json"
MARK = "slipbook_backup"
# Some hundred thousand entries of one unit; far more than a unit ever has.
LARGEST_FILE = 500_000_000
LARGEST_ABOUT = 10_000
# What a file that is no whole backup makes the readers raise; zipfile asks for features that a flipped bit names.
NOT_WHOLE = (
    *(zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError),
    *(Damage, ValueError, KeyError, TypeError, UnicodeError),
)


def back_up(root: Path, file: Path) -> Survey:
    """Write all entries of one moment to a zip file; a Slipbook may go on writing meanwhile.

    Parameters
    ----------
    root : Path
        The data folder.
    file : Path
        The zip file, which must not exist yet.

    Returns
    -------
    Survey
        What was written, and what was found damaged on the way; a damaged picture stays out, or the backup could not
        be restored.

    Raises
    ------
    LogFault
        The file exists, or something cannot be read or written.
    """
    if file.exists():
        raise LogFault(f"{file} exists already: name another file for the backup.")
    found = survey(root)
    about = {MARK: 1, "made": datetime.now(UTC).isoformat(timespec="seconds"), "last": found.last}
    beside = file.with_name(file.name + durable.UNFINISHED)
    try:
        with zipfile.ZipFile(beside, "w", zipfile.ZIP_DEFLATED) as archive:
            archive.writestr(ABOUT, json.dumps({**about, "entries": found.entries}))
            for unit, lines in found.lines.items():
                name = Folder(Path()).file(unit).as_posix()
                archive.writestr(name, write_file(line.written for line in lines))
            for picture in Photos(root).whole():
                data = picture.read_bytes()
                if is_named(picture.stem, data):
                    archive.writestr(f"{FOLDER}/{picture.name}", data, zipfile.ZIP_STORED)
                else:
                    found.faults.append(
                        f"The picture {picture.name} is not what its name says, and is not in the backup."
                    )
        with open(beside, "rb+") as written:
            os.fsync(written.fileno())
        os.replace(beside, file)
        durable.settle(file.resolve().parent)
    except OSError as failure:
        raise fault_of(failure, f"write {file}") from failure
    finally:
        with suppress(OSError):
            beside.unlink(missing_ok=True)
    return found


def restore(file: Path, root: Path) -> Survey:
    """Make a data folder from a backup.

    Parameters
    ----------
    file : Path
        What `back_up` wrote.
    root : Path
        The data folder, which must be missing or empty.

    Raises
    ------
    LogFault
        The folder holds something, the file is no whole backup, or there is no room.
    """
    if root.exists() and (not root.is_dir() or any(root.iterdir())):
        raise LogFault(f"{root} is not empty: name a new or empty folder to restore to.")
    root = root.resolve()
    if root == Path.cwd():
        raise LogFault(f"You are in {root}: leave it, or name a new folder in it to restore to.")
    # Made under another name first, so that half a restored log is never taken for a whole one.
    beside = root.with_name(f"{root.name}.restoring-{secrets.token_hex(4)}")
    try:
        folder = Folder(beside)
        folder.make()
        with zipfile.ZipFile(file) as archive:
            expected = unpack(archive, folder)
        found = survey(beside)
        if found.entries != expected:
            raise LogFault(f"{file} holds {found.entries} entries and should hold {expected}: use another backup.")
        if root.exists():
            root.rmdir()
        durable.settle(beside)
        os.replace(beside, root)
        durable.settle(root.resolve().parent)
    except FileNotFoundError as failure:
        raise LogFault(f"{file} is not there: check the name.") from failure
    except OSError as failure:
        raise fault_of(failure, f"restore to {root}") from failure
    except NOT_WHOLE as failure:
        raise LogFault(f"{file} is no backup of Slipbook, or a damaged one: use another.") from failure
    finally:
        shutil.rmtree(beside, ignore_errors=True)
    return found


def unpack(archive: zipfile.ZipFile, folder: Folder) -> int:
    """Write a backup's files, each checked; answers how many entries there should be."""
    about = json.loads(read(archive, ABOUT, LARGEST_ABOUT))
    if about[MARK] != 1:
        raise LogFault("This backup comes from a newer Slipbook: update this one, then restore.")
    for name in archive.namelist():
        if name == ABOUT:
            continue
        if Path(name).parent.as_posix() == FOLDER:
            unpack_picture(archive, name, folder)
            continue
        unit = "" if name == "shop.json" else Path(name).stem
        if name != Folder(Path()).file(unit).as_posix() or (unit and not UNIT_NAME.fullmatch(unit)):
            raise Damage(f"holds {name}, which is no file of a log")
        data = read(archive, name, LARGEST_FILE)
        read_file(data, unit)
        durable.write(folder.file(unit), data)
    return int(about["entries"])


def read(archive: zipfile.ZipFile, name: str, most: int) -> bytes:
    """One file of an archive, unless it is larger than what `back_up` puts there: a small zip may hold a huge file."""
    if archive.getinfo(name).file_size > most:
        raise Damage(f"holds {name}, which is too large")
    return archive.read(name)


def unpack_picture(archive: zipfile.ZipFile, name: str, folder: Folder) -> None:
    """Write a backup's picture, whose name has to be what its content says."""
    data = read(archive, name, MOST_BYTES)
    sha256 = hashlib.sha256(data).hexdigest()
    if name != f"{FOLDER}/{sha256}.jpg":
        raise Damage(f"holds {name}, whose content is another")
    target = Photos(folder.root)
    target.folder.mkdir(exist_ok=True)
    durable.write(target.file(sha256), data)
