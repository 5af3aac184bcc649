"""Scrap that a loader brings to a chute, worked out by hand in whole seconds. The loader makes 1 m/s at once."""

from __future__ import annotations

from typing import Any

import pytest

from linesim.engine.contract.trace import What
from linesim.results.measures.aside import chutes
from tests.helpers.lines import Plain, breakdown, loader, serial
from tests.helpers.running import Play, play

ALL_BAD: Plain = {"inspection": {"false_alarms": "100 %"}}
AT = {"stocker": 0, "mill": 2, "gauge": 4, "chute": 5, "tray": 6}


def line(mill_s: int, gauge_s: int, **keys: Any) -> Plain:
    """A mill makes bad parts only, the gauge behind it finds them. All handling takes 1 s."""
    mill = {"cycle": f"{mill_s} s", "defects": {"size": "100 %"}}
    gauge = {"cycle": f"{gauge_s} s", "inspection": {}, "chute": "chute"}
    return serial({"mill": mill, "gauge": gauge}, loaders={"gantry": loader(AT, **keys)})


def test_a_rejected_part_waits_in_its_machine_until_it_is_brought_to_the_chute() -> None:
    """One gripper. Part 1: pick 0-1, go -3, load -4, mill 4-14, unload -15, go -17, load -18, gauge 18-21: bad.

    The loader is at the stocker then: pick 22-23, go -25, load -26; goes to the gauge -28, unload -29, go -30, place
    -31. Part 2, mill 26-36: go from the chute -39, unload -40, go -42, load -43, gauge 43-46; part 3: go from the gauge
    -47, pick -48, go -50, load -51; then go -53, unload -54, go -55, place -56.
    """
    played = play(line(10, 3), horizon_s=57)
    assert played.carried() == [
        (1, 4, 1, "stocker", "mill.1"),
        (15, 18, 1, "mill.1", "gauge.1"),
        (23, 26, 2, "stocker", "mill.1"),
        (29, 31, 1, "gauge.1", "chute"),
        (40, 43, 2, "mill.1", "gauge.1"),
        (48, 51, 3, "stocker", "mill.1"),
        (54, 56, 2, "gauge.1", "chute"),
    ]
    assert [(time_s, owner) for time_s, owner, *_ in played.rows(What.SET_ASIDE)] == [(21, "gauge.1"), (46, "gauge.1")]
    assert [(time_s, owner) for time_s, owner, *_ in played.rows(What.SCRAP)] == [(31, "chute"), (56, "chute")]
    assert played.departures() == [(31, 1, "scrapped"), (56, 2, "scrapped")]
    assert played.wip() == [1_000_000, 40_000_000, 16_000_000]  # it counts as inside until the chute has it
    assert played.states("gauge.1")[2:8] == [
        (17, "loading"),
        (18, "working"),
        (21, "waiting_loader"),
        (28, "loading"),
        (29, "starved"),
        (36, "waiting_loader"),
    ]
    assert played.ledger.stations["scrapped"].tolist() == [2, 0]  # charged to the mill, whose defect it was
    assert chutes(played.ledger, played.line).values.tolist() == [["chute", "gauge", 2, 2 / (57 / 3600)]]


def test_two_grippers_swap_the_next_part_in_on_the_way_to_the_chute() -> None:
    """Part 1: in the mill at 4, done at 8. Tour: go -10, pick part 2 -11, go -13, exchange -14, go -16, load -17.

    Gauge 17-27: bad. Part 2 is done in the mill since 18: go 27-29, unload -30, go -32, exchange -33, go -34, place
    part 1 -35. Then go -40, pick part 3 -41, go -43, load -44. Part 2 is found bad at 43: go -46, unload -47, go -48,
    place -49.
    """
    played = play(line(4, 10, grippers=2), horizon_s=50)
    assert played.carried() == [
        (1, 4, 1, "stocker", "mill.1"),
        (11, 14, 2, "stocker", "mill.1"),
        (14, 17, 1, "mill.1", "gauge.1"),
        (30, 33, 2, "mill.1", "gauge.1"),
        (33, 35, 1, "gauge.1", "chute"),
        (41, 44, 3, "stocker", "mill.1"),
        (47, 49, 2, "gauge.1", "chute"),
    ]


def ahead(turn: Plain, behind: Plain | None = None, **keys: Any) -> Play:
    """turn works 10 s and calls 8 s ahead. Load and unload take 2 s, an exchange 3 s."""
    at = {"stocker": 0, "turn": 2, "chute": 3, **({"grind": 5} if behind else {}), "tray": 4}
    stations = {"turn": {"cycle": "10 s", "call_ahead": "8 s", "chute": "chute", **turn}, **(behind or {})}
    times = {"load": "2 s", "unload": "2 s", "exchange": "3 s", "grippers": 2, **keys}
    return play(serial(stations, loaders={"gantry": loader(at, **times)}), horizon_s=34)


