"""Lets devices in over the workshop's network: the authority, the host's certificate, pairing, devices and tokens.

Knows the log's faults and its durable files; knows nothing of entries.
"""

from .addresses import Addresses, find_addresses, is_loopback
from .authority import Authority, Credentials
from .door import Door, Doorway
from .hosted import HostedDoor
from .pairing import PairingClosed, PairingLocked, WrongCode
from .register import BENCH, ROLES, TRACKSIDE, Device, Register, Registers

__all__ = [
    "BENCH",
    "ROLES",
    "TRACKSIDE",
    "Addresses",
    "Authority",
    "Credentials",
    "Device",
    "Door",
    "Doorway",
    "HostedDoor",
    "PairingClosed",
    "PairingLocked",
    "Register",
    "Registers",
    "WrongCode",
    "find_addresses",
    "is_loopback",
]
