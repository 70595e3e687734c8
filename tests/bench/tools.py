"""Programs of others that a measure needs, installed for the time it takes."""

import shutil
import subprocess
from pathlib import Path

from tests.__main__ import npm


def install(source: Path, folder: Path) -> None:
    """Copy a package to `folder` and fetch there what its package.json names."""
    shutil.copytree(source, folder)
    subprocess.run(
        [*npm(), "install", "--ignore-scripts", "--no-audit", "--no-fund", "--loglevel", "error"],
        cwd=folder,
        check=True,
        capture_output=True,
        timeout=300,
    )
