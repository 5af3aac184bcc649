"""Calls: a part that is ready and has a place to go by loader opens one; it closes when either ends or it is taken."""

from __future__ import annotations

import pytest

from linesim.engine.contract import records as r
from linesim.engine.contract.calls import called_for_by, refresh_calls
from linesim.engine.contract.touch import touch
from linesim.engine.contract.tours import choose_tour
from tests.unit.engine.floors import Hand, gantry_line


def test_a_call_opens_when_the_part_is_ready_and_has_a_place_to_go() -> None:
    hand = Hand(gantry_line())
    hand.finish("turn.1")
    hand.now(7)
    hand.look()
    assert hand.calls() == {"turn.1": (7, "grind.1")}
    assert hand.get("gantry.1", "N_CALLS") == 1


def test_a_ready_part_without_a_place_to_go_opens_no_call() -> None:
    hand = Hand(gantry_line())
    hand.finish("turn.1")
    hand.work("grind.1")
    hand.look()
    assert hand.calls() == {}


def test_a_call_counts_from_the_instant_when_its_place_came_free_not_from_the_end_of_work() -> None:
    hand = Hand(gantry_line())
    hand.finish("turn.1", since=3)
    hand.fill("grind.1")
    hand.now(5)
    hand.look()
    hand.set("grind.1", PHASE=r.EMPTY)
    hand.now(9)
    hand.look()
    assert hand.calls() == {"turn.1": (9, "grind.1")}


def test_a_call_that_stays_open_keeps_its_beginning_though_it_finds_another_place() -> None:
    hand = Hand(gantry_line(grind=2))
    hand.finish("turn.1")
    hand.fill("grind.1")
    hand.now(5)
    hand.look()
    assert hand.calls()["turn.1"] == (5, "grind.2")
    hand.set("grind.1", PHASE=r.EMPTY)
    hand.break_down("grind.2")
    hand.now(8)
    hand.look()
    assert hand.calls()["turn.1"] == (5, "grind.1")


def test_a_call_closes_when_its_place_goes_down_and_opens_anew_after_the_repair() -> None:
    hand = Hand(gantry_line())
    hand.finish("turn.1")
    hand.now(5)
    hand.look()
    hand.break_down("grind.1")
    hand.now(6)
    hand.look()
    assert hand.calls() == {}
    assert hand.get("gantry.1", "N_CALLS") == 0
    hand.set("grind.1", DOWN=r.NONE)
    hand.now(8)
    hand.look()
    assert hand.calls() == {"turn.1": (8, "grind.1")}


def test_a_call_closes_when_a_tour_takes_its_part() -> None:
    hand = Hand(gantry_line())
    hand.finish("turn.1")
    hand.look()
    choose_tour(hand.floor, hand.at("gantry.1"))
    refresh_calls(hand.floor)
    assert "turn.1" not in hand.calls()


@pytest.mark.parametrize("place", ["stocker", "park_1"])
def test_the_next_part_of_a_place_opens_a_call_of_its_own_when_the_first_is_taken(place: str) -> None:
    """Two machines are free and two parts are ready there; the first is taken at 9: the second one's call begins."""
    hand = Hand(gantry_line(turn=2, grind=2, park=3))
    if place == "park_1":
        hand.fill("park_1", 2)
        for machine in ("turn.1", "turn.2"):
            hand.work(machine)
    else:
        hand.set("park_1", ROOM_TAKEN=3)
    hand.now(4)
    hand.look()
    assert hand.calls()[place][0] == 4
    hand.now(9)
    choose_tour(hand.floor, hand.at("gantry.1"))
    refresh_calls(hand.floor)
    assert hand.calls()[place][0] == 9


def test_a_place_touched_is_looked_at_with_all_that_may_bring_parts_to_it() -> None:
    """A change at grind lets a part behind two empty places call, without a look at the whole line."""
    hand = Hand(gantry_line(park=2))
    hand.finish("turn.1")
    hand.break_down("grind.1")
    hand.look()
    assert hand.calls() == {"turn.1": (0, "park_1")}
    hand.set("grind.1", DOWN=r.NONE)
    touch(hand.floor, hand.steps["grind"])
    refresh_calls(hand.floor)
    assert hand.calls() == {"turn.1": (0, "grind.1")}


def test_a_station_called_for_by_when_an_open_call_would_bring_a_part_to_it_past_a_buffer() -> None:
    hand = Hand(gantry_line(park=2))
    hand.finish("turn.1")
    hand.look()
    assert called_for_by(hand.floor, hand.steps["grind"])
    assert not called_for_by(hand.floor, hand.steps["park_1"])
    assert not called_for_by(hand.floor, hand.steps["turn"])  # the stocker's part has no room while turn holds one
