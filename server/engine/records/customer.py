"""A customer: whose units the workshop looks after, and how to reach them; and a sheet that was sent to one."""

from typing import Any

from ..request.errors import BadInput
from ..request.fields import Choice, Day, Group, Listing, Text, Whole
from ..request.letters import trimmed

# More records of one and the same customer than two phones ever make.
MOST_TAKEN_IN = 50

CUSTOMER_FORM = Group(
    {
        "name": Text(80, "what the customer is called", label="Name of the customer"),
        "phone": Text(60, "telephone", default="", label="Telephone"),
        "mail": Text(120, "mail address", default="", label="Mail address"),
        "address": Text(300, "postal address", default="", label="Postal address"),
        "note": Text(2000, "anything worth knowing", default="", label="Anything to know"),
        "id": Text(40, "the customer that this entry changes: the id of its first entry", default=""),
        "gone": Choice(
            {"no": "a customer", "yes": "one no more"}, "whether units are still taken in for it", default="no"
        ),
        "takes_in": Listing(
            Text(40, "id of another record"),
            0,
            MOST_TAKEN_IN,
            "other records that turned out to be the same customer",
            default=None,
            label="The same customer as",
        ),
    },
    "a customer",
)

# What a customer's entry says of a person; all else is what the log needs to stay in order.
PERSONAL = ("name", "phone", "mail", "address", "note")

# What stands in place of what was erased.
BLANK = "[erased]"

HOW = {"mail": "by mail", "message": "by message", "paper": "on paper", "other": "otherwise"}

SENT_FORM = Group(
    {
        "day": Day("when it was sent", label="When, year-month-day"),
        "how": Choice(HOW, "how it was sent", label="How it was sent"),
        "customer_id": Text(40, "the customer whom it was sent to: the id of that record's first entry", default=""),
        "note": Text(500, "anything worth knowing about it", default="", label="Anything to know about it"),
    },
    "a sheet that was sent",
)


# More places than one person's name stands in.
MOST_CUTS = 2000
LONGEST_TEXT = 100_000

ERASURE_FORM = Group(
    {
        "ids": Listing(
            Text(40, "id of a record"), 0, MOST_TAKEN_IN, "records of customers whose data are erased", default=None
        ),
        "cuts": Listing(
            Group(
                {
                    "entry": Text(40, "id of an entry"),
                    "field": Text(200, "the field, by the names on the way to it"),
                    "start": Whole(0, LONGEST_TEXT, "letters before what is erased"),
                    "length": Whole(1, LONGEST_TEXT, "letters that are erased"),
                    "of": Whole(1, LONGEST_TEXT, "letters of the whole text, as it was looked at"),
                },
                "a place in a text",
            ),
            0,
            MOST_CUTS,
            "places in other entries that are erased",
            default=None,
        ),
    },
    "an erasure",
)


def customer(request: dict[str, Any]) -> dict[str, Any]:
    """Check a customer's record.

    Parameters
    ----------
    request : dict
        Checked by `CUSTOMER_FORM`.

    Returns
    -------
    dict
        verdict, always None.

    Raises
    ------
    BadInput
        The mail address is none, or the record takes in itself.
    """
    mail = trimmed(request["mail"])
    if mail and ("@" not in mail[1:-1] or " " in mail):
        raise BadInput("mail", "Type the whole mail address, with @, or leave it empty.")
    if request["id"] and request["id"] in (request["takes_in"] or []):
        raise BadInput("takes_in", "A customer cannot be joined with itself: choose another one.")
    return {"verdict": None}


def erasure(request: dict[str, Any]) -> dict[str, Any]:
    """Check an erasure.

    Parameters
    ----------
    request : dict
        Checked by `ERASURE_FORM`.

    Returns
    -------
    dict
        verdict, always None.

    Raises
    ------
    BadInput
        It names nothing to erase, or a place beyond its text or outside of what was typed and shown.
    """
    cuts = request["cuts"] or []
    if not request["ids"] and not cuts:
        raise BadInput("ids", "Name a customer, or a place, that is to be erased.")
    for number, cut in enumerate(cuts):
        if cut["start"] + cut["length"] > cut["of"]:
            raise BadInput(f"cuts.{number}.length", "This place is beyond the end of its text: look again.")
        if cut["field"].split(".")[0] not in ("body", "shown", "judged", "imported"):
            raise BadInput(f"cuts.{number}.field", "Only what was typed and shown can be erased: look again.")
    return {"verdict": None}


def sheet_sent(_: dict[str, Any]) -> dict[str, Any]:
    """That a sheet was sent needs no judging."""
    return {"verdict": None}
