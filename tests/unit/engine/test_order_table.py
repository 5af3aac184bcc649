"""Of the timers that end at one instant, which goes first; and which timers stand still."""

from __future__ import annotations

import pytest

from linesim.engine.contract import records as r
from linesim.engine.contract.order import is_at_work, may_run, order_table, strikes_now
from tests.helpers.lines import loader, serial
from tests.unit.engine.floors import Hand, every, jam


def full_line() -> Hand:
    """Every kind of timer, twice where there are two owners; on purpose the file names them in another order."""
    by_time = {"wash": {"every": "60 min", "takes": "5 min"}}
    turn = {
        "cycle": "5 s",
        "machines": 2,
        "cleaning": by_time,
        "tool_change": {"insert": every(9)},
        "breakdowns": {"leak": {"mtbf": "9 h", "mttr": "1 h", "clock": "calendar"}, **jam()},
    }
    grind = {"cycle": "5 s", "breakdowns": jam(), "call_ahead": "2 s"}
    line = serial({"turn": turn, "grind": grind}, [2])
    line["buffers"]["park_1"]["dwell"] = "3 s"
    belt = {"belt": {"mtbf": "9 h", "mttr": "1 h"}}
    return Hand(line | {"loaders": {"gantry": loader({"grind": 6, "tray": 9}, breakdowns=belt)}})


def test_the_order_of_timers_that_end_at_one_instant() -> None:
    hand = full_line()
    table = [(kind, hand.names[record]) for kind, record in order_table(hand.floor)]
    leaks = ["turn.1 leak", "turn.2 leak"]
    jams = ["turn.1 jam", "turn.2 jam", "grind.1 jam", "gantry.1 belt"]
    turns = ["turn.1 insert", "turn.1 wash", "turn.2 insert", "turn.2 wash"]
    assert table == [
        *((r.REPAIR, f"{m} {cause}") for m in ("turn.1", "turn.2") for cause in ("leak", "jam")),
        *((r.REPAIR, name) for name in jams[2:]),
        *((r.STOP_JOB, name) for name in turns),
        *((r.OPERATION, name) for name in ("turn.1", "turn.2", "grind.1")),
        (r.CALL_AHEAD, "grind.1"),
        (r.LEG, "gantry.1"),
        (r.STAY, "park_1"),
        *((r.TRIGGER_CLOCK, name) for name in jams + leaks),
        *((r.TRIGGER_CLOCK, name) for name in ("turn.1 wash", "turn.2 wash")),
    ]


def test_each_timer_stands_on_the_floor_at_its_rank() -> None:
    hand = full_line()
    for rank, (kind, record) in enumerate(order_table(hand.floor)):
        timer = hand.floor[r.TIMERS] + rank * r.TIMER_SIZE
        assert (hand.floor[timer + r.TIMER_KIND], hand.floor[timer + r.TIMED]) == (kind, record)


def test_a_machine_holds_its_operation_its_stops_and_its_breakdowns_and_nobody_holds_a_least_stay() -> None:
    hand = full_line()
    held = dict.fromkeys(("turn.1", "grind.1", "gantry.1"), 0)
    for name in held:
        first = hand.get(name, "OWN_TIMERS")
        for rank in hand.floor[first : first + hand.get(name, "N_OWN_TIMERS")]:
            assert hand.floor[hand.floor[r.TIMERS] + rank * r.TIMER_SIZE + r.HOLDER] == hand.at(name)
            held[name] += 1
    # turn: 2 repairs, 2 stops, 1 operation, 2 clocks of breakdowns, 1 of the stop by time; grind: 1 call ahead
    assert held == {"turn.1": 8, "grind.1": 4, "gantry.1": 3}


def runs(hand: Hand, kind: int, record: str, owner: str) -> bool:
    return may_run(hand.floor, kind, hand.at(record), hand.at(owner))


def test_while_a_machine_is_down_its_clocks_stand_still_but_for_the_repair() -> None:
    hand = full_line()
    hand.work("turn.1")
    kinds = [
        (r.REPAIR, "turn.1 jam"),
        (r.STOP_JOB, "turn.1 insert"),
        (r.OPERATION, "turn.1"),
        (r.TRIGGER_CLOCK, "turn.1 jam"),
        (r.TRIGGER_CLOCK, "turn.1 leak"),
        (r.TRIGGER_CLOCK, "turn.1 wash"),
    ]
    assert [runs(hand, kind, record, "turn.1") for kind, record in kinds] == [True] * 6
    hand.break_down("turn.1")
    assert [runs(hand, kind, record, "turn.1") for kind, record in kinds] == [True] + [False] * 5


@pytest.mark.parametrize(("phase", "ages"), [(r.EMPTY, 0), (r.LOADED, 0), (r.WORKING, 1), (r.FINISHED, 0)])
def test_a_working_clock_runs_only_while_an_operation_runs_and_a_calendar_always(phase: int, ages: int) -> None:
    hand = full_line()
    hand.set("turn.1", PHASE=phase)
    assert runs(hand, r.TRIGGER_CLOCK, "turn.1 jam", "turn.1") == bool(ages)
    assert runs(hand, r.TRIGGER_CLOCK, "turn.1 leak", "turn.1")


@pytest.mark.parametrize(
    ("motion", "ages"), [(r.IDLE, False), (r.STANDING, False), (r.MOVING, True), (r.HANDLING, True), (r.PARKING, True)]
)
def test_the_working_clock_of_a_carriage_runs_while_it_moves_or_handles(motion: int, ages: bool) -> None:
    hand = full_line()
    hand.set("gantry.1", MOTION=motion)
    assert is_at_work(hand.floor, hand.at("gantry.1")) == ages


def test_a_least_stay_runs_whatever_is_down() -> None:
    hand = full_line()
    assert may_run(hand.floor, r.STAY, hand.at("park_1"), r.NONE)


def test_a_breakdown_due_at_the_very_end_of_an_operation_still_strikes() -> None:
    """The operation has just ended, so the working clock would stand still; what is due now ends all the same."""
    hand = full_line()
    hand.finish("turn.1")
    turn = hand.at("turn.1")
    assert strikes_now(hand.floor, r.TRIGGER_CLOCK, turn)
    hand.break_down("turn.1", "leak")
    assert not strikes_now(hand.floor, r.TRIGGER_CLOCK, turn)  # the first cause due wins, the others keep their age
    hand.set("turn.1", DOWN=r.NONE)
    assert not strikes_now(hand.floor, r.OPERATION, turn)
