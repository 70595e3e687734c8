"""Servers that only measuring needs: `python -m tests.bench.served echo`, or `... app DATA_FOLDER WEB_FOLDER PORT`."""

import sys
from pathlib import Path

from flask import Flask, Response, jsonify, request

from server.app import create_app
from server.serving import serve


def bare() -> Flask:
    """A route that only echoes JSON: what answering costs without any work."""
    app = Flask("bare")

    @app.post("/echo")
    def echo() -> Response:
        return jsonify(request.get_json())

    return app


def print_address(address: str) -> None:
    """Tell where it is, as Slipbook does."""
    print(address, flush=True)


if __name__ == "__main__":
    match sys.argv[1:]:
        case ["echo"]:
            serve(bare(), 0, print_address)
        case ["app", data, web, port]:
            serve(create_app(Path(data), web_folder=Path(web)), int(port), print_address)
        case _:
            sys.exit(__doc__)
