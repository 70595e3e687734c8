"""The forms in which an installed Slipbook's own web files travel: the same programs in fewer bytes.

esbuild takes comments, white space and long names out of scripts and style sheets. Each file is worked on by itself, so
that modules stay modules, and the text of templates stays as it is written. python-minifier takes comments, docstrings
and annotations out of the engine's files and renames nothing: what a field means, and what it is called, stays.
"""

import json
import shutil
import subprocess
import sys
from pathlib import Path
from unittest.mock import patch

import python_minifier
from vendor import VendorError, command, press

# What only people who work on the web files need; the phone's shim for `typing` is written below.
NOT_SERVED = shutil.ignore_patterns("node_modules", "__pycache__", ".*", "*.py", "*.json", "*.d.ts")
ENGINE_FILES = "engine/files.json"
SHIM = "engine/typing.py"
# An own tsconfig would make strict scripts of all; nothing newer than this is written instead of what stands there.
ESBUILD = ["--minify", "--tsconfig-raw={}", "--legal-comments=none", "--charset=utf8", "--target=es2022"]


def minify_web(modules: Path, folder: Path) -> None:
    """Minify every script and style sheet of a folder where it lies, with the esbuild of a node_modules folder.

    Left as they are: libraries that come minified, which are those that are pressed ahead or say so in their names.
    """
    program = modules / "esbuild" / "bin" / "esbuild"
    for suffix in (".css", ".js", ".mjs"):
        files = [
            str(path.relative_to(folder))
            for path in sorted(folder.rglob(f"*{suffix}"))
            if not {".min", ".prod"} & set(path.suffixes) and not Path(f"{path}.br").is_file()
        ]
        keep = [] if suffix == ".css" else [f"--out-extension:.js={suffix}"]
        order = [
            *command("node"),
            str(program),
            *files,
            *ESBUILD,
            *keep,
            "--outbase=.",
            "--outdir=.",
            "--allow-overwrite",
        ]
        if files:
            done = subprocess.run([*order, "--log-level=warning"], cwd=folder, capture_output=True, text=True)
            if done.returncode != 0 or done.stderr:
                raise VendorError(f"esbuild could not minify the web files: {done.stderr}")


def minify_python(source: str) -> str:
    """Python source without comments, docstrings and annotations, which still does the same on MicroPython.

    >>> print(minify_python('def double(a: int) -> int:\\n    "Twice."\\n    # Two of them.\\n    return 2 * a'))
    def double(a):return 2*a
    """
    # MicroPython does not read an f-string that holds its own kind of quotes, as Python 3.12 and later may write it.
    with patch.object(sys, "version_info", (3, 11)):
        text: str = python_minifier.minify(
            source,
            remove_literal_statements=True,
            hoist_literals=False,
            rename_locals=False,
            convert_posargs_to_args=False,
            remove_builtin_exception_brackets=False,
            constant_folding=False,
        )
    return text


def build(modules: Path, webui: Path, engine: Path, target: Path) -> None:
    """Write the built form of the web files and of the engine's files into a new folder.

    Parameters
    ----------
    modules : Path
        A node_modules folder with esbuild in it.
    webui, engine : Path
        The web files as they are written, libraries included, and the engine's source.
    target : Path
        The folder to make.
    """
    shutil.copytree(webui, target, ignore=NOT_SERVED)
    minify_web(modules, target)
    shim = (webui / SHIM).read_text(encoding="utf-8")
    (target / SHIM).write_text(minify_python(shim), encoding="utf-8", newline="\n")
    texts = {
        path.relative_to(engine).as_posix(): minify_python(path.read_text(encoding="utf-8"))
        for path in sorted(engine.rglob("*.py"))
    }
    files = target / ENGINE_FILES
    files.write_text(json.dumps(texts, ensure_ascii=False), encoding="utf-8", newline="\n")
    press(files)
