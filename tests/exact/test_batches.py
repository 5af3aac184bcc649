"""Machines that work on several parts together, by hand in whole seconds."""

from __future__ import annotations

from typing import Any

import pytest

import linesim
from linesim.line.capacity import cycle_and_load_s, least_lead_time_s, pace_stage, stages, stopped_as_one_per_h
from tests.helpers.lines import Plain, alone, breakdown, loader, seconds, serial
from tests.helpers.running import Play, play


def furnace(
    size: int, cycle_s: float = 10, at_least: int | None = None, wait_s: float | None = None, **keys: Any
) -> Plain:
    batch: Plain = {"size": f"{size} parts"}
    if at_least is not None:
        batch["at_least"] = f"{at_least} parts"
    if wait_s is not None:
        batch["wait_at_most"] = seconds(wait_s)
    return {"cycle": seconds(cycle_s), "batch": batch} | keys


def fed(station: Plain, every_s: float = 4, **rest: Any) -> Plain:
    """A saw that hands a part to the furnace every so often, as far as there is room."""
    return serial({"saw": every_s, "furnace": station}, **rest)


def starts(played: Play, machine: str = "furnace.1") -> list[tuple[float, int]]:
    """When each batch started that ended, and of how many parts it was."""
    begun = [start for start, _, _ in played.operations(machine)]
    return [(start, begun.count(start)) for start in dict.fromkeys(begun)]


def test_two_spindles_start_and_end_together() -> None:
    played = play(alone(furnace(2)), horizon_s=25)
    assert played.operations("mill.1") == [(0, 10, 1), (0, 10, 2), (10, 20, 3), (10, 20, 4)]
    assert played.departures() == [(10, 1, "good"), (10, 2, "good"), (20, 3, "good"), (20, 4, "good")]
    assert played.ledger.machines["processed"].tolist() == [4]
    assert played.ledger.visits == 4


def test_a_batch_starts_with_the_part_that_fills_it_and_keeps_the_next_one_out() -> None:
    """Parts at 4, 8, 12; 12 to 22 at work. The saw has its fourth at 16 and keeps it to 22; then 26, 30; 30 to 40."""
    played = play(fed(furnace(3)), horizon_s=41)
    assert starts(played) == [(12, 3), (30, 3)]
    assert played.left_at() == [22, 22, 22, 40, 40, 40]
    assert played.states("furnace.1") == [
        (0, "starved"),
        (12, "working"),
        (22, "starved"),
        (30, "working"),
        (40, "starved"),
    ]
    assert played.states("saw.1") == [
        (0, "working"),
        (16, "blocked"),
        (22, "working"),
        (34, "blocked"),
        (40, "working"),
    ]


def test_it_starts_with_fewer_once_the_first_has_waited_long_enough() -> None:
    """Parts at 4 and 8; the wait of 6 is over at 10: 10 to 20. The saw gives a third at 20, a fourth at 24; at 26."""
    assert starts(play(fed(furnace(4, at_least=2, wait_s=6)), horizon_s=37)) == [(10, 2), (26, 2)]


def test_it_waits_for_the_least_number_however_long_that_takes() -> None:
    """The wait of 6 is over at 10, the third comes at 12: 12 to 22. Then 22, 26, 30: again with the third, at 30."""
    assert starts(play(fed(furnace(4, at_least=3, wait_s=6)), horizon_s=41)) == [(12, 3), (30, 3)]


def test_without_a_least_number_one_part_is_enough() -> None:
    """Alone at 4, 4 to 14; the saw has the next at 8 and keeps it to 14: alone again, and once more at 24."""
    assert starts(play(fed(furnace(4, wait_s=0)), horizon_s=35)) == [(4, 1), (14, 1), (24, 1)]


def test_a_part_handed_over_as_the_wait_ends_is_too_late() -> None:
    """The wait of 8 is over at 12, when the saw ends its third: it is in at 22. At 30 likewise."""
    played = play(fed(furnace(4, at_least=2, wait_s=8)), horizon_s=31)
    assert starts(played) == [(12, 2)]
    assert [move[0] for move in played.moves() if move[3] == "furnace.1"] == [4, 8, 22, 26]


