"""Bundles the modules of the web side into a few scripts: the shell, the first screens, and one for each other room.

A browser keeps compiled code of a plain script that a service worker fetched, and none of a module; so an installed
Slipbook starts from the shell, `app.js`, which begins to work while the first screens are on their way in
`first-screens.js`, and fetches the script of a room with the first screen of it. Which script a module is in follows
from the imports (`share_out`). All have their modules by esbuild, and a checkout stays as it is written. There are no
source maps: they would weigh more than the scripts, and who looks for a fault finds it in a checkout, whose files are
the sources.
"""

import json
import re
import shutil
import tempfile
from collections import defaultdict
from pathlib import Path, PurePosixPath
from typing import NamedTuple

from vendor import VendorError, compress, run

# What is asked for later and wanted at nearly every start: the list, a unit, its check, its plates, and what makes ids.
WANTED_AT_ONCE = {
    "screens/unit/list.js",
    "screens/unit/page.js",
    "screens/check/check.js",
    "screens/check/choose.js",
    "screens/parts/plates.js",
    "vendor/uuid/dist/v7.js",
}
# Of what these ask for, one is wanted at a time: each has a script of its own, in a folder, with what it alone needs.
ONE_AT_A_TIME = {"screens/help/topics.js"}
SHELL = "app.js"
FIRST = "first-screens.js"
# What the first screens ask for themselves, and what several scripts want.
MORE = "app-more.js"
COMMON = "common.js"
BEGINNING = "bundled.js"
STYLE = "style/app.css"
PAGE = "index.html"
# Our tsconfig would make every script strict, so it is not read. The target keeps esbuild from using newer syntax.
ESBUILD = ["--minify", "--tsconfig-raw={}", "--legal-comments=none", "--charset=utf8", "--target=es2022"]

# A plain script, as strict as its modules were.
STRICT = '"use strict";'
# Nearly all of the first two scripts runs at every start. Chromium then compiles each as a whole, so that its compiled
# code is kept as a whole, and no start compiles hundreds of functions one by one; other browsers pass over the comment.
COMPILED_AT_ONCE = f"//# allFunctionsCalledOnLoad\n{STRICT}"


class Imports(NamedTuple):
    """The paths of the modules that one needs at once, and of those that it asks for later, by its names for them."""

    at_once: set[str]
    asked: dict[str, str]


Graph = dict[str, Imports]


def plain(beginning: str) -> list[str]:
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


def read_exports(modules: Path, folder: Path, paths: list[str]) -> dict[str, list[str]]:
    """What each of these modules exports, by its path."""
    with tempfile.TemporaryDirectory() as scratch:
        about = Path(scratch, "about.json")
        esbuild(modules, folder, *paths, "--format=esm", f"--outdir={scratch}", f"--metafile={about}")
        outputs = json.loads(about.read_text(encoding="utf-8"))["outputs"]
    return {described["entryPoint"]: described["exports"] for described in outputs.values()}


def elsewhere(path: str, exported: list[str]) -> str:
    """The module that stands for one of another script: what several scripts use stays one, with the state in it.

    It names what it exports. Of a module that does not, esbuild copies everything at each import.

    >>> print(elsewhere("a/b.js", ["c", "default"]))
    const { c: e0, default: e1 } = slipbook.run("a/b.js");
    export { e0 as c, e1 as default };
    <BLANKLINE>
    """
    taken = ", ".join(f"{name}: e{at}" for at, name in enumerate(exported))
    given = ", ".join(f"e{at} as {name}" for at, name in enumerate(exported))
    return f'const {{ {taken} }} = slipbook.run("{path}");\nexport {{ {given} }};\n'


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


def room_of(path: str) -> str:
    """The script of the folder that a module is in."""
    return f"{PurePosixPath(path).parent.name}.js"


