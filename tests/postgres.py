"""Real PostgreSQL servers for tests, each in a folder of its own, reached by a Unix socket in it and by nothing else.

Debian's binaries are used, and are installed where they are missing. A server refuses to run as root, and so runs as
`nobody` then. None outlives the tests: each is stopped by who starts it, and ends by itself if the thread that started
it does.
"""

import atexit
import contextlib
import functools
import os
import shutil
import signal
import subprocess
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, Self
from urllib.parse import urlencode

import psycopg
from psycopg import sql

from . import browsers
from .linux import GONE, STOPPED, children_of, state_of

VARIABLE = "SLIPBOOK_POSTGRES"
DEBIAN = Path("/usr/lib/postgresql")
# Without this, installing the package would make and start a server that nobody asked for.
NO_OWN_SERVER = Path("/etc/postgresql-common/createcluster.d/slipbook-tests.conf")
OWNER = "postgres"
PATIENCE_S = 60.0
SETTINGS = {
    "listen_addresses": "",
    "shared_buffers": "32MB",
    # A server that is killed loses nothing of what it gave to the system: only a power cut does, and none happens here.
    "fsync": "off",
    "log_min_messages": "warning",
}


class NoServerError(RuntimeError):
    """This machine has no PostgreSQL, and none can be installed."""


def find_installed() -> Path | None:
    """The folder of PostgreSQL's binaries: the one named in the environment, the newest of Debian's, or PATH's."""
    if named := os.environ.get(VARIABLE):
        if not Path(named, "initdb").is_file():
            raise NoServerError(f"{VARIABLE} names {named}, and there is no initdb in it.")
        return Path(named)
    versions = [path.parent for path in DEBIAN.glob("*/bin/initdb")]
    if versions:
        return max(versions, key=lambda path: float(path.parent.name))
    program = shutil.which("initdb")
    return Path(program).resolve().parent if program else None


@functools.cache
def binaries() -> Path:
    """The folder of PostgreSQL's binaries, which are installed if necessary.

    Raises
    ------
    NoServerError
        There are none, and none can be installed.
    """
    found = find_installed()
    if found is None and browsers.may_install():
        NO_OWN_SERVER.parent.mkdir(parents=True, exist_ok=True)
        NO_OWN_SERVER.write_text("create_main_cluster = false\n")
        browsers.apt_install("postgresql")
        found = find_installed()
    if found is None:
        raise NoServerError(
            "Tests of the store on PostgreSQL need its server: install Debian's 'postgresql', or name the folder of "
            f"its binaries in {VARIABLE}. Without it that store is not tested."
        )
    return found


def server_user() -> dict[str, Any]:
    """What `Popen` is told so that a server does not run as root."""
    if os.geteuid() != 0:
        return {}
    import pwd  # This system has it if it has a root.

    nobody = pwd.getpwnam("nobody")
    return {"user": nobody.pw_uid, "group": nobody.pw_gid, "extra_groups": []}


def environment() -> dict[str, str]:
    """The environment of a server, without what is set for PostgreSQL's clients here."""
    return {"PATH": os.environ.get("PATH", os.defpath), "LC_ALL": "C"}


def run_program(program: str, *arguments: str) -> None:
    """Run one of PostgreSQL's programs, or the system's, as who runs the servers."""
    path = binaries() / program
    command = [str(path) if path.is_file() else program, *arguments]
    done = subprocess.run(command, env=environment(), cwd="/", capture_output=True, text=True, **server_user())
    assert done.returncode == 0, f"{program}: {done.stdout}{done.stderr}"


def make_folder() -> Path:
    """A new folder that a server's user can write to; not below pytest's, which nobody else may enter."""
    folder = Path(tempfile.mkdtemp(prefix="slipbook-pg-"))
    give_to_server(folder)
    return folder


def give_to_server(folder: Path) -> None:
    """Let a server have a folder."""
    if user := server_user():
        os.chown(folder, user["user"], user["group"])


@functools.cache
def template() -> Path:
    """An empty data folder, made once in each process that runs tests, and copied for each server."""
    folder = make_folder()
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    data = folder / "data"
    how = ("--auth=trust", f"--username={OWNER}", "--encoding=UTF8", "--locale=C", "--no-sync")
    run_program("initdb", "--pgdata", str(data), *how)
    with open(data / "postgresql.conf", "a") as file:
        file.write("include_if_exists 'tests.conf'\n")
    return data


def quoted(value: object) -> str:
    """A value as PostgreSQL's files of settings want it."""
    return "'" + str(value).replace("'", "''") + "'"


