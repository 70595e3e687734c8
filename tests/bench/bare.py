"""A route that only echoes JSON, in the same server as Slipbook's own: what answering costs without any work."""

import sys

from flask import Flask, Response, jsonify, request

from server.serving import serve


def bare() -> Flask:
    """An application with the one route."""
    app = Flask("bare")

    @app.post("/echo")
    def echo() -> Response:
        return jsonify(request.get_json())

    return app


def said(address: str) -> None:
    """Tell where it is, as Slipbook does."""
    print(address, flush=True)


if __name__ == "__main__":
    serve(bare(), int(sys.argv[1]), said)
