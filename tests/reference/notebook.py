"""A season as somebody with a notebook writes it: pages in the order of writing, each with what stands there now."""

import datetime
import random
from typing import Any

from tests.engine.history.entries import entry

START = datetime.datetime(2026, 3, 2, 8, tzinfo=datetime.UTC)


class Notebook:
    """Pages and the entries of the log that they come to; what a page holds is said by `body_of`.

    Parameters
    ----------
    name : str
        What chance goes by.
    dated : tuple of str
        Kinds that may be written down on a later day than their own.
    """

    def __init__(self, name: str, dated: tuple[str, ...]) -> None:
        self.chance = random.Random(name)
        self.dated = dated
        self.entries: list[dict[str, Any]] = []
        self.pages: list[dict[str, Any]] = []
        self.hour = 0.0

    def done(self) -> datetime.datetime:
        return START + datetime.timedelta(hours=self.hour)

    def add(self, kind: str, body: dict[str, Any], **more: Any) -> dict[str, Any]:
        number = len(self.entries) + 1
        self.entries.append(entry(number, kind, body, self.done().isoformat(), seq=number, **more))
        return self.entries[-1]

    def body_of(self, kind: str) -> dict[str, Any]:
        raise NotImplementedError

    def write(self, kind: str) -> None:
        """Write a page, one of them `again`, or take one `away`."""
        if kind in ("again", "away"):
            pages = [page for page in self.pages if page["stands"]]
            if not pages:
                return
            page = self.chance.choice(pages)
            if kind == "away":
                page["stands"] = False
                self.add("note", {"text": "Withdrawn."}, replaces=page["entry"]["id"])
                return
            body = self.body_of(page["kind"]) | ({"day": page["day"]} if page["day"] else {})
            page["entry"] = self.add(page["kind"], body, replaces=page["entry"]["id"])
            return
        body, day, when = self.body_of(kind), None, self.hour
        if kind in self.dated and self.chance.random() < 0.3:
            # Written down on a later day: it was the last of its own.
            date = self.done().date() - datetime.timedelta(days=self.chance.choice([0, 1, 2]))
            day = body["day"] = date.isoformat()
            if date != self.done().date():
                midnight = datetime.datetime.combine(date, datetime.time(), datetime.UTC)
                when = (midnight + datetime.timedelta(days=1) - START).total_seconds() / 3600 - 1e-3
            if when in [page["when"] for page in self.pages]:
                # Which of two of such a day was the last nobody can tell.
                return
        page = {"kind": kind, "entry": self.add(kind, body), "when": when, "day": day, "stands": True}
        self.pages.append(page)

    def in_order(self) -> list[dict[str, Any]]:
        """The pages that stand, in the order of what was done."""
        return sorted((page for page in self.pages if page["stands"]), key=lambda page: float(page["when"]))


def date_of(page: dict[str, Any]) -> str:
    """The day that a page is about."""
    return page["day"] or (START + datetime.timedelta(hours=page["when"])).date().isoformat()
