"""Days and instants as the log writes them: ISO 8601 text, compared without a library of dates."""


def instant(at: str, off: float = 0.0) -> str:
    """A time with offset as sortable text in UTC.

    Parameters
    ----------
    at : str
        ISO 8601 with offset, such as "2026-05-03T10:20:00+02:00"; "Z" for UTC.
    off : float
        Error of the clock that wrote it, seconds; more than 0 for a slow clock. Only whole minutes are corrected.

    Examples
    --------
    >>> instant("2026-05-03T00:20:00+02:00")
    '2026-05-02T22:20:00.000'
    >>> instant("2026-05-03T00:20:00+02:00", 600)
    '2026-05-02T22:30:00.000'
    """
    minutes, whole, fraction = pieces_of(at, off)
    day, total = minutes // 1440, minutes % 1440
    return f"{day_of(day)}T{total // 60:02d}:{total % 60:02d}:{whole:02d}.{fraction}"


def pieces_of(at: str, off: float) -> tuple[int, int, str]:
    """What `instant` is made of: minutes since 1 March of the year 0, seconds, and thousandths as text."""
    if at[-1] == "Z":
        stamp, minutes = at[:-1], 0
    else:
        stamp, sign = at[:-6], -1 if at[-6] == "-" else 1
        minutes = sign * (int(at[-5:-3]) * 60 + int(at[-2:]))
    pieces = (stamp[11:] + ":00").split(":")
    whole, _, part = pieces[2].partition(".")
    total = int(pieces[0]) * 60 + int(pieces[1]) - minutes + int(off // 60)
    return day_number(stamp[:10]) * 1440 + total, int(whole), (part + "000")[:3]


def seconds_at(at: str, off: float = 0.0) -> float:
    """`seconds_of` of `instant`, without writing the text between.

    >>> seconds_at("1970-01-02T02:00:01.5+02:00")
    86401.5
    """
    minutes, whole, fraction = pieces_of(at, off)
    day, total = minutes // 1440, minutes % 1440
    return (day - FIRST_DAY) * 86400.0 + (total * 60 + whole) + int(fraction) / 1000.0


def seconds_of(stamp: str) -> float:
    """Seconds since 1970 of a time as `instant` writes it.

    >>> seconds_of("1970-01-02T00:00:01.500")
    86401.5
    """
    whole = int(stamp[11:13]) * 3600 + int(stamp[14:16]) * 60 + int(stamp[17:19])
    return (day_number(stamp[:10]) - FIRST_DAY) * 86400.0 + whole + int(stamp[20:23]) / 1000.0


def stamp_of(seconds: float) -> str:
    """A time in seconds since 1970 as `instant` writes it, the inverse of `seconds_of`.

    >>> stamp_of(86401.5)
    '1970-01-02T00:00:01.500'
    """
    thousandths = int(seconds * 1000.0 + 0.5)
    whole, part = thousandths // 1000, thousandths % 1000
    day, rest = whole // 86400, whole % 86400
    clock = f"{rest // 3600:02d}:{rest // 60 % 60:02d}:{rest % 60:02d}.{part:03d}"
    return f"{day_of(day + FIRST_DAY)}T{clock}"


def in_zone_of(at: str, seconds: float) -> str:
    """A time in seconds since 1970, written with the offset of another time.

    >>> in_zone_of("2026-05-03T10:20:00+02:00", 86400.0), in_zone_of("2026-05-03T10:20:00Z", 0.0)
    ('1970-01-02T02:00:00.000+02:00', '1970-01-01T00:00:00.000Z')
    """
    if at.endswith("Z"):
        return stamp_of(seconds) + "Z"
    east = (-1.0 if at[-6] == "-" else 1.0) * (int(at[-5:-3]) * 3600 + int(at[-2:]) * 60)
    return stamp_of(seconds + east) + at[-6:]


def day_number(day: str) -> int:
    """Days since 1 March of the year 0, proleptic Gregorian.

    >>> day_number("2026-03-01") - day_number("2026-02-28")
    1
    """
    year, month, date = int(day[:4]), int(day[5:7]), int(day[8:10])
    # Counting years from March puts the leap day last, which makes the month lengths regular.
    if month < 3:
        year, month = year - 1, month + 12
    return 365 * year + year // 4 - year // 100 + year // 400 + (153 * (month - 3) + 2) // 5 + date - 1


def day_of(number: int) -> str:
    """The day with this number, the inverse of `day_number`.

    >>> day_of(day_number("2028-02-29"))
    '2028-02-29'
    """
    cycle, rest = number // 146097, number % 146097
    year = (rest - rest // 1460 + rest // 36524 - rest // 146096) // 365
    in_year = rest - (365 * year + year // 4 - year // 100)
    month = (5 * in_year + 2) // 153
    date = in_year - (153 * month + 2) // 5 + 1
    year += 400 * cycle
    month += 3
    if month > 12:
        year, month = year + 1, month - 12
    return f"{year:04d}-{month:02d}-{date:02d}"


FIRST_DAY = day_number("1970-01-01")
