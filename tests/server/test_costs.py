"""Hours and cost of parts of rebuilds, added up in hand for each unit, owner and season."""

from pathlib import Path
from typing import Any

from flask.testing import FlaskClient

from server.app import close_app
from tests.engine.checks import UNIT

from .sample_logs import OTHER_UNIT, UNIT_ID, stored
from .stores import app_over, open_log


def rebuild(unit: str, at: str, **body: Any) -> dict[str, Any]:
    return stored("rebuild", unit, at=f"{at}T10:00:00+01:00", body={"note": "x", **body})


def sums(client: FlaskClient, grouping: str) -> list[list[Any]]:
    answer: Any = client.get(f"/api/costs?by={grouping}").json
    names = ("name", "unit", "rebuilds", "hours", "parts_cost", "without_hours", "without_cost")
    return [[row[name] for name in names] for row in answer["sums"]]


def test_rebuilds_are_added_up_by_unit_owner_and_season(folder: Path) -> None:
    slip = rebuild(UNIT_ID, "2025-03-01", hours=40, parts_cost="1000")
    with open_log(folder) as log:
        log.add(
            [
                stored("unit", body={**UNIT, "name": "Bramble 1", "owner": "T. Ode"}),
                stored("unit", OTHER_UNIT, body={**UNIT, "name": "Wren 2", "owner": " T.  Ode"}),
                slip,
                rebuild(UNIT_ID, "2025-03-01", hours="4,0", parts_cost="100.10") | {"replaces": slip["id"]},
                rebuild(UNIT_ID, "2026-03-01", hours={"typed": "0.1", "unit": ""}, parts_cost="0,20"),
                rebuild(UNIT_ID, "2026-04-01"),
                rebuild(OTHER_UNIT, "2026-05-01", hours=0.2),
            ]
        )
    app = app_over(folder)
    client = app.test_client()
    assert sums(client, "unit") == [
        ["Bramble 1", UNIT_ID, 3, "4.1", "100.30", 1, 1],
        ["Wren 2", OTHER_UNIT, 1, "0.2", "", 0, 1],
    ]
    # 0.1 + 0.2 is 0.3 here, as on paper.
    assert sums(client, "season") == [["2026", "", 3, "0.3", "0.20", 1, 2], ["2025", "", 1, "4.0", "100.10", 0, 0]]
    assert sums(client, "owner") == [["T. Ode", "", 4, "4.3", "100.30", 1, 2]]
    assert client.get("/api/costs?by=moon").status_code == 422
    close_app(app)