class Postgres:
    """One server over a data folder that exists.

    Parameters
    ----------
    folder : Path
        Holds the data folder, the socket and the server's own log; removed by `close`.
    settings : dict
        PostgreSQL's settings, besides `SETTINGS`.

    Attributes
    ----------
    data : Path
        The data folder.
    process : Popen or None
        The running server.
    """

    def __init__(self, folder: Path, settings: dict[str, Any]) -> None:
        self.folder = folder
        self.data = folder / "data"
        self.settings = {**SETTINGS, "unix_socket_directories": folder, **settings}
        self.process: subprocess.Popen[bytes] | None = None
        self.write_settings()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def write_settings(self) -> None:
        lines = [f"{name} = {quoted(value)}\n" for name, value in self.settings.items()]
        (self.data / "tests.conf").write_text("".join(lines))

    def set(self, **settings: Any) -> None:
        """Change settings of the running server, by which it goes on return."""
        before = self.read_at()
        self.settings.update(settings)
        self.write_settings()
        with self.connect() as connection:
            connection.execute("select pg_reload_conf()")
        wait_until(lambda: self.read_at() != before)

    def read_at(self) -> object:
        """When the server last read its settings."""
        with self.connect() as connection:
            return connection.execute("select pg_conf_load_time()").fetchone()

    def address(self, database: str = OWNER, user: str = OWNER) -> str:
        """Where the server is, for clients."""
        return address_of(self, database=database, user=user)

    def connect(self, database: str = OWNER, user: str = OWNER) -> psycopg.Connection[tuple[Any, ...]]:
        """A new connection, on which each statement is a transaction."""
        return psycopg.connect(self.address(database, user), autocommit=True)

    def make_database(self, name: str) -> str:
        """Make an empty database; returns its address."""
        with self.connect() as connection:
            connection.execute(sql.SQL("create database {}").format(sql.Identifier(name)))
        return self.address(name)

    def drop_database(self, name: str) -> None:
        """Remove a database, whoever is connected to it."""
        with self.connect() as connection:
            connection.execute(sql.SQL("drop database {} with (force)").format(sql.Identifier(name)))

    def log(self) -> str:
        """What the server wrote to its own log."""
        return (self.folder / "log").read_text(errors="replace")

    def start(self, wait: bool = True) -> None:
        """Start the server; returns once it takes connections.

        It stops when the thread that calls this ends, so that none is left behind when tests are killed.
        """
        assert self.process is None, "This server runs already."
        guard = ["setpriv", "--pdeathsig", "INT"] if shutil.which("setpriv") else []
        command = [*guard, str(binaries() / "postgres"), "-D", str(self.data)]
        with open(self.folder / "log", "ab") as log:
            self.process = subprocess.Popen(
                command, stdout=log, stderr=log, env=environment(), cwd="/", start_new_session=True, **server_user()
            )
        if wait:
            wait_until(self.answers)

    def answers(self) -> bool:
        """Whether the server takes connections.

        Raises
        ------
        AssertionError
            It has ended.
        """
        assert self.process is not None
        assert self.process.poll() is None, f"The server did not start: {self.log()}"
        with contextlib.suppress(psycopg.OperationalError), self.connect() as connection:
            return connection.execute("select 1").fetchone() == (1,)
        return False

    def stop(self, how: signal.Signals = signal.SIGINT) -> None:
        """Stop the server; by default its connections are broken off, and it ends tidily."""
        if self.process is None:
            return
        self.process.send_signal(how)
        try:
            self.process.wait(PATIENCE_S)
        except subprocess.TimeoutExpired:
            self.kill()
        self.process = None

    def kill(self) -> None:
        """Kill the server and every process of it at once, as the end of its machine would."""
        assert self.process is not None
        pid = self.process.pid
        # First it is stopped, so that it starts no more processes while these are found.
        self.process.send_signal(signal.SIGSTOP)
        wait_until(lambda: state_of(pid) in {STOPPED, *GONE})
        processes = [pid, *children_of(pid)]
        for process in processes:
            with contextlib.suppress(ProcessLookupError):
                os.kill(process, signal.SIGKILL)
        self.process.wait(PATIENCE_S)
        # None of them holds the server's memory any longer, with which it could not be started again.
        wait_until(lambda: all(state_of(process) in GONE for process in processes))
        self.process = None

    def promote(self) -> None:
        """Make a standby the primary; returns once it takes writes."""
        with self.connect() as connection:
            row = connection.execute("select pg_promote(true, 60)").fetchone()
        assert row == (True,), f"The standby was not promoted: {self.log()}"

    def close(self) -> None:
        """Stop the server, and remove its folder."""
        try:
            self.stop()
        finally:
            shutil.rmtree(self.folder, ignore_errors=True)


