"""A seeded sample of mutants of the engine and the log: how many of them do the tests kill?

    python -m tests.mutants --sample 200 --seed 1 --minutes 20 --room server/engine/unit server/log
    python -m tests.mutants --mutant server/log/durable.py:12 server/log/durable.py:14

`mutmut` changes one thing in one function, and tests of a copy of the tree run until one fails, each time in a process
of its own: of the engine the record of answers, the tests of the mutant's room, those of every calculation and the
second opinions on what it is called; of the log those that know it. A mutant that only another test would have found
counts as one that got through, so the share that is printed is at least what the whole suite comes to. Forms of
results, which say what the server publishes, and what stands outside of functions are left out.
"""

import argparse
import difflib
import functools
import os
import random
import re
import resource
import shutil
import signal
import sys
import tempfile
import time
import tomllib
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any, NamedTuple

import pytest

ROOT = Path(__file__).resolve().parent.parent
LEFT_BEHIND = shutil.ignore_patterns(".git", "node_modules", ".hypothesis", ".mypy_cache", ".ruff_cache", "__pycache__")
# What knows the log begins with one of these, in the order in which it is tried: the quick ones first.
QUICK_LOG = (
    *("intake", "judging", "layout", "table", "photos_in_file", "take_in_unit", "log_faults", "receipts", "clock"),
    *("patterns", "customers"),
)
SLOW_LOG = (
    *("erasing", "backup", "bring_back", "photos", "log", "log_starts", "power_cut", "command_refusals"),
    *("crashes", "holding", "daily", "log_damage", "identity", "stores"),
)
# A mutant may take as long as this many runs of the unchanged tree, and of the clock this many times longer, since
# others work on the machine too.
PATIENCE, WAITING = 3, 40
RECORD = ("engine/test_answers.py",)
REFUSALS = ("engine/test_bad_inputs.py", "engine/test_reasons.py", "engine/test_sentences.py")
EVERYWHERE = ("engine/test_results.py", "engine/test_whole_request_space.py")
# What can become of a mutant. What the record of answers alone would have noticed is told apart from what a test with
# an expectation of its own notices; the record is asked first, since that takes the least time.
ON_RECORD, KILLED, ENDLESS, ALIKE, THROUGH = FATES = ("on record", "killed", "endless", "alike", "got through")
# Mutants that do what the code does, and why, by hand.
ALIKE_FILE = ROOT / "tests" / "mutants_alike.toml"

Run = tuple[str, ...]


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

    def lines(self) -> tuple[str, str]:
        """What was changed: the lines before and after, each without its margin."""
        rows = self.difference().splitlines()
        before, after = ("\n".join(row[1:].strip() for row in rows if row.startswith(sign)) for sign in ("-", "+"))
        return before, after

    def difference(self) -> str:
        """What was changed, as a diff without its head."""
        return "\n".join(list(difflib.unified_diff(self.before.splitlines(), self.after.splitlines(), n=1))[2:])


@functools.cache
def known_alike() -> set[tuple[str, tuple[str, str]]]:
    """The mutants that do what the code does: file, and the lines before and after."""
    rows = tomllib.loads(ALIKE_FILE.read_text(encoding="utf-8"))["alike"]
    return {(row["file"], (row["before"], row["after"])) for row in rows}


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


def tests_of(tree: Path, file: Path) -> list[Run]:
    """The tests of a tree that a mutant of a file meets: each run begins where the last one passed, the quick first."""
    tests = tree / "tests"
    if file.parts[:2] == ("server", "log"):
        named = ["stores"] if file.parent.name == "postgres" else [f"{file.stem}*", f"{file.stem.rstrip('s')}*"]
        first, quick, slow = (
            [test for name in names for test in sorted(tests.glob(f"server/test_{name}.py"))]
            for names in (named, QUICK_LOG, SLOW_LOG)
        )
        runs = [first, [tree / file.parent, *quick], slow]
    else:
        room = [tree / file.parent, tests / file.parent.relative_to("server")]
        own = room if len(file.parts) > 3 else sorted(tests.glob("engine/test_[d-q]*.py"))
        # A second opinion on what the file or its room is called, and what other rooms' tests are called so.
        word = re.compile(rf'calc\("({file.stem}|{file.parent.name})"|\.{file.stem} import|_{file.stem}\.py$')
        references = sorted(tests.glob("reference/test_*.py"))
        opinions = [test for test in references if word.search(test.read_text() + test.name)]
        opinions += sorted(tests.glob(f"engine/*/test_{file.stem.partition('_')[0]}*.py"))
        fixed = ([tests / name for name in names] for names in (RECORD, REFUSALS, EVERYWHERE))
        runs = [next(fixed), own, next(fixed), opinions, next(fixed)]
    there = [[str(place.relative_to(tree)) for place in run if place.exists()] for run in runs]
    return [tuple(dict.fromkeys(run)) for run in there if run]


