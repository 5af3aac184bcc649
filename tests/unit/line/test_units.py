"""Quantities are read with their unit, and everything else is refused with the fix."""

import pytest

from linesim.line.units import BadValue, parse, parse_interval, with_unit


@pytest.mark.parametrize(
    ("kind", "given", "expected"),
    [
        ("duration", "38 s", 38),
        ("duration", "25 min", 1500),
        ("duration", "9 h", 32400),
        ("duration", "20min", 1200),
        ("duration", "250 ms", 0.25),
        ("duration", " 1.5e2  s ", 150),
        ("speed", "2.5 m/s", 2.5),
        ("speed", "90 m/min", 1.5),
        ("acceleration", "3 m/s2", 3),
        ("length", "1200 mm", 1.2),
        ("length", "-35 cm", -0.35),
        ("parts", "150 parts", 150),
        ("parts", 24, 24),
        ("parts", "24", 24),
        ("count", 3, 3),
        ("count", "3", 3),
        ("number", 0.05, 0.05),
        ("rate", "62 /h", 62),
        ("share", "0.4 %", 0.004),
        ("share", "200 ppm", 0.0002),
        ("money", "430 k", 430_000),
        ("parts_per_year", "85000 /year", 85_000),
        ("hours_per_year", "3480 h/year", 3480),
        ("years", "8 years", 8),
        ("area", "150 m2", 150),
        ("money_per_area_year", "120 /m2/year", 120),
        ("money_per_hour", "42 /h", 42),
        ("money_per_energy", "0.16 /kWh", 0.16),
        ("energy_per_part", "2.1 kWh/part", 2.1),
        ("money_per_part", "0.70 /part", 0.7),
    ],
)
def test_a_quantity_becomes_a_number_in_the_unit_used_inside(kind, given, expected):
    assert parse(kind, given) == expected


@pytest.mark.parametrize(
    ("kind", "given", "fix"),
    [
        ("duration", 38, "write 38 s"),
        ("duration", 0, "write 0 s"),
        ("duration", "38 sec", "write 38 s"),
        ("duration", "25 minutes", "write 25 min"),
        ("duration", "9 hours", "write 9 h"),
        ("duration", "9 m", "write 9 min"),
        ("acceleration", "3 m/s", "write 3 m/s2"),
        ("share", 98, "write 98 %"),
        ("money", 55, "write 0.055 k for 55 units of currency, or 55 k for 55 thousand"),
        ("money", 500, "write 0.5 k for 500 units of currency, or 500 k for 500 thousand"),
        ("money", 0, "write 0 k"),
        ("money", "180000 EUR", "write 180 k for 180000 units of currency, or 180000 k for 180000 thousand"),
        ("share", 0.98, "write 98 % for a share of 0.98, or 0.98 %"),
        ("count", "8 parts", "write 8"),
        ("count", 2.4, "write 2"),
        ("parts", "1.5 parts", "write 2 parts"),
        ("duration", "2,5 s", "use a point for decimals and nothing between thousands"),
        ("parts_per_year", "85,000 /year", "use a point for decimals and nothing between thousands"),
    ],
)
def test_a_wrong_or_missing_unit_is_refused_with_what_to_write(kind, given, fix):
    with pytest.raises(BadValue) as raised:
        parse(kind, given)
    assert raised.value.fix == fix


@pytest.mark.parametrize("given", [True, None, [1], {"a": 1}, "", "soon", "nan s", "inf s", float("nan"), float("inf")])
def test_what_is_no_number_is_refused(given):
    with pytest.raises(BadValue, match="must be"):
        parse("duration", given)


@pytest.mark.parametrize("given", ["1e400 s", "1e13 s", "-1e13 s"])
def test_a_number_beyond_all_measure_is_refused(given):
    with pytest.raises(BadValue, match="is too large"):
        parse("duration", given)


def test_an_interval_is_whole_parts_or_seconds_by_its_unit():
    parts, time = parse_interval("120 parts"), parse_interval("4 h")
    assert (parts, type(parts)) == (120, int)
    assert (time, type(time)) == (14400.0, float)


def test_an_interval_without_a_unit_is_refused_because_it_could_be_either():
    with pytest.raises(BadValue) as raised:
        parse_interval(120)
    assert raised.value.fix == "write 120 parts, or 120 h"


def test_a_limit_is_shown_in_the_first_unit_of_its_kind():
    assert (with_unit("share", 1), with_unit("money", 5000), with_unit("count", 3)) == ("100 %", "5 k", "3")