def scripts_of_asked(graph: Graph, first: set[str]) -> dict[str, str]:
    """Which script each module goes into that is asked for later, by its path.

    What the shell asks for is a screen, and is with the others of its room. What a screen asks for itself is with that
    screen, or in a script of its own; for the first ones it is apart.

    >>> shell = Imports({"b.js"}, {"./help/h.js": "help/h.js"})
    >>> graph = {"app.js": shell, "b.js": Imports(set(), {"./c.js": "c.js"}), "c.js": Imports(set(), {})}
    >>> graph["help/h.js"] = Imports(set(), {"./topic.js": "help/topic.js"})
    >>> scripts_of_asked(graph, {"app.js", "b.js"})
    {'help/h.js': 'help.js', 'c.js': 'app-more.js', 'help/topic.js': 'help.js'}
    """
    scripts = {asked: room_of(asked) for asked in graph[SHELL].asked.values() if asked not in first}
    for path in sorted(set(graph) - {SHELL}):
        for asked in graph[path].asked.values():
            if asked not in first:
                scripts.setdefault(asked, script_beside(path, asked, first))
    return scripts


def script_beside(path: str, asked: str, first: set[str]) -> str:
    """The script of what a screen asks for.

    >>> script_beside("screens/help/topics.js", "screens/help/bar.js", set())
    'help/bar.js'
    """
    if path in ONE_AT_A_TIME:
        return f"{PurePosixPath(path).parent.name}/{PurePosixPath(asked).name}"
    return MORE if path in first else room_of(path)


def share_out(graph: Graph, first: set[str]) -> dict[str, str]:
    """Which script each module is in, by its path: the one that alone wants it, or the common one.

    `first` are those that nearly every start wants. What the shell imports at once is with it; the others are apart, so
    that both are on their way beside each other, and the shell begins to work while the others come.

    >>> scripts = {"help/h.js": {"x.js"}, "parts/p.js": {"x.js", "y.js"}, "x.js": set(), "y.js": set()}
    >>> graph = {path: Imports(at_once, {}) for path, at_once in scripts.items()}
    >>> graph["app.js"] = Imports(set(), {path: path for path in ("help/h.js", "parts/p.js")})
    >>> sorted(share_out(graph, {"app.js"}).items())[1:]
    [('help/h.js', 'help.js'), ('parts/p.js', 'parts.js'), ('x.js', 'common.js'), ('y.js', 'parts.js')]
    """
    wanted: dict[str, set[str]] = defaultdict(set)
    for asked, script in scripts_of_asked(graph, first).items():
        for path in needed_at_once(graph, {asked}) - first:
            wanted[path].add(script)
    shared = {path: script_of_all(scripts) for path, scripts in wanted.items()}
    return shared | dict.fromkeys(first, FIRST) | dict.fromkeys(needed_at_once(graph, {SHELL}), SHELL)


def script_of_all(scripts: set[str]) -> str:
    """Where a module is that these scripts want: in the only one, in that of their room, or in the common one.

    >>> script_of_all({"help/bar.js", "help/held.js"}), script_of_all({"help/bar.js", "parts.js"})
    ('help.js', 'common.js')
    """
    if len(scripts) == 1:
        return next(iter(scripts))
    rooms = {script.partition("/")[0].removesuffix(".js") for script in scripts}
    return f"{rooms.pop()}.js" if len(rooms) == 1 else COMMON


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
    module, script = f'<script type="module" src="/{SHELL}"></script>', f'<script defer src="/{SHELL}"></script>'
    # The shell has the first words, and goes first.
    ahead = f'\n    <link rel="preload" href="/{FIRST}" as="script" fetchpriority="low" />'
    if module not in text:
        raise VendorError(f"{PAGE} does not load {SHELL} as a module, so no script can take its place.")
    page.write_text(text.replace(module, script + ahead), encoding="utf-8", newline="\n")


