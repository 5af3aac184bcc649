"""Direct hand-overs: the most downstream possible move first, until none is left."""

from __future__ import annotations

from linesim.engine.contract import records as r
from linesim.engine.contract.decide import look_at_everything
from linesim.engine.contract.log import ROW_LEAVE
from linesim.engine.contract.moves import move_directly
from linesim.engine.contract.ways import reserve
from tests.helpers.lines import serial
from tests.unit.engine.floors import Hand, jam


def move(hand: Hand) -> list[tuple[int, str]]:
    """Look everywhere, make all direct moves; returns (part, place left) in the order of the moves."""
    floor = hand.floor
    floor[r.TRACING], floor[r.N_TRACE] = 1, 0
    look_at_everything(floor)
    move_directly(floor)
    rows = [floor[floor[r.TRACE_AT] + 5 * n :][:5] for n in range(floor[r.N_TRACE])]
    return [(part, hand.layout.owners[owner].name) for _, what, owner, part, _ in rows if what == ROW_LEAVE]


def test_the_most_downstream_part_moves_first() -> None:
    hand = Hand(serial({"turn": 5, "mill": 5, "grind": 5}))
    for name in ("turn.1", "mill.1", "grind.1"):
        hand.finish(name)  # parts 1, 2 and 3
    assert move(hand) == [(3, "grind.1"), (2, "mill.1"), (1, "turn.1"), (4, "stocker")]
    assert hand.where() == {"turn.1": [4], "mill.1": [1], "grind.1": [2]}


def test_a_part_passes_an_empty_buffer_in_the_same_instant() -> None:
    hand = Hand(serial({"turn": 5, "grind": 5}, [2]))
    hand.finish("turn.1")
    assert move(hand)[:2] == [(1, "turn.1"), (1, "park_1")]
    assert hand.where() == {"turn.1": [2], "grind.1": [1]}


def test_a_part_does_not_pass_a_buffer_whose_least_stay_runs() -> None:
    line = serial({"turn": 5, "grind": 5}, [2])
    line["buffers"]["park_1"]["dwell"] = "3 s"
    hand = Hand(line)
    hand.finish("turn.1")
    assert (1, "park_1") not in move(hand)
    assert hand.where() == {"turn.1": [2], "park_1": [1]}
    assert hand.wakes() == [(r.START_DWELL, "park_1")]


def test_of_several_finished_machines_the_first_to_finish_hands_on_first() -> None:
    hand = Hand(serial({"turn": {"cycle": "5 s", "machines": 3}, "grind": 5}))
    for name, since in (("turn.1", 30), ("turn.2", 10), ("turn.3", 20)):
        hand.finish(name, since)
    assert move(hand)[0] == (2, "turn.2")
    assert hand.where()["grind.1"] == [2]


def test_of_machines_that_finished_together_the_first_in_the_file_hands_on_first() -> None:
    hand = Hand(serial({"turn": {"cycle": "5 s", "machines": 2}, "grind": 5}))
    hand.finish("turn.1", 10)
    hand.finish("turn.2", 10)
    assert move(hand)[0] == (1, "turn.1")


def test_a_machine_that_is_down_lets_one_that_finished_later_go_first() -> None:
    hand = Hand(serial({"turn": {"cycle": "5 s", "machines": 2, "breakdowns": jam()}, "grind": 5}))
    hand.finish("turn.1", 10)
    hand.finish("turn.2", 20)
    hand.break_down("turn.1")
    assert move(hand)[0] == (2, "turn.2")


def test_parts_leave_a_buffer_in_the_order_in_which_they_came() -> None:
    hand = Hand(serial({"turn": 5, "grind": {"cycle": "5 s", "machines": 2}}, [3]))
    hand.fill("park_1", 3)
    assert move(hand)[:2] == [(1, "park_1"), (2, "park_1")]
    assert hand.where()["park_1"] == [3]


def test_a_finished_part_stays_while_there_is_no_room_downstream() -> None:
    hand = Hand(serial({"turn": 5, "grind": 5}, [1]))
    hand.finish("turn.1")
    hand.fill("park_1")
    hand.fill("grind.1")
    assert move(hand) == []


def test_a_part_goes_to_the_room_that_its_machine_reserved_before_service() -> None:
    hand = Hand(
        serial({"turn": {"cycle": "5 s", "blocking": "before_service"}, "grind": {"cycle": "5 s", "machines": 2}})
    )
    hand.finish("turn.1")
    hand.set("turn.1", ROOM=hand.at("grind.2"))
    reserve(hand.floor, hand.steps["turn"], hand.at("grind.2"), hand.at("turn.1"))
    move(hand)
    assert hand.where()["grind.2"] == [1]
    assert hand.get("grind.2", "COMING") == r.NONE


def test_a_buffer_place_reserved_before_service_is_used_up_by_the_part_that_comes() -> None:
    hand = Hand(serial({"turn": {"cycle": "5 s", "blocking": "before_service"}, "grind": 5}, [2]))
    hand.fill("grind.1")
    hand.finish("turn.1")
    hand.set("turn.1", ROOM=hand.at("park_1"))
    reserve(hand.floor, hand.steps["turn"], hand.at("park_1"), hand.at("turn.1"))
    move(hand)
    assert (hand.get("park_1", "LEVEL"), hand.get("park_1", "ROOM_TAKEN")) == (1, 0)


def test_parts_wait_for_the_loader_where_one_joins_the_places() -> None:
    stops = {"stops": {"turn": "0 m", "grind": "2 m"}, "speed": "1 m/s", "acceleration": "1 m/s2"}
    times = {"pick": "1 s", "place": "1 s", "exchange": "1 s"}
    hand = Hand(serial({"turn": 5, "grind": 5}, loaders={"gantry": stops | times}))
    hand.finish("turn.1")
    assert move(hand) == []
    hand.finish("grind.1")
    assert move(hand) == [(2, "grind.1")]


def test_a_reject_goes_straight_back_to_the_station_that_reworks_it() -> None:
    gauge = {"cycle": "5 s", "inspection": {"rework": {"to": "grind"}}}
    hand = Hand(serial({"grind": 5, "gauge": gauge}))
    hand.finish("gauge.1")
    hand.set("gauge.1", PART_TO=hand.steps["grind"])
    assert move(hand)[0] == (1, "gauge.1")
    assert hand.where()["grind.1"] == [1]
