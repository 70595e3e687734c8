"""Backups: one zip file that holds a whole log, and a data folder made from it."""

import glob
import hashlib
import json
import os
import re
import secrets
import shutil
import zipfile
import zlib
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path

from .. import durable
from ..contents import Contents
from ..faults import Damage, LogFault, fault_of
from ..files.folder import UNIT_NAME, Folder
from ..files.holding import Hold
from ..files.identity_file import read_identity, write_identity
from ..files.photos import PHOTOS_FOLDER, FolderPhotos
from ..files.survey import survey
from ..identity import LARGEST_IDENTITY, Identity, decode
from ..layout import decode_file, encode_file
from ..photos import Photos, is_intact
from ..store import Log

MANIFEST = "slipbook.json"
BACKUP_MARK = "slipbook_backup"
# About a hundred thousand entries of one unit; far more than a unit ever has.
LARGEST_FILE = 500_000_000
LARGEST_MANIFEST = 10_000
# A photo from a phone is far smaller; one that somebody put into the folder by hand may be as large.
LARGEST_PHOTO = 100_000_000
LEFTOVER = re.compile(r"\.restoring-[0-9a-f]{8}$")
FILE_EXISTS = "{file} exists already: name another file for the backup."
# What reading a damaged backup can raise. A flipped bit may ask zipfile for a feature that it does not have.
DAMAGED_BACKUP = (
    *(zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError),
    *(Damage, ValueError, KeyError, TypeError, UnicodeError),
)


def back_up(root: Path, file: Path) -> Contents:
    """Write all that a data folder holds to a zip file: see `write_backup`. A running Slipbook may go on meanwhile."""
    refuse_existing(file)
    return write_backup(survey(root), read_identity(Folder(root)), FolderPhotos(root), file)


def back_up_log(log: Log, file: Path) -> Contents:
    """Write all that a log holds to a zip file: see `write_backup`."""
    refuse_existing(file)
    return write_backup(log.contents(), log.identity, log.photos, file)


def refuse_existing(file: Path) -> None:
    """Refuse a file that is there already.

    Raises
    ------
    LogFault
        It is.
    """
    if file.exists():
        raise LogFault(FILE_EXISTS.format(file=file))


def write_backup(contents: Contents, identity: Identity | None, photos: Photos, file: Path) -> Contents:
    """Write what a log holds to a zip file.

    Parameters
    ----------
    contents : Contents
        All its entries.
    identity : Identity or None
        Which log it is; None for one of an early version, which does not say.
    photos : Photos
        Its photos.
    file : Path
        The zip file, which must not exist yet.

    Returns
    -------
    Contents
        What was written, and the damage found on the way. A damaged photo is left out, since with it the backup could
        not be restored.

    Raises
    ------
    LogFault
        The file exists, or something cannot be read or written.
    """
    unfinished = durable.name_beside(file)
    try:
        with zipfile.ZipFile(unfinished, "w", zipfile.ZIP_DEFLATED) as archive:
            write_members(archive, contents, identity, photos)
        durable.publish(unfinished, file)
    except FileExistsError as failure:
        raise LogFault(FILE_EXISTS.format(file=file)) from failure
    except OSError as failure:
        raise fault_of(failure, f"write {file}") from failure
    finally:
        with suppress(OSError):
            unfinished.unlink(missing_ok=True)
    return contents


def write_members(archive: zipfile.ZipFile, contents: Contents, identity: Identity | None, photos: Photos) -> None:
    """Write a backup's files; adds to the survey's faults a sentence for each damaged photo, which is left out."""
    manifest = {
        BACKUP_MARK: 1,
        "made": datetime.now(UTC).isoformat(timespec="seconds"),
        "last": contents.last,
        "entries": contents.entries,
    }
    archive.writestr(MANIFEST, json.dumps(manifest))
    if identity is not None:
        archive.writestr(Folder(Path()).identity.name, identity.encode())
    for unit, lines in contents.lines.items():
        name = Folder(Path()).file(unit).as_posix()
        archive.writestr(name, encode_file(line.data for line in lines))
    for name in photos.names():
        data = photos.read(name) or b""
        if not 0 < len(data) <= LARGEST_PHOTO:
            contents.faults.append(f"The photo {name}.jpg is empty or too large and is not in the backup.")
        elif is_intact(name, data):
            archive.writestr(f"{PHOTOS_FOLDER}/{name}.jpg", data, zipfile.ZIP_STORED)
        else:
            contents.faults.append(f"The photo {name}.jpg is damaged and is not in the backup.")


