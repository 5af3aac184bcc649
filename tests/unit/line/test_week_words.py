"""Days and times of day as people write them, and what is said about those that can't be."""

from typing import Any

import pytest

from linesim.line.units import BadValue
from linesim.line.week_words import parse_days, parse_time_of_day, shown_days, shown_time


@pytest.mark.parametrize(
    ("text", "seconds"), [("0:00", 0), ("6:00", 21600), ("06:05", 21900), ("22:30", 81000), ("24:00", 86400)]
)
def test_a_time_of_day_is_read_in_seconds_since_midnight(text: str, seconds: float) -> None:
    assert parse_time_of_day(text) == seconds


@pytest.mark.parametrize("given", [6, 360, "6", "6 h", "6.30", "25:00", "24:01", "12:60", "-1:00", None, True, ""])
def test_anything_else_is_no_time_of_day(given: Any) -> None:
    with pytest.raises(BadValue, match="time"):
        parse_time_of_day(given)


@pytest.mark.parametrize(
    ("given", "days"),
    [
        ("mon", (0,)),
        ("mon to fri", (0, 1, 2, 3, 4)),
        ("sat to mon", (0, 5, 6)),
        ("mon to sun", (0, 1, 2, 3, 4, 5, 6)),
        (["wed", "mon"], (0, 2)),
    ],
)
def test_days_are_read_from_a_day_a_span_or_a_list(given: Any, days: tuple[int, ...]) -> None:
    assert parse_days(given) == days


@pytest.mark.parametrize("given", ["monday", "mon to", "mon - fri", "", [], ["mon", "mon"], 1, None])
def test_anything_else_is_no_day(given: Any) -> None:
    with pytest.raises(BadValue):
        parse_days(given)


def test_they_are_shown_as_they_may_be_written() -> None:
    assert [shown_time(seconds) for seconds in (0, 21600, 86400)] == ["0:00", "6:00", "24:00"]
    assert [shown_days(days) for days in ((0,), (0, 2), (0, 1, 2, 3, 6))] == ["mon", "mon, wed", "sun to thu"]
