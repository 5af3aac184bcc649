"""The decision as a whole: from what ended at this instant to the timers that start, and the error when nothing can."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from linesim.engine.contract import records as r
from linesim.engine.contract.decide import decide, look_at_everything
from linesim.engine.contract.ledger import MachineState
from linesim.engine.contract.lockup import locked_up
from linesim.engine.contract.records import Floor
from linesim.engine.contract.stoppages import fail, fall_due, repaired
from linesim.engine.contract.touch import touch_room, touch_supply
from linesim.engine.contract.work import end_operation
from tests.helpers.lines import serial
from tests.unit.engine.floors import Hand, every, gantry_line, jam


def decided(hand: Hand) -> list[tuple[int, str]]:
    """Decide once; returns the timers it starts."""
    hand.floor[r.N_WAKES] = 0
    decide(hand.floor)
    return hand.wakes()


def opened(hand: Hand) -> Hand:
    """The first decision of a run has been made."""
    look_at_everything(hand.floor)
    decide(hand.floor)
    return hand


def test_a_line_begins_with_a_part_at_the_first_machine() -> None:
    hand = Hand(serial({"turn": 5, "grind": 5}))
    look_at_everything(hand.floor)
    assert decided(hand) == [(r.START_OPERATION, "turn.1")]
    assert hand.where() == {"turn.1": [1]}
    states = [MachineState(hand.get(name, "STATE")) for name in ("turn.1", "grind.1")]
    assert states == [MachineState.WORKING, MachineState.STARVED]


def test_a_second_decision_at_the_same_instant_finds_nothing_to_do() -> None:
    for hand in (opened(Hand(serial({"turn": 5, "grind": 5}, [2]))), opened(Hand(gantry_line(park=2)))):
        before = hand.floor.copy()
        look_at_everything(hand.floor)
        assert decided(hand) == []
        after = hand.floor.copy()
        before[r.N_WAKES] = 0
        lists = {hand.floor[at] for at in (r.WAKES, r.MOVES, r.STALE, r.CHANGED, r.IN_VIEW)}
        first = min(lists)  # behind it lie lists whose contents do not count once they are empty
        assert after[:first] == before[:first]


def test_every_list_of_things_to_look_at_is_empty_after_a_decision() -> None:
    hand = opened(Hand(gantry_line(turn=2, grind=2, park=2)))
    assert [hand.floor[at] for at in (r.N_MOVES, r.N_STALE, r.N_CHANGED, r.N_IN_VIEW, r.N_READY)] == [0] * 5
    for field in ("ON_MOVES", "ON_STALE", "ON_CHANGED", "ON_VIEW"):
        assert [hand.step(name, field) for name in hand.steps] == [0] * len(hand.steps)


def test_the_end_of_an_operation_lets_the_part_go_on_and_the_next_one_come_in_one_decision() -> None:
    hand = opened(Hand(serial({"turn": 5, "grind": 5})))
    hand.now(5)
    end_operation(hand.floor, hand.at("turn.1"), -1, -1)
    assert decided(hand) == [(r.START_OPERATION, "turn.1"), (r.START_OPERATION, "grind.1")]
    assert hand.where() == {"turn.1": [2], "grind.1": [1]}


def test_a_stop_due_at_the_end_of_an_operation_keeps_the_finished_part_on_board() -> None:
    hand = opened(Hand(serial({"turn": {"cycle": "5 s", "dressing": {"wheel": every(1)}}, "grind": 5})))
    end_operation(hand.floor, hand.at("turn.1"), -1, -1)
    assert decided(hand) == [(r.START_STOPPAGE, "turn.1 wheel")]
    assert hand.where() == {"turn.1": [1]}


def test_a_starved_machine_whose_stop_falls_due_waits_for_its_setter_without_another_look() -> None:
    wash = {"every": "60 min", "takes": "5 min", "age": "0 min", "crew": "setter"}
    line = serial({"turn": 5, "grind": {"cycle": "5 s", "cleaning": {"wash": wash}}}, crews={"setter": {}})
    hand = opened(Hand(line))
    hand.set("setter", FREE=0)  # busy elsewhere
    fall_due(hand.floor, hand.at("grind.1 wash"))
    assert decided(hand) == []
    assert hand.get("grind.1", "STATE") == MachineState.WAITING_SETTER


def test_a_repaired_machine_takes_the_part_that_waited_for_it() -> None:
    hand = Hand(serial({"turn": 5, "grind": {"cycle": "5 s", "breakdowns": jam()}}))
    hand.finish("turn.1")
    fail(hand.floor, hand.at("grind.1 jam"))
    opened(hand)
    assert hand.where() == {"turn.1": [1]}
    repaired(hand.floor, hand.at("grind.1 jam"))
    assert (r.START_OPERATION, "grind.1") in decided(hand)
    assert hand.where()["grind.1"] == [1]


def test_a_repaired_machine_hands_on_the_finished_part_on_board() -> None:
    hand = Hand(serial({"turn": {"cycle": "5 s", "breakdowns": jam()}, "grind": 5}))
    hand.finish("turn.1")
    fail(hand.floor, hand.at("turn.1 jam"))
    opened(hand)
    assert hand.where() == {"turn.1": [1]}
    repaired(hand.floor, hand.at("turn.1 jam"))
    decided(hand)
    assert hand.where() == {"turn.1": [2], "grind.1": [1]}


def test_crews_loaders_and_machines_all_get_their_turn_in_one_decision() -> None:
    line = gantry_line() | {"crews": {"fitter": {}}}
    line["stations"]["turn"]["breakdowns"] = jam(crew="fitter")
    hand = Hand(line)
    hand.fill("grind.1")
    fail(hand.floor, hand.at("turn.1 jam"))
    look_at_everything(hand.floor)
    assert decided(hand) == [(r.START_STOPPAGE, "turn.1 jam"), (r.START_OPERATION, "grind.1")]
    hand.now(9)
    repaired(hand.floor, hand.at("turn.1 jam"))
    assert decided(hand) == [(r.START_LEG, "gantry.1")]


@pytest.mark.parametrize(("touch", "step"), [(touch_supply, "turn"), (touch_room, "grind")])
def test_what_did_not_change_is_not_looked_at(touch: Callable[[Floor, int], None], step: str) -> None:
    """Turn has finished, but nobody said so: only a touch brings its part into the decision."""
    hand = opened(Hand(serial({"turn": 5, "grind": 5})))
    hand.set("turn.1", PHASE=r.FINISHED)
    assert decided(hand) == []
    touch(hand.floor, hand.steps[step])
    assert (r.START_OPERATION, "grind.1") in decided(hand)


def test_a_line_that_can_go_no_further_says_when_and_which_parts_are_where() -> None:
    hand = Hand(gantry_line(park=2))
    hand.finish("turn.1")
    hand.fill("park_1", 2)
    hand.set("gantry.1", HELD=hand.new_part())
    hand.now(1_234_567_000)
    error = locked_up(hand.layout, hand.floor)
    assert error.time_us == 1_234_567_000
    assert error.parts == {"turn.1": [1], "park_1": [2, 3], "gantry.1": [4]}
    assert "t = 1,234.567 s" in str(error)
    assert "park_1: part 2, 3" in str(error)
