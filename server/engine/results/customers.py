"""Results about customers, and about whose each unit is."""

from ..records.customer import CUSTOMER_FORM
from ..request.fields import Field, Listing, YesNo
from .fields import Mapping, Maybe, Result, Typed, Words

ID = Words("the entry's own id")
AT = Words("when it was entered, by the device's clock")
SIGNED: dict[str, Field] = {"entry": ID, "who": Words("who changed it"), "at": AT}

CUSTOMER = Result(
    {
        "id": Words("the entry that brought it in"),
        "name": Words("what the customer is called"),
        "gone": YesNo("whether it is a customer no more"),
        "erased": YesNo("whether its personal data are erased"),
        "ids": Listing(ID, 1, 100000, "all its records, its own among them"),
        "body": Typed(CUSTOMER_FORM, "the customer as it was typed"),
        "others": Listing(
            Result({"id": ID, "body": Typed(CUSTOMER_FORM, "the record as it was typed")}, "a record"),
            0,
            100000,
            "records that were joined with it",
        ),
        "alike": Listing(ID, 0, 100000, "other customers of the same name"),
        "overwritten": Listing(ID, 0, 100000, "changes that a later one, which does count, did not know"),
        "history": Listing(Result(SIGNED, "an entry of it"), 1, 100000, "its entries that stand, the newest first"),
    },
    "a customer",
)

OWNERS = Result(
    {
        "customers": Mapping(Listing(ID, 0, 100000, "its units"), "id of a customer", "the units of each customer"),
        "texts": Listing(
            Result(
                {
                    "text": Words("the owner as it was typed most often"),
                    "spellings": Listing(Words("as it was typed"), 1, 100000, "every way in which it was typed"),
                    "units": Listing(
                        Result({"unit_id": ID, "owner": Words("as it was typed")}, "a unit"), 1, 100000, "its units"
                    ),
                    "customer": Maybe(Words("the customer who has this name; empty where there is none")),
                },
                "an owner of whom there is a name alone",
            ),
            0,
            100000,
            "owners that were typed, by name",
        ),
    },
    "whose each unit is",
)
