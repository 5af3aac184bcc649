"""Machines that warm up after standing off duty, by hand in whole seconds of a Monday."""

from __future__ import annotations

from typing import Any

import pytest

from linesim.engine.contract.trace import What
from tests.helpers.lines import alone, breakdown, seconds, shift
from tests.helpers.running import Play, play

WEEK = {"early": shift("0:00", "0:02", rest=("0:01", "20 s")), "late": shift("0:04", "0:06")}  # to 120 s; 240 to 360 s


def mill(horizon_s: float, start: Any, crews: Any = None, **keys: Any) -> Play:
    """A mill of 10 s a part; off duty from 60 to 80 s and from 120 to 240 s."""
    return play(alone({"cycle": seconds(10), "cold_start": start} | keys, shifts=WEEK, crews=crews or {}), horizon_s)


def good_at(played: Play) -> list[float]:
    return [time_s for time_s, _, fate in played.departures() if fate == "good"]


def late(played: Play) -> list[tuple[float, str]]:
    return [at for at in played.states("mill.1") if at[0] >= 240]


def test_a_machine_that_stood_for_long_warms_up_and_scraps_its_first_parts() -> None:
    """A break of 20 s is no cold start, a night of 120 s is one: 7 s, and the parts of 257 and 267 s are lost."""
    played = mill(290, {"after": "100 s", "takes": "7 s", "scrap": "2 parts"})
    assert good_at(played) == [10, 20, 30, 40, 50, 60, 90, 100, 110, 120, 277, 287]
    assert late(played) == [(240, "changeover"), (247, "working")]
    rows = [(row[0] / 1e6, row[4]) for row in played.trace.rows.tolist() if row[1] == What.SCRAP]
    assert rows == [(257, -1), (267, -1)]
    assert played.ledger.stations["scrapped"].tolist() == [2]
    (booked,) = played.ledger.stoppages.to_dict("records")
    assert (booked["kind"], booked["begun"], booked["lasting_us"]) == ("cold_start", 1, 7_000_000)


@pytest.mark.parametrize(("after_s", "begins_s"), [(120, 247), (121, 240)])
def test_it_is_cold_after_standing_just_as_long_and_not_after_less(after_s: int, begins_s: int) -> None:
    played = mill(260, {"after": seconds(after_s), "takes": "7 s"})
    assert late(played)[-1] == (begins_s, "working")


def test_overtime_counts_as_work_and_not_as_standing() -> None:
    """Parts of 15 s: 15, ..., 60, 95, 110, and the one begun then ends at 125 s, so that it stands for 115 s."""
    assert late(mill(250, {"after": "115 s", "takes": "3 s"}, cycle=seconds(15)))[0] == (240, "changeover")
    assert late(mill(250, {"after": "116 s", "takes": "3 s"}, cycle=seconds(15)))[0] == (240, "working")


def test_people_are_called_for_it() -> None:
    played = mill(260, {"after": "60 s", "takes": "7 s", "crew": "setter"}, {"setter": {"response": "3 s"}})
    assert late(played) == [(240, "waiting_setter"), (243, "changeover"), (250, "working")]


def test_a_stop_whose_people_were_called_before_goes_first() -> None:
    """The wheel is due with the tenth part at 120 s, and its fitter comes in the late shift: 240 to 244 s."""
    stop = {"every": "10 parts", "takes": "4 s", "age": "0 parts", "crew": "fitter"}
    played = mill(260, {"after": "60 s", "takes": "7 s"}, {"fitter": {"shifts": ["late"]}}, dressing={"wheel": stop})
    assert late(played) == [(240, "dressing"), (244, "changeover"), (251, "working")]


def test_a_part_lost_for_another_reason_is_one_of_the_first_parts_too() -> None:
    """The twelfth part, at 267 s, is the second of three to be scrapped and breaks the tool: changed until 272 s. The
    third is that of 282 s, the first good one that of 292 s."""
    tool = {"insert": {"life": "12 parts", "takes": "5 s"}}
    played = mill(300, {"after": "60 s", "takes": "7 s", "scrap": "3 parts"}, tool_change=tool)
    assert good_at(played)[-2:] == [120, 292]
    assert played.ledger.stations["scrapped"].tolist() == [3]


def test_a_breakdown_at_the_cold_start_is_repaired_and_warming_up_goes_on() -> None:
    """Down from 243 to 248 s of the calendar clock, which stands still off duty: 100 s and 3 s. Warm at 252 s."""
    jam = {"jam": breakdown(103, 5, clock="calendar")}
    played = mill(258, {"after": "60 s", "takes": "7 s"}, breakdowns=jam)
    assert late(played) == [(240, "changeover"), (243, "under_repair"), (248, "changeover"), (252, "working")]
