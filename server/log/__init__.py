"""The log: what was entered, kept for good, by default in one readable file a unit.

Knows the engine, which judges each entry again on receipt; knows nothing of the network.
"""

from .answer import ADDED, ALREADY_THERE, REFUSED, STORED, Answer
from .faults import Damage, FolderInUse, LogFault
from .store import Log

__all__ = ["ADDED", "ALREADY_THERE", "REFUSED", "STORED", "Answer", "Damage", "FolderInUse", "Log", "LogFault"]
