"""Serves the application on this machine, with cheroot's threads, until it is told to stop."""

import errno
import logging
import signal
import threading
from collections.abc import Callable
from types import FrameType

from cheroot import wsgi
from flask import Flask

from server.log import LogFault

LOOPBACK = "127.0.0.1"
THREADS = 10
# How long answers that are under way may take once it is told to stop, in seconds.
PATIENCE = 5


class Stop(SystemExit):
    """A signal asked the program to stop."""


class Server(wsgi.Server):
    """Cheroot's server, which tells its own errors in this program's log."""

    def error_log(self, msg: str = "", level: int = logging.ERROR, traceback: bool = False) -> None:
        """Tell of an error."""
        logging.getLogger("slipbook").log(level, "%s", msg, exc_info=traceback)


def serve(app: Flask, port: int, ready: Callable[[str], None]) -> None:
    """Serve until interrupted or terminated.

    Parameters
    ----------
    app : Flask
        The application.
    port : int
        Port on the loopback address; 0 for any that is free.
    ready : callable
        Called with the address once requests are answered.

    Raises
    ------
    LogFault
        The port cannot be had.
    """
    server = Server((LOOPBACK, port), app, numthreads=THREADS, shutdown_timeout=PATIENCE, request_queue_size=128)
    try:
        server.prepare()
    except OSError as failure:
        raise LogFault(port_fault(failure, port)) from failure
    stops = threading.Event()

    def stop(*_: int | FrameType | None) -> None:
        # A second signal while stopping must not break off what is being written.
        if not stops.is_set():
            stops.set()
            raise Stop(0)

    try:
        for name in (signal.SIGINT, signal.SIGTERM):
            signal.signal(name, stop)
        ready(f"http://{LOOPBACK}:{server.bind_addr[1]}/")
        server.serve()
    except Stop:
        pass
    finally:
        stops.set()
        server.stop()


def port_fault(failure: OSError, port: int) -> str:
    """Why a port cannot be had, and what to do.

    >>> port_fault(OSError(errno.EACCES, ""), 80)
    'Port 80 needs more rights than you have: choose one above 1023 with --port.'
    """
    if failure.errno in (errno.EACCES, errno.EPERM):
        return f"Port {port} needs more rights than you have: choose one above 1023 with --port."
    if failure.errno == errno.EADDRINUSE or "No socket could be created" in str(failure):
        return f"Port {port} is taken, perhaps by another Slipbook: stop that one, or choose another with --port."
    return f"Cannot listen on port {port}: {failure.strerror or failure}. Choose another with --port."
