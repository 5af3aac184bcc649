"""Breakdowns that strike after exactly so much time on their clock, worked out by hand in whole seconds."""

from __future__ import annotations

import pytest

from tests.helpers.lines import Plain, alone, breakdown, seconds, serial
from tests.helpers.running import play


def mill(cycle_s: float, **causes: object) -> Plain:
    return alone({"cycle": seconds(cycle_s), "breakdowns": causes})


def test_a_part_resumes_where_it_was_interrupted() -> None:
    """Cycle 4 s, breakdown after 10 s of work, repair 3 s: part 3 is stopped at 10 s with 2 s done.

    The next 10 s of work are full at 23 s, exactly as part 5 ends: it is finished, and stays on board until 26 s.
    """
    played = play(mill(4, jam=breakdown(10, 3)), horizon_s=42)
    assert played.departures() == [
        (4, 1, "good"),
        (8, 2, "good"),
        (15, 3, "good"),
        (19, 4, "good"),
        (26, 5, "good"),
        (30, 6, "good"),
        (34, 7, "good"),
        (41, 8, "good"),
    ]
    assert played.states("mill.1") == [
        (0, "working"),
        (10, "under_repair"),
        (13, "working"),
        (23, "under_repair"),
        (26, "working"),
        (36, "under_repair"),
        (39, "working"),
    ]


def test_a_part_restarts_from_the_beginning() -> None:
    """Part 3, stopped at 10 s, is worked again from 13 to 17 s; part 5, stopped at 23 s, from 26 to 30 s."""
    played = play(mill(4, jam=breakdown(10, 3, part="restart")), horizon_s=35)
    assert played.left_at() == [4, 8, 17, 21, 30, 34]


def test_a_part_in_work_is_lost_at_the_instant_of_the_breakdown() -> None:
    """Parts 3 and 6 are scrapped at 10 s and 23 s; nothing is loaded before the repair ends at 13 s and 26 s."""
    played = play(mill(4, jam=breakdown(10, 3, part="scrap")), horizon_s=31)
    assert played.departures() == [
        (4, 1, "good"),
        (8, 2, "good"),
        (10, 3, "scrapped"),
        (17, 4, "good"),
        (21, 5, "good"),
        (23, 6, "scrapped"),
        (30, 7, "good"),
    ]
    entered = [time_s for time_s, _, place, _ in played.moves() if place == "stocker"]
    assert entered == [0, 4, 8, 13, 17, 21, 26, 30]
    assert played.ledger.stations["scrapped"].tolist() == [2]


@pytest.mark.parametrize("part", ["resume", "restart", "scrap"])
def test_a_breakdown_due_at_the_end_of_a_cycle_comes_after_it_with_the_finished_part_on_board(part: str) -> None:
    """Cycle 5 s, breakdown after 10 s, repair 3 s: part 2 is finished at 10 s, whatever befalls parts in work."""
    played = play(mill(5, jam=breakdown(10, 3, part=part)), horizon_s=19)
    assert played.departures() == [(5, 1, "good"), (13, 2, "good"), (18, 3, "good")]
    assert played.operations("mill.1")[1] == (5, 10, 2)


def test_of_two_causes_the_first_due_wins_and_the_other_keeps_its_age() -> None:
    """Causes after 7 s and 9 s of work, repair 2 s: at 7 s, at 11 s (9 s of work) and at 18 s (14 s of work)."""
    played = play(mill(100, first=breakdown(7, 2), second=breakdown(9, 2)), horizon_s=24)
    assert played.states("mill.1") == [
        (0, "working"),
        (7, "under_repair"),
        (9, "working"),
        (11, "under_repair"),
        (13, "working"),
        (18, "under_repair"),
        (20, "working"),
    ]
    assert played.ledger.stoppages["begun"].tolist() == [2, 1]


def test_two_causes_due_together_strike_one_after_the_other() -> None:
    """Both after 6 s of work, repair 2 s and 3 s: down from 6 to 11 s without work in between."""
    played = play(mill(100, first=breakdown(6, 2), second=breakdown(6, 3)), horizon_s=14)
    assert played.states("mill.1") == [(0, "working"), (6, "under_repair"), (11, "working")]
    assert played.ledger.stoppages["lasting_us"].tolist() == [2_000_000, 3_000_000]


