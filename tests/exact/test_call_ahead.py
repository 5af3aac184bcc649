"""Calls ahead of the end of a cycle, worked out by hand in whole seconds.

stocker 0 m, turn 2 m, tray 4 m. The loader makes 1 m/s at once and needs 1 s to pick or place, 2 s to load or unload,
3 s to exchange. Part 1 is picked 0-1, travels -3 and is loaded -5 s; turn works 10 s on it, from 5 to 15 s.
"""

from __future__ import annotations

from typing import Any

from linesim.engine.contract.trace import What
from tests.helpers.lines import Plain, breakdown, loader, serial
from tests.helpers.running import play

TIMES: Plain = {"load": "2 s", "unload": "2 s", "exchange": "3 s"}
ONE_BY_ONE = [(1, 5, 1, "stocker", "turn.1")]


def cell(turn: Plain, **keys: Any) -> Plain:
    at = {"stocker": 0, "turn": 2, "tray": 4}
    station = {"cycle": "10 s", "call_ahead": "8 s", **turn}
    return serial({"turn": station}, loaders={"gantry": loader(at, **{**TIMES, "grippers": 2, **keys})})


def waits(played: Any) -> list[float]:
    return [since for since, state in played.states("gantry.1") if state == "waiting_at_machine"]


def test_the_loader_fetches_the_next_part_and_waits_in_front_until_the_cycle_ends() -> None:
    """The call comes at 7 s: go -9, pick -10, go -12, wait -15, exchange -18, go -20, place -21.

    turn works 18-28 and calls at 20 s. The loader is free at 21 s: go -25, pick -26, go -28: no wait, exchange -31.
    """
    played = play(cell({}), horizon_s=32)
    assert played.carried() == [
        *ONE_BY_ONE,
        (10, 18, 2, "stocker", "turn.1"),
        (18, 21, 1, "turn.1", "tray"),
        (26, 31, 3, "stocker", "turn.1"),
    ]
    assert played.rows(What.CALL) == [(7, "turn.1", 1, -1), (20, "turn.1", 2, -1)]
    assert waits(played) == [12]
    assert played.states("turn.1")[2:5] == [(5, "working"), (15, "loading"), (18, "working")]


def test_a_call_just_as_early_as_the_loader_is_far_makes_nobody_wait() -> None:
    """5 s ahead: called at 10 s, go -12, pick -13, go -15: there in the instant in which the cycle ends."""
    played = play(cell({"call_ahead": "5 s"}), horizon_s=20)
    assert played.carried() == [*ONE_BY_ONE, (13, 18, 2, "stocker", "turn.1")]
    assert waits(played) == []
    assert (15, "loading") in played.states("turn.1")


def test_one_gripper_waits_at_the_machine_with_an_empty_gripper() -> None:
    """It is still there, so the wait begins with the call at 7 s: unload 15-17, go -19, place -20."""
    played = play(cell({}, grippers=1), horizon_s=21)
    assert played.carried() == [*ONE_BY_ONE, (17, 20, 1, "turn.1", "tray")]
    assert waits(played) == [7]


def test_a_call_ahead_of_more_than_the_cycle_comes_with_its_start() -> None:
    assert play(cell({"call_ahead": "1 min"}), horizon_s=6).rows(What.CALL) == [(5, "turn.1", 1, -1)]


def test_the_planned_end_counts_and_not_the_real_one() -> None:
    """planned_cycle 12 s, cycle 10 s: the call comes after 4 s of work, at 9 s."""
    assert play(cell({"planned_cycle": "12 s"}), horizon_s=10).rows(What.CALL) == [(9, "turn.1", 1, -1)]


def test_a_cycle_that_ends_before_its_call_would_come_calls_at_its_end() -> None:
    """planned_cycle 18 s: the call would come after 10 s of work, just when the cycle ends."""
    played = play(cell({"planned_cycle": "18 s"}), horizon_s=24)
    assert played.rows(What.CALL) == []
    assert played.carried() == [*ONE_BY_ONE, (18, 23, 2, "stocker", "turn.1")]


def test_an_exchange_becomes_a_placing_when_the_part_waited_for_is_rejected() -> None:
    """Part 1 is rejected at 15 s; the loader waits in front with part 2 and puts it in, 2 s instead of 3.

    The next call comes at 17 + 2 = 19 s: the loader needs not go to the tray; go -21, pick -22, go -24.
    """
    played = play(cell({"inspection": {"false_alarms": "100 %"}}), horizon_s=30)
    assert played.departures() == [(15, 1, "scrapped"), (27, 2, "scrapped")]
    assert played.carried() == [*ONE_BY_ONE, (10, 17, 2, "stocker", "turn.1"), (22, 29, 3, "stocker", "turn.1")]
    assert waits(played) == [12, 24]


