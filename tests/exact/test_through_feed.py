"""Stations that parts pass through one behind the other, by hand in whole seconds: a part each 4 s, 10 s inside."""

from __future__ import annotations

from typing import Any

import pytest

import linesim
from linesim.line.capacity import ideal_interval_s, least_lead_time_s, stages
from linesim.line.levers import levers
from linesim.line.model import ThroughFeed
from tests.helpers.lines import Plain, alone, breakdown, loader, seconds, serial, shift
from tests.helpers.running import Play, play


def feed(pitch_s: float = 4, transit_s: float = 10, **keys: Any) -> Plain:
    return {"through_feed": {"pitch": seconds(pitch_s), "transit": seconds(transit_s)}} | keys


def entered(played: Play, machine: str = "mill.1") -> list[float]:
    return [time_s for time_s, _, _, place in played.moves() if place == machine]


def test_alone_it_lets_a_part_through_each_pitch() -> None:
    played = play(alone(feed()), horizon_s=410)
    assert played.left_at() == [10.0 + 4 * n for n in range(100)]
    assert played.operations("mill.1")[:3] == [(0, 10, 1), (4, 14, 2), (8, 18, 3)]
    assert played.states("mill.1") == [(0, "working")]


def test_it_stands_as_a_whole_while_its_exit_is_blocked() -> None:
    """The saw takes 7 s: 10 to 17, 17 to 24. The second part is at the exit at 14 and stands to 17; the third has 4 s
    more to go, is there at 21 and stands to 24. The part of 12 is a pitch inside 2 s after 17, that of 19 after 24."""
    played = play(serial({"mill": feed(), "saw": 7}), horizon_s=34)
    assert played.left_at() == [17, 24, 31]
    assert entered(played) == [0, 4, 8, 12, 19, 26, 33]
    assert played.states("mill.1") == [
        (0, "working"), (14, "blocked"), (17, "working"), (21, "blocked"), (24, "working"), (28, "blocked"),
        (31, "working"),
    ]  # fmt: skip


def test_a_breakdown_stops_all_that_is_inside() -> None:
    """Down after 6 s of moving for 5: 6 to 11, 17 to 22. The entry is free as it goes down at 17: in at 22."""
    played = play(alone(feed(breakdowns={"jam": breakdown(6, 5)})), horizon_s=25)
    assert played.left_at() == [15, 24]
    assert entered(played) == [0, 4, 13, 22]


def test_a_breakdown_may_scrap_all_that_is_inside() -> None:
    """At 6 those of 0 and 4. It moves on empty from 11, until the last one would be a pitch inside: 13, 17; 6 s: 19."""
    played = play(alone(feed(breakdowns={"jam": breakdown(6, 5, part="scrap")})), horizon_s=25)
    assert played.departures() == [(time_s, part + 1, "scrapped") for part, time_s in enumerate([6, 6, 19, 19])]
    assert entered(played) == [0, 4, 13, 17]


def test_a_loader_at_the_exit_makes_it_stand_until_its_part_is_out() -> None:
    """Out at 11; then the loader is at the tray and back at 17, as the second stands since 15; the third since 22."""
    gantry = loader({"mill": 0, "tray": 2})
    played = play(alone(feed(), loaders={"gantry": gantry}), horizon_s=30)
    assert played.departures() == [(14, 1, "good"), (21, 2, "good"), (28, 3, "good")]
    assert entered(played)[:5] == [0, 4, 8, 13, 20]
    assert played.states("mill.1")[:9] == [
        (0, "working"), (10, "loading"), (11, "working"), (15, "waiting_loader"), (17, "loading"), (18, "working"),
        (22, "waiting_loader"), (24, "loading"), (25, "working"),
    ]  # fmt: skip


def test_a_loader_at_the_entry_brings_a_part_once_it_is_free_and_does_not_stop_it() -> None:
    """In at 3, free at 7; there and back with handling 4 s: 11, 15 s free and in at 19."""
    gantry = loader({"stocker": 0, "mill": 1})
    played = play(alone(feed(), loaders={"gantry": gantry}), horizon_s=30)
    assert entered(played) == [3, 11, 19, 27]
    assert played.left_at() == [13, 21, 29]
    assert played.states("mill.1") == [(0, "waiting_loader"), (2, "loading"), (3, "working")]


def test_two_grippers_do_not_exchange_at_it() -> None:
    """One loader on both sides: what is at the exit goes first, and the next part comes on a tour of its own."""
    gantry = loader({"stocker": 0, "mill": 1, "tray": 2}, grippers=2)
    played = play(alone(feed(), loaders={"gantry": gantry}), horizon_s=30)
    assert [what for *_, what, _ in played.carried()[:4]] == ["stocker", "stocker", "mill.1", "stocker"]


def test_a_stop_by_count_begins_with_the_part_at_the_exit_and_holds_all() -> None:
    """Every second part: 14 to 19 with it on board. The third is out 4 s later at 23, the fourth after 27 to 32."""
    tool = {"brush": {"every": "2 parts", "takes": seconds(5), "age": "0 parts"}}
    assert play(alone(feed(tool_change=tool)), horizon_s=33).left_at() == [10, 19, 23, 32]


def test_at_the_end_of_a_shift_it_moves_until_a_part_is_at_the_exit() -> None:
    """On duty to 60 and from 120. The part of 52 is out at 62; the next has 4 s to go, from 120 on."""
    week = {"early": shift("0:00", "0:01"), "late": shift("0:02", "0:04")}
    played = play(alone(feed(), shifts=week), horizon_s=129)
    assert [time_s for time_s in played.left_at() if time_s > 55] == [58, 62, 124, 128]
    assert played.states("mill.1") == [(0, "working"), (62, "off_shift"), (120, "working")]


def test_a_part_that_enters_an_empty_one_off_duty_waits_for_the_shift() -> None:
    """The saw runs through a break from 0:01 on for 20 s that the feed keeps; its part of 70 moves from 80 on."""
    week = {"early": shift("0:00", "0:04", rest=("0:01", "20 s"))}
    saw = {"cycle": seconds(70), "through_breaks": True}
    played = play(serial({"saw": saw, "mill": feed()}, shifts=week), horizon_s=91)
    assert (entered(played), played.left_at()) == ([70], [90])


def test_the_rough_cut_sheet_has_a_part_each_pitch_and_the_transit_as_lead_time() -> None:
    line = linesim.load_line(alone(feed(28, 150)))
    (mill,) = stages(line)
    assert (mill.cycle_s, ideal_interval_s(line), least_lead_time_s(line)) == (28, {"mill": 28}, 150)
    assert line.stations["mill"].through_feed == ThroughFeed(28, 150)
    assert [ThroughFeed(28, 150).positions, ThroughFeed(4, 12).positions, ThroughFeed(4, 4).positions] == [6, 4, 2]


def test_a_shorter_cycle_of_it_is_a_faster_one() -> None:
    lever = next(levers(linesim.load_line(alone(feed(4, 10)))))
    assert lever.improved(0.5).stations["mill"].through_feed == ThroughFeed(2, 5)


def test_oee_takes_the_pitch_as_planned_cycle() -> None:
    """31 s at work, and 6 parts: 6 x 4 / 31."""
    line = linesim.load_line(alone(feed()))
    results = linesim.simulate(line, hours=31 / 3600, warmup_hours=0, replications=1, seed=1, engine="simpy")
    row = results.stations.iloc[0]
    assert (row["processed_parts"], row["effectiveness"]) == (6, pytest.approx(24 / 31))
