"""However many connections the network holds, whoever sits at the PC still gets in."""

from typing import Any

from server.lan.connections import KEPT_FOR_PC, MOST_OPEN, ConnectionState, OpenConnections


def test_the_pc_gets_in_while_the_network_holds_all_that_it_can() -> None:
    dismissed: list[Any] = []
    open_connections = OpenConnections(dismissed.append)
    for number in range(300):
        if open_connections.admit(number, f"192.168.7.{number % 5}"):
            open_connections.set_state(number, ConnectionState.BUSY)
    assert len(open_connections.admitted) == MOST_OPEN - KEPT_FOR_PC
    own = [f"own {number}" for number in range(KEPT_FOR_PC)]
    assert all(open_connections.admit(connection, "127.0.0.1") for connection in own)
    assert dismissed == [], "nobody who is at work had to go"
    for connection in own:
        open_connections.set_state(connection, ConnectionState.BUSY)
    assert not open_connections.admit("too many", "127.0.0.1"), "the system has no more"
    open_connections.release(own[0])
    assert open_connections.admit("again", "::1")
