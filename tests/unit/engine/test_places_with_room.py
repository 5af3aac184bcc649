"""Which machine of a station takes the next part, which part is ready, and how much room a buffer has."""

from __future__ import annotations

from typing import Any

import pytest

from linesim.engine.contract import records as r
from linesim.engine.contract.ways import free_machine, is_ready, room_in
from tests.helpers.lines import serial
from tests.unit.engine.floors import Hand, every, gantry_line, jam


def three_mills(**stop: Any) -> Hand:
    mill = {"cycle": "9 s", "machines": 3, "breakdowns": jam(), "tool_change": {"insert": every(100, **stop)}}
    return Hand(serial({"mill": mill}))


def next_mill(hand: Hand) -> str | None:
    return hand.name(free_machine(hand.floor, hand.steps["mill"]))


def test_the_machine_that_has_been_empty_longest_takes_the_next_part() -> None:
    hand = three_mills()
    for name, since in (("mill.1", 30), ("mill.2", 10), ("mill.3", 20)):
        hand.set(name, SINCE=since)
    assert next_mill(hand) == "mill.2"


def test_of_machines_empty_equally_long_the_first_in_the_file_takes_the_part() -> None:
    hand = three_mills()
    hand.set("mill.1", SINCE=30)
    hand.set("mill.2", SINCE=10)
    hand.set("mill.3", SINCE=10)
    assert next_mill(hand) == "mill.2"


def test_a_machine_with_a_part_or_down_or_reserved_takes_none() -> None:
    hand = three_mills()
    hand.fill("mill.1")
    hand.break_down("mill.2", progress=r.CALLED)
    assert next_mill(hand) == "mill.3"
    hand.set("mill.3", COMING=hand.at("mill.1"))
    assert next_mill(hand) is None


def test_a_machine_in_a_stop_takes_a_part_only_if_the_stop_overlaps_loading() -> None:
    for keys, taker in (({}, "mill.2"), ({"overlaps": "loading"}, "mill.1")):
        hand = three_mills(**keys)
        hand.stop("mill.1", "insert")
        assert next_mill(hand) == taker


def test_a_machine_that_is_down_takes_no_part_even_in_a_stop_that_overlaps_loading() -> None:
    hand = three_mills(overlaps="loading")
    hand.stop("mill.1", "insert")
    hand.break_down("mill.1")
    assert next_mill(hand) == "mill.2"


@pytest.mark.parametrize(
    ("phase", "ready"), [(r.EMPTY, False), (r.LOADED, False), (r.WORKING, False), (r.FINISHED, True)]
)
def test_a_machine_holds_a_ready_part_only_when_it_is_finished(phase: int, ready: bool) -> None:
    hand = three_mills()
    hand.set("mill.1", PHASE=phase)
    assert is_ready(hand.floor, hand.at("mill.1")) == ready


def test_a_finished_part_is_not_ready_while_its_machine_is_down_or_stopped_or_claimed() -> None:
    claimed, down, stopped, overlapped = three_mills(), three_mills(), three_mills(), three_mills(overlaps="loading")
    for hand in (claimed, down, stopped, overlapped):
        hand.finish("mill.1")
        assert is_ready(hand.floor, hand.at("mill.1"))
    claimed.set("mill.1", TAKING=1)
    down.break_down("mill.1", progress=r.ON_THE_WAY)
    for hand in (stopped, overlapped):
        hand.stop("mill.1", "insert", progress=r.CALLED)
    assert [is_ready(h.floor, h.at("mill.1")) for h in (claimed, down, stopped, overlapped)] == [False] * 3 + [True]


def test_a_buffer_has_a_ready_part_as_long_as_fewer_are_claimed_than_ripe() -> None:
    hand = Hand(gantry_line(park=3, dwell="60 s"))
    hand.fill("park_1", 3)
    assert not is_ready(hand.floor, hand.at("park_1"))  # the least stay of the first runs
    hand.set("park_1", RIPE=2, PARTS_TAKEN=1)
    assert is_ready(hand.floor, hand.at("park_1"))
    hand.set("park_1", PARTS_TAKEN=2)
    assert not is_ready(hand.floor, hand.at("park_1"))


def test_the_infeed_always_has_a_ready_part_and_the_outfeed_never() -> None:
    hand = three_mills()
    assert is_ready(hand.floor, hand.at("stocker"))
    assert not is_ready(hand.floor, hand.at("tray"))


def room(hand: Hand, start: str, end: str, carriage: str | None = None) -> str | None:
    by = hand.at(carriage) if carriage else r.NONE
    return hand.name(room_in(hand.floor, hand.steps[start], hand.steps[end], by, -1))


def test_a_buffer_has_room_until_parts_and_reservations_reach_its_capacity() -> None:
    hand = Hand(serial({"turn": 1, "grind": 1}, [3]))
    hand.fill("park_1", 1)
    hand.set("park_1", ROOM_TAKEN=1)
    assert room(hand, "turn", "park_1") == "park_1"
    hand.set("park_1", ROOM_TAKEN=2)
    assert room(hand, "turn", "park_1") is None


def test_the_outfeed_always_has_room() -> None:
    assert room(three_mills(), "mill", "tray") == "tray"


def test_a_loader_passes_over_an_empty_buffer_and_a_direct_part_does_not() -> None:
    assert room(Hand(gantry_line(park=2)), "turn", "park_1", "gantry.1") == "grind.1"
    assert room(Hand(gantry_line(park=2)), "turn", "park_1") == "park_1"


def test_a_loader_puts_the_part_in_the_buffer_when_the_station_behind_it_is_full() -> None:
    hand = Hand(gantry_line(park=2))
    hand.fill("grind.1")
    assert room(hand, "turn", "park_1", "gantry.1") == "park_1"


def test_a_loader_does_not_pass_over_a_buffer_with_a_part_in_it_or_on_its_way_to_it() -> None:
    holding, awaiting = Hand(gantry_line(park=2)), Hand(gantry_line(park=2))
    holding.fill("park_1")
    awaiting.set("park_1", ROOM_TAKEN=1)
    assert [room(hand, "turn", "park_1", "gantry.1") for hand in (holding, awaiting)] == ["park_1", "park_1"]


def test_a_loader_does_not_pass_over_a_buffer_with_a_least_stay() -> None:
    assert room(Hand(gantry_line(park=2, dwell="1 s")), "turn", "park_1", "gantry.1") == "park_1"


def test_a_loader_does_not_pass_over_a_buffer_that_hands_on_directly() -> None:
    line = gantry_line(park=2)
    for name in ("grind", "tray"):
        del line["loaders"]["gantry"]["stops"][name]
    assert room(Hand(line), "turn", "park_1", "gantry.1") == "park_1"


def two_parks() -> Hand:
    line = gantry_line(park=2)
    line["route"].insert(3, "shelf")
    line["buffers"]["shelf"] = {"capacity": 1}
    line["loaders"]["gantry"]["stops"]["shelf"] = "5.5 m"
    return Hand(line)


def test_a_loader_passes_over_several_empty_buffers_in_a_row() -> None:
    assert room(two_parks(), "turn", "park_1", "gantry.1") == "grind.1"


def test_of_several_buffers_the_furthest_with_room_takes_the_part() -> None:
    hand = two_parks()
    hand.fill("grind.1")
    assert room(hand, "turn", "park_1", "gantry.1") == "shelf"
    hand.fill("shelf")  # full: the first buffer is the furthest place left
    assert room(hand, "turn", "park_1", "gantry.1") == "park_1"