def run_tests(tree: Path, run: Run, seconds: int) -> int:
    """0 if these tests of a tree pass in a process of their own that may take so much of a processor, else not.

    Less than 0 if they were not through in that time.
    """
    child = os.fork()
    if child:
        _, status = os.waitpid(child, 0)
        return os.waitstatus_to_exitcode(status)
    os.chdir(tree)
    os.setpgid(0, 0)
    resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds))
    # A mutant that waits takes nothing of a processor; and others work on the machine too.
    signal.alarm(WAITING * seconds)
    output = os.open(tree.with_name("output"), os.O_RDWR | os.O_CREAT | os.O_TRUNC)
    for number in range(3):
        os.dup2(output, number)
    for name in [name for name in sys.modules if name.partition(".")[0] in ("tests", "server")]:
        del sys.modules[name]
    sys.path[:] = [str(tree), *(path for path in sys.path if path and Path(path).resolve() != ROOT)]
    os.environ["PYTHONPATH"] = str(tree)
    # What comes with other packages takes longer to load than most mutants live.
    os.environ["PYTEST_DISABLE_PLUGIN_AUTOLOAD"] = "1"
    os._exit(int(pytest.main(["-x", "-q", "-p", "no:cacheprovider", *run])))


def fate_of(tree: Path, mutant: Mutant) -> str:
    """What became of a mutant: one of `FATES`; the tree is afterwards as it was."""
    for run in tests_of(tree, mutant.file):
        seconds = allowance(tree, run)
        place = tree / mutant.file
        try:
            place.write_text(mutant.after, encoding="utf-8")
            outcome = run_tests(tree, run, seconds)
        finally:
            place.write_text(mutant.before, encoding="utf-8")
            shutil.rmtree(tree / ".hypothesis", ignore_errors=True)
        if outcome:
            return ENDLESS if outcome < 0 else ON_RECORD if run[0].endswith(RECORD) else KILLED
    return ALIKE if (mutant.file.as_posix(), mutant.lines()) in known_alike() else THROUGH


def copy_tree(tree: Path) -> None:
    """Copy what the tests need, so that nobody's work disturbs them and they disturb nobody's."""
    shutil.copytree(ROOT, tree, ignore=LEFT_BEHIND, symlinks=True)
    (tree / "webui" / "node_modules").symlink_to(ROOT / "webui" / "node_modules")


ALLOWANCES: dict[Run, int] = {}


def allowance(tree: Path, run: Run) -> int:
    """How long a run may take of a processor, in s; ends the program if its tests fail without any mutant."""
    if run not in ALLOWANCES:
        before = resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime
        if run_tests(tree, run, 1000):
            sys.exit(f"Without any mutant:\n{tree.with_name('output').read_text(errors='replace')[-3000:]}")
        ALLOWANCES[run] = 5 + PATIENCE * int(resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime - before)
    return ALLOWANCES[run]


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


def attempt(tree: Path, mutants: Iterable[Mutant], minutes: float) -> dict[str, Counter[str]]:
    """Try mutants for so long; prints what became of each, and returns how many came to what, by room."""
    fates: dict[str, Counter[str]] = defaultdict(Counter)
    end = time.monotonic() + 60 * minutes
    for mutant in mutants:
        if time.monotonic() > end:
            break
        began = time.monotonic()
        fate = fate_of(tree, mutant)
        fates[mutant.room][fate] += 1
        print(f"{mutant.name} {fate} ({time.monotonic() - began:.0f} s)", flush=True)
        if fate in (THROUGH, ENDLESS):
            print(f"{mutant.difference()}\n", flush=True)
    return fates


def told(fates: dict[str, Counter[str]]) -> str:
    """How many came to what, by room, and the share of those that are not alike which some test noticed."""
    lines = [f"{'':<28}" + "".join(f"{fate:>13}" for fate in FATES)]
    total = sum(fates.values(), Counter[str]())
    for room, counts in [*sorted(fates.items()), ("all", total)]:
        lines.append(f"{room:<28}" + "".join(f"{counts[fate]:13}" for fate in FATES))
    unlike = max(1, total.total() - total[ALIKE])
    return "\n".join([*lines, f"{100 * (unlike - total[THROUGH]) / unlike:.1f} % of those that are not alike noticed"])


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
        # Compiled text of one second and length would be taken for that of the next mutant.
        sys.dont_write_bytecode = True
        fates = attempt(tree, chosen, options.minutes)
    print(told(fates))


if __name__ == "__main__":
    main(sys.argv[1:])
