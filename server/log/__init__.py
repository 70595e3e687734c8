"""The log: what was entered, kept for good in one readable file a unit.

Knows the engine, which judges each entry again on receipt; knows nothing of the network.
"""

from .faults import Damage, FolderInUse, LogFault
from .log import ADDED, ALREADY_THERE, REFUSED, STORED, Answer, Log

__all__ = ["ADDED", "ALREADY_THERE", "REFUSED", "STORED", "Answer", "Damage", "FolderInUse", "Log", "LogFault"]
