"""States: the first that applies, from the top, when several could; and the time booked on each."""

from __future__ import annotations

import pytest

from linesim.engine.contract import records as r
from linesim.engine.contract.ledger import CarriageState, MachineState
from tests.unit.engine.floors import Hand, every, gantry_line

STOPS = {
    "tool_change": ("insert", MachineState.TOOL_CHANGE),
    "dressing": ("wheel", MachineState.DRESSING),
    "measuring": ("probe", MachineState.MEASURING_STOP),
    "cleaning": ("wash", MachineState.CLEANING),
}


def cell(**keys: object) -> Hand:
    """Grind between turn and the tray, all under one gantry; turn works, so nothing waits for grind."""
    line = gantry_line(**keys)  # type: ignore[arg-type]
    line["stations"]["grind"] |= {kind: {name: every(100)} for kind, (name, _) in STOPS.items()}
    line["loaders"]["gantry"]["breakdowns"] = {"belt": {"mtbf": "9 h", "mttr": "1 h"}}
    hand = Hand(line)
    hand.work("turn.1")
    return hand


def state(hand: Hand, machine: str = "grind.1") -> str:
    hand.set_states()
    return MachineState(hand.get(machine, "STATE")).name.lower()


def down(hand: Hand, progress: int) -> None:
    hand.break_down("grind.1", progress=progress)


def stopped(hand: Hand, progress: int) -> None:
    hand.stop("grind.1", "insert", progress)


def works(hand: Hand) -> None:
    hand.set("grind.1", PHASE=r.WORKING)


def is_finished(hand: Hand) -> None:
    hand.set("grind.1", PHASE=r.FINISHED)


def is_handled(hand: Hand) -> None:
    hand.set("grind.1", HANDLED=hand.at("gantry.1"))


def is_awaited(hand: Hand) -> None:
    hand.set("grind.1", TAKING=hand.at("gantry.1"))


def gets_a_part(hand: Hand) -> None:
    hand.set("grind.1", COMING=hand.at("gantry.1"))


def no_way_on(hand: Hand) -> None:
    """The finished part has no call: as if its way on were full."""
    hand.floor[hand.steps["grind"] + r.WAY_OUT] = r.NONE


CONDITIONS = {
    "crew not yet at the breakdown": lambda hand: down(hand, r.CALLED),
    "crew on its way to the breakdown": lambda hand: down(hand, r.ON_THE_WAY),
    "under repair": lambda hand: down(hand, r.UNDER_WAY),
    "setter not here": lambda hand: stopped(hand, r.CALLED),
    "setter on his way": lambda hand: stopped(hand, r.ON_THE_WAY),
    "in a tool change": lambda hand: stopped(hand, r.UNDER_WAY),
    "works": works,
    "finished": is_finished,
    "handled": is_handled,
    "a tour will fetch its part": is_awaited,
    "a tour will bring a part": gets_a_part,
    "no way on": no_way_on,
}


@pytest.mark.parametrize(
    ("conditions", "expected"),
    [
        ("crew not yet at the breakdown, in a tool change, works, handled", "waiting_repair"),
        ("crew on its way to the breakdown, finished, a tour will fetch its part", "waiting_repair"),
        ("under repair, setter not here, works, handled", "under_repair"),
        ("under repair, finished, a tour will bring a part", "under_repair"),
        ("setter not here, finished, handled, a tour will bring a part", "waiting_setter"),
        ("setter on his way, finished, no way on", "waiting_setter"),
        ("in a tool change, finished, handled", "tool_change"),
        ("in a tool change, a tour will bring a part", "tool_change"),
        ("works, a tour will fetch its part, a tour will bring a part", "working"),
        ("finished, handled, a tour will fetch its part", "loading"),
        ("handled, a tour will bring a part", "loading"),
        ("finished, a tour will fetch its part, no way on", "waiting_loader"),
        ("finished, a tour will bring a part, no way on", "waiting_loader"),
        ("a tour will bring a part", "waiting_loader"),
        ("finished", "waiting_loader"),  # the tray has room: its call is open
        ("finished, no way on", "blocked"),
        ("", "starved"),
    ],
)
def test_the_first_state_from_the_top_wins(conditions: str, expected: str) -> None:
    hand = cell()
    for condition in filter(None, conditions.split(", ")):
        CONDITIONS[condition](hand)
    assert state(hand) == expected


