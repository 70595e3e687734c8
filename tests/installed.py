"""Slipbook as its users have it: a wheel of this tree, installed into a virtual environment of its own."""

import subprocess
import sys
import sysconfig
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).resolve().parent.parent


class Installed(NamedTuple):
    """The wheel, its command, and its package in site-packages."""

    wheel: Path
    command: Path
    package: Path


def run(*command: str | Path, cwd: Path | None = None) -> str:
    """Run a program; returns what it printed, or raises AssertionError with its output if it failed."""
    result = subprocess.run(list(map(str, command)), cwd=cwd, capture_output=True, text=True)
    if result.returncode != 0:
        raise AssertionError(result.stdout + result.stderr)
    return result.stdout


def make_environment(folder: Path) -> Path:
    """Make an empty virtual environment; returns the folder of its programs."""
    run(sys.executable, "-m", "venv", "--without-pip", folder)
    return folder / ("Scripts" if sys.platform == "win32" else "bin")


def install(folder: Path) -> Installed:
    """Build the wheel and install it below a folder."""
    # The build's own requirements are installed here already; an editable install fetches them as a newcomer's does.
    folder.mkdir(parents=True, exist_ok=True)
    run(sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", folder, ROOT)
    [wheel] = folder.glob("*.whl")
    programs, site = install_into(folder / "venv", wheel)
    return Installed(wheel, programs / "slipbook", site / "slipbook")


def install_into(folder: Path, *arguments: str | Path) -> tuple[Path, Path]:
    """Run `pip install` in a new environment; dependencies come from the environment in which the tests run.

    Parameters
    ----------
    folder : Path
        Where to make the environment.
    arguments
        Arguments of `pip install`.

    Returns
    -------
    tuple of Path
        The folder of the environment's programs, and its site-packages.
    """
    programs = make_environment(folder)
    python = programs / "python"
    run(sys.executable, "-m", "pip", "--python", python, "install", "--quiet", "--no-deps", *arguments)
    site = Path(run(python, "-c", "import sysconfig; print(sysconfig.get_path('purelib'))").strip())
    (site / "dependencies.pth").write_text(f"{sysconfig.get_path('purelib')}\n{sysconfig.get_path('platlib')}\n")
    return programs, site
