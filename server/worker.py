"""One of the processes that serve a database: `slipbook serve --database` starts them, and watches over them.

It reads its settings as a line of JSON, and ends when its standard input does: so it outlives nobody who started it.
It writes one line of JSON: that it answers, or why it cannot.
"""

import json
import logging
import os
import signal
import sys
import threading
from functools import partial
from typing import Any, NamedTuple

from . import serving
from .app import close_app, create_app
from .behind_proxy import BehindProxy
from .lan import HostedDoor
from .log import LogFault
from .log.clock import PcClock
from .places import require_library


class Settings(NamedTuple):
    """What a worker is told.

    Attributes
    ----------
    database : str
        Address of the database, as the role that serves.
    address, port : str, int
        Where to listen, together with the other workers.
    proxy : str
        The address of the proxy whose headers are believed; empty for none.
    clock_is_right : bool
        Whether somebody said that the clock of this machine is right.
    """

    database: str
    address: str
    port: int
    proxy: str
    clock_is_right: bool


def main() -> int:
    """Serve until told to stop."""
    logging.basicConfig(format="%(message)s", level=logging.WARNING)
    line = sys.stdin.readline()
    if not line:
        # Who started this is gone already.
        return 0
    settings = Settings(**json.loads(line))
    try:
        work(settings)
    except LogFault as fault:
        say(fault=fault.reason)
        return 2
    return 0


def work(settings: Settings) -> None:
    """Serve a database.

    Raises
    ------
    LogFault
        The database or the port cannot be used.
    """
    require_library()
    from .lan.postgres import DatabaseRegisters
    from .log.postgres import Database, log_of

    PcClock.is_trusted = settings.clock_is_right
    database = Database(settings.database, most=serving.LAN_THREADS, serves=True)
    try:
        hosts = [] if settings.proxy else ["localhost", "127.0.0.1", "::1"]
        door = HostedDoor(DatabaseRegisters(database), hosts)
        app = create_app(None, door=door, logs=partial(log_of, database))
        if settings.proxy:
            app.wsgi_app = BehindProxy(app.wsgi_app, settings.proxy)  # type: ignore[method-assign]
        threading.Thread(target=end_with_input, daemon=True).start()
        serving.serve_shared(app, settings.address, settings.port, lambda: say(ready=True))
        close_app(app)
    finally:
        database.close()


def say(**said: Any) -> None:
    """Tell who started this."""
    print(json.dumps(said), flush=True)


def end_with_input() -> None:
    """Stop when who started this lets go of it, or is gone."""
    sys.stdin.read()
    os.kill(os.getpid(), signal.SIGTERM)


if __name__ == "__main__":
    sys.exit(main())
