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
# A function that is quick to try: the first run makes all mutants, and finds out which tests reach which function.
QUICK = "server.log.durable.x_count_common_bytes__mutmut_1"
KILLED = ("killed", "timeout", "caught by type check", "segfault", "suspicious")


def mutmut(*arguments: str) -> str:
    """What `mutmut` printed; it has to be installed beside the Python that runs this."""
    command = shutil.which("mutmut", path=os.pathsep.join([str(Path(sys.executable).parent), os.environ["PATH"]]))
    if command is None:
        sys.exit("Install mutmut first: pip install -e '.[mutants]'")
    done = subprocess.run([command, *arguments], cwd=ROOT, text=True, stdout=subprocess.PIPE)
    if done.returncode:
        sys.exit(done.stdout[-3000:])
    return done.stdout


def results() -> dict[str, str]:
    """Every mutant with what became of it."""
    rows = [line.strip().rpartition(": ") for line in mutmut("results", "--all", "true").splitlines() if ": " in line]
    return {name: status for name, _, status in rows}


def main(arguments: list[str]) -> None:
    """Try the sample and print what survived, and the share that was killed, by room."""
    parser = argparse.ArgumentParser(description="Try a seeded sample of mutants.")
    parser.add_argument("--sample", type=int, default=400, help="how many mutants")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--room", default="server.", help="what their names begin with, such as server.log")
    given = parser.parse_args(arguments)
    mutmut("run", "--max-children", "1", QUICK)
    names = sorted(name for name in results() if name.startswith(given.room))
    chosen = random.Random(given.seed).sample(names, min(given.sample, len(names)))
    mutmut("run", "--max-children", "1", *chosen)
    found = results()
    rooms = Counter(".".join(name.split(".")[:3]) for name in chosen)
    killed = Counter(".".join(name.split(".")[:3]) for name in chosen if found[name] in KILLED)
    for name in sorted(chosen):
        if found[name] not in KILLED:
            print(f"\n{found[name]}: {mutmut('show', name)}")
    for room, count in sorted(rooms.items()):
        print(f"{room:<28} {killed[room]:4} of {count:4} killed")
    print(f"{killed.total()} of {len(chosen)} killed, {100 * killed.total() / len(chosen):.1f} %; {len(names)} in all")


if __name__ == "__main__":
    main(sys.argv[1:])
