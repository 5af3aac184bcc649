"""Part types that skip places: where they go, who takes them and what waits, worked out by hand in whole seconds."""

from __future__ import annotations

from typing import Any

import pytest

from linesim.engine.contract.trace import What
from linesim.line import load_line
from linesim.line.capacity import capacity_sheet
from linesim.results import Results
from linesim.results.measures.losses import loss_bridge
from tests.helpers.books_of_routes import check_routes
from tests.helpers.lines import Plain, loader, serial
from tests.helpers.running import play


def skipping(skips: str | list[str], *orders: str) -> Plain:
    """Small and large parts, of which the small ones skip places; orders of one part each."""
    sizes = [{"part": part, "size": 1} for part in orders]
    return {"parts": {"small": {"skips": skips}, "large": {}}, "orders": sizes}


def gantry(positions: Plain, **keys: Any) -> Plain:
    return {"gantry": loader(positions, **keys)}


CELL = {"stocker": 0, "a": 2, "b": 4, "tray": 7}


def test_a_part_goes_from_the_station_before_to_the_one_behind_what_it_skips() -> None:
    """a 4 s, b 3 s, c 2 s; small and large in turn, small without b.

    Small is done at 6 s. Large: a until 8, b 11, c 13 s. The small one in a is done at 12 s and waits for c until 13.
    """
    played = play(serial({"a": 4, "b": 3, "c": 2}, **skipping("b", "small", "large")), horizon_s=25)
    assert played.departures() == [(6, 1, "good"), (13, 2, "good"), (15, 3, "good"), (22, 4, "good"), (24, 5, "good")]
    assert [move for move in played.moves() if move[1] == 1] == [
        (0, 1, "stocker", "a.1"),
        (4, 1, "a.1", "c.1"),
        (6, 1, "c.1", "tray"),
    ]
    assert played.states("a.1")[:3] == [(0, "working"), (12, "blocked"), (13, "working")]


def test_a_part_overtakes_those_at_the_station_that_it_skips() -> None:
    """a 2 s, b 10 s, c 1 s. The large part is in b from 2 to 12 s; two small ones pass it and are done at 5 and 7 s.

    The next large one waits in a from 8 to 12 s. The small one behind it: a from 12 to 14, c until 15 s.
    """
    line = serial({"a": 2, "b": 10, "c": 1}, **skipping("b", "large", "small", "small"))
    played = play(line, horizon_s=16)
    assert played.departures() == [(5, 2, "good"), (7, 3, "good"), (13, 1, "good"), (15, 5, "good")]


def test_a_buffer_that_is_not_skipped_stays_on_the_way_first_in_first_out() -> None:
    """As above with two places before b, orders large, large, small.

    The second large part waits there for b from 4 s, the small one behind it from 6 s, though c is free. At 12 s the
    first large one goes to c and the second to b; the small one gets c at 13 s. Where it skips the buffer too, it is
    in c at 6 s.
    """
    orders = ("large", "large", "small")
    played = play(serial({"a": 2, "b": 10, "c": 1}, [2, 0], **skipping("b", *orders)), horizon_s=20)
    assert played.departures() == [(13, 1, "good"), (14, 3, "good")]
    assert played.states("a.1")[:3] == [(0, "working"), (8, "blocked"), (12, "working")]
    past = play(serial({"a": 2, "b": 10, "c": 1}, [2, 0], **skipping(["b", "park_1"], *orders)), horizon_s=20)
    assert past.departures()[:2] == [(7, 3, "good"), (13, 1, "good")]


def test_the_loader_that_serves_both_places_takes_a_part_past_what_it_skips() -> None:
    """Stocker 0, a 2, b 4, tray 7 m; 1 s to handle, one gripper, downstream first; a and b 5 s; small, large, small.

    Small: picked at 1, in a at 4, done 9; unloaded 10, in the tray at 7 m at 15 + 1. Back at the stocker at 23: large
    picked 24, in a 27, done 32, unloaded 33, in b 36, done 41. The next small one picked 41, in a 44; then large out
    of b at 47, in the tray at 51.
    """
    line = serial({"a": 5, "b": 5}, **skipping("b", "small", "large"), loaders=gantry(CELL))
    assert play(line, horizon_s=52).carried() == [
        (1, 4, 1, "stocker", "a.1"),
        (10, 16, 1, "a.1", "tray"),
        (24, 27, 2, "stocker", "a.1"),
        (33, 36, 2, "a.1", "b.1"),
        (41, 44, 3, "stocker", "a.1"),
        (47, 51, 2, "b.1", "tray"),
    ]


