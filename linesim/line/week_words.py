"""Days and times of day as people write them: `mon to fri`, `[mon, wed]`, `6:00`."""

from __future__ import annotations

import re
from typing import Any

from linesim.line.problems import listed
from linesim.line.units import BadValue

DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_TIME = re.compile(r"(\d{1,2}):(\d\d)")
_FIX = "write mon, mon to fri, or [mon, wed]"


def parse_time_of_day(given: Any) -> float:
    """Seconds since midnight of `6:00` or `22:30`; `24:00` is the end of the day. Raises BadValue."""
    match = _TIME.fullmatch(given.strip()) if isinstance(given, str) else None
    if not match:
        raise BadValue("must be a time of day with hours and minutes", 'write "6:00" or "22:30"')
    hours, minutes = int(match[1]), int(match[2])
    if minutes > 59 or hours * 60 + minutes > 24 * 60:
        raise BadValue("is no time of day", 'write a time from "0:00" to "24:00"')
    return 3600.0 * hours + 60.0 * minutes


def parse_days(given: Any) -> tuple[int, ...]:
    """Days of the week, Monday 0, from a day, a span (`sat to mon`), or a list of days. Raises BadValue."""
    if isinstance(given, list):
        days = sorted(_day(one) for one in given)
        if not days or len(set(days)) < len(days):
            raise BadValue("must name at least one day, each once", _FIX)
        return tuple(days)
    ends = [_day(one) for one in given.split(" to ")] if isinstance(given, str) else []
    if len(ends) not in (1, 2):
        raise BadValue(f"must be days of the week ({listed(DAYS)})", _FIX)
    first, last = ends[0], ends[-1]
    return tuple(sorted((first + n) % 7 for n in range((last - first) % 7 + 1)))


def _day(given: Any) -> int:
    name = str(given).strip()
    if name not in DAYS:
        raise BadValue(f"{name} is no day of the week ({listed(DAYS)})", _FIX)
    return DAYS.index(name)


def shown_time(seconds: float) -> str:
    """A time of day as the file writes it."""
    minutes = round(seconds / 60)
    return f"{minutes // 60}:{minutes % 60:02d}"


def shown_days(days: tuple[int, ...]) -> str:
    """Days as the file may write them."""
    for first in days if len(days) > 2 else ():
        if all((first + n) % 7 in days for n in range(len(days))):
            return f"{DAYS[first]} to {DAYS[(first + len(days) - 1) % 7]}"
    return ", ".join(DAYS[day] for day in days)
