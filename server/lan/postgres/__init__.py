"""Who may come in, kept in a database: for many workshops, and for as many processes as serve them.

Row-level security shows and takes rows of the workshop alone that a transaction is bound to; each statement names it
as well. What has to be found before the workshop is known, a few functions of the database find.
"""

from .pairing import open_code
from .register import DatabaseRegisters

__all__ = ["DatabaseRegisters", "open_code"]