def test_what_was_reserved_behind_a_rejected_part_is_free_again() -> None:
    """grind 1 s at 4 m. Its place is reserved for part 1 from 7 s on, and given up at 15 s; part 2 is exchanged later.

    Part 2 is in at 17 s and calls at 19 s; 100 % of the parts are rejected, so grind never gets one, but is reserved
    again by the next tour: starved only where no tour has it.
    """
    at = {"stocker": 0, "turn": 2, "grind": 4, "tray": 6}
    station = {"cycle": "10 s", "call_ahead": "8 s", "inspection": {"false_alarms": "100 %"}}
    line = serial({"turn": station, "grind": 1}, loaders={"gantry": loader(at, grippers=2, **TIMES)})
    states = play(line, horizon_s=28).states("grind.1")
    assert states == [(0, "starved"), (7, "waiting_loader"), (15, "starved"), (19, "waiting_loader"), (27, "starved")]


def test_a_loader_that_waits_to_unload_a_part_that_is_scrapped_gives_its_tour_up() -> None:
    """A jam from 12 to 20 s scraps part 1: the loader is idle until turn is up, go -22, pick -23, load -27."""
    jam = {"jam": breakdown(7, 8, part="scrap")}
    played = play(cell({"breakdowns": jam}, grippers=1), horizon_s=28)
    assert played.departures() == [(12, 1, "scrapped")]
    assert played.carried() == [*ONE_BY_ONE, (23, 27, 2, "stocker", "turn.1")]
    assert played.states("gantry.1")[3:7] == [
        (5, "idle"),
        (7, "waiting_at_machine"),
        (12, "idle"),
        (20, "moving_empty"),
    ]


def test_a_machine_whose_stop_falls_due_with_this_part_does_not_call_ahead() -> None:
    """Every second part: part 1 calls, part 2 does not."""
    stop = {"tip": {"every": "2 parts", "takes": "4 s", "age": "0 parts"}}
    played = play(cell({"tool_change": stop}), horizon_s=35)
    assert played.rows(What.CALL) == [(7, "turn.1", 1, -1)]
    assert play(cell({"tool_change": {"tip": {**stop["tip"], "overlaps": "loading"}}}), horizon_s=33).rows(
        What.CALL
    ) == [
        (7, "turn.1", 1, -1),
        (20, "turn.1", 2, -1),
    ]


def test_a_stop_by_time_that_falls_due_after_the_call_leaves_the_loader_waiting() -> None:
    """Due at 9 s, it begins at 15 s and lasts to 19 s; the loader waits with part 2 from 12 s on."""
    stop = {"chips": {"every": "9 s", "takes": "4 s", "age": "0 s"}}
    played = play(cell({"cleaning": stop}), horizon_s=23)
    assert played.carried()[1] == (10, 22, 2, "stocker", "turn.1")
    assert waits(played) == [12]


def test_a_breakdown_leaves_the_call_with_its_tour_and_the_work_is_done_after_it() -> None:
    """A jam from 10 to 16 s: the cycle ends at 21 s. The loader waits from 12 s on and exchanges -24 s."""
    played = play(cell({"breakdowns": {"jam": breakdown(10, 6, clock="calendar")}}), horizon_s=25)
    assert played.carried()[1] == (10, 24, 2, "stocker", "turn.1")
    assert waits(played) == [12]


def test_a_call_ahead_that_nobody_has_taken_closes_with_a_breakdown_and_opens_again() -> None:
    """The loader is down from 6 to 14 s, turn from 8 to 11 s. The call of 7 s closes at 8 s, opens again at 11 s.

    grind is empty and could be brought part 1 while the call is open: that is what its state tells.
    """
    at = {"stocker": 0, "turn": 2, "grind": 4, "tray": 6}
    station = {"cycle": "10 s", "call_ahead": "8 s", "breakdowns": {"jam": breakdown(3, 3)}}
    trip = {"trip": breakdown(6, 8, clock="calendar")}
    line = serial({"turn": station, "grind": 1}, loaders={"gantry": loader(at, grippers=2, breakdowns=trip, **TIMES)})
    states = play(line, horizon_s=20).states("grind.1")
    assert states[:4] == [(0, "starved"), (7, "waiting_loader"), (8, "starved"), (11, "waiting_loader")]
