"""What screens know beforehand of how few and how many are taken is what the forms say."""

import pytest

from server.api.client_limits import FILE, WANTED, field_at, text
from server.engine import CALCULATIONS, BadInput


def test_the_limits_are_those_of_the_forms() -> None:
    assert FILE.read_text(encoding="utf-8") == text(), "run `npm run types` in webui"


@pytest.mark.parametrize("name", WANTED)
def test_the_engine_takes_as_many_and_no_more(name: str) -> None:
    calculation, path = WANTED[name]
    form = field_at(CALCULATIONS[calculation].form, path)
    [line] = [row for row in text().splitlines() if row.startswith(f"export const {name} ")]
    least, most = (int(part.split(":")[1].strip(" };")) for part in line.partition("= {")[2].split(","))
    item = {"name": "Its twin", "entries": []} if name == "OTHERS" else 1
    assert len(form.read([item] * least, "")) == least  # type: ignore[arg-type]
    assert len(form.read([item] * most, "")) == most  # type: ignore[arg-type]
    for count in [most + 1] + ([least - 1] if least else []):
        with pytest.raises(BadInput, match=r"^Give (at|some) |: Give (at|some) "):
            form.read([item] * count, "")
