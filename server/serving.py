"""Serves the application to this machine or its network, with cheroot's threads, until it is told to stop."""

import contextlib
import errno
import logging
import queue
import signal
import socket
import threading
from collections.abc import Callable
from types import FrameType
from typing import Any

from cheroot import wsgi
from flask import Flask

from .lan import Door
from .lan.crowding import Crowd
from .lan.strict_http import LARGEST_HEAD, StrictConnection
from .lan.tls import TlsAdapter, TlsConnection
from .lan.welcome import create_welcome
from .log import LogFault

LOOPBACK = "127.0.0.1"
THREADS = 10
# Twenty phones at once, and a few browsers at the bench.
LAN_THREADS = 24
# A phone opens up to six connections and keeps them for the next request.
KEPT_OPEN = 160
LARGEST_READ = 4 * 1000 * 1000
# How long answers that are under way may take once it is told to stop, in seconds.
PATIENCE = 5


class Server(wsgi.Server):
    """Cheroot's server, which reads requests strictly and tells its own errors in this program's log."""

    ConnectionClass: type[StrictConnection] = StrictConnection

    def __init__(self, address: tuple[str, int], app: Callable[..., Any], threads: int) -> None:
        # No version: who asks is told no more than he needs, and every answer is shorter.
        super().__init__(address, app, numthreads=threads, server_name="Slipbook")
        self.crowd = Crowd()

    def prepare(self) -> None:
        """Listen, with threads that do not keep the program from ending: some calculations take minutes."""
        failures: list[BaseException] = []
        prepare = super().prepare

        def listen() -> None:
            try:
                prepare()
            except BaseException as failure:
                failures.append(failure)

        # Threads are as the one that starts them, and cheroot asks nobody.
        starting = threading.Thread(target=listen, daemon=True)
        starting.start()
        starting.join()
        if failures:
            raise failures[0]

    def process_conn(self, conn: StrictConnection) -> None:
        """Hand a connection that has something to read to a thread; a new one only while there is room for it."""
        if conn in self.crowd.open or self.crowd.admit(conn, conn.remote_addr or ""):
            super().process_conn(conn)
        else:
            conn.close()

    def stop(self) -> None:
        """Stop, also where somebody reads or sends so slowly that waiting for him would have no end."""
        late = threading.Timer(PATIENCE + 1, self.cut)
        late.start()
        try:
            super().stop()
        finally:
            late.cancel()

    def cut(self) -> None:
        """Break every connection off, in both directions."""
        for connection in list(self.crowd.open):
            with contextlib.suppress(OSError, ValueError):
                connection.socket.shutdown(socket.SHUT_RDWR)

    def put_conn(self, conn: StrictConnection) -> None:
        """Wait for the next request of a connection; one that cannot be waited for is closed."""
        try:
            super().put_conn(conn)
        except Exception:
            # A failure here would end the whole server.
            conn.close()

    def error_log(self, msg: str = "", level: int = logging.ERROR, traceback: bool = False) -> None:
        """Tell of an error."""
        logging.getLogger("slipbook").log(level, "%s", msg, exc_info=traceback)


