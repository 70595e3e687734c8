"""The way in where a proxy stands before Slipbook, with a certificate that phones trust already."""

from .pacing import Pacing
from .register import Registers


class HostedDoor:
    """Lets in whoever shows a token; nobody is let in for sitting at this machine.

    Parameters
    ----------
    registers : Registers
        Who may come in.
    hosts : list of str
        Every host that a request may name; empty if the proxy sees to that.
    """

    lets_this_pc_in = False
    fingerprint = ""

    def __init__(self, registers: Registers, hosts: list[str]) -> None:
        self.registers = registers
        self.hosts = hosts
        self.pacing = Pacing(registers.guesses)

    def urls(self) -> list[str]:
        """None: the address is the one at which it is asked."""
        return []

    def welcome_url(self) -> str:
        """None: there is no certificate to hand out."""
        return ""
