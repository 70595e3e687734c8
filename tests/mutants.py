"""A seeded sample of mutants of the engine and the log: how many of them do the tests kill?

    python -m tests.mutants --sample 200 --seed 1 --minutes 20 --room server/engine/unit server/log
    python -m tests.mutants --mutant server/log/durable.py:12 server/log/durable.py:14

`mutmut` changes one thing in one function, and the tests of that room run on a copy of the tree until one fails, each
time in a process of its own. A mutant that only a test of another room would have found counts as one that got through,
so the share that is printed is at least what the whole suite comes to. Forms of results, which say what the server
publishes, and what stands outside of functions are left out.
"""

import argparse
import difflib
import functools
import os
import random
import resource
import shutil
import signal
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any, NamedTuple

import pytest

ROOT = Path(__file__).resolve().parent.parent
LEFT_BEHIND = shutil.ignore_patterns(".git", "node_modules", ".hypothesis", ".mypy_cache", ".ruff_cache", "__pycache__")
# What knows the log begins with one of these, in the order in which it is tried: the quick ones first.
QUICK_LOG = ("intake", "judging", "layout", "identity", "table", "photos_in_file", "take_in_unit", "log_faults")
SLOW_LOG = ("backup", "photos.", "log.", "log_damage", "log_starts", "power_cut", "crashes", "command_refusals")
# A mutant may take as long as this many runs of the unchanged tree, and of the clock this many times longer, since
# others work on the machine too.
PATIENCE = 3


class Mutant(NamedTuple):
    """One changed file: its name, FILE:PLACE among all that can be changed in it, and its text before and after."""

    name: str
    file: Path
    before: str
    after: str

    @property
    def room(self) -> str:
        """The folder it is of."""
        return str(self.file.parent)

    def difference(self) -> str:
        """What was changed, as a diff without its head."""
        return "\n".join(list(difflib.unified_diff(self.before.splitlines(), self.after.splitlines(), n=1))[2:])


def sources(rooms: list[str]) -> list[Path]:
    """The files that have mutants, below the root, of some folders or files."""
    files = [
        file.relative_to(ROOT) for folder in ("engine", "log") for file in (ROOT / "server" / folder).rglob("*.py")
    ]
    return sorted(file for file in files if "results" not in file.parts and str(file).startswith(tuple(rooms)))


@functools.cache
def mutations_of(file: Path) -> tuple[Any, list[Any]]:
    """A file as `mutmut` reads it, and what can be changed in it."""
    from mutmut.mutation.file_mutation import create_mutations  # it is not among what the tests need

    module, mutations, _, _ = create_mutations(str(file), (ROOT / file).read_text(encoding="utf-8"))
    return module, mutations


def places_of(file: Path) -> list[int]:
    """Which of them are inside of functions."""
    return [place for place, change in enumerate(mutations_of(file)[1]) if change.contained_by_top_level_function]


def mutate(file: Path, place: int) -> Mutant:
    """One mutant of a file. Some are no Python, and fail at once."""
    module, mutations = mutations_of(file)
    changed = module.deep_replace(mutations[place].original_node, mutations[place].mutated_node)
    return Mutant(f"{file}:{place}", file, module.code, changed.code)


def tests_of(room: str) -> list[list[str]]:
    """The tests that a mutant of a room meets, in runs of which the next begins where the last one passed."""
    if room.startswith("server/log"):
        quick, slow = (
            [str(file.relative_to(ROOT)) for name in names for file in (ROOT / "tests/server").glob(f"test_{name}*py")]
            for names in (QUICK_LOG, SLOW_LOG)
        )
        return [["server/log", *quick], slow]
    own = [folder for folder in (room, room.replace("server", "tests", 1)) if (ROOT / folder).is_dir()]
    answers = ["tests/engine/test_answers.py"]
    return [answers, [*own, "tests/engine/test_bad_inputs.py", "tests/engine/test_reasons.py", "tests/reference"]]


def run_tests(tree: Path, runs: list[list[str]], seconds: int) -> bool:
    """Whether these tests of a tree pass, in a process of their own that may take so much of a processor."""
    child = os.fork()
    if child:
        _, status = os.waitpid(child, 0)
        return os.waitstatus_to_exitcode(status) == 0
    os.chdir(tree)
    os.setpgid(0, 0)
    resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds))
    # A mutant that waits takes nothing of a processor; and others work on the machine too.
    signal.alarm(PATIENCE * seconds)
    output = os.open(tree.with_name("output"), os.O_RDWR | os.O_CREAT | os.O_TRUNC)
    for number in range(3):
        os.dup2(output, number)
    for name in [name for name in sys.modules if name.partition(".")[0] in ("tests", "server")]:
        del sys.modules[name]
    sys.path[:] = [str(tree), *(path for path in sys.path if path and Path(path).resolve() != ROOT)]
    os.environ["PYTHONPATH"] = str(tree)
    # What comes with other packages takes longer to load than most mutants live.
    os.environ["PYTEST_DISABLE_PLUGIN_AUTOLOAD"] = "1"
    os._exit(any(pytest.main(["-x", "-q", "-p", "no:cacheprovider", *tests]) for tests in runs))


