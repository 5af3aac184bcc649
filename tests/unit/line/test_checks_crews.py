"""Who is called for what: several crews, several people and priorities are read, and what can't be meant is told."""

from __future__ import annotations

from typing import Any

import pytest

from linesim.line import load_line, summary
from linesim.line.machine_time import machine_time
from tests.unit.line.lines import cell, problems

CREWS = {"operator": {"people": 2, "response": "1 min"}, "fitter": {"response": "5 min"}}


def jam(**called: Any) -> dict[str, Any]:
    station = {"cycle": "60 s", "breakdowns": {"jam": {"mtbf": "9 h", "mttr": "6 min"} | called}}
    return cell(stations=cell()["stations"] | {"turn": station}, crews=CREWS)


def test_one_crew_or_several_are_read_in_order() -> None:
    read = load_line(jam(crew="fitter")).stations["turn"].breakdowns["jam"]
    assert (read.crew, read.people, read.priority) == (("fitter",), 1, "normal")
    read = load_line(jam(crew=["operator", "fitter"], priority="high")).stations["turn"].breakdowns["jam"]
    assert (read.crew, read.priority) == (("operator", "fitter"), "high")


JAM = "stations.turn.breakdowns.jam"
WRONG = [
    ({"crew": []}, f"{JAM}.crew: must name somebody"),
    ({"crew": ["fitter", "fiter"]}, f"{JAM}.crew[1]: fiter is no crew of this line"),
    ({"crew": ["fitter", "operator", "fitter"]}, f"{JAM}.crew: names fitter twice"),
    ({"crew": ["operator", "fitter"], "people": 2}, f"{JAM}.people: must be at most 1: crew fitter never has more"),
    ({"crew": "operator", "people": 0}, f"{JAM}.people: must be 1 or more"),
    ({"crew": "operator", "priority": "urgent"}, f"{JAM}.priority: must be high, normal or low"),
    ({"people": 2}, f"{JAM}.people: has a meaning only where a crew is called"),
    ({"priority": "low"}, f"{JAM}.priority: has a meaning only where a crew is called"),
]


@pytest.mark.parametrize(("called", "told"), WRONG)
def test_what_can_not_be_meant_by_a_call_is_told(called: dict[str, Any], told: str) -> None:
    (problem,) = problems(jam(**called))
    assert f"{problem.key}: {problem.rule}".startswith(told)


def test_a_crew_is_large_enough_if_it_is_so_in_some_shift() -> None:
    times = {"day": ("6:00", "14:00"), "late": ("14:00", "22:00")}
    shifts = {name: {"days": "mon", "from": begin, "to": end} for name, (begin, end) in times.items()}
    line = jam(crew="fitter", people=3) | {"shifts": shifts, "crews": {"fitter": {"people": {"day": 3, "late": 1}}}}
    assert problems(line) == []


def test_what_a_machine_of_its_own_calls_for_is_told_there_and_what_it_has_from_its_station_is_not() -> None:
    line = jam(crew="operator", people=2)
    line["stations"]["turn"]["machines"] = {"old": {"breakdowns": {"jam": {"crew": "fitter"}}}, "new": {}}
    line["loaders"] = {}
    (problem,) = problems(line)
    assert problem.key == "stations.turn.machines.old.breakdowns.jam.people"
    assert problem.rule == "must be at most 1: crew fitter never has more people on duty"


def test_the_sheet_reckons_with_the_response_of_the_preferred_crew() -> None:
    """mttr 6 min, and 1 min until an operator is there, in 9 h: 60 s x (1 + 7 / 540) a part."""
    line = load_line(jam(crew=["operator", "fitter"]))
    assert machine_time(line, "turn", line.stations["turn"]).breakdown_s == pytest.approx(60 * 7 / 540)


def test_the_summary_tells_who_comes() -> None:
    shown = summary(load_line(jam(crew=["operator", "fitter"], priority="high")))
    assert "operator, else fitter, high priority" in shown
    assert "2 of operator" in summary(load_line(jam(crew="operator", people=2)))
