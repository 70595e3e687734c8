"""One of the processes that serve a database: `slipbook serve --database` splits them off, and watches over them.

It ends when whoever started it holds it no longer: so it outlives nobody who started it. It tells one line of JSON:
that it answers, or why it cannot.
"""

import json
import logging
import os
import signal
import threading
from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING, Any, NamedTuple

from flask import Flask

from . import serving
from .app import close_app, create_app
from .behind_proxy import BehindProxy
from .lan import HostedDoor
from .log import Log, LogFault
from .log.clock import PcClock
from .places import require_library

if TYPE_CHECKING:
    from .log.postgres import Database


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


def main(settings: Settings, tells: int, held: int) -> int:
    """Serve until told to stop.

    Parameters
    ----------
    settings : Settings
        How.
    tells, held : int
        Where it tells what it has to, and what can be read to its end once nobody holds it any more.
    """
    logging.basicConfig(format="%(message)s", level=logging.WARNING)
    with open(tells, "w", buffering=1) as teller:

        def tell(**said: Any) -> None:
            print(json.dumps(said), file=teller)

        try:
            work(settings, held, lambda: tell(ready=True))
        except LogFault as fault:
            tell(fault=fault.reason)
            return 2
    return 0


def read_modules() -> None:
    """Read all modules that serving wants, without a database."""
    require_library()
    from .lan import postgres as postgres

    def no_log(_: int | None) -> Log:
        raise LogFault("There is no log here.")

    # Those of the interface are read when there is an application.
    create_app(None, logs=no_log)


def work(settings: Settings, held: int, ready: Callable[[], None]) -> None:
    """Serve a database.

    Raises
    ------
    LogFault
        The database or the port cannot be used.
    """
    from .log.postgres import Database

    PcClock.is_trusted = settings.clock_is_right
    database = Database(settings.database, most=serving.LAN_THREADS, serves=True)
    try:
        app = app_over(database, settings.proxy)
        threading.Thread(target=end_with, args=[held], daemon=True).start()
        serving.serve_shared(app, settings.address, settings.port, ready)
        close_app(app)
    finally:
        database.close()


def app_over(database: "Database", proxy: str = "") -> Flask:
    """The application over all workshops of a database, behind a proxy with this address if there is one."""
    from .lan.postgres import DatabaseRegisters
    from .log.postgres import log_of

    hosts = [] if proxy else ["localhost", "127.0.0.1", "::1"]
    door = HostedDoor(DatabaseRegisters(database), hosts)
    app = create_app(None, door=door, logs=partial(log_of, database))
    if proxy:
        app.wsgi_app = BehindProxy(app.wsgi_app, proxy)  # type: ignore[method-assign]
    return app


def end_with(held: int) -> None:
    """Stop when who started this lets go of it, or is gone."""
    os.read(held, 1)
    os.kill(os.getpid(), signal.SIGTERM)