def restore(file: Path, root: Path) -> Contents:
    """Make a data folder from a backup.

    Parameters
    ----------
    file : Path
        What `back_up` wrote.
    root : Path
        The data folder, which must be missing or empty.

    Returns
    -------
    Contents
        What the restored folder holds.

    Raises
    ------
    LogFault
        The folder is not empty, the file is not a whole backup, or the disk is full.
    """
    if root.exists() and (not root.is_dir() or any(root.iterdir())):
        raise LogFault(f"{root} is not empty: name a new or empty folder to restore to.")
    root = root.resolve()
    if root == Path.cwd():
        raise LogFault(f"You are in {root}: leave it, or name a new folder in it to restore to.")
    # Made under another name first, so that half a restored log is never taken for a whole one.
    unfinished = root.with_name(f"{root.name}.restoring-{secrets.token_hex(4)}")
    remove_leftovers(root)
    hold: Hold | None = None
    try:
        folder = Folder(unfinished)
        folder.make()
        # Held, so that it can be told from what a restore that was killed has left.
        hold = Hold(unfinished, folder.lock)
        with zipfile.ZipFile(file) as archive:
            expected = unpack_members(archive, folder)
        contents = survey(unfinished)
        if contents.entries != expected:
            raise LogFault(f"{file} holds {contents.entries} entries and should hold {expected}: use another backup.")
        identity = read_identity(folder)
        if identity is not None:
            # Phones know by the new generation that this log may lack what they have.
            write_identity(folder, identity.restored(contents.last))
        if root.exists():
            root.rmdir()
        durable.sync_folder(unfinished)
        hold.release()
        folder.lock.unlink(missing_ok=True)
        os.replace(unfinished, root)
        durable.sync_folder(root.resolve().parent)
    except FileNotFoundError as failure:
        raise LogFault(f"{file} is not there: check the name.") from failure
    except OSError as failure:
        raise fault_of(failure, f"restore to {root}") from failure
    except DAMAGED_BACKUP as failure:
        raise LogFault(f"{file} is not a backup of Slipbook, or it is damaged: use another.") from failure
    finally:
        if hold:
            hold.release()
        shutil.rmtree(unfinished, ignore_errors=True)
    return contents


def remove_leftovers(root: Path) -> None:
    """Remove what earlier restores to the same folder left behind when they were killed; one that runs is let be."""
    for leftover in root.parent.glob(f"{glob.escape(root.name)}.restoring-*"):
        if LEFTOVER.search(leftover.name) and leftover.is_dir():
            with suppress(LogFault, OSError):
                hold = Hold(leftover, Folder(leftover).lock)
                hold.release()
                shutil.rmtree(leftover, ignore_errors=True)


def unpack_members(archive: zipfile.ZipFile, folder: Folder) -> int:
    """Check and write a backup's files; returns how many entries there should be."""
    manifest = json.loads(read_member(archive, MANIFEST, LARGEST_MANIFEST))
    if manifest[BACKUP_MARK] != 1:
        raise LogFault("This backup comes from a newer Slipbook: update this one, then restore.")
    for name in archive.namelist():
        if name == MANIFEST:
            continue
        if name == folder.identity.name:
            write_identity(folder, decode(read_member(archive, name, LARGEST_IDENTITY)))
            continue
        if Path(name).parent.as_posix() == PHOTOS_FOLDER:
            unpack_photo(archive, name, folder)
            continue
        unit = "" if name == "shop.json" else Path(name).stem
        if name != Folder(Path()).file(unit).as_posix() or (unit and not UNIT_NAME.fullmatch(unit)):
            raise Damage(f"holds {name}, which does not belong in a log")
        data = read_member(archive, name, LARGEST_FILE)
        decode_file(data, unit)
        durable.write(folder.file(unit), data)
    return int(manifest["entries"])


def read_member(archive: zipfile.ZipFile, name: str, most: int) -> bytes:
    """Read one file of an archive, of at most `most` bytes: a small zip may unpack to a huge file."""
    if archive.getinfo(name).file_size > most:
        raise Damage(f"holds {name}, which is too large")
    return archive.read(name)


def unpack_photo(archive: zipfile.ZipFile, name: str, folder: Folder) -> None:
    """Write a backup's photo, whose name must be the SHA-256 of its content."""
    data = read_member(archive, name, LARGEST_PHOTO)
    sha256 = hashlib.sha256(data).hexdigest()
    if name != f"{PHOTOS_FOLDER}/{sha256}.jpg":
        raise Damage(f"holds {name}, whose content does not match its name")
    photos = FolderPhotos(folder.root)
    photos.folder.mkdir(exist_ok=True)
    durable.write(photos.file(sha256), data)
