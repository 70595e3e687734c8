"""What servers that split off a warm process need not do again: it is done once as this is imported."""

import tempfile
from pathlib import Path

from server import cli as cli
from server.app import close_app, create_app
from server.web import ENGINE, PACK, WebFiles

WEB = Path(__file__).resolve().parent.parent / "webui"

with tempfile.TemporaryDirectory() as folder:
    # Some modules are imported only when there is an application.
    close_app(create_app(folder))

files = WebFiles(WEB, WEB.parent / "server" / "engine")
for address in (PACK, ENGINE, "/precache.js", *files.addresses()):
    if (file := files.get(address)) is not None:
        files.compress(file)
