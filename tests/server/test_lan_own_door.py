"""However many connections the network holds, whoever sits at the PC still gets in."""

from server.lan.crowding import KEPT_FOR_PC, MOST_OPEN, Crowd


def test_the_pc_gets_in_while_the_network_holds_all_that_it_can() -> None:
    crowd = Crowd()
    admitted = [crowd.admit(object(), f"192.168.7.{number % 5}") for number in range(300)]
    assert admitted.count(True) == MOST_OPEN - KEPT_FOR_PC
    own = [object() for _ in range(KEPT_FOR_PC)]
    assert all(crowd.admit(one, "127.0.0.1") for one in own)
    assert not crowd.admit(object(), "127.0.0.1"), "the system has no more"
    crowd.release(own[0])
    assert crowd.admit(object(), "::1")
