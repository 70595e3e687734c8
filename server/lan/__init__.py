"""Lets devices in over the workshop's network: the authority, the host's certificate, pairing, devices and tokens.

Knows the log's faults and its durable files; knows nothing of entries.
"""

from .addresses import Addresses, find_addresses, is_loopback
from .authority import Authority, Credentials
from .devices import BENCH, ROLES, TRACKSIDE, Device, Devices
from .door import Door
from .pairing import Pairing, PairingClosed, PairingLocked, WrongCode

__all__ = [
    "BENCH",
    "ROLES",
    "TRACKSIDE",
    "Addresses",
    "Authority",
    "Credentials",
    "Device",
    "Devices",
    "Door",
    "Pairing",
    "PairingClosed",
    "PairingLocked",
    "WrongCode",
    "find_addresses",
    "is_loopback",
]
