"""Breakdowns and stops: when they take a machine, in which order, and what becomes of the part on board."""

from __future__ import annotations

import pytest

from linesim.engine.contract import records as r
from linesim.engine.contract.stoppages import begin_ready, count_part, fail, fall_due, repaired, stop_over
from tests.helpers.lines import Plain, alone, breakdown
from tests.unit.engine.floors import Hand, every, jam


def mill(**keys: object) -> Hand:
    return Hand(alone({"cycle": "9 s", **keys}))


def stop_of(hand: Hand) -> str | None:
    """The stop that has the mill."""
    return hand.name(hand.get("mill.1", "STOP"))


def begun(hand: Hand) -> list[tuple[int, str]]:
    hand.floor[r.N_WAKES] = 0
    begin_ready(hand.floor)
    return hand.wakes()


# ---- stops by count ----


def test_a_stop_falls_due_with_the_part_that_reaches_the_count() -> None:
    hand = mill(tool_change={"insert": every(3)})
    hand.finish("mill.1")
    for count in (1, 2):
        count_part(hand.floor, hand.at("mill.1"))
        assert (hand.get("mill.1 insert", "COUNT"), stop_of(hand)) == (count, None)
    count_part(hand.floor, hand.at("mill.1"))
    assert stop_of(hand) == "mill.1 insert"
    assert begun(hand) == [(r.START_STOPPAGE, "mill.1 insert")]


def test_the_count_begins_again_when_the_stop_is_over() -> None:
    hand = mill(tool_change={"insert": every(1)})
    count_part(hand.floor, hand.at("mill.1"))
    begun(hand)
    stop_over(hand.floor, hand.at("mill.1 insert"))
    assert (hand.get("mill.1 insert", "COUNT"), hand.get("mill.1 insert", "PROGRESS"), stop_of(hand)) == (
        0,
        r.OFF,
        None,
    )


def test_of_two_stops_due_at_once_the_first_goes_first_and_the_other_follows_at_its_end() -> None:
    hand = mill(tool_change={"insert": every(2), "drill": every(2)})
    for _ in range(2):
        count_part(hand.floor, hand.at("mill.1"))
    assert stop_of(hand) == "mill.1 insert"
    assert begun(hand) == [(r.START_STOPPAGE, "mill.1 insert")]
    stop_over(hand.floor, hand.at("mill.1 insert"))
    assert stop_of(hand) == "mill.1 drill"


def test_of_two_stops_due_at_once_a_tool_change_goes_before_a_dressing_whatever_the_file_says() -> None:
    hand = mill(dressing={"wheel": every(1)}, tool_change={"insert": every(1)})
    count_part(hand.floor, hand.at("mill.1"))
    assert stop_of(hand) == "mill.1 insert"


# ---- stops by time ----


def by_time(**keys: object) -> Plain:
    return {"wash": {"every": "60 min", "takes": "5 min", "age": "0 min", **keys}}


def test_a_stop_due_by_time_waits_for_the_end_of_the_running_operation() -> None:
    hand = mill(cleaning=by_time())
    hand.work("mill.1")
    fall_due(hand.floor, hand.at("mill.1 wash"))
    assert (stop_of(hand), hand.get("mill.1 wash", "PROGRESS")) == (None, r.DUE)
    hand.set("mill.1", PHASE=r.FINISHED)
    count_part(hand.floor, hand.at("mill.1"))
    assert stop_of(hand) == "mill.1 wash"


@pytest.mark.parametrize("phase", [r.EMPTY, r.LOADED, r.FINISHED])
def test_a_stop_takes_a_machine_that_does_not_work_at_once(phase: int) -> None:
    hand = mill(cleaning=by_time())
    hand.set("mill.1", PHASE=phase)
    fall_due(hand.floor, hand.at("mill.1 wash"))
    assert stop_of(hand) == "mill.1 wash"


