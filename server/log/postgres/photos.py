"""Photos as rows of a database, and their pieces while they arrive."""

from ..photos import MOST_BYTES, WRONG_CONTENT, Photos, Progress, WrongPhoto, is_intact, refuse_piece
from .address import Connection
from .database import Database, one_value

# Pieces of one photo that arrive at once wait for one another.
LOCK = "select pg_advisory_xact_lock(%s, hashtext(%s))"
SIZE = "select octet_length(data) from photo where workshop = %s and sha256 = %s"
SIZE_ARRIVED = (
    "select coalesce(sum(octet_length(data)), 0)::integer from photo_piece where workshop = %s and sha256 = %s"
)
INSERT_PHOTO = "insert into photo (workshop, sha256, data) values (%s, %s, %b) on conflict do nothing"
INSERT_PIECE = "insert into photo_piece (workshop, sha256, start, data) values (%s, %s, %s, %b)"
PIECES = "select data from photo_piece where workshop = %s and sha256 = %s order by start"
DELETE_PIECES = "delete from photo_piece where workshop = %s and sha256 = %s"


class DatabasePhotos(Photos):
    """The photos of one workshop.

    Parameters
    ----------
    database : Database
        Where they are.
    workshop : int
        The workshop.
    """

    def __init__(self, database: Database, workshop: int) -> None:
        self.database, self.workshop = database, workshop

    def progress(self, sha256: str, total: int = MOST_BYTES) -> Progress:
        with self.database.workshop(self.workshop) as connection:
            return self.progress_in(connection, sha256, total)

    def progress_in(self, connection: Connection, sha256: str, total: int) -> Progress:
        """The same, in a transaction that has begun."""
        key = (self.workshop, sha256)
        if (size := one_value(connection, SIZE, key)) is not None:
            return Progress(size, True)
        size = one_value(connection, SIZE_ARRIVED, key)
        return Progress(size if size <= total else 0, False)

    def add(self, sha256: str, at: int, piece: bytes, total: int) -> Progress:
        key = (self.workshop, sha256)
        with self.database.workshop(self.workshop) as connection:
            connection.execute(LOCK, key)
            progress = self.progress_in(connection, sha256, total)
            if progress.whole or at != progress.size:
                return progress
            refuse_piece(at, piece, total)
            if at == 0:
                # What is longer than the photo would never become the photo.
                connection.execute(DELETE_PIECES, key)
            if at + len(piece) < total:
                if piece:
                    connection.execute(INSERT_PIECE, (*key, at, piece))
                return Progress(at + len(piece), False)
            data = b"".join(row[0] for row in connection.execute(PIECES, key, binary=True)) + piece
            connection.execute(DELETE_PIECES, key)
            intact = is_intact(sha256, data)
            if intact:
                connection.execute(INSERT_PHOTO, (*key, data))
        if not intact:
            raise WrongPhoto(WRONG_CONTENT)
        return Progress(total, True)

    def put_whole(self, sha256: str, data: bytes) -> None:
        with self.database.workshop(self.workshop) as connection:
            connection.execute(INSERT_PHOTO, (self.workshop, sha256, data))

    def read(self, sha256: str) -> bytes | None:
        query = "select data from photo where workshop = %s and sha256 = %s"
        with self.database.workshop(self.workshop) as connection:
            row = connection.execute(query, (self.workshop, sha256), binary=True).fetchone()
        return bytes(row[0]) if row else None

    def names(self) -> list[str]:
        with self.database.workshop(self.workshop) as connection:
            rows = connection.execute("select sha256 from photo where workshop = %s order by sha256", [self.workshop])
            return [str(row[0]) for row in rows]

    def find_faults(self) -> list[str]:
        query = "select sha256 from photo where workshop = %s and encode(sha256(data), 'hex') <> sha256 order by sha256"
        with self.database.workshop(self.workshop) as connection:
            rows = connection.execute(query, [self.workshop]).fetchall()
        return [f"The photo {row[0]} is damaged: put it back from a backup." for row in rows]