def test_a_wait_that_a_full_batch_cut_short_is_not_that_of_the_next() -> None:
    """Full at 8 (else the wait would be over at 24); 8 to 18. One in at 18, the next not before 46: over at 38."""
    blade = {"every": "3 parts", "takes": seconds(30), "age": "0 parts", "overlaps": "loading"}  # 12 to 42
    saw = {"cycle": seconds(4), "tool_change": {"blade": blade}}
    played = play(serial({"saw": saw, "furnace": furnace(2, wait_s=20)}), horizon_s=49)
    assert starts(played) == [(8, 2), (38, 1)]


def test_one_gripper_fills_and_empties_place_by_place() -> None:
    """In at 3 and 7; 7 to 17. Out 18, 22; the loader serves what is downstream first, so in again at 29 and 33."""
    stops = {"stocker": 0, "mill": 1, "tray": 2}
    played = play(alone(furnace(2), loaders={"gantry": loader(stops)}), horizon_s=52)
    assert played.operations("mill.1") == [(7, 17, 1), (7, 17, 2), (33, 43, 3), (33, 43, 4)]
    assert played.departures() == [(20, 1, "good"), (24, 2, "good"), (46, 3, "good"), (50, 4, "good")]
    assert played.states("mill.1")[:9] == [
        (0, "waiting_loader"), (2, "loading"), (3, "waiting_loader"), (6, "loading"), (7, "working"), (17, "loading"),
        (18, "waiting_loader"), (21, "loading"), (22, "waiting_loader"),
    ]  # fmt: skip


def test_two_grippers_exchange_place_by_place() -> None:
    """7 to 17. Exchange ends at 21 and, after the tray at 23 and the stocker at 26, at 28: 28 to 38."""
    gantry = loader({"stocker": 0, "mill": 1, "tray": 2}, grippers=2)
    played = play(alone(furnace(2), loaders={"gantry": gantry}), horizon_s=53)
    assert played.operations("mill.1") == [(7, 17, 1), (7, 17, 2), (28, 38, 3), (28, 38, 4)]
    assert played.departures() == [(23, 1, "good"), (30, 2, "good"), (45, 3, "good"), (52, 4, "good")]


def test_it_does_not_start_without_a_part_that_is_on_its_way() -> None:
    """In at 3; its wait of 2 is over at 5, as the loader picks the next one, which is in at 7: two start at 7."""
    gantry = loader({"stocker": 0, "mill": 1, "tray": 2})
    played = play(alone(furnace(4, wait_s=2), loaders={"gantry": gantry}), horizon_s=18)
    assert starts(played, "mill.1") == [(7, 2)]


def test_parts_gather_in_the_machine_that_has_most() -> None:
    """Two machines of two: 4, 8 into the first, 8 to 18; 12, 16 into the second; 20 (18 is free) into the first."""
    played = play(fed(furnace(2, machines=2)), horizon_s=30)
    arrived = [(time_s, place) for time_s, _, _, place in played.moves() if place.startswith("furnace")]
    assert arrived[:6] == [(4, "furnace.1"), (8, "furnace.1"), (12, "furnace.2"), (16, "furnace.2"),
                           (20, "furnace.1"), (24, "furnace.1")]  # fmt: skip


@pytest.mark.parametrize(
    ("effect", "expected"),
    [
        ("scrap", [(4, "scrapped")] * 3 + [(10, "scrapped")] * 3),
        ("resume", [(14, "good")] * 3),
        ("restart", []),
    ],
)
def test_a_breakdown_treats_all_parts_of_the_batch_alike(effect: str, expected: list[tuple[float, str]]) -> None:
    """Down after 4 s of work for 2: from 4 and from 10. Resumed: 0 to 4, 6 to 10, 12 to 14 are 10 s of work."""
    played = play(alone(furnace(3, breakdowns={"jam": breakdown(4, 2, part=effect)})), horizon_s=15)
    assert [(time_s, fate) for time_s, _, fate in played.departures()] == expected


