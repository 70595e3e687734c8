"""Serves the application to this machine or its network, with cheroot's threads, until it is stopped."""

import contextlib
import ctypes
import errno
import gc
import logging
import queue
import signal
import socket
import sys
import threading
from collections.abc import Callable, Iterator
from types import FrameType
from typing import Any

from cheroot import wsgi
from flask import Flask

from .lan import Door
from .lan.addresses import has_ipv6, unmapped_ip
from .lan.connections import OpenConnections, ThreadQueue
from .lan.gathering import GatheringConnection
from .lan.strict_http import LARGEST_HEAD
from .lan.tls import TlsAdapter, TlsConnection
from .lan.welcome import create_welcome
from .log import LogFault

LOOPBACK = "127.0.0.1"
# Every address of this PC, of IPv6 too where it has that.
EVERYWHERE = ""
EVERYWHERE_IPV4, EVERYWHERE_IPV6 = "0.0.0.0", "::"
THREADS = 10
# Enough for twenty phones at once and a few browsers at the bench.
LAN_THREADS = 24
# A phone opens up to six connections and keeps them for the next request.
KEPT_OPEN = 160
LARGEST_READ = 4 * 1000 * 1000
# How long unfinished answers may still take once the server is stopped, in seconds.
PATIENCE = 5
# In malloc.h of the GNU C library: how many arenas there may be.
M_ARENA_MAX = -8


