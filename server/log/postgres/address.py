"""How a database is reached, and which it may be."""

from typing import Any

import psycopg
from psycopg.conninfo import conninfo_to_dict, make_conninfo

from ..faults import LogFault

Connection = psycopg.Connection[tuple[Any, ...]]

SCHEMA = "slipbook"
# The oldest PostgreSQL over which the tests run.
OLDEST = 15
CONNECT_S = 5


def settings_of(url: str) -> str:
    """How connections to an address are made.

    Raises
    ------
    LogFault
        It is not the address of a database.
    """
    try:
        given = conninfo_to_dict(url)
    except psycopg.Error as failure:
        raise LogFault(
            "This is not the address of a database: give one such as postgresql://slipbook@host/slipbook."
        ) from failure
    defaults: dict[str, str | int] = {
        # A standby must be taken for no primary.
        "target_session_attrs": "read-write",
        "connect_timeout": CONNECT_S,
        "application_name": "slipbook",
        # A machine that is gone is noticed soon.
        "keepalives_idle": 10,
        "keepalives_interval": 5,
        "keepalives_count": 3,
        "tcp_user_timeout": 15000,
    }
    options = [str(given.get("options") or ""), f"-c search_path={SCHEMA},pg_temp"]
    options.append("-c default_transaction_isolation=read\\ committed")
    missing = {name: value for name, value in defaults.items() if name not in given}
    return make_conninfo(url, **missing, options=" ".join(options).strip())
