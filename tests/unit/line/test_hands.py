"""Stations that people load by hand: how they are read, what can't be meant, and what the rough-cut sheet says."""

from __future__ import annotations

from typing import Any

import pytest

from linesim.line import load_line, summary
from linesim.line.capacity import capacity_sheet, load_s
from linesim.line.hands import hands, people_at_hand, tours_at_once
from linesim.line.lead_time import least_lead_time_s
from linesim.line.levers import levers
from linesim.line.ways import way, ways
from tests.helpers.lines import Plain, shift
from tests.unit.line.lines import cell, problems

TIMES = {"load": "8 s", "unload": "6 s", "exchange": "10 s"}
OPERATOR = {"crew": "operator", **TIMES}


def line(turn: Plain | None = None, grind: Plain | None = None, **keys: Any) -> Plain:
    """blanks, turn (60 s), park, grind (50 s), tray without a loader; turn and grind by hand as given."""
    stations: Plain = {"turn": {"cycle": "60 s"}, "grind": {"cycle": "50 s"}}
    for name, by_hand in (("turn", turn), ("grind", grind)):
        if by_hand is not None:
            stations[name]["by_hand"] = by_hand
    crews = {"operator": {"people": 2, "response": "5 s"}, "setter": {}}
    return cell(loaders={}, stations=stations, crews=crews) | keys


def test_load_and_unload_take_as_long_as_an_exchange_if_they_are_not_given() -> None:
    read = load_line(line(grind={"crew": "operator", "exchange": "10 s"})).stations["grind"].by_hand
    assert read is not None
    assert (read.loads.mean, read.unloads.mean, read.crew) == (10, 10, ("operator",))


def test_people_join_a_station_with_both_its_neighbours_where_no_loader_does() -> None:
    stops = {place: at for place, at in cell()["loaders"]["gantry"]["stops"].items() if place != "tray"}
    gantry = {**cell()["loaders"]["gantry"], "stops": stops}
    read = load_line(line(grind=OPERATOR, loaders={"gantry": gantry}))
    assert [step.loader for step in ways(read)] == ["gantry", "gantry", "gantry", "hands_of_grind"]
    read = load_line(line(grind=OPERATOR))
    assert [step.loader for step in ways(read)] == [None, None, "hands_of_grind", "hands_of_grind"]


def test_stations_that_call_for_the_same_people_are_served_by_the_same_hands() -> None:
    assert list(hands(load_line(line(OPERATOR, OPERATOR)))) == ["hands_of_turn"]
    other = {**OPERATOR, "priority": "high"}
    assert list(hands(load_line(line(OPERATOR, other)))) == ["hands_of_turn", "hands_of_grind"]


def test_a_tour_needs_its_people_and_a_machine() -> None:
    """Two people: one tour at a time at one machine, two at two, one where both are needed."""
    read = load_line(line(grind=OPERATOR))
    assert tours_at_once(read, hands(read)["hands_of_grind"]) == 1
    read = load_line(line(OPERATOR, OPERATOR))
    assert tours_at_once(read, hands(read)["hands_of_turn"]) == 2
    both = {**OPERATOR, "people": 2}
    read = load_line(line(both, both))
    assert tours_at_once(read, hands(read)["hands_of_turn"]) == 1


BY_HAND = "stations.grind.by_hand"
WRONG: list[tuple[Plain, str]] = [
    ({"crew": "operator"}, f"{BY_HAND}.exchange: is missing; by_hand needs it"),
    ({**TIMES}, f"{BY_HAND}.crew: is missing: who loads it?; write crew: operator"),
    ({**TIMES, "crew": "helper"}, f"{BY_HAND}.crew: helper is no crew of this line"),
    ({**OPERATOR, "people": 3}, f"{BY_HAND}.people: must be at most 2: crew operator never has more"),
    ({**OPERATOR, "load": "0 s"}, f"{BY_HAND}.load: must be above 0"),
    ({**OPERATOR, "takes": "8 s"}, f"{BY_HAND}.takes: is an unknown key"),
]


@pytest.mark.parametrize(("by_hand", "told"), WRONG)
def test_what_can_not_be_meant_is_told(by_hand: Plain, told: str) -> None:
    (problem,) = problems(line(grind=by_hand))
    assert f"{problem.key}: {problem.rule}; {problem.fix}".startswith(told)


def test_a_machine_between_stops_of_a_loader_needs_nobody() -> None:
    (problem,) = problems(line(grind=OPERATOR, loaders=cell()["loaders"]))
    assert (problem.key, problem.rule) == (BY_HAND, "gantry loads and unloads grind")
    assert problem.fix == "remove it, or the loader's stop grind"


