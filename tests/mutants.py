"""A seeded sample of mutants of the engine and the log: how many of them do the tests kill?

    python -m tests.mutants --sample 400 --seed 1 [--room server.engine.plan]

`mutmut`, configured in pyproject.toml, makes and runs them; `mutants/`, which is not committed, keeps its results.
"""

import argparse
import os
import random
import shutil
import subprocess
import sys
from collections import Counter
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
# A mutant that is quick to try: the first run makes all mutants, and finds out which tests reach which function.
QUICK = "server.log.durable.x_count_common_bytes__mutmut_1"
KILLED = ("killed", "timeout", "caught by type check", "segfault", "suspicious")


def run_mutmut(*arguments: str) -> str:
    """Run `mutmut`, which must be installed beside the Python that runs this; returns what it printed."""
    command = shutil.which("mutmut", path=os.pathsep.join([str(Path(sys.executable).parent), os.environ["PATH"]]))
    if command is None:
        sys.exit("Install mutmut first: pip install -e '.[mutants]'")
    result = subprocess.run([command, *arguments], cwd=ROOT, text=True, stdout=subprocess.PIPE)
    if result.returncode:
        sys.exit(result.stdout[-3000:])
    return result.stdout


def read_results() -> dict[str, str]:
    """The status of every mutant, by its name."""
    lines = run_mutmut("results", "--all", "true").splitlines()
    rows = [line.strip().rpartition(": ") for line in lines if ": " in line]
    return {name: status for name, _, status in rows}


def main(arguments: list[str]) -> None:
    """Try the sample; prints the mutants that survived, and by room the share that was killed."""
    parser = argparse.ArgumentParser(description="Try a seeded sample of mutants.")
    parser.add_argument("--sample", type=int, default=400, help="how many mutants")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--room", default="server.", help="what their names begin with, such as server.log")
    options = parser.parse_args(arguments)
    run_mutmut("run", "--max-children", "1", QUICK)
    names = sorted(name for name in read_results() if name.startswith(options.room))
    sample = random.Random(options.seed).sample(names, min(options.sample, len(names)))
    run_mutmut("run", "--max-children", "1", *sample)
    statuses = read_results()
    tried = Counter(".".join(name.split(".")[:3]) for name in sample)
    killed = Counter(".".join(name.split(".")[:3]) for name in sample if statuses[name] in KILLED)
    for name in sorted(sample):
        if statuses[name] not in KILLED:
            print(f"\n{statuses[name]}: {run_mutmut('show', name)}")
    for room, count in sorted(tried.items()):
        print(f"{room:<28} {killed[room]:4} of {count:4} killed")
    print(f"{killed.total()} of {len(sample)} killed, {100 * killed.total() / len(sample):.1f} %; {len(names)} in all")


if __name__ == "__main__":
    main(sys.argv[1:])
