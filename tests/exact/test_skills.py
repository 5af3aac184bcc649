"""Calls for one of several crews, for several people at once and of different priority; by hand in whole seconds."""

from __future__ import annotations

from typing import Any

from tests.helpers.lines import Plain, breakdown, seconds, serial, shift
from tests.helpers.running import Play, play


def failing(crews: Plain, horizon_s: float, calls: Plain, **rest: Any) -> Play:
    """Stations that fail once by the calendar. calls: name -> (when, how long the repair takes, who is called)."""
    stations = {
        name: {"cycle": "1000 s", "breakdowns": {"jam": breakdown(at, lasts, clock="calendar", **called)}}
        for name, (at, lasts, called) in calls.items()
    }
    return play(serial(stations, crews=crews, **rest), horizon_s)


def repaired_from(played: Play, name: str) -> int:
    """When the first repair of a station begins [s]."""
    return next(int(time) for time, state in played.states(f"{name}.1") if state == "under_repair")


def test_the_first_crew_named_comes_and_the_next_one_while_that_is_busy() -> None:
    """a at 5 s for 10 s: the operator. b at 6 s: the technician, 2 s on the way, until 12 s. c at 9 s finds both busy
    and has the first that is free, the technician, from 12 + 2 s."""
    either = {"crew": ["operator", "technician"]}
    crews = {"technician": {"response": seconds(2)}, "operator": {}}
    played = failing(crews, 18, {"a": (5, 10, either), "b": (6, 4, either), "c": (9, 3, either)})
    assert [repaired_from(played, name) for name in "abc"] == [5, 8, 14]
    books = played.ledger.crews.set_index("crew")
    assert books["calls"].to_dict() == {"technician": 2, "operator": 1}
    assert books["waited_us"].to_dict() == {"technician": 3_000_000, "operator": 0}
    assert books["busy_us"].to_dict() == {"technician": (6 + 5) * 10**6, "operator": 10 * 10**6}


def test_of_two_free_crews_the_preferred_one_comes_whatever_their_order_in_the_file() -> None:
    played = failing({"a_team": {}, "b_team": {}}, 9, {"a": (5, 2, {"crew": ["b_team", "a_team"]})})
    assert played.ledger.crews.set_index("crew")["calls"].to_dict() == {"a_team": 0, "b_team": 1}


def test_calls_of_a_higher_priority_are_taken_first() -> None:
    """One person, at a from 9 to 15 s. b waits since 10 s, c with high priority since 12 s, d with low since 9 s."""
    calls = {
        "a": (9, 6, {"crew": "fitter"}),
        "b": (10, 2, {"crew": "fitter"}),
        "c": (12, 3, {"crew": "fitter", "priority": "high"}),
        "d": (9, 1, {"crew": "fitter", "priority": "low"}),
    }
    played = failing({"fitter": {}}, 23, calls)
    assert [repaired_from(played, name) for name in "abcd"] == [9, 18, 15, 20]


def test_of_calls_of_one_instant_the_one_of_higher_priority_is_taken_first_and_nobody_is_called_off() -> None:
    """All at 5 s: c, then a and b in file order. The call of high priority at 6 s waits until c is repaired."""
    calls = {
        "a": (5, 2, {"crew": "fitter"}),
        "b": (5, 2, {"crew": "fitter"}),
        "c": (5, 4, {"crew": "fitter", "priority": "high"}),
        "d": (6, 1, {"crew": "fitter", "priority": "high"}),
    }
    played = failing({"fitter": {}}, 15, calls)
    assert [repaired_from(played, name) for name in "abcd"] == [10, 12, 5, 9]


