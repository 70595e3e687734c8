"""What screens know beforehand of how few and how many are taken is what the forms say."""

import pytest

from server.api.client_limits import FILE, SIGNS_FILE, WANTED, field_at, signs_text, text
from server.engine import CALCULATIONS, BadInput
from server.engine.request.units import unit_labels
from server.office.cell_words import SPELLINGS


def test_the_limits_are_those_of_the_forms() -> None:
    assert FILE.read_text(encoding="utf-8") == text(), "run `npm run types` in webui"


def test_the_signs_of_units_are_those_that_a_history_is_read_by() -> None:
    assert SIGNS_FILE.read_text(encoding="utf-8") == signs_text(), "run `npm run types` in webui"
    for si, signs in SPELLINGS.items():
        assert set(signs.values()) <= set(unit_labels(si))


@pytest.mark.parametrize("name", WANTED)
def test_the_engine_takes_as_many_and_no_more(name: str) -> None:
    calculation, path = WANTED[name]
    form = field_at(CALCULATIONS[calculation].form, path)
    [line] = [row for row in text().splitlines() if row.startswith(f"export const {name} ")]
    least, most = (int(part.split(":")[1].strip(" };")) for part in line.partition("= {")[2].split(","))
    items: dict[str, object] = {
        "OTHERS": {"name": "Its twin", "entries": []},
        "COUNTED": {"name": "F", "part": "friction", "mm": 2.5},
    }
    items["TRIES"] = {"behind_mm": 1}
    item: object = items.get(name, 1)
    assert len(form.read([item] * least, "")) == least  # type: ignore[arg-type]
    assert len(form.read([item] * most, "")) == most  # type: ignore[arg-type]
    for count in [most + 1] + ([least - 1] if least else []):
        with pytest.raises(BadInput, match=r"^Give (at|some) |: Give (at|some) "):
            form.read([item] * count, "")
