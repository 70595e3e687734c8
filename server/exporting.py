"""Where an export goes: to standard output, or into a file that is whole or not there."""

import contextlib
import io
import sys
from pathlib import Path

from .log import LogFault, durable


def print_exported(text: str) -> None:
    """Print what was exported, in UTF-8 wherever a file or another program takes it."""
    if isinstance(sys.stdout, io.TextIOWrapper) and not sys.stdout.isatty():
        sys.stdout.flush()
        sys.stdout.buffer.write(text.encode())
    else:
        sys.stdout.write(text)


def refuse_target(file: Path, folder: Path, force: bool) -> None:
    """Refuse to export over a file, unless that is wanted, and over the log's own files in any case.

    Raises
    ------
    LogFault
        The file must not be written.
    """
    if folder.resolve() in file.resolve().parents:
        raise LogFault(f"{file} is in the data folder itself: name a file outside of it.")
    if file.exists() and (not force or not file.is_file()):
        raise LogFault(f"{file} exists already: name another file, or add --force to replace it.")


def write_exported(data: bytes, file: Path, force: bool) -> None:
    """Write an export whole or not at all."""
    unfinished = durable.name_beside(file)
    try:
        unfinished.write_bytes(data)
        durable.publish(unfinished, file, replacing=force)
    except FileExistsError as failure:
        raise LogFault(f"{file} exists already: name another file, or add --force to replace it.") from failure
    except OSError as failure:
        raise LogFault(f"Cannot write {file}: {failure.strerror}. Name another file.") from failure
    finally:
        with contextlib.suppress(OSError):
            unfinished.unlink(missing_ok=True)