def test_a_tour_called_ahead_goes_to_the_chute_once_its_part_is_rejected() -> None:
    """Part 1 is in turn from 5 s on and calls at 7: go -9, pick -10, go -12, wait -15: bad. Exchange -18, go -19, place
    -20. Part 2, 18-28, calls at 20: go -23, pick -24, go -26, wait -28, exchange -31, go -32, place -33."""
    played = ahead(ALL_BAD)
    assert played.carried() == [
        (1, 5, 1, "stocker", "turn.1"),
        (10, 18, 2, "stocker", "turn.1"),
        (18, 20, 1, "turn.1", "chute"),
        (24, 31, 3, "stocker", "turn.1"),
        (31, 33, 2, "turn.1", "chute"),
    ]
    told = [(time_s, played.ledger.owners[place].name) for time_s, _, _, place in played.rows(What.TOUR)]
    assert told[2:6] == [(7, "stocker"), (7, "turn.1"), (7, "tray"), (15, "chute")]


def test_what_such_a_tour_had_reserved_further_on_is_free_again() -> None:
    """As above; grind is reserved for part 1 from 7 to 15 s, and for part 2 from 20 to 28 s.

    Part 3 is in at 31 s and calls at 33."""
    states = ahead(ALL_BAD, {"grind": {"cycle": "1 s"}}).states("grind.1")
    assert states[:5] == [
        (0, "starved"),
        (7, "waiting_loader"),
        (15, "starved"),
        (20, "waiting_loader"),
        (28, "starved"),
    ]
    assert states[5:] == [(33, "waiting_loader")]


def test_a_part_that_a_breakdown_spoils_stays_on_board_until_the_repair() -> None:
    """A jam from 12 to 20 s. The loader called ahead waits in front: unload 20-22, go -23, place -24, go -27, pick part
    2 -28, go -30, load -32."""
    played = ahead({"breakdowns": {"jam": breakdown(7, 8, part="scrap")}}, grippers=1)
    assert played.carried()[1:] == [(22, 24, 1, "turn.1", "chute"), (28, 32, 2, "stocker", "turn.1")]
    assert played.departures() == [(24, 1, "scrapped")]
    assert played.states("turn.1")[2:6] == [
        (5, "working"),
        (12, "under_repair"),
        (20, "loading"),
        (22, "waiting_loader"),
    ]


def test_a_tool_that_breaks_in_work_spoils_its_part_and_is_changed_with_it_on_board() -> None:
    """The tool breaks after 6 s of work, at 11 s, and is changed until 15 s: unload 15-17, go -18, place -19."""
    tool = {"insert": {"life": "6 s", "takes": "4 s"}}
    played = ahead({"tool_change": tool, "call_ahead": "1 s"}, grippers=1)
    assert played.departures()[0] == (19, 1, "scrapped")
    assert (11, "tool_change") in played.states("turn.1")


def test_room_reserved_before_service_is_given_up_as_the_part_is_rejected() -> None:
    """Two mills of 20 s that wait for room at the gauge. The first works 4-24 s; the second has its part at 11 s and
    starts at 24 s, while part 1 is still on its way: go -25, unload -26, go -30, place -31."""
    at = {"stocker": 0, "mill": [2, 3], "gauge": 5, "chute": 6, "tray": 7}
    mill = {"cycle": "20 s", "machines": 2, "blocking": "before_service", "chute": "chute", **ALL_BAD}
    given = serial({"mill": mill, "gauge": 1}, loaders={"gantry": loader(at)})
    played = play(given, horizon_s=45)
    assert played.operations("mill.2") == [(24, 44, 2)]
    assert (11, "blocked") in played.states("mill.2")
    assert played.departures() == [(31, 1, "scrapped")]


def test_a_fixed_round_brings_a_rejected_part_to_the_chute_from_where_it_would_take_a_good_one() -> None:
    """Mill 5 s, gauge 3 s. Stocker: pick 0-1, go -3, load -4. Mill: wait -9, unload -10, go -12, load -13, gauge -16.
    Stocker: go -17, pick -18, go -20, load -21. Gauge: go -23, unload -24, go -25, place -26. Mill: go -29, ..."""
    played = play(line(5, 3, next_call={"fixed": ["gauge", "mill", "stocker"]}), horizon_s=31)
    assert played.departures() == [(26, 1, "scrapped")]
    assert played.states("gantry.1")[-1] == (30, "moving_loaded")


@pytest.mark.parametrize("warmup_s", [20, 30])
def test_scrap_is_counted_when_it_falls_into_the_chute(warmup_s: int) -> None:
    """Found bad at 21 and 46 s, in the chute at 31 and 56 s."""
    played = play(line(10, 3), horizon_s=50, warmup_s=warmup_s)
    assert played.ledger.stations["scrapped"].tolist() == [1, 0]
