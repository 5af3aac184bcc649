"""Infeed, outfeed and the limit of parts inside, worked out by hand in whole seconds."""

from __future__ import annotations

from typing import Any

from linesim.engine.contract.ledger import US
from linesim.engine.contract.trace import What
from tests.helpers.lines import alone, loader, seconds, serial
from tests.helpers.running import play


def stocked(infeed: Any = None, outfeed: Any = None, cycle_s: float = 2, **rest: Any) -> dict[str, Any]:
    line = alone({"cycle": seconds(cycle_s)}, **rest)
    return {**line, "infeed": {"stocker": infeed or {}}, "outfeed": {"tray": outfeed or {}}}


def test_an_infeed_that_runs_empty_starves_the_line_until_it_is_refilled() -> None:
    """3 blanks, refilled every 10 s in 1 s: parts at 2, 4, 6 s; blanks again at 11 s, then 10 s after that refill."""
    line = stocked({"capacity": 3, "refill": {"every": "10 s", "takes": "1 s"}})
    played = play(line, horizon_s=30)
    assert played.left_at() == [2, 4, 6, 13, 15, 17, 24, 26, 28]
    assert played.states("mill.1")[1:3] == [(6, "starved"), (11, "working")]
    end = played.ledger.ends.iloc[0]
    # a blank is taken as the last part leaves: 2 left from 0, 1 from 2, none from 4 s on; 3 again at 11 s, one taken
    assert end["empty_us"] == (7 + 7 + 4) * US
    assert end["stock_us"] == 3 * (2 * 2 + 2 * 1) * US


def test_a_refill_at_a_level_is_called_as_the_level_is_reached_and_blanks_are_taken_meanwhile() -> None:
    """4 blanks, called at 1: taken at 0, 2, 4 s; the refill takes 3 s, and the last blank goes at 6 s, full at 7 s."""
    line = stocked({"capacity": 4, "refill": {"at": "1 part", "takes": "3 s"}})
    played = play(line, horizon_s=14)
    assert played.rows(What.STOCK_CALL) == [(4, "stocker", -1, 0), (12, "stocker", -1, 0)]
    assert played.rows(What.STOCK) == [(7, "stocker", -1, 4)]
    assert played.left_at() == [2, 4, 6, 8, 10, 12]


def test_a_crew_comes_to_refill_and_its_call_waits_while_it_is_busy() -> None:
    """Called at 0 s with the second last blank; 5 s to come and 3 s to fill: blanks run out at 2 s, again at 8 s."""
    refill = {"at": "1 part", "takes": "3 s", "crew": "operator"}
    line = stocked({"capacity": 2, "refill": refill}, crews={"operator": {"response": "5 s"}})
    played = play(line, horizon_s=10)
    assert played.left_at() == [2, 4]
    stop = played.ledger.stoppages.iloc[0]
    assert (stop["kind"], stop["begun"]) == ("refill", 2)
    assert (stop["waiting_us"], stop["lasting_us"]) == ((5 + 2) * US, 3 * US)
    assert played.ledger.crews.iloc[0]["busy_us"] == (8 + 2) * US


def test_an_outfeed_that_is_full_blocks_the_line_until_it_is_emptied() -> None:
    """2 places, emptied every 9 s in 1 s: parts 1 and 2 at 2 and 4 s, part 3 is done at 6 s and leaves at 10 s."""
    played = play(stocked(outfeed={"capacity": 2, "emptied": {"every": "9 s", "takes": "1 s"}}), horizon_s=20)
    assert played.left_at() == [2, 4, 10, 12]
    assert played.states("mill.1") == [(0, "working"), (6, "blocked"), (10, "working"), (14, "blocked")]
    assert played.ledger.ends.iloc[0]["full_us"] == (6 + 8) * US


def test_an_outfeed_is_emptied_of_what_came_meanwhile_too() -> None:
    """Called with the second of 4 parts, at 4 s; 3 s later, at 7 s, the third is in it as well: empty."""
    played = play(stocked(outfeed={"capacity": 4, "emptied": {"at": "2 parts", "takes": "3 s"}}), horizon_s=13)
    assert played.rows(What.STOCK_CALL) == [(4, "tray", -1, 0), (10, "tray", -1, 0)]
    assert played.rows(What.STOCK) == [(7, "tray", -1, 0)]
    assert played.left_at() == [2, 4, 6, 8, 10, 12]


def test_a_blank_that_arrives_as_the_machine_is_done_is_loaded_at_once() -> None:
    """Batches of 2 every 4 s, 2 s a part: from 4 s on the mill never waits."""
    played = play(stocked({"arrivals": {"every": "4 s", "batch": 2}}), horizon_s=13)
    assert played.left_at() == [6, 8, 10, 12]
    assert played.states("mill.1") == [(0, "starved"), (4, "working")]
    assert [value for *_, value in played.rows(What.STOCK)] == [2, 2, 2]


def test_a_loader_takes_a_blank_as_it_arrives_and_no_more_than_there_are() -> None:
    """Stocker at 0, mill at 2, tray at 4 m, 1 s to handle: blank at 5 s, picked 6, loaded 9, done 11 ..."""
    line = stocked({"arrivals": {"every": "5 s"}}, loaders={"gantry": loader({"stocker": 0, "mill": 2, "tray": 4})})
    played = play(line, horizon_s=22)
    assert played.carried()[:2] == [(6, 9, 1, "stocker", "mill.1"), (12, 15, 1, "mill.1", "tray")]


def test_a_limit_of_one_part_inside_lets_the_next_in_as_the_last_leaves() -> None:
    """Two machines of 3 and 2 s, one part at a time: a part every 5 s. With two inside the slower one is the pace."""
    line = serial({"a": 3, "b": 2})
    assert play({**line, "wip_limit": "1 part"}, horizon_s=16).left_at() == [5, 10, 15]
    assert play({**line, "wip_limit": 2}, horizon_s=15).left_at() == [5, 8, 11, 14]


def test_a_limit_counts_the_blank_that_a_tour_has_claimed() -> None:
    """The audit holds the limit; two grippers and a far infeed would take a second blank otherwise."""
    stops = {"stocker": 0, "a": 2, "b": 4, "tray": 6}
    line = serial({"a": 3, "b": 2}, loaders={"gantry": loader(stops, grippers=2)})
    limited = play({**line, "wip_limit": 1}, horizon_s=200)
    free = play(line, horizon_s=200)
    assert len(limited.wip()) == 2
    assert len(free.wip()) == 3
    assert len(limited.left_at()) < len(free.left_at())
