"""Bundles the modules of the web side into two scripts: one for the first screens, one for all others.

A browser keeps compiled code of a plain script that a service worker fetched, and none of a module; so an installed
Slipbook starts from one script, `app.js`, and fetches `later.js` with the first screen that is not in it. Both have
their modules by esbuild, and a checkout stays as it is written. There are no source maps: they would weigh more than
the scripts, and who looks for a fault finds it in a checkout, whose files are the sources.
"""

import json
import re
import tempfile
from pathlib import Path
from typing import NamedTuple

from vendor import VendorError, compress, run

# What is asked for later and wanted at nearly every start: the list, a unit and its check, and what names an entry.
WANTED_AT_ONCE = {
    "screens/unit/list.js",
    "screens/unit/page.js",
    "screens/check/check.js",
    "screens/check/choose.js",
    "vendor/uuid/dist/v7.js",
}
SHELL = "app.js"
LATER = "later.js"
BEGINNING = "bundled.js"
STYLE = "style/app.css"
PAGE = "index.html"
# Our tsconfig would make every script strict, so it is not read. The target keeps esbuild from using newer syntax.
ESBUILD = ["--minify", "--tsconfig-raw={}", "--legal-comments=none", "--charset=utf8", "--target=es2022"]

# A plain script, as strict as its modules were.
STRICT = '"use strict";'
# Nearly all of the first script runs at every start. Chromium then compiles it as a whole, so that its compiled code is
# kept as a whole, and no start compiles hundreds of functions one by one; other browsers pass over the comment.
COMPILED_AT_ONCE = f"//# allFunctionsCalledOnLoad\n{STRICT}"


class Imports(NamedTuple):
    """The paths of the modules that one needs at once, and of those that it asks for later, by its names for them."""

    at_once: set[str]
    asked: dict[str, str]


Graph = dict[str, Imports]


def script(beginning: str) -> list[str]:
    """The arguments for a plain script that begins so."""
    return ["--bundle", "--format=iife", f"--banner:js={beginning}"]


def esbuild(modules: Path, folder: Path, *arguments: str) -> None:
    """Run the esbuild of a node_modules folder in a folder."""
    program = str(modules / "esbuild" / "bin" / "esbuild")
    result = run("node", [program, *ESBUILD, *arguments, "--log-level=warning"], folder)
    if result.returncode != 0 or result.stderr:
        raise VendorError(f"esbuild could not build the web files: {result.stderr}")


def read_graph(modules: Path, folder: Path) -> Graph:
    """Which modules the shell leads to, and what each of them imports."""
    with tempfile.TemporaryDirectory() as scratch:
        about = Path(scratch, "about.json")
        output = Path(scratch, "all.js")
        esbuild(modules, folder, SHELL, "--bundle", "--format=esm", f"--outfile={output}", f"--metafile={about}")
        inputs = json.loads(about.read_text(encoding="utf-8"))["inputs"]
    return {path: read_imports(described["imports"]) for path, described in inputs.items()}


def read_imports(described: list[dict[str, str]]) -> Imports:
    """What a module imports, as esbuild describes it."""
    at_once = {imported["path"] for imported in described if imported["kind"] == "import-statement"}
    asked = {imported["original"]: imported["path"] for imported in described if imported["kind"] == "dynamic-import"}
    return Imports(at_once, asked)


def needed_at_once(graph: Graph, paths: set[str]) -> set[str]:
    """These modules, and all that they import at once.

    >>> graph = {"a": Imports({"b"}, {"./c": "c"}), "b": Imports(set(), {}), "c": Imports(set(), {})}
    >>> sorted(needed_at_once(graph, {"a"}))
    ['a', 'b']
    """
    found: set[str] = set()
    new = set(paths)
    while new:
        found |= new
        new = {imported for path in new for imported in graph[path].at_once} - found
    return found