def test_a_stop_that_falls_due_during_another_waits_for_its_end() -> None:
    hand = mill(tool_change={"insert": every(1)}, cleaning=by_time())
    count_part(hand.floor, hand.at("mill.1"))
    begun(hand)
    fall_due(hand.floor, hand.at("mill.1 wash"))
    assert stop_of(hand) == "mill.1 insert"
    stop_over(hand.floor, hand.at("mill.1 insert"))
    assert stop_of(hand) == "mill.1 wash"


def test_a_stop_that_needs_a_crew_does_not_begin_without_it() -> None:
    hand = Hand(alone({"cycle": "9 s", "cleaning": by_time(crew="hands")}, crews={"hands": {}}))
    fall_due(hand.floor, hand.at("mill.1 wash"))
    assert hand.get("mill.1 wash", "PROGRESS") == r.CALLED
    assert begun(hand) == []


def test_a_stop_without_a_crew_waits_for_the_repair_of_its_machine() -> None:
    hand = mill(breakdowns=jam(part="scrap"), cleaning=by_time())
    hand.work("mill.1")
    fall_due(hand.floor, hand.at("mill.1 wash"))
    fail(hand.floor, hand.at("mill.1 jam"))  # the part is lost, so the machine does not work any more
    assert stop_of(hand) == "mill.1 wash"
    assert begun(hand) == [(r.START_STOPPAGE, "mill.1 jam")]
    repaired(hand.floor, hand.at("mill.1 jam"))
    assert begun(hand) == [(r.START_STOPPAGE, "mill.1 wash")]


# ---- breakdowns ----


@pytest.mark.parametrize("effect", ["resume", "restart"])
def test_a_breakdown_keeps_the_part_that_is_being_worked_on(effect: str) -> None:
    hand = mill(breakdowns=jam(part=effect))
    part = hand.work("mill.1")
    fail(hand.floor, hand.at("mill.1 jam"))
    assert (hand.get("mill.1", "PART"), hand.get("mill.1", "PHASE")) == (part, r.WORKING)
    assert hand.get("mill.1", "DOWN") == hand.at("mill.1 jam")


def test_a_breakdown_that_scraps_the_part_charges_it_to_its_station() -> None:
    hand = mill(breakdowns=jam(part="scrap"))
    hand.work("mill.1")
    fail(hand.floor, hand.at("mill.1 jam"))
    assert (hand.get("mill.1", "PHASE"), hand.step("mill", "SCRAPPED")) == (r.EMPTY, 1)
    assert hand.floor[r.INSIDE] == 0


@pytest.mark.parametrize("phase", [r.LOADED, r.FINISHED])
def test_a_breakdown_does_not_scrap_a_part_that_is_not_being_worked_on(phase: int) -> None:
    hand = mill(breakdowns=jam(part="scrap", clock="calendar"))
    part = hand.finish("mill.1")
    hand.set("mill.1", PHASE=phase)
    fail(hand.floor, hand.at("mill.1 jam"))
    assert (hand.get("mill.1", "PART"), hand.step("mill", "SCRAPPED")) == (part, 0)


def test_a_breakdown_without_a_crew_is_under_repair_at_once_and_up_at_its_end() -> None:
    hand = mill(breakdowns=jam())
    fail(hand.floor, hand.at("mill.1 jam"))
    assert begun(hand) == [(r.START_STOPPAGE, "mill.1 jam")]
    assert hand.get("mill.1 jam", "PROGRESS") == r.UNDER_WAY
    repaired(hand.floor, hand.at("mill.1 jam"))
    assert (hand.get("mill.1", "DOWN"), hand.get("mill.1 jam", "PROGRESS")) == (r.NONE, r.OFF)


def test_each_breakdown_and_stop_is_counted_when_it_begins() -> None:
    hand = mill(breakdowns={"jam": breakdown(9, 1), "leak": breakdown(9, 1)}, tool_change={"insert": every(1)})
    for _ in range(2):
        fail(hand.floor, hand.at("mill.1 jam"))
        repaired(hand.floor, hand.at("mill.1 jam"))
    count_part(hand.floor, hand.at("mill.1"))
    assert [hand.get(f"mill.1 {name}", "BEGUN") for name in ("jam", "leak", "insert")] == [2, 0, 1]
