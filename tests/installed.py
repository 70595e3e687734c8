"""Slipbook as its users have it: a wheel of this tree, installed into a virtual environment of its own."""

import subprocess
import sys
import sysconfig
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).resolve().parent.parent


class Installed(NamedTuple):
    """The wheel, the command that it brings and the package that it puts into site-packages."""

    wheel: Path
    command: Path
    package: Path


def run(*order: str | Path, cwd: Path | None = None) -> str:
    """What a program prints; AssertionError with all that it said if it fails."""
    done = subprocess.run(list(map(str, order)), cwd=cwd, capture_output=True, text=True)
    if done.returncode != 0:
        raise AssertionError(done.stdout + done.stderr)
    return done.stdout


def environment(folder: Path) -> Path:
    """A new virtual environment without anything in it; answers the folder of its programs."""
    run(sys.executable, "-m", "venv", "--without-pip", folder)
    return folder / ("Scripts" if sys.platform == "win32" else "bin")


def install(folder: Path) -> Installed:
    """Build the wheel and install it below a folder."""
    # What the build itself needs is here already; an editable install asks for it as a newcomer does.
    folder.mkdir(parents=True, exist_ok=True)
    run(sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", folder, ROOT)
    [wheel] = folder.glob("*.whl")
    programs, site = install_into(folder / "venv", wheel)
    return Installed(wheel, programs / "slipbook", site / "slipbook")


def install_into(folder: Path, *what: str | Path) -> tuple[Path, Path]:
    """Let pip install what is asked into a new environment; what it depends on is taken from where the tests run.

    Parameters
    ----------
    folder : Path
        The environment's.
    what
        Arguments of `pip install`.

    Returns
    -------
    tuple of Path
        The folder of the environment's programs, and its site-packages.
    """
    programs = environment(folder)
    python = programs / "python"
    run(sys.executable, "-m", "pip", "--python", python, "install", "--quiet", "--no-deps", *what)
    site = Path(run(python, "-c", "import sysconfig; print(sysconfig.get_path('purelib'))").strip())
    (site / "dependencies.pth").write_text(f"{sysconfig.get_path('purelib')}\n{sysconfig.get_path('platlib')}\n")
    return programs, site
