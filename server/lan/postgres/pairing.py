"""The open code of a workshop, in a row that goes when it is used.

Time is the database's, since the processes that make a code and take it may run on several machines.
"""

import hmac
from ipaddress import IPv4Address, IPv6Network, ip_address
from typing import TYPE_CHECKING, Any

from ..pairing import (
    CODE_VALID_S,
    MOST_IN_ALL,
    MOST_WRONG,
    PairingClosed,
    PairingLocked,
    hyphenate,
    make_code,
    refusal_of_try,
    split_code,
)
from ..register import hash_token

if TYPE_CHECKING:
    from ...log.postgres import Connection, Database

# How much of an IPv6 address names a network: whoever has one has all addresses in it (RFC 4291, 2.5.4).
NETWORK_BITS = 64


def network_of(address: str) -> str:
    """What wrong tries are counted by: the address, and of IPv6 its network.

    >>> network_of("203.0.113.9"), network_of("2001:db8:1:2:3:4:5:6"), network_of("::ffff:203.0.113.9"), network_of("")
    ('203.0.113.9', '2001:db8:1:2::', '203.0.113.9', '')
    """
    try:
        parsed = ip_address(address)
    except ValueError:
        return address
    if isinstance(parsed, IPv4Address):
        return str(parsed)
    if parsed.ipv4_mapped:
        return str(parsed.ipv4_mapped)
    return str(IPv6Network((parsed, NETWORK_BITS), strict=False).network_address)


def hash_code(workshop: int, code: str) -> str:
    """The hash that is kept of a code, which is good for ten minutes and once."""
    return hash_token(f"{workshop}-{code}")


def open_code(connection: "Connection", workshop: int, role: str) -> str:
    """Make a code for a role in a transaction that is open; returns it as it is shown."""
    code = make_code()
    # Its wrong tries go with it.
    connection.execute("delete from pairing where workshop = %s", [workshop])
    connection.execute(
        "insert into pairing values (%s, %s, %s, clock_timestamp() + make_interval(secs => %s))",
        [workshop, hash_code(workshop, code), role, CODE_VALID_S],
    )
    return hyphenate(code, workshop)


class DatabasePairing:
    """The open code of a workshop."""

    def __init__(self, database: "Database", workshop: int) -> None:
        self.database = database
        self.workshop = workshop

    def open(self, role: str) -> str:
        """Make a code for a role; returns it as it is shown."""
        with self.database.workshop(self.workshop) as connection:
            connection.execute("select pg_advisory_xact_lock(hashtext('pairing'), %s::int)", [self.workshop])
            return open_code(connection, self.workshop, role)

    def use(self, typed: str, address: str) -> str:
        """Use the code up; returns the role for which it was made."""
        with self.database.workshop(self.workshop) as connection:
            outcome = self.try_code(connection, typed, network_of(address))
        # Only here, since a wrong try has to be counted for good.
        if isinstance(outcome, Exception):
            raise outcome
        return outcome

    def try_code(self, connection: "Connection", typed: str, network: str) -> str | Exception:
        """The role that a typed code is good for, or why it is none; in the transaction that uses the code up."""
        # The row is locked: nobody else tries at the same time.
        query = """
            select code_sha256, role, extract(epoch from ends - clock_timestamp())::float8
            from pairing where workshop = %s for update
        """
        row = connection.execute(query, [self.workshop]).fetchone()
        if row is None or row[2] <= 0:
            return PairingClosed()
        code_sha256, role, left_s = row
        if self.count_wrong_tries(connection, network) >= MOST_WRONG:
            return PairingLocked(int(left_s) + 1)
        code_workshop, code = split_code(typed)
        if code_workshop == self.workshop and hmac.compare_digest(hash_code(self.workshop, code), code_sha256):
            self.close(connection)
            return str(role)
        count_wrong = """
            insert into wrong_code values (%s, %s, 1)
            on conflict (workshop, network) do update set tries = wrong_code.tries + 1
        """
        connection.execute(count_wrong, [self.workshop, network])
        in_all = self.count_wrong_tries(connection)
        refusal = refusal_of_try(self.count_wrong_tries(connection, network), in_all, left_s)
        if in_all >= MOST_IN_ALL:
            self.close(connection)
        return refusal

    def count_wrong_tries(self, connection: "Connection", network: str | None = None) -> int:
        """How many wrong tries came from a network, or from all."""
        query = "select coalesce(sum(tries), 0)::int from wrong_code where workshop = %s"
        parameters: list[Any] = [self.workshop]
        if network is not None:
            query += " and network = %s"
            parameters.append(network)
        row = connection.execute(query, parameters).fetchone()
        return int(row[0]) if row else 0

    def close(self, connection: "Connection") -> None:
        """Forget the code, with its wrong tries."""
        connection.execute("delete from pairing where workshop = %s", [self.workshop])
