"""Tool changes, dressings and the like, worked out by hand in whole seconds."""

from __future__ import annotations

from tests.helpers.lines import Plain, alone, seconds
from tests.helpers.running import play


def mill(cycle_s: float, **rest: object) -> Plain:
    return alone({"cycle": seconds(cycle_s), **rest})


def test_a_tool_change_follows_the_part_that_reaches_the_count_with_that_part_on_board() -> None:
    """Cycle 2 s, 5 s after every third part: part 3 is finished at 6 s and leaves at 11 s."""
    line = mill(2, tool_change={"insert": {"every": "3 parts", "takes": seconds(5), "age": "0 parts"}})
    played = play(line, horizon_s=23)
    assert played.left_at() == [2, 4, 11, 13, 15, 22]
    assert played.states("mill.1") == [
        (0, "working"),
        (6, "tool_change"),
        (11, "working"),
        (17, "tool_change"),
        (22, "working"),
    ]
    stop = played.ledger.stoppages.iloc[0]
    assert (stop["begun"], stop["waiting_us"], stop["lasting_us"]) == (2, 0, 10_000_000)


def test_an_age_brings_the_first_tool_change_forward_and_no_other() -> None:
    """Age 1 of 3: due after parts 2, 5, 8."""
    line = mill(2, tool_change={"insert": {"every": "3 parts", "takes": seconds(5), "age": "1 parts"}})
    assert play(line, horizon_s=21).left_at() == [2, 9, 11, 13, 20]


def test_a_stop_that_overlaps_loading_lets_the_part_leave_and_the_next_one_come() -> None:
    """Cycle 2 s, 5 s after every third part: part 3 leaves at once, part 4 waits on the machine from 6 to 11 s."""
    stop = {"every": "3 parts", "takes": seconds(5), "age": "0 parts", "overlaps": "loading"}
    played = play(mill(2, tool_change={"insert": stop}), horizon_s=25)
    assert played.left_at() == [2, 4, 6, 13, 15, 17, 24]
    assert [move for move in played.moves() if move[0] == 6] == [(6, 3, "mill.1", "tray"), (6, 4, "stocker", "mill.1")]
    assert played.states("mill.1")[1:3] == [(6, "tool_change"), (11, "working")]


def test_a_dressing_and_a_tool_change_due_together_follow_each_other() -> None:
    """Cycle 2 s; dressing 1 s every 2 parts, wheel change 3 s every 4 parts: part 4 leaves 4 s late, at 13 s."""
    line = mill(
        2,
        dressing={"wheel": {"every": "2 parts", "takes": seconds(1), "age": "0 parts"}},
        tool_change={"wheel": {"every": "4 parts", "takes": seconds(3), "age": "0 parts"}},
    )
    played = play(line, horizon_s=16)
    assert played.left_at() == [2, 5, 7, 13, 15]
    assert played.ledger.states["mill.1"][[5, 6]].tolist() == [3_000_000, 2_000_000]  # tool change, dressing


def test_a_stop_by_time_waits_for_the_end_of_the_operation() -> None:
    """Cycle 4 s, due at 10 s: starts at 12 s when part 3 is finished, which leaves at 15 s."""
    line = mill(4, measuring={"master": {"every": seconds(10), "takes": seconds(3), "age": seconds(0)}})
    played = play(line, horizon_s=19)
    assert played.left_at() == [4, 8, 15]
    assert played.states("mill.1") == [(0, "working"), (12, "measuring_stop"), (15, "working")]


def test_a_stop_by_time_that_is_due_at_the_end_of_an_operation_starts_there() -> None:
    """Cycle 4 s, every 8 s: due as part 2 ends; the part stays on board."""
    line = mill(4, cleaning={"chips": {"every": seconds(8), "takes": seconds(3), "age": seconds(0)}})
    assert play(line, horizon_s=12).left_at() == [4, 11]


def test_a_stop_on_the_calendar_takes_an_idle_machine_at_once() -> None:
    """saw 20 s feeds mill 2 s; the stop at 10 s finds mill starved and is over before part 1 comes."""
    line = alone(
        {"cycle": seconds(2), "cleaning": {"chips": {"every": seconds(10), "takes": seconds(3), "age": "0 s"}}}
    )
    line["stations"] = {"saw": {"cycle": seconds(20)}} | line["stations"]
    line["route"] = ["stocker", "saw", "mill", "tray"]
    played = play(line, horizon_s=19)
    assert played.states("mill.1") == [(0, "starved"), (10, "cleaning"), (13, "starved")]


def test_a_stop_on_the_working_clock_ages_only_at_work() -> None:
    """saw 5 s feeds mill 2 s: six seconds of work are done when part 3 ends at 17 s."""
    stop = {"every": seconds(6), "takes": seconds(2), "age": "0 s", "clock": "working"}
    line = alone({"cycle": seconds(2), "tool_change": {"insert": stop}})
    line["stations"] = {"saw": {"cycle": seconds(5)}} | line["stations"]
    line["route"] = ["stocker", "saw", "mill", "tray"]
    played = play(line, horizon_s=24)
    assert played.left_at() == [7, 12, 19, 22]
    assert (17, "tool_change") in played.states("mill.1")


def test_a_stop_with_a_crew_waits_for_the_setter() -> None:
    """Cycle 2 s, 5 s after every third part, the setter comes after 4 s: part 3 leaves at 6 + 4 + 5 = 15 s."""
    stop = {"every": "3 parts", "takes": seconds(5), "age": "0 parts", "crew": "setter"}
    line = mill(2, tool_change={"insert": stop})
    line["crews"] = {"setter": {"people": 1, "response": seconds(4)}}
    played = play(line, horizon_s=16)
    assert played.left_at() == [2, 4, 15]
    assert played.states("mill.1") == [(0, "working"), (6, "waiting_setter"), (10, "tool_change"), (15, "working")]
    crew = played.ledger.crews.iloc[0]
    assert (crew["calls"], crew["calls_waited"], crew["busy_us"]) == (1, 0, 9_000_000)
