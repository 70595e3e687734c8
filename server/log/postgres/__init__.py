"""The store for many workshops: their logs in a database of PostgreSQL. Wants the extra `slipbook[postgres]`."""

from .address import Connection
from .database import Database
from .log import DatabaseLog, log_of

__all__ = ["Connection", "Database", "DatabaseLog", "log_of"]
