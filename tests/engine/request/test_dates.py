"""Days and instants equal those of Python's own calendar, which the phone does not have."""

import random
from datetime import UTC, date, datetime, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.engine import BadInput, calc
from server.engine.request.dates import day_number, day_of, instant, seconds_at, seconds_of
from server.engine.request.fields import Day

OFFSETS = st.integers(-14 * 60, 14 * 60).map(lambda minutes: timezone(timedelta(minutes=minutes)))
TIMES = st.datetimes(datetime(1970, 1, 2), datetime(2199, 12, 30), timezones=OFFSETS)


def in_utc(time: datetime) -> str:
    """A time as the engine sorts it."""
    return time.astimezone(UTC).replace(tzinfo=None).isoformat(timespec="milliseconds")


@given(TIMES, st.sampled_from(["minutes", "seconds", "milliseconds", "microseconds"]))
def test_an_instant_is_the_same_time_in_utc(time: datetime, precision: str) -> None:
    written = time.isoformat(timespec=precision)
    assert instant(written) == in_utc(datetime.fromisoformat(written))


@given(TIMES)
def test_z_is_utc(time: datetime) -> None:
    assert instant(time.astimezone(UTC).isoformat().replace("+00:00", "Z")) == in_utc(time)


@given(TIMES, st.integers(-3000, 3000))
def test_a_clock_that_is_off_is_mended_by_whole_minutes(time: datetime, minutes: int) -> None:
    for seconds in (0, 59):
        assert instant(time.isoformat(), 60 * minutes + seconds) == in_utc(time + timedelta(minutes=minutes))


@given(st.dates())
def test_days_are_numbered_as_the_calendar_has_them(day: date) -> None:
    number = day_number(day.isoformat())
    assert number - day_number("0001-01-01") == day.toordinal() - 1
    assert day_of(number) == day.isoformat()


@given(st.integers(1, 9999), st.integers(0, 13), st.integers(0, 32))
def test_a_day_is_taken_where_the_calendar_has_it(year: int, month: int, day: int) -> None:
    written = f"{year:04d}-{month:02d}-{day:02d}"
    try:
        date(year, month, day)
    except ValueError:
        with pytest.raises(BadInput, match="Write the day as year-month-day, for example 2026-11-25"):
            Day("a day").read(written, "day")
    else:
        assert Day("a day").read(written, "day") == written


@pytest.mark.parametrize("typed", ["2026-5-9", "2026/05/09", "20260509", "2026-05-0a", "2026-05-09T10", 20260509])
def test_a_day_written_otherwise_is_refused(typed: object) -> None:
    with pytest.raises(BadInput, match="Write the day as year-month-day, for example 2026-11-25"):
        Day("a day").read(typed, "day")


def test_a_look_whose_time_is_none_is_refused_at_its_unit() -> None:
    with pytest.raises(BadInput) as refusal:
        calc("last_looked", {"units": [{"unit_id": "a"}, {"unit_id": "b", "looked_at": "yesterday"}]})
    assert refusal.value.field == "units.1.looked_at"
    assert refusal.value.reason == "Give the time with its offset, for example 2026-11-25T10:30:00+01:00."


def test_seconds_are_those_of_the_text_between() -> None:
    chance = random.Random(1)
    for _ in range(3000):
        day = f"{chance.randrange(1, 10000):04d}-{chance.randrange(1, 13):02d}-{chance.randrange(1, 32):02d}"
        clock = f"{chance.randrange(25):02d}:{chance.randrange(60):02d}"
        clock += chance.choice(["", ":07", ":60", ":59.5", ":00.123", ":30.123456"])
        at = f"{day}T{clock}{chance.choice(['Z', '+02:00', '-11:30', '+14:00'])}"
        off = chance.choice([0.0, 59.0, 60.0, -61.5, 86400.0 * 30])
        assert seconds_at(at, off) == seconds_of(instant(at, off)), (at, off)