def serve(app: Flask, port: int, ready: Callable[[str], None]) -> None:
    """Serve to this machine until interrupted or terminated.

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
    server = listening(Server((LOOPBACK, port), app, THREADS), port)
    run([server], lambda: ready(f"http://{LOOPBACK}:{server.bind_addr[1]}/"))


def serve_lan(app: Flask, door: Door, address: str, port: int, welcome_port: int, ready: Callable[[], None]) -> None:
    """Serve to the workshop's network until interrupted or terminated.

    Parameters
    ----------
    app : Flask
        The application, behind `door`.
    door : Door
        Has the certificate; is told the ports.
    address : str
        Address to listen at; 0.0.0.0 for all of this machine's.
    port, welcome_port : int
        Ports for the application over TLS and for the welcome page without; 0 for any that is free.
    ready : callable
        Called once requests are answered.

    Raises
    ------
    LogFault
        The address or a port cannot be had.
    """
    check_address(address)
    server = Server((address, port), app, LAN_THREADS)
    server.ssl_adapter = TlsAdapter(door.credentials)
    server.ConnectionClass = TlsConnection
    server.keep_alive_conn_limit = KEPT_OPEN
    listening(server, port)
    try:
        door.port = server.bind_addr[1]
        page = create_welcome(door.credentials.authority, door.urls, door.welcome_url_by_name)
        welcome = Server((address, welcome_port), page, THREADS)
        door.welcome_port = listening(welcome, welcome_port, "--welcome-port").bind_addr[1]
    except BaseException:
        server.stop()
        raise
    run([server, welcome], ready)


def check_address(address: str) -> None:
    """Refuse an address that is not this machine's.

    Raises
    ------
    LogFault
        It is another's, or none at all.
    """
    try:
        for family, kind, _, _, place in socket.getaddrinfo(address, 0, type=socket.SOCK_STREAM):
            with socket.socket(family, kind) as trial:
                trial.bind(place)
    except (OSError, UnicodeError) as failure:
        raise LogFault(
            f"This PC has no address {address}: give one of its own with --address, or leave that out for all of them."
        ) from failure


def listening(server: Server, port: int, option: str = "--port") -> Server:
    """A server that has its port.

    Raises
    ------
    LogFault
        The port cannot be had.
    """
    server.shutdown_timeout = PATIENCE
    server.request_queue_size = 128
    server.max_request_header_size = LARGEST_HEAD
    # Above the application's own limit, which says in a sentence what to do.
    server.max_request_body_size = LARGEST_READ
    try:
        server.prepare()
    except OSError as failure:
        raise LogFault(port_fault(failure, port, option)) from failure
    return server


def run(servers: list[Server], ready: Callable[[], None]) -> None:
    """Serve until interrupted or terminated, each server in a thread of its own.

    This thread only waits. A signal that raised where requests are handed on could break that off with a lock taken,
    and nothing would stop any more.
    """
    # The one way to tell a waiting thread that a signal handler may use at any moment.
    ended: queue.SimpleQueue[BaseException | None] = queue.SimpleQueue()

    def stop(*_: int | FrameType | None) -> None:
        ended.put(None)

    def serve_one(server: Server) -> None:
        try:
            server.serve()
        except BaseException as failure:
            ended.put(failure)

    threads = [threading.Thread(target=serve_one, args=[server], daemon=True) for server in servers]
    try:
        for name in (signal.SIGINT, signal.SIGTERM):
            signal.signal(name, stop)
        for thread in threads:
            thread.start()
        ready()
        failure = wait(ended)
    finally:
        stopping = [threading.Thread(target=server.stop, daemon=True) for server in servers]
        for thread in stopping:
            thread.start()
        for thread in [*stopping, *threads]:
            if thread.ident is not None:
                thread.join(2 * PATIENCE)
    if failure is not None:
        raise failure


def wait(told: queue.SimpleQueue[BaseException | None]) -> BaseException | None:
    """The next thing told; looks up every second, since a thread that waits without end hears no signal everywhere."""
    while True:
        with contextlib.suppress(queue.Empty):
            return told.get(timeout=1)


def port_fault(failure: OSError, port: int, option: str = "--port") -> str:
    """Why a port cannot be had, and what to do.

    >>> port_fault(OSError(errno.EACCES, ""), 80)
    'Port 80 needs more rights than you have: choose one above 1023 with --port.'
    """
    if failure.errno in (errno.EACCES, errno.EPERM):
        return f"Port {port} needs more rights than you have: choose one above 1023 with {option}."
    if failure.errno == errno.EADDRINUSE or "No socket could be created" in str(failure):
        return f"Port {port} is taken, perhaps by another Slipbook: stop that one, or choose another with {option}."
    return f"Cannot listen on port {port}: {failure.strerror or failure}. Choose another with {option}."