def wait_until(is_so: Callable[[], bool], patience_s: float = PATIENCE_S) -> None:
    """Wait until a function returns true.

    Raises
    ------
    AssertionError
        It never did.
    """
    ends = time.monotonic() + patience_s
    while not is_so():
        assert time.monotonic() < ends, "This did not come about in time."
        time.sleep(0.01)


def address_of(*servers: Postgres, database: str = OWNER, user: str = OWNER) -> str:
    """An address for clients; with several servers, whichever of them takes writes."""
    options = {"host": ",".join(str(server.folder) for server in servers)}
    if len(servers) > 1:
        options |= {"target_session_attrs": "read-write"}
    return f"postgresql://{user}@/{database}?{urlencode(options, safe='/,')}"


def new_server(data_disk: Path | None = None, wal_disk: Path | None = None, **settings: Any) -> Postgres:
    """A new server, which runs.

    Parameters
    ----------
    data_disk, wal_disk : Path, optional
        Empty folders for its data without the write-ahead log, and for that log; by default both are in its own folder.
    **settings
        PostgreSQL's settings, besides `SETTINGS`.
    """
    folder = make_folder()
    try:
        data = folder / "data"
        run_program("cp", "-a", str(template()), str(data))
        if wal_disk or data_disk:
            move(data / "pg_wal", (wal_disk or folder) / "wal")
        if data_disk:
            move(data, data_disk / "data")
        server = Postgres(folder, settings)
        server.start()
    except BaseException:
        shutil.rmtree(folder, ignore_errors=True)
        raise
    return server


def move(folder: Path, to: Path) -> None:
    """Have a folder elsewhere, where it was before too."""
    run_program("cp", "-a", str(folder), str(to))
    shutil.rmtree(folder)
    folder.symlink_to(to)


def standby_of(primary: Postgres, name: str = "standby", synchronous: bool = True) -> Postgres:
    """A new standby that follows a running primary, which it can stand in for.

    Parameters
    ----------
    primary : Postgres
        The server that it copies.
    name : str
        What it calls itself.
    synchronous : bool
        Whether the primary acknowledges nothing from now on that this standby does not have and show.

    Notes
    -----
    The standby itself waits for nobody once it is promoted; call `set` on it for something else.
    """
    folder = make_folder()
    try:
        source = f"host={primary.folder} user={OWNER} application_name={name}"
        run_program("pg_basebackup", "-d", source, "-D", str(folder / "data"), "-R", "-X", "stream", "-c", "fast", "-N")
        own = {"synchronous_standby_names", "synchronous_commit", "unix_socket_directories", "primary_conninfo"}
        kept = {key: value for key, value in primary.settings.items() if key not in own}
        server = Postgres(folder, {**kept, "synchronous_standby_names": ""})
        server.start()
    except BaseException:
        shutil.rmtree(folder, ignore_errors=True)
        raise
    if synchronous:
        primary.set(synchronous_commit="remote_apply", synchronous_standby_names=name)
    wait_until(lambda: is_followed(primary, name, synchronous))
    return server


def is_followed(primary: Postgres, name: str, synchronous: bool) -> bool:
    """Whether a standby streams from the primary."""
    with primary.connect() as connection:
        asked = "select sync_state from pg_stat_replication where application_name = %s and state = 'streaming'"
        row = connection.execute(asked, [name]).fetchone()
    return row is not None and (row[0] == "sync" or not synchronous)


@contextlib.contextmanager
def small_disk(megabytes: int) -> Iterator[Path]:
    """A disk that is soon full, for a server's data or write-ahead log.

    Raises
    ------
    PermissionError
        This machine lets us mount nothing.
    """
    folder = make_folder()
    try:
        mount = ["mount", "-t", "tmpfs", "-o", f"size={megabytes}m,mode=0700", "slipbook-tests", str(folder)]
        if os.geteuid() != 0 or subprocess.run(mount, capture_output=True).returncode != 0:
            raise PermissionError("This machine lets us mount no small disk, so nothing is tested on a full one.")
        try:
            give_to_server(folder)
            yield folder
        finally:
            subprocess.run(["umount", "--lazy", str(folder)], check=True)
    finally:
        folder.rmdir()