def join_styles(folder: Path) -> None:
    """Make one style sheet of those that the page names, and one script of its modules."""
    page = folder / PAGE
    text = page.read_text(encoding="utf-8")
    named = re.findall(r'<link rel="stylesheet" href="/([^"]+)" />', text)
    sheets = [folder / name for name in named]
    joined = "".join(sheet.read_text(encoding="utf-8") for sheet in sheets)
    for sheet in sheets:
        sheet.unlink()
    (folder / STYLE).write_text(joined, encoding="utf-8", newline="\n")
    text = re.sub(r' *<link rel="modulepreload"[^>]*>\n', "", text)
    first, *others = re.findall(r' *<link rel="stylesheet"[^>]*>\n', text)
    text = text.replace(first, f'    <link rel="stylesheet" href="/{STYLE}" />\n')
    for other in others:
        text = text.replace(other, "")
    module, script = f'<script type="module" src="/{SHELL}">', f'<script defer src="/{SHELL}">'
    if module not in text:
        raise VendorError(f"{PAGE} does not load {SHELL} as a module, so no script can take its place.")
    page.write_text(text.replace(module, script), encoding="utf-8", newline="\n")


def ask_by_path(file: Path, asked: dict[str, str]) -> None:
    """Have a module ask for others by their paths, wherever they are; they stay out of its own script."""
    text = file.read_text(encoding="utf-8")
    for name, path in asked.items():
        written = f'import("{name}")'
        if written not in text:
            raise VendorError(f"{file.name} asks for {name} in another way than {written}, which the build would miss.")
        text = text.replace(written, f'slipbook.part("{path}")')
    file.write_text(text, encoding="utf-8", newline="\n")


def write_first(file: Path, first: set[str]) -> None:
    """Write the module that the first script is made of: the shell, whose modules are entered at the end."""
    own = sorted(first - {SHELL})
    lines = [f'import "./{BEGINNING}";', *(f'import * as m{at} from "./{path}";' for at, path in enumerate(own))]
    lines += [f'import "./{SHELL}";', *(f'slipbook.shared["{path}"] = m{at};' for at, path in enumerate(own))]
    file.write_text("\n".join(lines) + "\n", encoding="utf-8", newline="\n")


def write_later(file: Path, others: set[str]) -> None:
    """Write the module that the second script is made of: it runs a module when that is asked for."""
    lines = [f'slipbook.parts["{path}"] = () => import("./{path}");' for path in sorted(others)]
    file.write_text("\n".join(lines) + "\n", encoding="utf-8", newline="\n")


def bundle(modules: Path, folder: Path) -> None:
    """Put two scripts and a style sheet in the place of the modules of a copy of the web files.

    Parameters
    ----------
    modules : Path
        A node_modules folder with esbuild in it.
    folder : Path
        The copy.
    """
    graph = read_graph(modules, folder)
    first = needed_at_once(graph, {SHELL} | WANTED_AT_ONCE)
    others = set(graph) - first
    entry = folder / "entry.js"
    made = folder / "made.js"

    for path in first:
        ask_by_path(folder / path, graph[path].asked)
    write_first(entry, first)
    esbuild(modules, folder, entry.name, *script(COMPILED_AT_ONCE), f"--outfile={made.name}")

    # Or esbuild would look above for what the files are.
    about = folder / "package.json"
    about.write_text("{}", encoding="utf-8")
    for path in first:
        # What both use stays one, with the state that is in it.
        (folder / path).write_text(f'module.exports = slipbook.shared["{path}"];\n', encoding="utf-8", newline="\n")
    write_later(entry, others)
    esbuild(modules, folder, entry.name, *script(STRICT), f"--outfile={LATER}")

    made.replace(folder / SHELL)
    for path in {entry.name, about.name, BEGINNING, *graph} - {SHELL}:
        (folder / path).unlink()
    join_styles(folder)
    for name in (SHELL, LATER):
        compress(folder / name)
