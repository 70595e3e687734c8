"""The HTTP interface: a blueprint for each subject, with its schemas. Knows the log and the engine."""

from flask import Flask

from ..lan import Doorway
from .gate import install
from .problems import ProblemApi


def register(app: Flask, door: Doorway | None = None) -> ProblemApi:
    """Add every subject of the interface, and its OpenAPI document, to an application.

    Pairing and devices are added only if there is a door through which devices come in.
    """
    from . import (
        backup,
        calc,
        calendars,
        compare,
        costs,
        customers,
        devices,
        entries,
        health,
        history,
        labels,
        photos,
        sheets,
        table,
        units,
        which_log,
    )

    app.config.update(
        API_TITLE="Slipbook",
        API_VERSION="1",
        OPENAPI_VERSION="3.1.0",
        OPENAPI_URL_PREFIX="/api",
        OPENAPI_JSON_PATH="openapi.json",
    )
    api = ProblemApi(app)
    api.not_written.append(lambda: name_results(api))
    if door is not None:
        install(app, door)
        for subject in (devices.pairing, devices.pair_subject, devices.subject):
            api.register_blueprint(subject)
    which_log.install(app)
    for module in (calc, entries, compare, units, table, photos, history, health):
        api.register_blueprint(module.subject)
    for subject in (
        *(calendars.subject, calendars.feeds_subject, costs.subject, customers.subject),
        *(backup.subject, labels.subject, sheets.subject),
    ):
        api.register_blueprint(subject)
    return api


def name_results(api: ProblemApi) -> None:
    """Write the named schemas of results into the document."""
    from . import results

    for name, schema in results.make_schemas().items():
        api.spec.components.schema(name, schema)