def test_neighbours_that_other_people_load_need_a_buffer_between() -> None:
    source = line(OPERATOR, {**OPERATOR, "crew": "setter"})
    assert problems(source) == []
    (problem,) = problems(source, "buffers.park.capacity=0")
    assert problem.key == f"{BY_HAND}.crew"
    assert problem.rule == "turn and grind are neighbours, and other people load each by hand: who carries?"
    assert problem.fix.startswith("let both name the same crew, people and priority")


def test_who_sends_rejects_back_must_know_who_carries_them() -> None:
    source = line(OPERATOR, {**OPERATOR, "crew": "setter"})
    source["stations"]["grind"]["inspection"] = {"rework": {"to": "turn"}}
    (problem,) = problems(source)
    assert problem.rule == "could go by hands_of_turn or hands_of_grind"


def test_nobody_can_be_called_ahead() -> None:
    source = line(grind=OPERATOR)
    source["stations"]["grind"]["call_ahead"] = "5 s"
    (problem,) = problems(source)
    assert problem.key == "stations.grind.call_ahead"
    assert problem.rule == "people take parts away from grind, and come once the part is ready"


def test_no_crew_may_have_the_name_of_the_hands_in_the_results() -> None:
    source = line(grind={**OPERATOR, "crew": "hands_of_grind"}, crews={"hands_of_grind": {}})
    (problem,) = problems(source)
    assert (problem.key, problem.fix) == ("crews.hands_of_grind", "choose another name")


def test_the_sheet_has_the_work_of_people_beside_that_of_loaders() -> None:
    """turn and grind by hand, one group of two people: for each part an exchange of 10 s at both, and 5 s to come to
    each. Two tours at a time: 2 x 3600 / 30 = 240 parts an hour; 60 an hour take a quarter of that."""
    source = line(OPERATOR, OPERATOR, demand={"volume": "60000 /year", "planned": "1000 h/year"})
    sheet = capacity_sheet(load_line(source))
    (work,) = sheet.loaders
    assert (work.loader, work.handling_s, work.travel_s) == ("hands_of_turn", 20, 10)
    assert work.ceiling_per_h == pytest.approx(240)
    assert work.share == pytest.approx(0.25)
    assert sheet.stopped_as_one_per_h is None
    shown = summary(load_line(source))
    assert "hands_of_turn: 20.0 s handling + 10.0 s response a part = at most 240.0 parts/h, 25 % of its time" in shown
    assert "turn: load 8 s, unload 6 s, exchange 10 s" in shown


def test_too_few_people_are_warned_of() -> None:
    """400 parts an hour x 30 s / 2 people: 1.67 of their time."""
    source = line(OPERATOR, OPERATOR, demand={"volume": "400000 /year", "planned": "1000 h/year"})
    assert (
        "hands_of_turn needs 167 % of its time for the demand; too few people"
        in capacity_sheet(load_line(source)).warnings
    )


def test_people_count_by_the_shifts_they_are_on_duty_in() -> None:
    """Two people for 8 h, none for 8 h: 1 on the mean; both of them for one tour: half a tour."""
    week = {"early": shift("6:00", "14:00"), "late": shift("14:00", "22:00")}
    crews = {"operator": {"people": {"early": 2}}}
    read = load_line(line(grind=OPERATOR, shifts=week, crews=crews))
    assert people_at_hand(read, hands(read)["hands_of_grind"]) == pytest.approx(1.0)
    read = load_line(line(grind={**OPERATOR, "people": 2}, shifts=week, crews=crews))
    assert people_at_hand(read, hands(read)["hands_of_grind"]) == pytest.approx(0.5)


def test_load_time_of_a_station_and_least_lead_time_count_hands_like_a_loader_without_a_way() -> None:
    """Both sides: exchange. A part alone: turn 60, exchange there 10 or unload 6, load into grind 8, work 50, out 6;
    the shorter one counts. In at turn 8: 8 + 60 + 6 + 8 + 50 + 6."""
    read = load_line(line(OPERATOR, OPERATOR))
    assert load_s(read, "turn") == 10
    assert least_lead_time_s(read) == 8 + 60 + 6 + 8 + 50 + 6
    assert load_s(load_line(line(grind=OPERATOR)), "turn") == 0


def test_quicker_hands_are_a_lever() -> None:
    (lever,) = [each for each in levers(load_line(line(grind=OPERATOR))) if each.name == "grind.by_hand"]
    quicker = lever.improved(0.1).stations["grind"].by_hand
    assert quicker is not None
    assert [law.mean for law in (quicker.loads, quicker.unloads, quicker.exchange)] == pytest.approx([7.2, 5.4, 9.0])


def test_blanks_come_in_and_parts_leave_by_themselves_where_the_route_has_no_ends() -> None:
    read = load_line(line(OPERATOR, OPERATOR, route=["turn", "park", "grind"], infeed={}, outfeed={}))
    assert way(read, "", "turn").loader is None
    assert [step.loader for step in ways(read)] == ["hands_of_turn", "hands_of_turn"]