def test_a_stop_by_count_waits_for_the_end_of_its_batch_with_all_parts_on_board() -> None:
    """Every 4 parts: 3 at 10; the fourth is one of those that end at 20. 20 to 25, and the count begins again."""
    tool = {"tool": {"every": "4 parts", "takes": seconds(5), "age": "0 parts"}}
    played = play(alone(furnace(3, tool_change=tool)), horizon_s=51)
    assert played.left_at() == [10] * 3 + [25] * 3 + [35] * 3 + [50] * 3


def test_parts_are_scrapped_one_by_one_after_a_stop() -> None:
    """Two parts after the change, which ends at 25: of the batch that ends at 35 the first two; the third is good."""
    tool = {"tool": {"every": "4 parts", "takes": seconds(5), "age": "0 parts", "start_up_scrap": "2 parts"}}
    played = play(alone(furnace(3, tool_change=tool)), horizon_s=36)
    assert [fate for _, _, fate in played.departures()] == ["good"] * 6 + ["scrapped"] * 2 + ["good"]


def test_a_route_may_end_with_a_batch() -> None:
    line = {**alone(furnace(2)), "route": ["stocker", "mill"], "outfeed": {}}
    assert play(line, horizon_s=21).left_at() == [10, 10, 20, 20]


def test_parts_of_a_batch_go_where_their_type_goes() -> None:
    """Small parts skip the saw: out at 10 and 20, large ones after 7 s more of sawing."""
    parts = {"small": {"skips": ["saw"]}, "large": {}}
    orders = [{"part": "small", "size": 1}, {"part": "large", "size": 1}]
    played = play(serial({"furnace": furnace(2), "saw": 7}, parts=parts, orders=orders), horizon_s=28)
    assert played.departures() == [(10, 1, "good"), (17, 2, "good"), (20, 3, "good"), (27, 4, "good")]


def test_the_rough_cut_sheet_divides_the_cycle_by_the_parts_of_a_full_batch() -> None:
    """600 s for 6 parts are 100 s a part, and 2 s of loading each; a tool of every 10 parts lasts 12: 120 / 12 s."""
    tool = {"tool": {"every": "10 parts", "takes": seconds(120)}}
    gantry = loader({"stocker": 0, "mill": 1, "tray": 2})
    line = linesim.load_line(alone(furnace(6, 600, tool_change=tool), loaders={"gantry": gantry}))
    (mill,) = stages(line)
    assert (mill.cycle_s, mill.load_s, mill.stop_s) == (100, 2, 10)
    assert mill.capacity_per_h == pytest.approx(3600 / 112)
    assert cycle_and_load_s(line) == {"mill": 102}
    assert least_lead_time_s(line) == pytest.approx(600 + 1 + 1 + 1 + 1 + 1)  # to the mill, in, out, to the tray, down


def test_a_batch_of_several_may_set_the_pace_or_not() -> None:
    line = linesim.load_line(serial({"saw": 20, "furnace": furnace(6, 90)}))
    assert pace_stage(line) == "saw"
    assert stopped_as_one_per_h(line) is None
    assert play(serial({"saw": 20, "furnace": furnace(6, 90)}), horizon_s=211).left_at() == [210] * 6


def test_oee_divides_the_planned_cycle_by_the_size() -> None:
    """Two of four spindles loaded by a wait of 0 s: 10 s of work for 2 parts instead of 4, effectiveness a half."""
    gantry = loader({"stocker": 0, "mill": 1, "tray": 2})
    line = linesim.load_line(alone(furnace(4, wait_s=2), loaders={"gantry": gantry}))
    results = linesim.simulate(line, hours=0.005, warmup_hours=0, replications=1, seed=1, engine="simpy")  # 18 s
    row = results.stations.iloc[0]
    assert (row["processed_parts"], row["effectiveness"]) == (2, pytest.approx(0.5))
