"""The week worked out by hand: planned hours, who is on duty when, and what the demand asks for an hour."""

from __future__ import annotations

from typing import Any

import pytest

from linesim.line import calendar as c
from linesim.line import load_line
from linesim.line.capacity import capacity_sheet
from linesim.line.demand import needed_per_h, planned_h_per_year
from linesim.line.model import Line
from tests.unit.line.lines import cell

H = c.HOUR_US


def _shift(days: str, begin: str, end: str, rest: str, takes: str) -> dict[str, Any]:
    return {"days": days, "from": begin, "to": end, "breaks": {"rest": {"at": rest, "takes": takes}}}


SHIFTS = {
    "early": _shift("mon to fri", "6:00", "14:00", "10:00", "30 min"),
    "late": _shift("mon to thu", "14:00", "22:00", "18:00", "30 min"),
    "night": _shift("sun to wed", "22:00", "6:00", "2:00", "1 h"),
}
SERVICE = {"service": {"days": "fri", "at": "12:00", "takes": "4 h"}}


def line(**changes: Any) -> Line:
    return load_line(cell(**{"shifts": SHIFTS, "planned_stops": SERVICE, **changes}))


def test_planned_hours_are_shifts_less_breaks_and_planned_stops() -> None:
    """5 x 7.5 + 4 x 7.5 + 4 x 7, less 2 h of service that fall into the early shift of Friday."""
    assert c.planned_h_per_week(line()) == 37.5 + 30 + 28 - 2


def test_a_planned_stop_alone_makes_a_week_too() -> None:
    assert c.planned_h_per_week(line(shifts={})) == 168 - 4


@pytest.mark.parametrize(
    ("from_h", "to_h", "first_h"),
    [
        (0, 168, 0),  # the night of Sunday
        (2, 168, 3),  # its break
        (4 * 24 + 5, 168, 4 * 24 + 6),  # Friday has no night
        (4 * 24 + 11, 168, 4 * 24 + 11),
        (4 * 24 + 13, 168, 5 * 24 + 24 + 22),  # from the service of Friday to the end of Sunday
        (4 * 24 + 13, 5 * 24, 4 * 24 + 13),  # where it is not planned to run again
        (4 * 24 + 13, 6 * 24 + 22, 4 * 24 + 13),
        (168 + 2.5, 400, 168 + 3),
    ],
)
def test_the_first_planned_time_after_another_is_found(from_h: float, to_h: float, first_h: float) -> None:
    assert c.first_planned_us(line(), round(from_h * H), round(to_h * H)) == first_h * H


def test_a_line_without_a_week_is_planned_to_run_at_once() -> None:
    assert c.first_planned_us(line(shifts={}, planned_stops={}), 5 * H, 9 * H) == 5 * H


def test_duties_change_on_the_edges_and_a_shift_belongs_to_the_day_it_begins_on() -> None:
    station = line().stations["turn"]
    wednesday, friday, sunday = (day * c.DAY_US for day in (2, 4, 6))
    told = [
        (0, c.ON),  # the night of Sunday
        (2 * H, c.PLANNED_STOP),
        (3 * H, c.ON),
        (6 * H - 1, c.ON),
        (wednesday + 22 * H, c.ON),
        (friday, c.OFF_SHIFT),  # the night of Thursday is none of its days
        (friday + 10 * H, c.PLANNED_STOP),
        (friday + 12 * H, c.PLANNED_STOP),
        (friday + 15 * H, c.OFF_SHIFT),
        (sunday + 21 * H, c.OFF_SHIFT),
        (sunday + 22 * H, c.ON),
    ]
    assert [(time, c.duty(line(), station, time)) for time, _ in told] == told


def test_who_names_shifts_works_in_those_only_and_may_run_through_breaks() -> None:
    given = cell(
        stations={"turn": {"cycle": "60 s", "shifts": ["early"], "through_breaks": True}, "grind": {"cycle": "50 s"}}
    )
    of_two = load_line({**given, "shifts": SHIFTS})
    turn = of_two.stations["turn"]
    assert [c.duty(of_two, turn, time * H) for time in (5, 6, 10, 14)] == [c.OFF_SHIFT, c.ON, c.ON, c.OFF_SHIFT]
    assert c.planned_share(of_two, turn) == pytest.approx(40 / 95.5)


def test_people_take_no_calls_in_breaks_but_do_in_planned_stops() -> None:
    of_crew = line(crews={"fitter": {"people": 3, "shifts": ["early"]}})
    friday = 4 * c.DAY_US
    people = [c.people_on_duty(of_crew, of_crew.crews["fitter"], friday + time * H) for time in (5, 9, 10, 12, 14)]
    assert people == [0, 3, 0, 3, 0]
    assert c.person_h_per_week(of_crew, of_crew.crews["fitter"]) == 3 * 37.5


def test_a_crew_may_have_other_people_in_each_shift() -> None:
    of_crew = line(crews={"fitter": {"people": {"early": 3, "night": 1, "late": 0}}})
    people = [c.people_on_duty(of_crew, of_crew.crews["fitter"], time * H) for time in (1, 2, 7, 10, 15, 23)]
    assert people == [1, 0, 3, 0, 0, 1]
    assert c.person_h_per_week(of_crew, of_crew.crews["fitter"]) == 3 * 37.5 + 28


def test_planned_stretches_follow_week_after_week_and_end_with_the_run() -> None:
    one = line(shifts={"noon": {"days": "tue", "from": "12:00", "to": "13:00"}}, planned_stops={})
    begin = 36 * H
    assert c.planned_stretches(one, c.WEEK_US + begin + H // 2).tolist() == [
        [begin, begin + H],
        [c.WEEK_US + begin, c.WEEK_US + begin + H // 2],
    ]
    assert c.planned_stretches(line(shifts={}, planned_stops={}), 5).tolist() == [[0, 5]]


def test_the_demand_is_spread_over_the_planned_hours_of_its_weeks() -> None:
    given = line(demand={"volume": "93500 /year", "weeks": 50})
    assert planned_h_per_year(given) == 50 * 93.5
    assert needed_per_h(given) == 20
    assert planned_h_per_year(line(demand={"volume": "93500 /year"})) == 52 * 93.5


def test_the_capacity_of_a_station_of_fewer_shifts_is_that_of_its_share_of_planned_time() -> None:
    """turn: 60 s and an exchange of 7 s a part, in 37.5 of 95.5 planned hours."""
    given = cell(stations={"turn": {"cycle": "60 s", "shifts": ["early"]}, "grind": {"cycle": "50 s"}}, shifts=SHIFTS)
    turn, grind = capacity_sheet(load_line(given)).stages
    assert turn.capacity_per_h == pytest.approx(3600 / 67 * 37.5 / 95.5)
    assert grind.capacity_per_h == pytest.approx(3600 / 57)


def test_a_station_stands_from_one_shift_to_its_next_and_over_the_weekend() -> None:
    """Mon to fri 6:00 to 14:00: four times 16 h and once 64 h; with a break of half an hour each day, five more."""
    day = {"days": "mon to fri", "from": "6:00", "to": "14:00"}
    plain = line(shifts={"day": day}, planned_stops={})
    assert sorted(c.stands_us(plain, plain.stations["turn"])) == [16 * H] * 4 + [64 * H]
    with_break = line(shifts={"day": {**day, "breaks": {"meal": {"at": "10:00", "takes": "30 min"}}}}, planned_stops={})
    assert sorted(c.stands_us(with_break, with_break.stations["turn"]))[:5] == [H // 2] * 5
    assert c.stands_us(line(shifts={}, planned_stops={}), plain.stations["turn"]) == []
