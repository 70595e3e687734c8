"""The web files in their built form, as people get them: made once for all tests, and kept until a file changes."""

import hashlib
import json
import shutil
import subprocess
import sys
import tempfile
import time
from functools import cache
from pathlib import Path
from typing import Any

from filelock import FileLock

ROOT = Path(__file__).resolve().parent.parent
WEBUI = ROOT / "webui"
ENGINE = ROOT / "server" / "engine"
# Beside the tools that build them, which git passes over.
KEPT = WEBUI / "node_modules" / ".built"
DAY_S = 24 * 60 * 60

sys.path.insert(0, str(WEBUI))

import bytecode as bytecode  # noqa: E402
import minify as minify  # noqa: E402
import vendor as vendor  # noqa: E402


def fingerprint() -> str:
    """A hash that changes whenever a file changes that goes into the build."""
    found = hashlib.sha256()
    # Those of the tools are thousands of files, and the lock file says which they are.
    own = [path for path in WEBUI.iterdir() if path.name != "node_modules" and not path.name.startswith(".")]
    files = [file for path in [*own, ENGINE] for file in ([path] if path.is_file() else path.rglob("*"))]
    for file in sorted(files):
        if file.is_file() and "__pycache__" not in file.parts:
            content = file.read_bytes()
            found.update(f"{file.relative_to(ROOT).as_posix()} {len(content)}\n".encode() + content)
    return found.hexdigest()[:16]


@cache
def built_web() -> Path:
    """The folder of the built web files; what takes some seconds is done by the first who asks."""
    KEPT.mkdir(exist_ok=True)
    folder = KEPT / fingerprint()
    with FileLock(KEPT / "lock"):
        if not folder.is_dir():
            for old in KEPT.iterdir():
                if old.is_dir() and old.stat().st_mtime < time.time() - DAY_S:
                    shutil.rmtree(old)
            with tempfile.TemporaryDirectory(dir=KEPT, prefix=".new-") as fresh:
                minify.build(WEBUI / "node_modules", WEBUI, ENGINE, Path(fresh, "webui"))
                Path(fresh, "webui").rename(folder)
    return folder


def run_node(program: str, *arguments: str, standard_input: Any = None) -> Any:
    """Run a program in Node; returns the JSON that it prints. `standard_input` is given to it as JSON."""
    command = [*vendor.find_command("node"), "--input-type=commonjs", "-e", program, *arguments]
    result = subprocess.run(command, cwd=WEBUI, input=json.dumps(standard_input), capture_output=True, text=True)
    assert result.returncode == 0, result.stderr
    return json.loads(result.stdout)
