"""What can go wrong with a database, each fault in a sentence that says what to do."""

import psycopg
from psycopg import errors
from psycopg_pool import PoolTimeout

from ..faults import LogFault, Unfinished

UNKNOWN = (
    "Whether the database has stored this is not known, since its answer did not come: send again, which stores "
    "nothing twice."
)
STANDBY = "The database only follows another one: name the one that takes writes, or both, in its address."
NOT_PREPARED = "The database is not prepared for Slipbook: run `slipbook prepare`."
FULL = "Cannot write the log: the database's disk is full. Make room, then send again."


class NoWorkshop(LogFault):
    """The database has no such workshop."""


def first_line(failure: Exception) -> str:
    """What a failure says first, as part of a sentence."""
    lines = str(failure).strip().splitlines() or [type(failure).__name__]
    return lines[0].removeprefix("connection failed: ").rstrip(".")


def fault_of(failure: psycopg.Error, committing: bool = False) -> LogFault:
    """The fault, with its sentence, for a failure of the database or of the way to it.

    Parameters
    ----------
    failure : psycopg.Error
        What psycopg raised.
    committing : bool
        Whether it came while a transaction was being committed: without an answer of the database it may be stored.
    """
    state = failure.sqlstate
    if committing and (state is None or state.startswith(("08", "57"))):
        return Unfinished(UNKNOWN)
    if isinstance(failure, errors.DiskFull):
        return LogFault(FULL, full=True)
    if isinstance(failure, errors.ReadOnlySqlTransaction) or "session is read-only" in str(failure):
        return LogFault(STANDBY)
    if isinstance(failure, errors.InsufficientPrivilege):
        return LogFault(f"The database refuses Slipbook's role: {first_line(failure)}. Run `slipbook prepare` for it.")
    if isinstance(failure, errors.UndefinedTable | errors.InvalidSchemaName | errors.UndefinedFunction):
        return LogFault(NOT_PREPARED)
    if state == "SB001":
        return NoWorkshop("This workshop is no longer in the database.")
    if state == "SB002":
        return LogFault(f"This log was moved to {first_line(failure)}: serve it from there.")
    if isinstance(failure, PoolTimeout):
        return LogFault("The database cannot be reached, or is out of connections: look after it, then send again.")
    if isinstance(failure, psycopg.OperationalError) and (state is None or state.startswith(("08", "57", "53", "28"))):
        return LogFault(f"The database cannot be reached: {first_line(failure)}. Look after it, then send again.")
    return LogFault(f"The database could not do this: {first_line(failure)}. Look after it, then send again.")
