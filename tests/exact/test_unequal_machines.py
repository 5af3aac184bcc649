"""Machines of one station that differ, worked out by hand in whole seconds."""

from __future__ import annotations

import pytest

import linesim
from linesim.line.capacity import stages
from linesim.results.measures.oee import stations
from tests.helpers.lines import Plain, breakdown, loader, seconds, serial
from tests.helpers.running import play


def saw_and_mills(**machines: Plain) -> Plain:
    """saw 2 s hands over to two mills, 6 s unless they say otherwise."""
    return serial({"saw": 2, "mill": {"cycle": seconds(6), "machines": machines}})


def test_each_machine_works_with_its_own_cycle_and_goes_by_its_own_name() -> None:
    """Parts come at 2, 4 s; quick has 3 s: 2-5, 6-9, 9-12 ...; plain has 6 s: 4-10, 10-16.

    Part 3 is ready at 6 s and goes to quick, part 4 waits on the saw from 8 s until quick is empty at 9 s; part 5, done
    at 11 s, goes to plain, which is empty since 10 s; part 6, done at 13 s, goes to quick.
    """
    played = play(saw_and_mills(quick={"cycle": seconds(3)}, plain={}), horizon_s=17)
    assert played.operations("quick") == [(2, 5, 1), (6, 9, 3), (9, 12, 4), (13, 16, 6)]
    assert played.operations("plain") == [(4, 10, 2)]
    assert played.departures()[:4] == [(5, 1, "good"), (9, 3, "good"), (10, 2, "good"), (12, 4, "good")]
    machines = played.ledger.machines
    assert machines[["machine", "station"]].values.tolist() == [["saw.1", "saw"], ["quick", "mill"], ["plain", "mill"]]


def test_a_machine_s_breakdowns_and_stops_are_laid_over_those_of_its_station_and_null_takes_one_away() -> None:
    """Station: jam after 4 s at work, 3 s; change at the first part, 1 s. own: jam for 5 s, no change; like: as is."""
    line = saw_and_mills(own={"breakdowns": {"jam": breakdown(4, 5)}, "tool_change": None}, like={})
    line["stations"]["mill"] |= {
        "breakdowns": {"jam": breakdown(4, 3)},
        "tool_change": {"insert": {"every": "2 parts", "takes": seconds(1), "age": "1 parts"}},
    }
    played = play(line, horizon_s=15)
    assert played.states("own")[:4] == [(0, "starved"), (2, "working"), (6, "under_repair"), (11, "working")]
    assert played.states("like")[:5] == [
        (0, "starved"),
        (4, "working"),
        (8, "under_repair"),
        (11, "working"),
        (13, "tool_change"),
    ]


def test_loader_positions_go_by_the_order_of_the_machines_in_the_file() -> None:
    """From the stocker at 0 m: far stands at 5 m, near at 2 m. Handling 1 s: part 1 is in far at 7 s."""
    line = serial({"mill": {"cycle": seconds(50), "machines": {"far": {}, "near": {}}}})
    line["loaders"] = {"gantry": loader({"stocker": 0, "mill": [5, 2], "tray": 6})}
    played = play(line, horizon_s=20)
    assert played.carried() == [(1, 7, 1, "stocker", "far"), (13, 16, 2, "stocker", "near")]


def test_a_part_takes_the_machine_that_has_waited_longest_however_slow_it_is() -> None:
    """Both are empty at 2 s since 0 s: file order gives slow the first part, though quick would be done sooner."""
    played = play(saw_and_mills(slow={"cycle": seconds(9)}, quick={"cycle": seconds(3)}), horizon_s=7)
    assert [move for move in played.moves() if move[3] in ("slow", "quick")] == [
        (2, 1, "saw.1", "slow"),
        (4, 2, "saw.1", "quick"),
    ]


def test_the_planned_cycle_of_oee_is_the_mean_over_the_parts_that_each_machine_made() -> None:
    """quick made 3 parts of 3 s by 13 s, plain one of 6 s: 15 s for 4 parts."""
    played = play(saw_and_mills(quick={"cycle": seconds(3)}, plain={}), horizon_s=13)
    mill = stations(played.ledger, played.line).set_index("station").loc["mill"]
    working_s = (3 + 3 + 3) + (6 + 2)
    assert mill["effectiveness"] == pytest.approx(15 / working_s)


def test_the_rough_cut_capacity_is_the_sum_of_the_machines() -> None:
    """60 s and 84 s with 6 min of repair in every 60 min of work: 3600 x (1/60 + 1/(84 x 1.1))."""
    line = serial({"mill": {"cycle": "60 s", "machines": {"a": {}, "b": {"cycle": "84 s"}}}})
    line["stations"]["mill"]["machines"]["b"]["breakdowns"] = {"jam": {"mtbf": "60 min", "mttr": "6 min"}}
    (stage,) = stages(linesim.load_line(line))
    assert stage.capacity_per_h == pytest.approx(3600 * (1 / 60 + 1 / 92.4))
    assert stage.ideal_interval_s == pytest.approx(1 / (1 / 60 + 1 / 84))