def ask_by_path(name: str, text: str, asked: dict[str, list[str]]) -> str:
    """Have a module ask for others by their paths and the scripts that they need; they stay out of its own script.

    >>> ask_by_path("a.js", 'import("./c.js")', {"./c.js": ["x/c.js", "x.js"]})
    'slipbook.part("x/c.js", "x.js")'
    """
    for other, needed in asked.items():
        written = f'import("{other}")'
        if written not in text:
            raise VendorError(f"{name} asks for {other} in another way than {written}, which the build would miss.")
        text = text.replace(written, f"slipbook.part({', '.join(map(json.dumps, needed))})")
    return text


def whole_entry(own: list[str]) -> str:
    """A module that runs all that a script has, and enters it at its end, where others find it by its path."""
    lines = [f'import * as m{at} from "./{path}";' for at, path in enumerate(own)]
    lines += [f'slipbook.shared["{path}"] = m{at};' for at, path in enumerate(own)]
    return "\n".join(lines) + "\n"


def shell_entry(own: list[str], others: list[str]) -> str:
    """The module that the shell's script is made of."""
    names = ", ".join(map(json.dumps, others))
    begin = f'import "./{BEGINNING}";\nslipbook.scripts.push({names});\nimport "./{SHELL}";\n'
    return begin + whole_entry(own)


def later_entry(own: list[str]) -> str:
    """The module that a room's script is made of: it runs a module when that is wanted."""
    return "".join(f'slipbook.parts["{path}"] = () => require("./{path}");\n' for path in own)


def bundle(modules: Path, folder: Path) -> list[Path]:
    """Put some scripts and a style sheet in the place of the modules of a copy of the web files.

    Parameters
    ----------
    modules : Path
        A node_modules folder with esbuild in it.
    folder : Path
        The copy.

    Returns
    -------
    list of paths
        All scripts but the first two: they are still to be minified once more, in which esbuild finds some bytes, and
        then compressed. The first two would lose their comment.
    """
    graph = read_graph(modules, folder)
    first = needed_at_once(graph, {SHELL} | WANTED_AT_ONCE)
    shared = share_out(graph, first)
    others = sorted(set(shared.values()) - {SHELL})

    def needs(path: str) -> list[str]:
        needed = {shared[other] for other in needed_at_once(graph, {path})}
        return [path, *sorted(needed - {SHELL})]

    texts = {}
    for path, imports in graph.items():
        text = (folder / path).read_text(encoding="utf-8")
        if re.search(r"^export (let|var)\b", text, re.MULTILINE):
            raise VendorError(f"{path} exports a variable, and another script would keep its first value.")
        texts[path] = ask_by_path(path, text, {name: needs(asked) for name, asked in imports.asked.items()})

    def write(name: str, text: str) -> None:
        (folder / name).write_text(text, encoding="utf-8", newline="\n")

    def make_entry(script: str, own: list[str]) -> str:
        if script == SHELL:
            return shell_entry(own, others)
        return whole_entry(own) if script == FIRST else later_entry(own)

    stubs = {path: elsewhere(path, exported) for path, exported in read_exports(modules, folder, sorted(graph)).items()}
    for path, stub in stubs.items():
        write(path, stub)
    # Or esbuild would look above for what the files are.
    write("package.json", "{}")
    for script in (SHELL, *others):
        own = sorted(path for path in graph if shared[path] == script)
        for path in own:
            write(path, texts[path])
        write("entry.js", make_entry(script, [path for path in own if path != SHELL]))
        beginning = COMPILED_AT_ONCE if script in (SHELL, FIRST) else STRICT
        esbuild(modules, folder, "entry.js", *plain(beginning), f"--outfile=made/{script}")
        for path in own:
            write(path, stubs[path])

    for path in {"entry.js", "package.json", BEGINNING, *graph}:
        (folder / path).unlink()
    for script in (SHELL, *others):
        (folder / script).parent.mkdir(exist_ok=True)
        (folder / "made" / script).rename(folder / script)
    shutil.rmtree(folder / "made")
    compress(folder / SHELL)
    compress(folder / FIRST)
    join_styles(folder)
    return [folder / script for script in others if script != FIRST]
