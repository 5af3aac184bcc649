"""Crews: which call free people take, what the waiting and the work are booked on."""

from __future__ import annotations

from linesim.engine.contract import records as r
from linesim.engine.contract.answers import answer_calls
from linesim.engine.contract.crews import count_busy, crew_arrives
from linesim.engine.contract.stoppages import begin_ready, fail, repaired
from tests.helpers.lines import serial
from tests.unit.engine.floors import Hand, jam


def mills(machines: int, **crew: object) -> Hand:
    mill = {"cycle": "9 s", "machines": machines, "breakdowns": jam(crew="fitter")}
    return Hand(serial({"mill": mill}, crews={"fitter": crew}))


def fail_at(hand: Hand, *times: int) -> None:
    """mill.1 fails at the first of these times, mill.2 at the second, ..."""
    for time, number in sorted((time, number) for number, time in enumerate(times, 1)):
        hand.now(time)
        fail(hand.floor, hand.at(f"mill.{number} jam"))


def there(hand: Hand) -> list[str]:
    """Machines whose crew has been sent or is there."""
    sent = (r.ON_THE_WAY, r.THERE, r.UNDER_WAY)
    names = [name for _, (name, _) in hand.layout.machines.items()]
    return [name for name in names if hand.get(f"{name} jam", "PROGRESS") in sent]


def test_the_call_that_has_waited_longest_is_taken_first() -> None:
    hand = mills(3)
    fail_at(hand, 30, 10, 20)
    answer_calls(hand.floor)
    assert there(hand) == ["mill.2"]
    assert hand.get("mill.1 jam", "PROGRESS") == r.CALLED


def test_of_calls_of_one_instant_the_first_machine_in_the_file_is_served_first() -> None:
    hand = mills(3)
    fail_at(hand, 30, 10, 10)
    answer_calls(hand.floor)
    assert there(hand) == ["mill.2"]


def test_a_crew_of_two_takes_two_calls_and_no_third() -> None:
    hand = mills(3, people=2)
    fail_at(hand, 30, 10, 20)
    answer_calls(hand.floor)
    assert there(hand) == ["mill.2", "mill.3"]
    assert (hand.get("fitter", "FREE"), hand.get("fitter", "N_WAITING")) == (0, 1)


def test_a_freed_crew_takes_the_next_call() -> None:
    hand = mills(2)
    fail_at(hand, 10, 20)
    answer_calls(hand.floor)
    begin_ready(hand.floor)
    repaired(hand.floor, hand.at("mill.1 jam"))
    answer_calls(hand.floor)
    assert there(hand) == ["mill.2"]
    assert hand.get("fitter", "FREE") == 0


def test_a_crew_with_a_response_time_is_on_its_way_and_the_repair_begins_when_it_arrives() -> None:
    hand = mills(1, response="5 min")
    fail_at(hand, 10)
    answer_calls(hand.floor)
    begin_ready(hand.floor)
    assert hand.get("mill.1 jam", "PROGRESS") == r.ON_THE_WAY
    assert hand.wakes() == [(r.START_RESPONSE, "mill.1 jam")]
    hand.floor[r.N_WAKES] = 0
    crew_arrives(hand.floor, hand.at("mill.1 jam"))
    begin_ready(hand.floor)
    assert hand.wakes() == [(r.START_STOPPAGE, "mill.1 jam")]


def test_without_a_response_time_the_repair_begins_in_the_instant_of_the_call() -> None:
    hand = mills(1)
    fail_at(hand, 10)
    answer_calls(hand.floor)
    begin_ready(hand.floor)
    assert hand.wakes() == [(r.START_STOPPAGE, "mill.1 jam")]


def test_only_calls_not_taken_at_once_count_as_waiting() -> None:
    hand = mills(2)
    fail_at(hand, 10, 20)
    hand.now(20)
    answer_calls(hand.floor)  # mill.1 waited 10
    hand.now(45)
    repaired(hand.floor, hand.at("mill.1 jam"))
    answer_calls(hand.floor)  # mill.2 waited 25
    assert [hand.get("fitter", field) for field in ("CALLS", "CALLS_WAITED", "WAITED_TIME")] == [2, 2, 35]
    repaired(hand.floor, hand.at("mill.2 jam"))
    fail(hand.floor, hand.at("mill.1 jam"))
    answer_calls(hand.floor)
    assert [hand.get("fitter", field) for field in ("CALLS", "CALLS_WAITED", "WAITED_TIME")] == [3, 2, 35]


def test_busy_time_counts_people_and_the_crew_is_all_busy_only_while_nobody_is_free() -> None:
    """Two people: one works from 10 to 60, the other from 30 to 100. Both: 30 to 60."""
    hand = mills(2, people=2)
    for time, act in ((10, fail), (30, fail), (60, repaired), (100, repaired)):
        hand.now(time)
        act(hand.floor, hand.at("mill.1 jam" if time in (10, 60) else "mill.2 jam"))
        answer_calls(hand.floor)
    hand.now(120)
    count_busy(hand.floor, hand.at("fitter"))
    assert hand.get("fitter", "BUSY_TIME") == 50 + 70
    assert hand.get("fitter", "ALL_BUSY_TIME") == 30
    assert hand.spells() == [[hand.get("fitter", "CREW_NUMBER"), 30, 60]]


def test_two_crews_do_not_answer_each_other_s_calls() -> None:
    stations = {name: {"cycle": "9 s", "breakdowns": jam(crew=crew)} for name, crew in (("turn", "a"), ("grind", "b"))}
    hand = Hand(serial(stations, crews={"a": {}, "b": {}}))
    hand.set("a", FREE=0)
    for name in ("turn.1 jam", "grind.1 jam"):
        fail(hand.floor, hand.at(name))
    answer_calls(hand.floor)
    assert [hand.get(name, "PROGRESS") for name in ("turn.1 jam", "grind.1 jam")] == [r.CALLED, r.THERE]