@pytest.mark.parametrize("kind", STOPS)
def test_each_kind_of_stop_is_booked_under_its_own_name(kind: str) -> None:
    name, expected = STOPS[kind]
    hand = cell()
    hand.stop("grind.1", name)
    assert state(hand) == expected.name.lower()


def test_an_empty_machine_waits_for_the_loader_when_a_part_for_it_is_ready() -> None:
    hand = cell()
    hand.set("turn.1", PHASE=r.FINISHED)
    assert state(hand) == "waiting_loader"


def test_two_empty_machines_and_one_ready_part_both_wait_for_the_loader() -> None:
    hand = cell(grind=2)
    hand.set("turn.1", PHASE=r.FINISHED)
    assert [state(hand, "grind.1"), state(hand, "grind.2")] == ["waiting_loader"] * 2


def test_a_part_whose_least_stay_is_not_over_leaves_the_next_machine_starved() -> None:
    hand = cell(park=2, dwell="60 s")
    hand.fill("park_1")
    assert state(hand) == "starved"
    hand.set("park_1", RIPE=1)
    assert state(hand) == "waiting_loader"


def test_a_machine_whose_only_way_on_is_down_is_blocked() -> None:
    hand = cell()
    hand.set("turn.1", PHASE=r.FINISHED)
    hand.break_down("grind.1")
    assert state(hand, "turn.1") == "blocked"


def test_a_machine_waits_for_a_loader_that_is_down() -> None:
    hand = cell()
    hand.set("turn.1", PHASE=r.FINISHED)
    hand.break_down("gantry.1", "belt")
    assert state(hand) == "waiting_loader"


def test_a_machine_that_waits_for_room_before_service_is_blocked() -> None:
    hand = cell()
    hand.set("turn.1", PHASE=r.LOADED)
    assert state(hand, "turn.1") == "blocked"


def test_a_finished_machine_waits_for_the_loader_when_a_tour_would_swap_its_part_on() -> None:
    """Two grippers: a tour begins at turn, swaps at grind and ends at the tray: a tour for turn's finished part."""
    hand = cell(grippers=2)
    hand.set("turn.1", PHASE=r.FINISHED)
    hand.finish("grind.1")
    assert state(hand, "turn.1") == "waiting_loader"


@pytest.mark.parametrize(
    ("motion", "held", "progress", "expected"),
    [
        (r.MOVING, True, r.CALLED, CarriageState.WAITING_REPAIR),
        (r.HANDLING, False, r.ON_THE_WAY, CarriageState.WAITING_REPAIR),
        (r.STANDING, False, r.UNDER_WAY, CarriageState.UNDER_REPAIR),
        (r.MOVING, False, None, CarriageState.MOVING_EMPTY),
        (r.PARKING, False, None, CarriageState.MOVING_EMPTY),
        (r.MOVING, True, None, CarriageState.MOVING_LOADED),
        (r.HANDLING, True, None, CarriageState.HANDLING),
        (r.STANDING, True, None, CarriageState.WAITING_AT_MACHINE),
        (r.IDLE, False, None, CarriageState.IDLE),
    ],
)
def test_the_state_of_a_carriage(motion: int, held: bool, progress: int | None, expected: CarriageState) -> None:
    hand = cell()
    hand.set("gantry.1", MOTION=motion, HELD=hand.new_part() if held else r.NO_PART)
    if progress is not None:
        hand.break_down("gantry.1", "belt", progress)
    hand.set_states()
    assert hand.get("gantry.1", "STATE") == expected
