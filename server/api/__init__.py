"""The HTTP interface: one blueprint a subject, its schemas beside it. Knows the log and the engine."""

from flask import Flask

from .problems import ProblemApi


def register(app: Flask) -> ProblemApi:
    """Put every subject of the interface, and its OpenAPI document, into an application."""
    from . import calc, entries, health, units

    app.config.update(
        API_TITLE="Slipbook",
        API_VERSION="1",
        OPENAPI_VERSION="3.1.0",
        OPENAPI_URL_PREFIX="/api",
        OPENAPI_JSON_PATH="openapi.json",
    )
    api = ProblemApi(app)
    for subject in (calc.subject, entries.subject, units.subject, health.subject):
        api.register_blueprint(subject)
    return api