def test_the_first_station_may_be_skipped_and_a_swap_begins_at_the_infeed() -> None:
    """The cell with two grippers; all that comes is small and skips a. b 20 s.

    Picked at 1, 4 m, in b at 6, done 26. Back to the stocker at 30, picked 31, swapped in at 36, placed at 40.
    """
    orders = {"orders": [{"part": "small", "size": 9}, {"part": "large", "size": 1}]}
    line = serial({"a": 3, "b": 20}, **skipping("a") | orders, loaders=gantry(CELL, grippers=2))
    played = play(line, horizon_s=41)
    assert played.carried() == [(1, 6, 1, "stocker", "b.1"), (31, 36, 2, "stocker", "b.1"), (36, 40, 1, "b.1", "tray")]
    assert played.states("b.1") == [
        (0, "waiting_loader"),
        (5, "loading"),
        (6, "working"),
        (26, "waiting_loader"),
        (35, "loading"),
        (36, "working"),
    ]


def test_a_swap_takes_the_part_that_comes_past_an_empty_buffer_of_the_others() -> None:
    """Stocker 0, a 1, park 2, b 3, c 4, tray 6 m, two grippers; small skips park and b. a 3 s, b 9 s, c 30 s.

    Small 1: picked 1, in a at 3, done 6; it goes to c, and no part is ready to be swapped into a but the next blank:
    at 3 s the gantry stands at a; at 6 s the tour begins at the stocker (7), picked 8, exchange at a 10, 3 m, in c at
    14. Small 2 is done at 13 and waits for c. At 44 c is done: from c (4 m) to a (1 m) 47, unloaded 48, c 51,
    exchanged 52, tray 54, placed 55.
    """
    orders = {"orders": [{"part": "small", "size": 9}, {"part": "large", "size": 1}]}
    at = {"stocker": 0, "a": 1, "park_1": 2, "b": 3, "c": 4, "tray": 6}
    line = serial(
        {"a": 3, "b": 9, "c": 30},
        [1, 0],
        **skipping(["park_1", "b"]) | orders,
        loaders=gantry(at, grippers=2),
    )
    assert play(line, horizon_s=56).carried() == [
        (1, 3, 1, "stocker", "a.1"),
        (8, 10, 2, "stocker", "a.1"),
        (10, 14, 1, "a.1", "c.1"),
        (48, 52, 2, "a.1", "c.1"),
        (52, 55, 1, "c.1", "tray"),
    ]


def test_blocking_before_service_reserves_where_the_part_in_hand_will_go() -> None:
    """a 2 s, b 10 s, c 1 s; large, large, small. The second large part waits unworked from 2 to 12 s for b; the small
    one starts at 14 s, since c is free. With two machines in a, the small one does not wait for the large one that is
    there since 0 s: it starts at 2 s in the other, and is done at 5 s."""
    rules = skipping("b", "large", "large", "small")
    one = play(serial({"a": {"cycle": "2 s", "blocking": "before_service"}, "b": 10, "c": 1}, **rules), horizon_s=20)
    assert one.operations("a.1") == [(0, 2, 1), (12, 14, 2), (14, 16, 3)]
    assert one.departures() == [(13, 1, "good"), (17, 3, "good")]
    station = {"cycle": "2 s", "blocking": "before_service", "machines": 2}
    two = play(serial({"a": station, "b": 10, "c": 1}, **rules), horizon_s=20)
    assert two.operations("a.1")[:2] == [(0, 2, 1), (2, 4, 3)]
    assert two.operations("a.2") == [(12, 14, 2)]
    assert two.departures()[:2] == [(5, 3, "good"), (13, 1, "good")]


def test_the_places_of_a_loop_that_a_part_can_pass_by_are_no_room_in_it() -> None:
    """a 2 s, m 5 s, gauge 1 s; all parts are small and skip m. Each gets a defect in a and goes round once more.

    Part 1 is back in a at 3 s and scrapped at 6 s. If m counted, part 2 would be let into a at 2 s, and both would wait
    for each other from 3 s on, for ever.
    """
    stations = {
        "a": {"cycle": "2 s", "defects": {"size": "100 %"}},
        "m": {"cycle": "5 s"},
        "gauge": {"cycle": "1 s", "inspection": {"rework": {"to": "a"}}},
    }
    orders = {"orders": [{"part": "small", "size": 9}, {"part": "large", "size": 1}]}
    played = play(serial(stations, **skipping("m") | orders), horizon_s=13)
    assert played.departures() == [(6, 1, "scrapped"), (12, 2, "scrapped")]


