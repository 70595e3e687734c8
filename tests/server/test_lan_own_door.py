"""However many connections the network holds, whoever sits at the PC still gets in."""

from typing import Any

from server.lan.crowding import KEPT_FOR_PC, MOST_OPEN, Crowd, State


def test_the_pc_gets_in_while_the_network_holds_all_that_it_can() -> None:
    gone: list[Any] = []
    crowd = Crowd(gone.append)
    for number in range(300):
        if crowd.admit(number, f"192.168.7.{number % 5}"):
            crowd.note(number, State.BUSY)
    assert len(crowd.open) == MOST_OPEN - KEPT_FOR_PC
    own = [f"own {number}" for number in range(KEPT_FOR_PC)]
    assert all(crowd.admit(each, "127.0.0.1") for each in own)
    assert gone == [], "nobody who is at work had to go"
    for each in own:
        crowd.note(each, State.BUSY)
    assert not crowd.admit("too many", "127.0.0.1"), "the system has no more"
    crowd.release(own[0])
    assert crowd.admit("again", "::1")
