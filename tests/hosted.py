"""A workshop of a database, served to whoever comes as a workshop's own PC serves its folder.

Whoever shows no token is taken for a device of the bench: so a story that begins at the PC of a workshop can be told
over a database too. All else is as `slipbook serve --database` does it.
"""

from collections.abc import Iterable
from typing import Any

from server import demo, serving
from server.app import close_app
from server.lan import BENCH
from server.lan.postgres import DatabaseRegisters
from server.log.postgres import Database, DatabaseLog
from server.worker import app_over

AT_THE_PC = "The workshop's PC"


class AtThePc:
    """Adds the token of a device to requests that have none.

    Parameters
    ----------
    app : callable
        A WSGI application.
    token : str
        The token.
    """

    def __init__(self, app: Any, token: str) -> None:
        self.app = app
        self.token = token

    def __call__(self, environ: dict[str, Any], start_response: Any) -> Iterable[bytes]:
        environ.setdefault("HTTP_AUTHORIZATION", f"Bearer {self.token}")
        answer: Iterable[bytes] = self.app(environ, start_response)
        return answer


def main(arguments: list[str]) -> int:
    """Serve, until terminated, the workshop with a number in a database: "demo" or "serve", address, number, port."""
    command, url, number, port = arguments
    database = Database(url, most=serving.THREADS, serves=True)
    try:
        if command == "demo":
            demo.load(DatabaseLog(database, int(number)))
        devices = DatabaseRegisters(database).of(int(number)).devices
        app = app_over(database)
        app.wsgi_app = AtThePc(app.wsgi_app, devices.add(AT_THE_PC, BENCH)[1])  # type: ignore[method-assign]
        serving.serve(app, int(port), lambda address: print(address, flush=True))
        close_app(app)
    finally:
        database.close()
    return 0
