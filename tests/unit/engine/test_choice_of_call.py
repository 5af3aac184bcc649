"""Which call a free loader takes under each rule, ties included, and what it reserves."""

from __future__ import annotations

import pytest

from linesim.engine.contract import records as r
from linesim.engine.contract.tours import choose_tour
from tests.unit.engine.floors import Hand, gantry_line

Tour = list[tuple[str, str]]


def choose(hand: Hand) -> Tour:
    choose_tour(hand.floor, hand.at("gantry.1"))
    return hand.tour()


def three_calls(next_call: object) -> Hand:
    """One gripper. Open calls: stocker since 10, turn.1 since 30 (for grind.1), grind.2 since 20 (for the tray).

    Positions: stocker 0, turn.1 2, turn.2 3, grind.1 6, grind.2 7, tray 9 m.
    """
    hand = Hand(gantry_line(turn=2, grind=2, next_call=next_call))
    hand.finish("turn.1")
    hand.finish("grind.2")
    hand.look()
    for name, since in (("stocker", 10), ("turn.1", 30), ("grind.2", 20)):
        hand.set(name, CALL_SINCE=since)
    return hand


@pytest.mark.parametrize(
    ("next_call", "first_stop"),
    [
        ("downstream_first", "grind.2"),
        ("longest_waiting", "stocker"),
        (["turn", "stocker", "grind"], "turn.1"),
        (["stocker", "grind", "turn"], "stocker"),
    ],
)
def test_each_rule_takes_the_call_it_puts_first(next_call: object, first_stop: str) -> None:
    assert choose(three_calls(next_call))[0] == ("pick", first_stop)


@pytest.mark.parametrize(("stands_at", "first_stop"), [(0, "stocker"), (2, "turn.1"), (4, "grind.2"), (5, "grind.2")])
def test_nearest_takes_the_call_with_the_shortest_way_to_its_first_stop(stands_at: int, first_stop: str) -> None:
    """Stops are numbered along the route: stocker 0, turn.1 1, turn.2 2, grind.1 3, grind.2 4, tray 5."""
    hand = three_calls("nearest")
    hand.set("gantry.1", AT=stands_at)
    assert choose(hand)[0] == ("pick", first_stop)


@pytest.mark.parametrize("next_call", ["longest_waiting", "nearest"])
def test_a_tie_between_stations_goes_to_the_more_downstream_call(next_call: str) -> None:
    """All calls open since 10; from turn.2 at 3 m, moved to 4.5 m, turn.1 and grind.2 are both 2.5 m away."""
    line = gantry_line(turn=2, grind=2, next_call=next_call)
    line["loaders"]["gantry"]["stops"]["turn"] = ["2 m", "4.5 m"]
    hand = Hand(line)
    hand.finish("turn.1")
    hand.finish("grind.2")
    hand.set("gantry.1", AT=2)
    hand.now(10)
    hand.look()
    assert choose(hand)[0] == ("pick", "grind.2")


def test_between_two_machines_of_a_station_the_part_finished_first_is_taken() -> None:
    hand = Hand(gantry_line(turn=3, grind=1))
    for name, since in (("turn.1", 9), ("turn.2", 5), ("turn.3", 5)):
        hand.finish(name, since)
    hand.look()
    assert choose(hand)[0] == ("pick", "turn.2")


def test_places_not_named_in_the_order_of_priority_come_last_downstream_first() -> None:
    hand = three_calls(["stocker"])
    hand.set("stocker", CALL_SINCE=-1)
    assert choose(hand)[0] == ("pick", "grind.2")


def test_without_an_open_call_a_loader_stays_idle() -> None:
    hand = Hand(gantry_line())
    hand.work("turn.1")
    hand.look()
    assert choose(hand) == []
    assert hand.get("gantry.1", "MOTION") == r.IDLE


def test_a_tour_with_one_gripper_is_one_part_from_one_place_to_the_next() -> None:
    assert choose(three_calls("downstream_first")) == [("pick", "grind.2"), ("put", "tray")]


def test_a_tour_reserves_the_machine_it_goes_to_and_claims_the_part_it_takes() -> None:
    hand = three_calls(["turn"])
    assert choose(hand) == [("pick", "turn.1"), ("put", "grind.1")]
    assert hand.get("grind.1", "COMING") == hand.at("gantry.1")
    assert hand.get("turn.1", "TAKING") == hand.at("gantry.1")
    assert hand.get("gantry.1", "MOTION") == r.STANDING


def test_a_tour_from_buffer_to_buffer_reserves_one_place_and_claims_one_part() -> None:
    line = gantry_line(park=3)
    line["route"].insert(3, "shelf")
    line["buffers"]["shelf"] = {"capacity": 2}
    line["loaders"]["gantry"]["stops"]["shelf"] = "5.5 m"
    hand = Hand(line)
    hand.work("grind.1")
    hand.fill("park_1", 2)
    hand.look()
    assert choose(hand) == [("pick", "park_1"), ("put", "shelf")]
    assert (hand.get("park_1", "PARTS_TAKEN"), hand.get("park_1", "LEVEL")) == (1, 2)
    assert (hand.get("shelf", "ROOM_TAKEN"), hand.get("shelf", "LEVEL")) == (1, 0)


def test_a_tour_into_a_rework_loop_is_counted_in_it_when_chosen() -> None:
    line = gantry_line(park=2)
    line["stations"]["grind"]["inspection"] = {"rework": {"to": "park_1"}}
    hand = Hand(line)
    hand.finish("turn.1")
    hand.look()
    assert choose(hand) == [("pick", "turn.1"), ("put", "grind.1")]
    assert hand.floor[hand.floor[r.LOOPS] + r.LOOP_INSIDE] == 1