def test_two_people_are_sent_together_and_later_calls_do_not_keep_them_away() -> None:
    """One of two people is at a from 9 to 15 s. b needs both from 10 s on, so the other one takes no call of c at 11 s:
    b from 15 to 20 s, then c. Calls: three, of which two waited, 5 and 9 s; busy 6 + 2 x 5 + 4 person-seconds."""
    calls = {
        "a": (9, 6, {"crew": "fitter"}),
        "b": (10, 5, {"crew": "fitter", "people": 2}),
        "c": (11, 4, {"crew": "fitter"}),
    }
    played = failing({"fitter": {"people": 2}}, 24, calls)
    assert [repaired_from(played, name) for name in "abc"] == [9, 15, 20]
    (crew,) = played.ledger.crews.to_dict("records")
    assert (crew["calls"], crew["calls_waited"], crew["waited_us"]) == (3, 2, 14_000_000)
    assert (crew["busy_us"], crew["all_busy_us"]) == (20_000_000, 5_000_000)


def test_a_later_call_of_higher_priority_goes_before_one_for_two_people() -> None:
    calls = {
        "a": (5, 10, {"crew": "fitter"}),
        "b": (6, 5, {"crew": "fitter", "people": 2}),
        "c": (7, 4, {"crew": "fitter", "priority": "high"}),
    }
    played = failing({"fitter": {"people": 2}}, 18, calls)
    assert [repaired_from(played, name) for name in "abc"] == [5, 15, 7]


def test_people_are_kept_for_a_larger_call_in_its_first_crew_only() -> None:
    """b needs two of either crew. The free fitter is kept for it, the free helper is not: d at 7 s, c not before 20.

    At 10 s the second helper is free, but the first is at d: b has its people at 15 s, from the fitters.
    """
    both = ["fitter", "helper"]
    calls = {
        "a": (5, 10, {"crew": "fitter"}),
        "x": (5, 5, {"crew": "helper"}),
        "b": (6, 5, {"crew": both, "people": 2}),
        "c": (7, 4, {"crew": "fitter"}),
        "d": (7, 9, {"crew": "helper"}),
    }
    played = failing({"fitter": {"people": 2}, "helper": {"people": 2}}, 22, calls)
    assert [repaired_from(played, name) for name in "abcd"] == [5, 15, 20, 7]


def test_nobody_is_kept_for_a_call_while_too_few_are_on_duty_at_all() -> None:
    """One fitter until 120 s, then two. a needs two at 30 s and waits for the day; b at 40 s is repaired at once."""
    week = {"night": shift("0:00", "0:02"), "day": shift("0:02", "0:04")}
    calls = {"a": (30, 5, {"crew": "fitter", "people": 2}), "b": (40, 10, {"crew": "fitter"})}
    played = failing({"fitter": {"people": {"night": 1, "day": 2}}}, 140, calls, shifts=week)
    assert [repaired_from(played, name) for name in "ab"] == [120, 40]


def test_a_line_that_waits_for_the_shift_with_enough_people_is_not_locked_up() -> None:
    week = {"night": shift("0:00", "0:02"), "day": shift("0:02", "0:04")}
    stop = {"every": "2 parts", "takes": seconds(3), "age": "0 parts", "crew": "fitter", "people": 2}
    line = serial({"mill": {"cycle": seconds(4), "tool_change": {"insert": stop}}}, shifts=week)
    line["crews"] = {"fitter": {"people": {"night": 1, "day": 2}}}
    assert play(line, 132).left_at() == [4, 123, 127]


def test_short_stops_are_cleared_by_the_operator_and_long_ones_by_the_technician() -> None:
    """Small stops of 1 s after every 4 s at work; the long one after 6 s at work, the technician 2 s on the way.

    Work 0-4, operator 4-5, work 5-7 (6 s at work), technician on the way 7-9 and there 9-12, work 12-14 (8 s at work).
    """
    causes = {"chip": breakdown(4, 1, crew="operator"), "drive": breakdown(6, 3, crew="technician")}
    crews = {"operator": {}, "technician": {"response": seconds(2)}}
    played = play(serial({"mill": {"cycle": seconds(50), "breakdowns": causes}}, crews=crews), 15)
    assert played.states("mill.1") == [
        (0, "working"),
        (4, "under_repair"),
        (5, "working"),
        (7, "waiting_repair"),
        (9, "under_repair"),
        (12, "working"),
        (14, "under_repair"),
    ]
