"""Samples that a loader brings to a drawer, worked out by hand in whole seconds.

stocker 0 m, turn 2 m, drawer 3 m, tray 4 m, one gripper. The loader makes 1 m/s at once and needs 1 s to pick or place,
2 s to load or unload. Part 1: pick 0-1, go -3, load -5, turn 5-15.
"""

from __future__ import annotations

from typing import Any

import pytest

from linesim.engine.contract.ledger import US
from linesim.engine.contract.trace import What
from linesim.results.measures.aside import drawers
from linesim.results.measures.losses import loss_bridge
from tests.helpers.lines import Plain, loader, serial
from tests.helpers.running import Play, play

AT = {"stocker": 0, "turn": 2, "drawer": 3, "tray": 4}
TIMES: Plain = {"load": "2 s", "unload": "2 s", "exchange": "3 s"}


def cell(every: Any, capacity: int, emptied: Plain, turn: Plain | None = None, **keys: Any) -> Plain:
    samples = {"to": "drawer", **({"every": every} if isinstance(every, str) else every)}
    station = {"cycle": "10 s", "samples": samples, **(turn or {})}
    line = serial({"turn": station}, loaders={"gantry": loader(keys.pop("at", AT), **TIMES | keys)})
    line["crews"] = {"operator": {"response": "20 s"}} if "crew" in emptied else {}
    return {**line, "drawers": {"drawer": {"capacity": capacity, "emptied": emptied}}}


def left(played: Play, count: int) -> list[tuple[float, int, str]]:
    return played.departures()[:count]


@pytest.mark.parametrize("every", ["2 parts", "46 s"])
def test_the_first_part_and_one_of_so_many_go_to_the_drawer_which_is_emptied_at_its_level(every: str) -> None:
    """Part 1: unload 15-17, go -18, place -19. Part 2: go -22, pick -23, go -25, load -27, turn -37, unload -39, go
    -41, place -42. Part 3: go -46, pick -47, go -49, load -51, turn -61: 46 s after the first sample; unload -63, go
    -64, place -65. Two are in: the loader stands until 70. Part 4: go -73, pick -74, go -76, load -78, turn -88, unload
    -90, go -92, place -93."""
    played = play(cell(every, 2, {"at": "2 parts", "takes": "5 s"}), horizon_s=94)
    assert left(played, 4) == [(19, 1, "sampled"), (42, 2, "good"), (65, 3, "sampled"), (93, 4, "good")]
    assert [since for since, state in played.states("gantry.1") if state == "zone_open"] == [65]
    assert (70, "moving_empty") in played.states("gantry.1")
    (stock,) = played.ledger.ends.to_dict("records")
    assert (stock["end"], stock["kind"], stock["capacity"]) == ("drawer", "drawer", 2)
    assert (stock["stock_us"], stock["empty_us"], stock["full_us"]) == (56 * US, 43 * US, 5 * US)
    (opened,) = played.ledger.stoppages.to_dict("records")
    assert (opened["owner"], opened["kind"], opened["begun"], opened["lasting_us"]) == ("gantry.1", "drawer", 1, 5 * US)
    assert drawers(played.ledger, played.line).values.tolist() == [["drawer", "turn", 2, 2 / (94 / 3600), 0]]
    bridge = loss_bridge(played.ledger, played.line, "turn", 10.0).set_index("step")["parts"]
    assert (bridge["samples"], bridge["scrap"], bridge["good"]) == (2, 0, 2)


def test_by_time_it_is_the_first_part_that_comes_so_long_after_the_last_sample() -> None:
    """As above, but part 3 comes a second too soon: unload 61-63, go -65, place -66."""
    played = play(cell("47 s", 2, {"at": "2 parts", "takes": "5 s"}), horizon_s=67)
    assert left(played, 3) == [(19, 1, "sampled"), (42, 2, "good"), (66, 3, "good")]


def test_while_the_drawer_is_full_samples_are_left_out_and_counted() -> None:
    """Each part should be one, and one fills the drawer. Called at 19 s, the operator comes at 39 s, just as part 2,
    left out at 37 s, is unloaded: the loader stands with it until 44 s, goes -46, places -47. Part 3: go -51, pick -52,
    go -54, load -56, turn -66, unload -68, go -69, place -70."""
    played = play(cell("1 part", 1, {"at": "1 part", "takes": "5 s", "crew": "operator"}), horizon_s=71)
    assert left(played, 3) == [(19, 1, "sampled"), (47, 2, "good"), (70, 3, "sampled")]
    assert [(time_s, owner) for time_s, owner, *_ in played.rows(What.SKIPPED)] == [(37, "turn.1")]
    assert played.ledger.stations["skipped"].tolist() == [1]
    assert (39, "zone_open") in played.states("gantry.1")


