"""A door to a data folder under invented names, and clients that stand before it."""

from pathlib import Path
from typing import Any

from flask import Flask
from flask.testing import FlaskClient

from server.lan import Addresses, Door

from .stores import app_over

# A private address (RFC 1918) and a name that no machine here has.
PC_ADDRESSES = Addresses(("pit-pc.local", "pit-pc"), ("192.168.7.20",))
PHONE = "192.168.7.31"


def lan_app(folder: Path) -> tuple[Flask, Door]:
    """An application behind a door; nothing listens."""
    door = Door(folder, lambda: PC_ADDRESSES)
    # A thousand guesses in a row are wanted here, and soon.
    door.pacing.pause_s = 0
    door.port, door.welcome_port = 8127, 8128
    return app_over(folder, door=door), door


class Visitor:
    """Somebody at an address of the network, with or without a token."""

    def __init__(self, app: Flask, address: str = PHONE, token: str | None = None) -> None:
        self.client: FlaskClient = app.test_client()
        self.address = address
        self.token = token

    def ask(self, method: str, path: str, **options: Any) -> Any:
        headers = dict(options.pop("headers", {}))
        if self.token is not None:
            headers["Authorization"] = f"Bearer {self.token}"
        return self.client.open(
            path, method=method, headers=headers, environ_base={"REMOTE_ADDR": self.address}, **options
        )

    def pair(self, code: str, name: str = "Mara's phone") -> Any:
        return self.ask("POST", "/api/pair", json={"code": code, "name": name})


def paired_phone(app: Flask, role: str, name: str = "Mara's phone") -> Visitor:
    """A phone that came in with a code made at the PC."""
    code_answer = Visitor(app, "127.0.0.1").ask("POST", "/api/pairing", json={"role": role})
    assert code_answer.status_code == 200, code_answer.text
    phone = Visitor(app)
    answer = phone.pair(code_answer.json["code"], name)
    assert answer.status_code == 200, answer.text
    phone.token = answer.json["token"]
    return phone
