"""The customers that stand, from the entries of the shop; and whose each unit is."""

from typing import Any

from ..records.customer import BLANK
from ..request.fields import Checked, Group, Listing
from ..request.letters import folded, is_blank, small, spaced
from ..request.sorting import in_order
from .patterns import by_record, overwritten, signed
from .timeline import by_arrival, of_kind

OWNERS_FORM = Group(
    {
        "customers": Listing(
            Checked("a customer, as the shop's standing tells it"), 0, 100000, "the customers that stand"
        ),
        "units": Listing(
            Checked("unit_id, and of its definition owner and customer_id"), 0, 100000, "the units", nouns="units"
        ),
    },
    "units and the customers whose they may be",
)


def is_mixed(name: str) -> bool:
    """Whether a name has capitals and small letters, as names are written with care.

    >>> is_mixed("Tarn Ode"), is_mixed("TARN ODE"), is_mixed("tarn ode")
    (True, False, False)
    """
    capitals = [letter for letter in name if small(letter) != letter]
    return bool(capitals) and any(small(letter) == letter and letter.isalpha() for letter in name)


def roots_of(bodies: dict[str, dict[str, Any]], order: list[str]) -> dict[str, str]:
    """By each record the one that stands for its customer: of records that were joined, the one that took others in.

    Two phones may join the same records either way round: then the record that was written last stands.
    """
    group = {name: name for name in bodies}
    taken = set()
    for name in bodies:
        for other in bodies[name].get("takes_in") or []:
            if other in group and other != name:
                taken.add(other)
                old, new = group[other], group[name]
                for member in group:
                    if group[member] == old:
                        group[member] = new
    best: dict[str, str] = {}
    for name in in_order(bodies, lambda record: (record not in taken, order.index(record))):
        best[group[name]] = name
    return {name: best[group[name]] for name in bodies}


def customers_of(every: list[dict[str, Any]], live: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Every customer by its newest entry, by name.

    Parameters
    ----------
    every : list of dict
        All placed entries of the shop.
    live : list of dict
        Those that no correction replaces.

    Returns
    -------
    list of dict
        id; name; gone, whether it is one no more; erased, whether its data are; ids, of all records that were joined in
        it, its own among them; body,
        as it was typed; others, id and body of the records that it took in; alike, ids of customers with the same name
        but for capitals and spaces; overwritten and history, as a pattern has them, of all its records.
    """
    entries = by_record("customer", every, live)
    erased: set[str] = set()
    for entry in of_kind(every, "erasure"):
        erased.update(entry["body"].get("ids") or [])
    bodies = {name: entries[name][-1]["body"] for name in entries}
    for name in [record for record in sorted(erased) if record in bodies]:
        # On a device that has erased it and not delivered that yet, the record still holds all.
        bodies[name] = {"name": BLANK, "takes_in": bodies[name].get("takes_in")}
    order = in_order(entries, lambda name: by_arrival(entries[name][-1]))
    roots = roots_of(bodies, order)
    same: dict[str, list[str]] = {}
    for name in sorted(set(roots.values())):
        if bodies[name].get("gone") != "yes" and name not in erased:
            key = folded(bodies[name]["name"])
            same[key] = same.get(key, []) + [name]
    rows = []
    for name in sorted(set(roots.values())):
        body = bodies[name]
        ids = sorted(other for other in roots if roots[other] == name)
        written = in_order([entry for other in ids for entry in entries[other]], by_arrival)
        alike = same.get(folded(body["name"]), [])
        rows.append(
            {
                "id": name,
                "name": spaced(body["name"]),
                "gone": body.get("gone") == "yes" or name in erased,
                "erased": name in erased,
                "ids": ids,
                "body": body,
                "others": [{"id": other, "body": bodies[other]} for other in ids if other != name],
                "alike": [other for other in alike if other != name] if name in alike else [],
                "overwritten": [lost["entry"] for other in ids for lost in overwritten(entries[other])],
                "history": [signed(entry) for entry in reversed(written)],
            }
        )
    return in_order(rows, lambda row: (folded(row["name"]), row["id"]))


def names_of(customers: list[dict[str, Any]]) -> dict[str, str]:
    """Name of the customer by the id of each of its records."""
    names = {}
    for customer in customers:
        for record in customer["ids"]:
            names[record] = customer["name"]
    return names


def owner_of(definition: dict[str, Any], names: dict[str, str]) -> str:
    """Whose a unit is, as every list says it: the customer that it is linked to, else what was typed.

    Parameters
    ----------
    definition : dict
        The unit's, as it was typed.
    names : dict
        Name of the customer by the id of each of its records.

    >>> owner_of({"owner": "T. Ode", "customer_id": "a"}, {"a": "Tarn Ode"}), owner_of({"owner": "T. Ode"}, {})
    ('Tarn Ode', 'T. Ode')
    """
    customer_name = names.get(definition.get("customer_id") or "")
    return customer_name or definition.get("owner") or ""


def owners(request: dict[str, Any]) -> dict[str, Any]:
    """Which units are which customer's, and which have no more than a name that was typed.

    Parameters
    ----------
    request : dict
        Checked by `OWNERS_FORM`.

    Returns
    -------
    dict
        customers, by id the units of each; texts, by name, what was typed as an owner: text (as it was typed most
        often), spellings, units (each with its id and the owner as it was typed) and customer (the one of that name,
        or None).
    """
    of_record: dict[str, str] = {}
    by_name: dict[str, str] = {}
    for customer in request["customers"]:
        for name in customer["ids"]:
            of_record[name] = customer["id"]
        if not customer["gone"]:
            by_name.setdefault(folded(customer["name"]), customer["id"])
    linked: dict[str, list[str]] = {customer["id"]: [] for customer in request["customers"]}
    typed: dict[str, list[dict[str, Any]]] = {}
    for unit in request["units"]:
        record, text = unit.get("customer_id") or "", unit.get("owner") or ""
        if record in of_record:
            linked[of_record[record]].append(unit["unit_id"])
        elif not is_blank(text):
            key = folded(text)
            typed[key] = typed.get(key, []) + [{"unit_id": unit["unit_id"], "owner": text}]
    texts = []
    for key in in_order(typed):
        counts: dict[str, int] = {}
        for row in typed[key]:
            spelled = spaced(row["owner"])
            counts[spelled] = counts.get(spelled, 0) + 1
        spellings = sorted(counts, key=lambda spelled: (-counts[spelled], not is_mixed(spelled), spelled))
        texts.append({"text": spellings[0], "spellings": spellings, "units": typed[key], "customer": by_name.get(key)})
    return {"customers": {name: sorted(linked[name]) for name in linked}, "texts": texts}
