"""Minifies the web files of an installed Slipbook: the same programs in fewer bytes and fewer files.

esbuild takes comments, white space and long names out of scripts and style sheets, and leaves the text of templates as
it is written; `bundle.py` joins the modules. `bytecode.py` compiles the engine's files for MicroPython, whose compiler
leaves comments, docstrings and annotations out by itself.
"""

import shutil
from pathlib import Path

from bundle import bundle, esbuild
from bytecode import compile_files
from vendor import compress

from server.one_file import join

# What is only for working on the web files, and the phone's shim for `typing`, which is compiled below.
NOT_SERVED = shutil.ignore_patterns("node_modules", "__pycache__", ".*", "*.py", "*.json", "*.d.ts")
ENGINE_FILES = "engine/files.bin"
SHIM = "engine/typing.py"
# A room of the engine that only the server uses.
SERVER_ONLY = "results"


def minify_web(modules: Path, folder: Path) -> None:
    """Minify every script and style sheet in a folder, with the esbuild of a node_modules folder.

    Libraries that come minified stay as they are: those that are compressed already, or whose names say so.
    """
    for suffix in (".css", ".js", ".mjs"):
        files = [
            str(path.relative_to(folder))
            for path in sorted(folder.rglob(f"*{suffix}"))
            if not {".min", ".prod"} & set(path.suffixes) and not Path(f"{path}.br").is_file()
        ]
        if not files:
            continue
        options = ["--outbase=.", "--outdir=.", "--allow-overwrite"]
        if suffix != ".css":
            options.append(f"--out-extension:.js={suffix}")
        esbuild(modules, folder, *files, *options)


def build(modules: Path, webui: Path, engine: Path, target: Path, bundled: bool = True) -> None:
    """Write the built form of the web files and of the engine's files into a new folder.

    Parameters
    ----------
    modules : Path
        A node_modules folder with esbuild in it.
    webui, engine : Path
        The web files of a checkout, with the libraries, and the engine's source.
    target : Path
        The folder to make.
    bundled : bool
        Whether the modules that the page leads to are joined.
    """
    shutil.copytree(webui, target, ignore=NOT_SERVED)
    scripts = bundle(modules, target) if bundled else []
    minify_web(modules, target)
    for script in scripts:
        # However small: no phone's first visit waits until the server has compressed one.
        compress(script, above=0)
    files = target / ENGINE_FILES
    files.write_bytes(join(compile_files(phone_modules(webui, engine))))
    compress(files)


def phone_modules(webui: Path, engine: Path) -> dict[str, str]:
    """The source of the modules that the phone's MicroPython has, by their paths in its library."""
    paths = {f"engine/{path.relative_to(engine).as_posix()}": path for path in sorted(engine.rglob("*.py"))}
    modules = {name: path for name, path in paths.items() if not name.startswith(f"engine/{SERVER_ONLY}/")}
    modules["typing.py"] = webui / SHIM
    return {name: path.read_text(encoding="utf-8") for name, path in modules.items()}
