"""Time: booked on the state that lasted and on its cause, and on spells of activity."""

from __future__ import annotations

from linesim.engine.contract import records as r
from linesim.engine.contract.ledger import MachineState
from linesim.engine.contract.states import count_state
from tests.helpers.lines import Plain
from tests.unit.engine.floors import Hand, every, gantry_line


def cell() -> Plain:
    """Nothing is ready anywhere but at the stocker, so grind is starved."""
    line = gantry_line()
    line["stations"]["grind"]["dressing"] = {"wheel": every(100)}
    return line


def tally(hand: Hand, owner: str, which: MachineState) -> int:
    return hand.floor[hand.at(owner) + r.TALLY + which]


def test_time_is_booked_on_the_state_that_lasted() -> None:
    hand = Hand(cell())
    hand.set_states()  # starved from 0
    hand.fill("grind.1")
    hand.set("grind.1", PHASE=r.WORKING)
    hand.now(40)
    hand.set_states()  # working from 40
    hand.now(70)
    count_state(hand.floor, hand.at("grind.1"))
    assert tally(hand, "grind.1", MachineState.STARVED) == 40
    assert tally(hand, "grind.1", MachineState.WORKING) == 30
    hand.now(75)
    count_state(hand.floor, hand.at("grind.1"))
    assert tally(hand, "grind.1", MachineState.WORKING) == 35


def test_time_in_a_breakdown_is_booked_on_its_cause_waiting_apart_from_repair() -> None:
    hand = Hand(cell())
    hand.break_down("grind.1", progress=r.CALLED)
    hand.set_states()
    hand.now(20)
    hand.break_down("grind.1", progress=r.UNDER_WAY)
    hand.set_states()
    hand.now(50)
    hand.set("grind.1", DOWN=r.NONE)
    hand.set_states()
    assert [hand.get("grind.1 jam", field) for field in ("WAITING_TIME", "LASTING_TIME")] == [20, 30]


def test_a_stop_that_follows_another_at_once_is_booked_on_itself() -> None:
    """Two tool changes in a row leave the state as it is; only the cause changes."""
    line = gantry_line()
    line["stations"]["grind"]["tool_change"] = {"insert": every(100), "drill": every(100)}
    hand = Hand(line)
    hand.stop("grind.1", "insert")
    hand.set_states()
    hand.now(20)
    hand.stop("grind.1", "drill")
    hand.set_states()
    hand.now(50)
    count_state(hand.floor, hand.at("grind.1"))
    assert [hand.get(f"grind.1 {name}", "LASTING_TIME") for name in ("insert", "drill")] == [20, 30]
    assert tally(hand, "grind.1", MachineState.TOOL_CHANGE) == 50


def test_a_spell_runs_through_changes_between_active_states_and_ends_with_waiting() -> None:
    """Working from 10, dressing from 30, waiting for a crew from 45: active from 10 to 45."""
    hand = Hand(cell())
    hand.set_states()
    hand.now(10)
    hand.fill("grind.1")
    hand.set("grind.1", PHASE=r.WORKING)
    hand.set_states()
    hand.now(30)
    hand.set("grind.1", PHASE=r.FINISHED)
    hand.stop("grind.1", "wheel")
    hand.set_states()
    assert hand.spells() == []
    hand.now(45)
    hand.break_down("grind.1", progress=r.CALLED)
    hand.set_states()
    assert hand.spells() == [[hand.get("grind.1", "NUMBER"), 10, 45]]


def test_an_active_state_of_no_length_leaves_no_spell() -> None:
    hand = Hand(cell())
    hand.now(10)
    hand.set("grind.1", PHASE=r.WORKING)
    hand.set_states()
    hand.set("grind.1", PHASE=r.EMPTY)
    hand.set_states()
    assert hand.spells() == []
