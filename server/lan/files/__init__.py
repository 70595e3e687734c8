"""Who may come in, kept in the `lan` of a data folder and in memory: for one workshop and one process."""

from .register import FolderRegisters

__all__ = ["FolderRegisters"]