def is_killed(tree: Path, mutant: Mutant, seconds: int) -> bool:
    """Whether a test fails for a mutant, or takes longer than that; the tree is afterwards as it was."""
    place = tree / mutant.file
    try:
        place.write_text(mutant.after, encoding="utf-8")
        return not run_tests(tree, tests_of(mutant.room), seconds)
    finally:
        place.write_text(mutant.before, encoding="utf-8")
        shutil.rmtree(tree / ".hypothesis", ignore_errors=True)


def copy_tree(tree: Path) -> None:
    """Copy what the tests need, so that nobody's work disturbs them and they disturb nobody's."""
    shutil.copytree(ROOT, tree, ignore=LEFT_BEHIND, symlinks=True)
    (tree / "webui" / "node_modules").symlink_to(ROOT / "webui" / "node_modules")


def allowance(tree: Path, room: str) -> int:
    """How long a mutant of a room may take of a processor, in s; ends the program if its tests fail without any."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime
    if not run_tests(tree, tests_of(room), 1000):
        sys.exit(f"Without any mutant:\n{tree.with_name('output').read_text(errors='replace')[-3000:]}")
    return 5 + PATIENCE * int(resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime - before)


def preload() -> None:
    """Import what the tests import from elsewhere once, for all processes to come."""
    import cryptography.x509
    import flask_smorest
    import hypothesis.stateful
    import mpmath
    import pint
    import scipy.integrate
    import scipy.optimize
    import scipy.stats
    import statsmodels.api
    import tinydb
    import uncertainties

    assert all((cryptography, flask_smorest, hypothesis, mpmath, pint, scipy, statsmodels, tinydb, uncertainties))


def choose(options: argparse.Namespace) -> Iterator[Mutant]:
    """The mutants that were asked for: those named, or a sample, drawn one after another."""
    if options.mutant:
        wanted = [(Path(file), int(place)) for file, _, place in (name.rpartition(":") for name in options.mutant)]
    else:
        everything = [(file, place) for file in sources(options.room) for place in places_of(file)]
        wanted = random.Random(options.seed).sample(everything, min(options.sample, len(everything)))
        print(f"{len(everything)} mutants in all", flush=True)
    return (mutate(file, place) for file, place in wanted)


def attempt(tree: Path, mutants: Iterable[Mutant], minutes: float) -> tuple[Counter[str], Counter[str]]:
    """Try mutants for so long; prints those that got through, and returns how many were tried and killed by room."""
    tried: Counter[str] = Counter()
    killed: Counter[str] = Counter()
    seconds: dict[str, int] = {}
    end = time.monotonic() + 60 * minutes
    for mutant in mutants:
        if mutant.room not in seconds:
            sys.dont_write_bytecode = False
            seconds[mutant.room] = allowance(tree, mutant.room)
            # Compiled text of one second and length would be taken for that of the next mutant.
            sys.dont_write_bytecode = True
        if time.monotonic() > end:
            break
        tried[mutant.room] += 1
        if is_killed(tree, mutant, seconds[mutant.room]):
            killed[mutant.room] += 1
        else:
            print(f"\n{mutant.name}\n{mutant.difference()}", flush=True)
    return tried, killed


def main(arguments: list[str]) -> None:
    """Try the mutants; prints each that got through, and by room the share that was killed."""
    parser = argparse.ArgumentParser(description="Try a seeded sample of mutants.")
    parser.add_argument("--sample", type=int, default=200, help="how many mutants")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--minutes", type=float, default=60, help="no other is begun after so long")
    parser.add_argument("--room", nargs="+", default=["server/"], help="folders or files of them, such as server/log")
    parser.add_argument("--mutant", nargs="+", help="those of these names")
    options = parser.parse_args(arguments)
    chosen = choose(options)
    preload()
    with tempfile.TemporaryDirectory(prefix="slipbook-mutants-") as folder:
        tree = Path(folder) / "tree"
        copy_tree(tree)
        tried, killed = attempt(tree, chosen, options.minutes)
    for room, count in sorted(tried.items()):
        print(f"{room:<28} {killed[room]:4} of {count:4} killed")
    print(f"{killed.total()} of {tried.total()} killed, {100 * killed.total() / max(1, tried.total()):.1f} %")


if __name__ == "__main__":
    main(sys.argv[1:])
