"""Parts in buffers at the start of a run, worked out by hand in whole seconds."""

from __future__ import annotations

from typing import Any

from linesim.engine.contract.ledger import US
from linesim.engine.contract.trace import What
from tests.helpers.lines import loader, serial
from tests.helpers.running import play


def two_stations(**buffer: Any) -> dict[str, Any]:
    """Turn 4 s, mill 3 s, a buffer of two places between them."""
    line = serial({"turn": 4, "mill": 3}, [2])
    return {**line, "buffers": {"park_1": {"capacity": 2, **buffer}}}


def test_parts_in_a_buffer_at_the_start_feed_the_machine_behind_it_at_once() -> None:
    """Two parts wait, so the mill ends one at 3 and 6 s; the first turned one, done at 4 s, follows at 9 s, the next
    at 12 s. From then on the mill keeps pace with the lathe: the parts turned by 12 and 16 s leave at 15 and 19 s."""
    played = play(two_stations(at_start="2 parts"), horizon_s=20)
    assert played.left_at() == [3, 6, 9, 12, 15, 19]
    assert played.states("mill.1")[0] == (0, "working")
    assert played.rows(What.ARRIVE)[:4] == [
        (0, "park_1", 1, -1),
        (0, "park_1", 2, -1),
        (0, "mill.1", 1, -1),
        (0, "turn.1", 3, -1),
    ]
    assert (played.ledger.inside_start, played.ledger.entered) == (2, 5), "one enters each 4 s, at 20 s no more"
    assert played.ledger.levels["park_1"].tolist()[2] == 0, "one of the two leaves at once"


def test_parts_of_the_start_stay_their_least_time_like_any_other() -> None:
    """5 s of dwell for both: the mill begins at 5 s. The first turned part is ripe at 9 s, before 11 s."""
    played = play(two_stations(at_start="2 parts", dwell="5 s"), horizon_s=16)
    assert played.left_at() == [8, 11, 14]


def test_the_share_of_the_line_fills_each_buffer_that_says_nothing_itself() -> None:
    """Half of 5 places is 2 parts, rounded down; the other buffer begins empty; no stock of the infeed is used up."""
    line = serial({"turn": 4, "drill": 4, "mill": 4}, [5, 5])
    line["buffers"]["park_2"]["at_start"] = "0 parts"
    line["infeed"] = {"stocker": {"capacity": 3, "refill": {"every": "100 h", "takes": "1 s"}}}
    played = play({**line, "filled": "50 %"}, horizon_s=60)
    arrived = [row[1] for row in played.rows(What.ARRIVE)[:2]]
    assert arrived == ["park_1", "park_1"]
    assert (played.ledger.inside_start, played.ledger.entered) == (2, 3)
    assert played.left_at() == [8, 12, 16, 20, 24], "five parts at the pace of 4 s, the first after drill and mill"


def test_a_loader_serves_parts_of_the_start_as_calls() -> None:
    """The carriage stands at the stocker, 0 m; a part in the park is more downstream than the blank and goes first:
    2 s of way at 1 m/s, 1 s to pick, 1 s of way, 1 s to load: the mill works from 5 to 8 s."""
    line = two_stations(at_start="1 part")
    stops = {"stocker": 0, "turn": 1, "park_1": 2, "mill": 3, "tray": 4}
    line["loaders"] = {"gantry": {**loader(stops), "pick": "1 s", "load": "1 s"}}
    played = play(line, horizon_s=9)
    assert played.states("mill.1")[:4] == [(0, "waiting_loader"), (4, "loading"), (5, "working"), (8, "waiting_loader")]


def test_a_long_run_makes_the_same_per_hour_from_full_as_from_empty() -> None:
    """Only the first parts differ: after them the slowest station, 4 s a part, sets the pace of both."""
    empty, full = (play(two_stations(at_start=f"{parts} parts"), horizon_s=400) for parts in (0, 2))
    assert empty.left_at()[-20:] == full.left_at()[-20:]
    assert len(full.left_at()) == len(empty.left_at()) + 2
    assert full.ledger.horizon_us == 400 * US
