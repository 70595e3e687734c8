"""A workshop of a database, served to whoever comes as a workshop's own PC serves its folder.

Whoever shows no token is at the workshop's PC: so a story that begins there can be told over a database too. All else
is as `slipbook serve --database` does it.
"""

from functools import partial

from flask import g, request

from server import demo, serving
from server.app import close_app, create_app
from server.lan import HostedDoor
from server.lan.postgres import DatabaseRegisters
from server.log.postgres import Database, DatabaseLog, log_of

HOSTS = ["localhost", "127.0.0.1"]


class DoorAtThePc(HostedDoor):
    """Lets in who comes from this machine without a token, as a workshop's own PC does."""

    lets_this_pc_in = True


def main(arguments: list[str]) -> int:
    """Serve a workshop until terminated: "demo" or "serve", the database's address, the workshop's number, a port."""
    command, url, number, port = arguments
    workshop = int(number)
    database = Database(url, most=serving.THREADS, serves=True)
    try:
        if command == "demo":
            demo.load(DatabaseLog(database, workshop))
        door = DoorAtThePc(DatabaseRegisters(database), HOSTS)
        app = create_app(None, door=door, logs=partial(log_of, database))

        def say_workshop() -> None:
            if "Authorization" not in request.headers:
                g.workshop = workshop

        # Before the gate, which may know better.
        app.before_request_funcs.setdefault(None, []).insert(0, say_workshop)
        serving.serve(app, int(port), lambda address: print(address, flush=True))
        close_app(app)
    finally:
        database.close()
    return 0
