"""A page of the log is bounded in bytes, and all of the log comes through."""

from pathlib import Path

from flask.testing import FlaskClient

from server.log import Log
from server.log.log import PAGE_BYTES

from .made import read_all, stored

LONG = "x" * 1_900_000


def test_large_entries_come_in_pages_of_a_few_megabytes(folder: Path) -> None:
    with Log(folder) as log:
        ids = [log.add([stored(shown={"verdict": None, "note": LONG})])[0].entry["id"] for _ in range(6)]
        ids += [log.add([stored()])[0].entry["id"] for _ in range(3)]
        page, more = log.after(0, 500)
        assert (len(page), more) == (PAGE_BYTES // 1_900_000, True)
        assert [entry["id"] for entry in read_all(log)] == ids
        assert [len(log.after(seq, 500)[0]) for seq in (4, 6, 8, 9)] == [5, 3, 1, 0]


def test_one_entry_larger_than_a_page_still_comes(folder: Path) -> None:
    with Log(folder) as log:
        log.add([stored(shown={"verdict": None, "note": LONG * 3}), stored()])
        assert [len(log.after(seq, 500)[0]) for seq in (0, 1)] == [1, 1]
        assert [log.after(seq, 500)[1] for seq in (0, 1)] == [True, False]


def test_a_phone_that_fetches_page_by_page_gets_all(client: FlaskClient, folder: Path) -> None:
    log: Log = client.application.extensions["slipbook_log"]
    for _ in range(5):
        log.add([stored(shown={"verdict": None, "note": LONG})])
    after, more, seqs = 0, True, []
    while more:
        page = client.get(f"/api/log?after={after}&most=500").json
        assert page is not None
        seqs += [entry["seq"] for entry in page["entries"]]
        after, more = page["next"], page["more"]
    assert seqs == [1, 2, 3, 4, 5]