def test_a_call_ahead_knows_where_the_part_will_go() -> None:
    """The cell; the gantry parks at the tray, where it is from 9 s on. a 10 s, 5 s ahead: called at 9, it is there as
    the cycle ends at 14, has unloaded at 15 and placed at 21. Without the call it would set off at 14."""
    keys = {"park_at": "tray", "next_call": "downstream_first"}
    station = {"cycle": "10 s", "call_ahead": "5 s"}
    rules = skipping("b", "small", "large")
    ahead = play(serial({"a": station, "b": 5}, **rules, loaders=gantry(CELL, **keys)), horizon_s=22)
    assert ahead.carried() == [(1, 4, 1, "stocker", "a.1"), (15, 21, 1, "a.1", "tray")]
    late = play(serial({"a": 10, "b": 5}, **rules, loaders=gantry(CELL, **keys)), horizon_s=27)
    assert late.carried()[1] == (20, 26, 1, "a.1", "tray")


def test_a_part_does_not_slip_past_one_that_a_tour_has_claimed() -> None:
    """a 2 s, park, b 4 s, c 3 s; stocker, a and b hand over directly; small parts skip b, and the gantry takes them
    from the park (0 m) to c (2 m) in 3 s of handling each.

    Small 1 is claimed at 2 s and picked at 5 s, in c at 10 s. Large 2 comes to the park at 4 s; b is free, but it may
    leave only behind the small one, at 5 s.
    """
    at = {"park_1": 0, "c": 2, "tray": 4}
    line = serial(
        {"a": 2, "b": 4, "c": 3},
        [3, 0],
        **skipping("b", "small", "large"),
        loaders=gantry(at, handling_s=3.0),
    )
    played = play(line, horizon_s=11)
    assert played.carried() == [(5, 10, 1, "park_1", "c.1")]
    assert played.operations("b.1") == [(5, 9, 2)]


def test_what_is_not_made_is_not_measured_and_results_by_type_add_up() -> None:
    """a 2 s, grind 3 s gives a size, gauge 1 s measures it; small and large in turn, small parts skip grind.

    a gives a small part at 2, 6, ... 22 s, which is done 1 s later, and a large one at 4, 8, ... 20 s, which is done
    4 s later: six and five up to 25 s. Large ones only are read.
    """
    size = {"bore": {"tolerance": "10 um", "spread": "0 um"}}
    stations = {
        "a": {"cycle": "2 s"},
        "grind": {"cycle": "3 s", "characteristics": size},
        "gauge": {"cycle": "1 s", "inspection": {"measures": {"bore": {}}}},
    }
    played = play(serial(stations, **skipping("grind", "small", "large")), horizon_s=25)
    assert {part % 2 for _, _, part, _ in played.rows(What.READ)} == {0}
    results = Results(played.line, [played.ledger])
    assert results.parts["good_parts"].sum() == results.replications["good_parts"].sum()
    assert results.parts["good_parts"].tolist() == [6, 5]


def test_the_loss_bridge_of_a_station_that_some_skip_ends_with_all_good_parts() -> None:
    """The line of the first test up to 25 s: b makes parts 2 and 4 in 6 s, and parts 1, 3 and 5 pass it."""
    played = play(serial({"a": 4, "b": 3, "c": 2}, **skipping("b", "small", "large")), horizon_s=25)
    found = loss_bridge(played.ledger, played.line, "b", 3.0).set_index("step")["parts"]
    assert found["gross"] == pytest.approx(25 / 3)
    assert (found["passing"], found["growth"], found["good"]) == (-3, 0, 5)
    assert found["gross"] - found.drop(["gross", "good"]).sum() == pytest.approx(found["good"])


def test_the_rough_cut_sheet_weighs_stations_by_the_parts_that_come_to_them() -> None:
    """Two of three parts skip b: one of three takes its 10 s, so it sets the pace with 10 / 3 s to a's 2."""
    orders = {"orders": [{"part": "small", "size": 2}, {"part": "large", "size": 1}]}
    line = serial({"a": 2, "b": 10, "c": 1}, [1, 1], **skipping(["park_1", "b"]) | orders)
    sheet = capacity_sheet(load_line(line))
    assert sheet.pace_stage == "b"
    assert [row.ideal_interval_s for row in sheet.stages] == pytest.approx([2, 10 / 3, 1])
    played = play(line, horizon_s=400, warmup_s=100)
    assert len(played.left_at()) - sum(at < 100 for at in played.left_at()) == 90


def test_the_audit_notices_a_part_that_goes_where_it_should_not() -> None:
    """The trace of a line on which small parts skip b, read as that of one on which they skip c, or nothing."""
    stations = {"a": 4, "b": 3, "c": 2}
    played = play(serial(stations, **skipping("b", "small", "large")), horizon_s=25)
    with pytest.raises(AssertionError, match=r"from a to c, which it skips"):
        check_routes(played.trace, load_line(serial(stations, **skipping("c", "small", "large"))))
    with pytest.raises(AssertionError, match=r"passes over b without a loader"):
        check_routes(played.trace, load_line(serial(stations, **skipping([], "small", "large"))))
