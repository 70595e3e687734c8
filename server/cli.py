"""The command `slipbook`."""

import argparse
import logging
import sys
import tempfile
from pathlib import Path

from server import demo, serving
from server.app import close_app, create_app
from server.log import LogFault

PORT = 8127
DAMAGED = 1
REFUSED = 2


def main(arguments: list[str] | None = None) -> int:
    """Do what the command line asks; the answer is the program's exit code."""
    asked = parser().parse_args(arguments)
    logging.basicConfig(format="%(message)s", level=logging.WARNING)
    try:
        code: int = asked.do(asked)
        return code
    except LogFault as fault:
        print(fault.reason, file=sys.stderr)
        return REFUSED


def parser() -> argparse.ArgumentParser:
    """Every command and its options."""
    whole = argparse.ArgumentParser(
        prog="slipbook", description="Set up, check and service plate-type limited-slip differentials."
    )
    commands = whole.add_subparsers(title="commands", required=True, metavar="COMMAND")

    def command(name: str, help: str, do: object) -> argparse.ArgumentParser:
        one = commands.add_parser(name, help=help, description=help)
        one.set_defaults(do=do)
        return one

    def with_port(one: argparse.ArgumentParser) -> None:
        one.add_argument("--port", type=port, default=PORT, help=f"port on this machine; 0 for a free one ({PORT})")

    one = command("demo", "Try it with invented units, in a folder that is thrown away.", run_demo)
    one.add_argument("--folder", type=Path, help="keep the folder: a new or empty one")
    with_port(one)
    one = command("serve", "Serve a workshop's log to this machine.", run_serve)
    one.add_argument("--folder", type=Path, required=True, help="data folder; made if missing")
    with_port(one)
    return whole


def port(text: str) -> int:
    """A port from the command line."""
    if text.isascii() and text.isdigit() and int(text) <= 65535:
        return int(text)
    raise argparse.ArgumentTypeError(f"type a port from 0 to 65535; got {text!r}")


def run_demo(asked: argparse.Namespace) -> int:
    """Serve a fresh copy of the demonstration units."""
    if asked.folder is not None:
        if asked.folder.exists() and any(asked.folder.iterdir()):
            raise LogFault(f"{asked.folder} is not empty: name a new or empty folder for the demonstration.")
        return serve_folder(asked.folder, asked.port, with_demo=True)
    with tempfile.TemporaryDirectory(prefix="slipbook-demo-") as folder:
        return serve_folder(Path(folder), asked.port, with_demo=True)


def run_serve(asked: argparse.Namespace) -> int:
    """Serve a data folder."""
    return serve_folder(asked.folder, asked.port, with_demo=False)


def serve_folder(folder: Path, at: int, with_demo: bool) -> int:
    """Serve a data folder until the program is stopped."""
    app = create_app(folder)
    log = app.extensions["slipbook_log"]

    def ready(address: str) -> None:
        for told in log.problems:
            print(told, file=sys.stderr)
        units = len(log.units())
        print(f"Slipbook is at {address} with {log.last} entries of {units} units; Ctrl+C stops it.", flush=True)

    try:
        if with_demo:
            demo.load(log)
        serving.serve(app, at, ready)
    finally:
        close_app(app)
    return 0


if __name__ == "__main__":
    sys.exit(main())
