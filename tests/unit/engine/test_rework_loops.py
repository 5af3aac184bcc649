"""A fresh part enters a rework loop only if one place of the loop stays free after it."""

from __future__ import annotations

import pytest

from linesim.engine.contract import records as r
from linesim.engine.contract.leaving import scrap_part
from linesim.engine.contract.loops import cancel_entry, enter_loops, leave_loops, loops_admit
from linesim.engine.contract.moves import move_directly
from tests.helpers.lines import Plain, serial
from tests.unit.engine.floors import Hand


def gauge(to: str) -> Plain:
    return {"cycle": "5 s", "inspection": {"rework": {"to": to}}}


def one_loop(places: int = 2) -> Hand:
    """Turn, then a loop of grind, park_2 and gauge: 2 + places parts."""
    return Hand(serial({"turn": 5, "grind": 5, "gauge": gauge("grind")}, [0, places]))


def inside(hand: Hand, *counts: int) -> list[int]:
    """Parts counted in each loop; set first if given."""
    loops = [hand.floor[r.LOOPS] + n * r.LOOP_SIZE for n in range(hand.floor[r.N_LOOPS])]
    for loop, count in zip(loops, counts, strict=False):
        hand.floor[loop + r.LOOP_INSIDE] = count
    return [hand.floor[loop + r.LOOP_INSIDE] for loop in loops]


def admits(hand: Hand, start: str, end: str) -> bool:
    return loops_admit(hand.floor, hand.steps[start], hand.steps[end])


@pytest.mark.parametrize(("count", "admitted"), [(0, True), (2, True), (3, False), (4, False)])
def test_of_a_loop_of_four_places_one_stays_free(count: int, admitted: bool) -> None:
    hand = one_loop()
    inside(hand, count)
    assert admits(hand, "turn", "grind") == admitted


def test_a_full_loop_does_not_hold_back_parts_inside_it_or_before_it() -> None:
    hand = one_loop()
    inside(hand, 4)
    assert admits(hand, "grind", "park_2")
    assert admits(hand, "gauge", "grind")
    assert admits(hand, "stocker", "turn")


def test_a_part_that_comes_counts_from_its_reservation_until_it_leaves_the_loop() -> None:
    hand = one_loop()
    enter_loops(hand.floor, hand.steps["turn"], hand.steps["grind"])
    assert inside(hand) == [1]
    leave_loops(hand.floor, hand.steps["gauge"], hand.step("grind", "INDEX"))  # back for rework: still inside
    assert inside(hand) == [1]
    leave_loops(hand.floor, hand.steps["gauge"], hand.step("tray", "INDEX"))
    assert inside(hand) == [0]


def test_a_part_that_does_not_come_after_all_is_not_counted() -> None:
    hand = one_loop()
    enter_loops(hand.floor, hand.steps["turn"], hand.steps["park_2"])
    cancel_entry(hand.floor, hand.steps["turn"], hand.steps["park_2"])
    assert inside(hand) == [0]


def test_a_part_scrapped_inside_a_loop_gives_its_place_back() -> None:
    hand = one_loop()
    hand.work("grind.1")
    inside(hand, 3)
    scrap_part(hand.floor, hand.at("grind.1"), hand.steps["grind"])
    assert inside(hand) == [2]


def test_a_direct_move_into_a_loop_waits_for_the_last_place() -> None:
    hand = one_loop(places=0)  # two places: grind and gauge
    hand.finish("turn.1")
    hand.fill("gauge.1")
    inside(hand, 1)
    move_directly(hand.floor)
    assert "grind.1" not in hand.where()
    hand.set("gauge.1", PHASE=r.FINISHED)
    hand.look()
    move_directly(hand.floor)  # the part in gauge leaves for the tray, and the one in turn may enter
    assert "grind.1" in hand.where()
    assert inside(hand) == [1]


def nested() -> Hand:
    """Outer loop turn, grind, gauge, wash, final (5 places); inner loop grind, gauge (2 places)."""
    stations = {"turn": 5, "grind": 5, "gauge": gauge("grind"), "wash": 5, "final": gauge("turn")}
    return Hand(serial(stations))


def test_of_nested_loops_each_keeps_one_place_free() -> None:
    hand = nested()
    inside(hand, 0, 4)  # in file order: the gauge's loop, then the final inspection's
    assert not admits(hand, "stocker", "turn")
    assert admits(hand, "turn", "grind")
    inside(hand, 1, 1)
    assert admits(hand, "stocker", "turn")
    assert not admits(hand, "turn", "grind")


def test_a_part_sent_back_through_the_outer_loop_enters_the_inner_one_again() -> None:
    hand = nested()
    inside(hand, 0, 1)
    enter_loops(hand.floor, hand.steps["turn"], hand.steps["grind"])
    leave_loops(hand.floor, hand.steps["gauge"], hand.step("wash", "INDEX"))
    assert inside(hand) == [0, 1]
    leave_loops(hand.floor, hand.steps["final"], hand.step("turn", "INDEX"))
    assert inside(hand) == [0, 1]
    enter_loops(hand.floor, hand.steps["turn"], hand.steps["grind"])
    assert inside(hand) == [1, 1]


def test_of_crossing_loops_each_counts_the_parts_that_really_are_in_it() -> None:
    """Loop A: turn, grind, gauge; loop B: grind, gauge, final. A reject of the gauge leaves B backwards, for turn."""
    hand = Hand(serial({"turn": 5, "grind": 5, "gauge": gauge("turn"), "final": gauge("grind")}))
    inside(hand, 1, 1)  # one part, in the gauge
    leave_loops(hand.floor, hand.steps["gauge"], hand.step("turn", "INDEX"))
    assert inside(hand) == [1, 0]