def test_a_working_clock_stands_still_while_its_machine_is_blocked_or_starved() -> None:
    """turn 4 s before grind 12 s: 10 s of work on turn are full at 18 s, as it is blocked from 8 to 16 s.

    grind works from 4 s on without a pause, so turn gets its parts at 0, 4, 16 and 28 s.
    """
    turn = {"cycle": seconds(4), "breakdowns": {"jam": breakdown(10, 3)}}
    played = play(serial({"turn": turn, "grind": 12}), horizon_s=30)
    assert played.states("turn.1") == [
        (0, "working"),
        (8, "blocked"),
        (16, "working"),
        (18, "under_repair"),
        (21, "working"),
        (23, "blocked"),
        (28, "working"),
    ]
    assert played.left_at() == [16, 28]


def test_a_calendar_clock_strikes_a_blocked_machine_whose_part_may_not_be_taken_until_the_repair() -> None:
    """turn 4 s, calendar breakdown after 15 s, repair 3 s, before grind 12 s.

    turn fails at 15 s while blocked with part 2; grind is empty at 16 s and gets it at 18 s. The clock stands still
    during the repair: the next breakdown is due at 18 + 15 = 33 s and finds part 4, 3 s of 4 s done.
    """
    turn = {"cycle": seconds(4), "breakdowns": {"jam": breakdown(15, 3, clock="calendar")}}
    played = play(serial({"turn": turn, "grind": 12}), horizon_s=43)
    assert played.states("turn.1") == [
        (0, "working"),
        (8, "blocked"),
        (15, "under_repair"),
        (18, "working"),
        (22, "blocked"),
        (30, "working"),
        (33, "under_repair"),
        (36, "working"),
        (37, "blocked"),
        (42, "working"),
    ]
    assert played.states("grind.1") == [(0, "starved"), (4, "working"), (16, "starved"), (18, "working")]
    assert played.left_at() == [16, 30, 42]


def test_a_machine_whose_only_way_on_is_down_is_blocked() -> None:
    """saw 3 s before grind 2 s, which fails at 4 s on the calendar clock for 10 s with part 1, 1 s of 2 s done."""
    grind = {"cycle": seconds(2), "breakdowns": {"jam": breakdown(4, 10, clock="calendar")}}
    played = play(serial({"saw": 3, "grind": grind}), horizon_s=16)
    assert played.states("saw.1") == [(0, "working"), (6, "blocked"), (15, "working")]
    assert played.states("grind.1") == [(0, "starved"), (3, "working"), (4, "under_repair"), (14, "working")]
    assert played.left_at() == [15]


def test_an_empty_machine_that_is_down_is_not_loaded() -> None:
    """saw 3 s before grind 2 s, which fails at 2 s on the calendar clock for 10 s while it is empty."""
    grind = {"cycle": seconds(2), "breakdowns": {"jam": breakdown(2, 10, clock="calendar")}}
    played = play(serial({"saw": 3, "grind": grind}), horizon_s=14)
    assert played.states("grind.1") == [(0, "starved"), (2, "under_repair"), (12, "working")]
    assert [move for move in played.moves() if move[3] == "grind.1"] == [(12, 1, "saw.1", "grind.1")]


def test_a_tool_change_stands_still_while_its_machine_is_down() -> None:
    """Cycle 2 s, 6 s after every third part; a calendar breakdown at 8 s for 3 s: the change has 4 s left at 11 s."""
    station = {
        "cycle": seconds(2),
        "tool_change": {"insert": {"every": "3 parts", "takes": seconds(6), "age": "0 parts"}},
        "breakdowns": {"jam": breakdown(8, 3, clock="calendar")},
    }
    played = play(alone(station), horizon_s=18)
    assert played.states("mill.1") == [
        (0, "working"),
        (6, "tool_change"),
        (8, "under_repair"),
        (11, "tool_change"),
        (15, "working"),
    ]
    assert played.left_at() == [2, 4, 15, 17]