def test_a_place_in_the_drawer_is_kept_for_a_sample_that_is_still_on_its_way() -> None:
    """Part 1 is done in turn_a at 15 s and is in the drawer at 22 s. Part 2: go -7, pick -8, go -11, load -13, in
    turn_b until 18 s: no place is left for it."""
    machines = {"turn_a": {}, "turn_b": {"cycle": "5 s"}}
    at = {"stocker": 0, "turn": [2, 3], "drawer": 5, "tray": 6}
    played = play(cell("1 part", 1, {"every": "9 h", "takes": "5 s"}, {"machines": machines}, at=at), horizon_s=23)
    assert left(played, 1) == [(22, 1, "sampled")]
    assert [(time_s, owner) for time_s, owner, *_ in played.rows(What.SKIPPED)] == [(18, "turn_b")]


def test_a_drawer_may_be_emptied_by_time() -> None:
    """Due at 40 s, on the way to the tray: open from 41 to 46 s, and due again at 86 s."""
    played = play(cell("2 parts", 2, {"every": "40 s", "takes": "5 s"}), horizon_s=92)
    assert left(played, 2) == [(19, 1, "sampled"), (47, 2, "good")]
    stock = played.rows(What.STOCK)
    assert [(time_s, owner, value) for time_s, owner, _, value in stock] == [(46, "drawer", 0), (91, "drawer", 0)]


def test_a_rejected_part_is_no_sample() -> None:
    """Half of the parts would be due; all are scrapped at once."""
    turn = {"inspection": {"false_alarms": "100 %"}}
    played = play(cell("2 parts", 2, {"at": "2 parts", "takes": "5 s"}, turn), horizon_s=60)
    assert {fate for _, _, fate in played.departures()} == {"scrapped"}


def test_a_tour_called_ahead_goes_to_the_drawer_once_its_part_is_a_sample() -> None:
    """turn calls 8 s ahead, two grippers. Called at 7: go -9, pick -10, go -12, wait -15, exchange -18, go -19, place
    -20; called at 20: go -23, pick -24, go -26, wait -28, exchange -31, go -32, place -33."""
    played = play(cell("1 part", 9, {"every": "9 h", "takes": "5 s"}, {"call_ahead": "8 s"}, grippers=2), horizon_s=34)
    assert left(played, 2) == [(20, 1, "sampled"), (33, 2, "sampled")]


EMPTIED: Plain = {"every": "9 h", "takes": "5 s"}


def test_the_first_good_part_after_a_stop_is_a_sample() -> None:
    """The insert is changed with part 2 on board, 39-43: unload -45, go -47, place -48. Part 3: go -52, pick -53, go
    -55, load -57, turn -67, unload -69, go -70, place -71. Part 4: go -74, pick -75, go -77, load -79, turn -89:
    changed until 93, no sample: unload -95, go -97, place -98. Nor is part 2, made before that."""
    turn = {"tool_change": {"insert": {"every": "2 parts", "takes": "4 s", "age": "0 parts"}}}
    played = play(cell({"after": ["insert"]}, 9, EMPTIED, turn), horizon_s=100)
    assert left(played, 4) == [(20, 1, "good"), (48, 2, "good"), (71, 3, "sampled"), (98, 4, "good")]


def test_if_that_one_is_scrapped_it_is_the_next() -> None:
    """The stop comes with part 2, and the two parts after it are scrap: the first good one is part 5."""
    stop = {"insert": {"every": "4 parts", "takes": "4 s", "age": "2 parts", "start_up_scrap": "2 parts"}}
    played = play(cell({"after": ["insert"]}, 9, EMPTIED, {"tool_change": stop}), horizon_s=140)
    assert [fate for _, _, fate in played.departures()][:5] == ["good", "good", "scrapped", "scrapped", "sampled"]


@pytest.mark.parametrize(("pause", "second"), [("24 s", (43, 2, "sampled")), ("25 s", (44, 2, "good"))])
def test_a_part_that_comes_so_long_after_the_one_before_is_a_sample(pause: str, second: Any) -> None:
    """Ended at 15 and 39 s. To the drawer: unload -41, go -42, place -43; to the tray: go -43, place -44."""
    assert left(play(cell({"after_pause": pause}, 9, EMPTIED), horizon_s=45), 2) == [(20, 1, "good"), second]
