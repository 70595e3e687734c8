"""The store for many workshops: their logs in a database of PostgreSQL. Wants the extra `slipbook[postgres]`."""

from .database import Connection, Database

__all__ = ["Connection", "Database"]
