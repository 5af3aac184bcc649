"""Crews, worked out by hand in whole seconds."""

from __future__ import annotations

from tests.helpers.lines import alone, breakdown, seconds, serial
from tests.helpers.running import play


def test_one_person_answers_two_simultaneous_breakdowns_in_file_order_and_walks_to_each() -> None:
    """Two mills fail together at 10 s, as their parts end; response 2 s, repair 3 s: up again at 15 s and 20 s."""
    station = {"cycle": seconds(10), "machines": 2, "breakdowns": {"jam": breakdown(10, 3, crew="technician")}}
    line = alone(station, crews={"technician": {"people": 1, "response": seconds(2)}})
    played = play(line, horizon_s=24)
    assert played.states("mill.1") == [(0, "working"), (10, "waiting_repair"), (12, "under_repair"), (15, "working")]
    assert played.states("mill.2") == [(0, "working"), (10, "waiting_repair"), (17, "under_repair"), (20, "working")]
    assert played.left_at() == [15, 20]
    crew = played.ledger.crews.iloc[0]
    assert (crew["calls"], crew["calls_waited"], crew["waited_us"]) == (2, 1, 5_000_000)
    assert (crew["busy_us"], crew["all_busy_us"]) == (10_000_000, 10_000_000)


def test_two_people_answer_two_simultaneous_breakdowns_at_once() -> None:
    station = {"cycle": seconds(10), "machines": 2, "breakdowns": {"jam": breakdown(10, 3, crew="technician")}}
    line = alone(station, crews={"technician": {"people": 2, "response": seconds(2)}})
    played = play(line, horizon_s=24)
    assert played.left_at() == [15, 15]
    crew = played.ledger.crews.iloc[0]
    assert (crew["calls"], crew["calls_waited"], crew["waited_us"]) == (2, 0, 0)
    assert (crew["busy_us"], crew["all_busy_us"]) == (10_000_000, 5_000_000)


def test_the_call_that_waits_longest_is_taken_first_whatever_the_file_order() -> None:
    """Calendar breakdowns of a, b, c after 9, 7, 8 s, repair 4 s, one person: b 7-11 s, c 11-15 s, a 15-19 s.

    b fails again at 11 + 7 = 18 s and is next from 19 to 23 s; c again at 15 + 8 = 23 s and finds the person free.
    """
    causes = {
        name: {"jam": breakdown(mtbf, 4, clock="calendar", crew="technician")}
        for name, mtbf in (("a", 9), ("b", 7), ("c", 8))
    }
    line = serial({name: {"cycle": seconds(50), "breakdowns": causes[name]} for name in "abc"})
    line["crews"] = {"technician": {"people": 1}}
    played = play(line, horizon_s=26)
    assert played.states("a.1") == [(0, "working"), (9, "waiting_repair"), (15, "under_repair"), (19, "working")]
    assert played.states("b.1")[1:] == [
        (7, "under_repair"),
        (11, "starved"),
        (18, "waiting_repair"),
        (19, "under_repair"),
        (23, "starved"),
    ]
    assert played.states("c.1")[1:] == [
        (8, "waiting_repair"),
        (11, "under_repair"),
        (15, "starved"),
        (23, "under_repair"),
    ]
    crew = played.ledger.crews.iloc[0]
    assert (crew["calls"], crew["calls_waited"], crew["waited_us"]) == (5, 3, 3_000_000 + 6_000_000 + 1_000_000)


def test_a_crew_finishes_what_it_began() -> None:
    """a fails at 5 s for 10 s, b at 6 s for 1 s: b waits until 15 s although its repair is short."""
    line = serial(
        {
            "a": {"cycle": seconds(50), "breakdowns": {"long": breakdown(5, 10, clock="calendar", crew="technician")}},
            "b": {"cycle": seconds(50), "breakdowns": {"short": breakdown(6, 1, clock="calendar", crew="technician")}},
        },
        crews={"technician": {"people": 1}},
    )
    played = play(line, horizon_s=18)
    assert played.states("b.1") == [(0, "starved"), (6, "waiting_repair"), (15, "under_repair"), (16, "starved")]


def test_two_stops_share_one_setter() -> None:
    """Two mills of 4 s: both tools are due at 4 s; the second waits for the person until the first change is over."""
    stop = {"every": "1 parts", "takes": seconds(3), "age": "0 parts", "crew": "setter"}
    line = alone({"cycle": seconds(4), "machines": 2, "tool_change": {"insert": stop}}, crews={"setter": {"people": 1}})
    played = play(line, horizon_s=10.5)
    assert played.left_at() == [7, 10]
    assert played.states("mill.2") == [(0, "working"), (4, "waiting_setter"), (7, "tool_change"), (10, "working")]


def test_a_person_at_a_stop_finishes_it_before_repairing_the_same_machine() -> None:
    """Cycle 2 s, tool change of 6 s after part 3, calendar breakdown at 8 s, repair 3 s, one person for both.

    If the change stood still while the mill is down, its person would never be free to repair it. So it goes on until
    12 s, the repair follows until 15 s, and parts 3 and 4 leave then and 2 s later.
    """
    station = {
        "cycle": seconds(2),
        "tool_change": {"insert": {"every": "3 parts", "takes": seconds(6), "age": "0 parts", "crew": "fitter"}},
        "breakdowns": {"jam": breakdown(8, 3, clock="calendar", crew="fitter")},
    }
    played = play(alone(station, crews={"fitter": {"people": 1}}), horizon_s=18)
    assert played.left_at() == [2, 4, 15, 17]
    assert played.states("mill.1") == [
        (0, "working"),
        (6, "tool_change"),
        (8, "waiting_repair"),
        (12, "under_repair"),
        (15, "working"),
    ]


def test_another_crew_repairs_a_machine_while_its_stop_goes_on() -> None:
    """The same with two crews: repair from 8 to 11 s, the tool change still ends at 12 s."""
    station = {
        "cycle": seconds(2),
        "tool_change": {"insert": {"every": "3 parts", "takes": seconds(6), "age": "0 parts", "crew": "setter"}},
        "breakdowns": {"jam": breakdown(8, 3, clock="calendar", crew="technician")},
    }
    played = play(alone(station, crews={"setter": {}, "technician": {}}), horizon_s=15)
    assert played.left_at() == [2, 4, 12, 14]
    assert played.states("mill.1")[1:4] == [(6, "tool_change"), (8, "under_repair"), (11, "tool_change")]