class Server(wsgi.Server):
    """Cheroot's server, which reads requests strictly and writes its errors to this program's log."""

    ConnectionClass: type[GatheringConnection] = GatheringConnection

    def __init__(
        self, address: tuple[str, int], app: Callable[..., Any], threads: int, shares_port: bool = False
    ) -> None:
        # Without a version: nobody needs it, and every answer is shorter.
        super().__init__(address, app, numthreads=threads, server_name="Slipbook", reuse_port=shares_port)
        self.open_connections = OpenConnections(self.dismiss)
        self.thread_queue = ThreadQueue(threads, super().process_conn)

    def prepare(self) -> None:
        """Listen, with threads that do not keep the program from ending: some calculations take minutes."""
        failures: list[BaseException] = []
        prepare = super().prepare

        def listen() -> None:
            try:
                prepare()
            except BaseException as failure:
                failures.append(failure)

        # Cheroot has no setting for this, but a thread that is started by a daemon thread is a daemon itself.
        starter = threading.Thread(target=listen, daemon=True)
        starter.start()
        starter.join()
        if failures:
            raise failures[0]

    def process_conn(self, conn: GatheringConnection) -> None:
        """Let a thread go on with a connection; a new one for which there is no room is closed."""
        address = conn.remote_addr = unmapped_ip(conn.remote_addr or "")
        known = conn in self.open_connections.admitted
        if self.open_connections.must_leave(conn) or not (known or self.open_connections.admit(conn, address)):
            conn.close()
        else:
            self.thread_queue.enqueue(conn, address)

    def dismiss(self, conn: GatheringConnection) -> None:
        """Close a connection to make room, even if it waits for its turn with a thread or for data."""
        if self.thread_queue.forget(conn):
            conn.close()
        else:
            self.break_off([conn])

    def stop(self) -> None:
        """Stop; connections that are still busy after a while are broken off, since a client may be very slow."""
        timer = threading.Timer(PATIENCE + 1, lambda: self.break_off(list(self.open_connections.admitted)))
        timer.start()
        try:
            super().stop()
        finally:
            timer.cancel()

    def break_off(self, connections: list[GatheringConnection]) -> None:
        """Break connections off in both directions; whoever reads or waits for one of them finds that it is over."""
        for connection in connections:
            with contextlib.suppress(OSError, ValueError):
                # Not by TLS, which another thread may be in the middle of.
                socket.socket.shutdown(connection.socket, socket.SHUT_RDWR)

    def put_conn(self, conn: GatheringConnection) -> None:
        """Wait for the next request of a connection; if that fails, close it."""
        try:
            super().put_conn(conn)
        except Exception:
            # A failure here would end the whole server.
            conn.close()

    def error_log(self, msg: str = "", level: int = logging.ERROR, traceback: bool = False) -> None:
        """Write an error to the log."""
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
        The port cannot be used.
    """
    server = Server((LOOPBACK, port), app, THREADS)
    start_listening(server, port)
    run([server], lambda: ready(f"http://{LOOPBACK}:{server.bind_addr[1]}/"))


def serve_lan(app: Flask, door: Door, address: str, port: int, welcome_port: int, ready: Callable[[], None]) -> None:
    """Serve to the workshop's network until interrupted or terminated.

    Parameters
    ----------
    app : Flask
        The application, behind `door`.
    door : Door
        Has the certificate; gets the ports.
    address : str
        Address to listen at; empty for every address of this machine.
    port, welcome_port : int
        Ports for the application over TLS and for the welcome page without TLS; 0 for any that is free.
    ready : callable
        Called once requests are answered.

    Raises
    ------
    LogFault
        The address or a port cannot be used.
    """
    address = address or (EVERYWHERE_IPV6 if has_ipv6() else EVERYWHERE_IPV4)
    check_address(address)
    server = Server((address, port), app, LAN_THREADS)
    server.ssl_adapter = TlsAdapter(door.credentials)
    server.ConnectionClass = TlsConnection
    server.keep_alive_conn_limit = KEPT_OPEN
    start_listening(server, port)
    try:
        door.port = server.bind_addr[1]
        welcome_app = create_welcome(door.credentials.authority, door.urls, door.welcome_url_by_name)
        welcome_server = Server((address, welcome_port), welcome_app, THREADS)
        start_listening(welcome_server, welcome_port, "--welcome-port")
        door.welcome_port = welcome_server.bind_addr[1]
    except BaseException:
        server.stop()
        raise
    run([server, welcome_server], ready)


def serve_shared(app: Flask, address: str, port: int, ready: Callable[[], None]) -> None:
    """Serve at a port together with other processes, until interrupted or terminated.

    Parameters
    ----------
    app : Flask
        The application.
    address, port : str, int
        Where to listen; whoever started the processes holds the port by `reserved`.
    ready : callable
        Called once requests are answered.

    Raises
    ------
    LogFault
        The port cannot be used.
    """
    server = Server((address, port), app, LAN_THREADS, shares_port=True)
    server.keep_alive_conn_limit = KEPT_OPEN
    start_listening(server, port)
    run([server], ready)


@contextlib.contextmanager
def reserved(address: str, port: int) -> Iterator[int]:
    """A port that several processes are to share, held so that it stays free for them; 0 for any.

    Raises
    ------
    LogFault
        It cannot be used, or this system shares no ports.
    """
    if not hasattr(socket, "SO_REUSEPORT"):
        raise LogFault("This system lets no processes share a port: serve a database on Linux.")
    check_address(address)
    family = socket.AF_INET6 if ":" in address else socket.AF_INET
    with socket.socket(family, socket.SOCK_STREAM) as held:
        try:
            # Somebody else's server is not to be joined: it would take some of the requests.
            with socket.socket(family, socket.SOCK_STREAM) as trial:
                trial.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
                trial.bind((address, port))
                port = trial.getsockname()[1]
            held.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEPORT, 1)
            held.bind((address, port))
        except OSError as failure:
            raise LogFault(explain_port(failure, port)) from failure
        yield port


def check_address(address: str) -> None:
    """Refuse an address that is not this machine's.

    Raises
    ------
    LogFault
        It is another machine's, or not an address.
    """
    try:
        for family, kind, _, _, socket_address in socket.getaddrinfo(address, 0, type=socket.SOCK_STREAM):
            with socket.socket(family, kind) as trial:
                trial.bind(socket_address)
    except (OSError, UnicodeError) as failure:
        raise LogFault(
            f"This PC has no address {address}: give one of its own with --address, or leave that out for all of them."
        ) from failure


def share_memory() -> None:
    """Let all threads take memory from one place.

    The GNU C library gives each of its threads a place of its own, where what an answer took stays for the next answer
    of that thread alone: a hundred megabytes in all. Python's threads take turns anyway. Other libraries do not.
    """
    if sys.platform == "linux":
        with contextlib.suppress(AttributeError):
            ctypes.CDLL(None).mallopt(M_ARENA_MAX, 1)


def start_listening(server: Server, port: int, option: str = "--port") -> None:
    """Let a server listen; `option` is the one by which a user chooses its port.

    Raises
    ------
    LogFault
        The port cannot be used.
    """
    share_memory()
    server.shutdown_timeout = PATIENCE
    server.request_queue_size = 128
    server.max_request_header_size = LARGEST_HEAD
    # Above the application's own limit, whose answer says what to do.
    server.max_request_body_size = LARGEST_READ
    try:
        server.prepare()
    except OSError as failure:
        raise LogFault(explain_port(failure, port, option)) from failure


def run(servers: list[Server], ready: Callable[[], None]) -> None:
    """Serve until interrupted or terminated, each server in a thread of its own.

    This thread only waits. If a signal raised its exception in the thread that gives out requests, it could leave a
    lock taken, and the server could not stop any more.
    """
    # A signal handler may put into this kind of queue at any time. None is for a signal, an exception for a failure.
    endings: queue.SimpleQueue[BaseException | None] = queue.SimpleQueue()

    def stop(*_: int | FrameType | None) -> None:
        endings.put(None)

    def serve_one(server: Server) -> None:
        try:
            server.serve()
        except BaseException as failure:
            endings.put(failure)

    threads = [threading.Thread(target=serve_one, args=[server], daemon=True) for server in servers]
    # What is there now stays: looked through for cycles again and again, it took a sixth of the time of an upload.
    gc.freeze()
    try:
        for name in (signal.SIGINT, signal.SIGTERM):
            signal.signal(name, stop)
        for thread in threads:
            thread.start()
        ready()
        failure = wait(endings)
    finally:
        stoppers = [threading.Thread(target=server.stop, daemon=True) for server in servers]
        for thread in stoppers:
            thread.start()
        for thread in [*stoppers, *threads]:
            if thread.ident is not None:
                thread.join(2 * PATIENCE)
    if failure is not None:
        raise failure


def wait(endings: queue.SimpleQueue[BaseException | None]) -> BaseException | None:
    """Wait for an ending; wakes every second, since on some systems a thread that only waits gets no signals."""
    while True:
        with contextlib.suppress(queue.Empty):
            return endings.get(timeout=1)


def explain_port(failure: OSError, port: int, option: str = "--port") -> str:
    """Why a port cannot be used, and what to do.

    >>> explain_port(OSError(errno.EACCES, ""), 80)
    'Port 80 needs more rights than you have: choose one above 1023 with --port.'
    """
    if failure.errno in (errno.EACCES, errno.EPERM):
        return f"Port {port} needs more rights than you have: choose one above 1023 with {option}."
    if failure.errno == errno.EADDRINUSE or "No socket could be created" in str(failure):
        return f"Port {port} is taken, perhaps by another Slipbook: stop that one, or choose another with {option}."
    return f"Cannot listen on port {port}: {failure.strerror or failure}. Choose another with {option}."
