"""What servers that split off a warm process need not do again: it is done once as this is imported.

They serve the web files as people get them, built. What every module of the checkout is like is another test's affair.
"""

import gc
import os
import tempfile

from server import app, serving
from server import cli as cli
from server.web import ENGINE, PACK, WebFiles

from . import STORE
from .built import built_web

app.WEB = built_web()
# How long a server that is stopped waits for the next request, at most; each test stops one.
serving.Server.expiration_interval = 0.05

if os.environ.get(STORE) == "postgres":
    from . import hosted as hosted

with tempfile.TemporaryDirectory() as folder:
    # Some modules are imported only when there is an application.
    app.close_app(app.create_app(folder))

# What a phone asks for.
files = WebFiles(app.WEB, app.HERE / "engine")
for address in ("/", PACK, ENGINE, "/precache.js", *files.offline_files()):
    if (file := files.get(address)) is not None:
        files.compress(file)

# All of this stays: whoever splits off need not look through it for garbage.
gc.collect()
gc.freeze()
