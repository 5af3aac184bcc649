"""What a carriage does next at a stop of its tour, and how handling takes effect when it ends."""

from __future__ import annotations

from typing import Any

from linesim.engine.contract import records as r
from linesim.engine.contract.carriages import drive_carriages, end_handling, end_leg
from tests.unit.engine.floors import Hand, gantry_line

US = 1_000_000


def at_grind(grippers: int = 1, **keys: object) -> Hand:
    """The loader stands in front of grind.1, whose finished part it is about to take to the tray."""
    hand = Hand(gantry_line(**{"grippers": grippers} | keys))  # type: ignore[arg-type]
    hand.work("turn.1")
    hand.finish("grind.1")
    hand.set("gantry.1", AT=2)
    hand.look()
    return hand


def drive(hand: Hand) -> list[tuple[int, str]]:
    """Let the carriages go on; returns the timers they asked for."""
    hand.floor[r.N_WAKES] = 0
    drive_carriages(hand.floor)
    return hand.wakes()


def test_a_carriage_sets_off_for_the_first_stop_of_its_tour() -> None:
    hand = at_grind()
    hand.set("gantry.1", AT=0)  # the stocker, 6 m away at 1 m/s
    assert drive(hand) == [(r.START_LEG, "gantry.1")]
    assert (hand.get("gantry.1", "MOTION"), hand.get("gantry.1", "LEG_TIME")) == (r.MOVING, 6 * US)


def test_a_carriage_that_is_there_already_handles_at_once() -> None:
    hand = at_grind()
    assert drive(hand) == [(r.START_LEG, "gantry.1")]
    assert hand.get("gantry.1", "MOTION") == r.HANDLING
    assert hand.get("grind.1", "HANDLED") == hand.at("gantry.1")


def test_handling_takes_as_long_as_its_kind_and_place_say() -> None:
    """Unload out of grind: 7 s at that stop; load into turn: 5 s; exchange at turn: 9 s; pick 2 s; place 3 s."""
    keys: dict[str, Any] = {"load": "5 s", "unload": "4 s", "exchange": "9 s", "pick": "2 s", "place": "3 s"}
    line = gantry_line(grippers=2, **keys)
    line["loaders"]["gantry"]["stops"]["grind"] = {"at": "6 m", "unload": "7 s"}
    hand = Hand(line)
    times = hand.get("gantry.1", "TIMES")
    table = [hand.floor[times + 3 * stop : times + 3 * stop + 3] for stop in range(4)]
    assert table == [[2 * US, 0, 3 * US], [4 * US, 9 * US, 5 * US], [7 * US, 9 * US, 5 * US], [2 * US, 0, 3 * US]]


def test_a_part_is_in_the_machine_until_unloading_ends_and_then_on_board() -> None:
    hand = at_grind()
    part = hand.get("grind.1", "PART")
    drive(hand)
    assert hand.get("grind.1", "PART") == part
    end_handling(hand.floor, hand.at("gantry.1"))
    assert hand.get("gantry.1", "HELD") == part
    assert hand.get("grind.1", "PHASE") == r.EMPTY
    assert hand.get("grind.1", "HANDLED") == hand.get("grind.1", "TAKING") == r.NONE
    assert hand.get("gantry.1", "MOTION") == r.STANDING


def test_an_exchange_takes_one_part_out_and_puts_the_other_in_at_its_end() -> None:
    hand = at_grind(grippers=2, park=2)
    out = hand.get("grind.1", "PART")
    hand.fill("park_1")
    hand.set("gantry.1", AT=2)  # the park
    hand.look()
    drive(hand)
    assert hand.tour() == [("pick", "park_1"), ("exchange", "grind.1"), ("put", "tray")]
    end_handling(hand.floor, hand.at("gantry.1"))
    fresh = hand.get("gantry.1", "HELD")
    assert (hand.get("park_1", "LEVEL"), hand.get("park_1", "PARTS_TAKEN")) == (0, 0)
    drive(hand)
    end_leg(hand.floor, hand.at("gantry.1"))
    drive(hand)
    end_handling(hand.floor, hand.at("gantry.1"))
    assert (hand.get("gantry.1", "HELD"), hand.get("grind.1", "PART")) == (out, fresh)
    assert (hand.get("grind.1", "PHASE"), hand.get("grind.1", "COMING")) == (r.LOADED, r.NONE)


def test_a_carriage_whose_machine_went_down_under_way_waits_in_front_of_it() -> None:
    hand = at_grind()
    hand.set("gantry.1", AT=0)
    drive(hand)
    hand.break_down("grind.1")
    end_leg(hand.floor, hand.at("gantry.1"))
    assert drive(hand) == []
    assert hand.get("gantry.1", "MOTION") == r.STANDING
    hand.set("grind.1", DOWN=r.NONE)
    assert drive(hand) == [(r.START_LEG, "gantry.1")]


def test_the_tour_ends_with_the_part_in_its_place_and_the_carriage_idle() -> None:
    hand = at_grind()
    gantry = hand.at("gantry.1")
    drive(hand)
    end_handling(hand.floor, gantry)  # unloaded
    drive(hand)
    end_leg(hand.floor, gantry)  # at the tray
    drive(hand)
    end_handling(hand.floor, gantry)
    assert (hand.get("gantry.1", "MOTION"), hand.get("gantry.1", "HELD")) == (r.IDLE, r.NO_PART)
    assert hand.floor[r.N_DEPARTURES] == 1


def test_a_carriage_that_is_down_takes_no_call() -> None:
    line = gantry_line(breakdowns={"belt": {"mtbf": "9 h", "mttr": "1 h"}})
    hand = Hand(line)
    hand.look()
    hand.break_down("gantry.1", "belt")
    assert drive(hand) == []
    hand.set("gantry.1", DOWN=r.NONE)
    assert drive(hand) != []


def test_an_idle_carriage_goes_to_where_it_parks_and_stays_there() -> None:
    hand = Hand(gantry_line(park_at="grind"))
    for name in ("turn.1", "grind.1"):
        hand.work(name)
    hand.look()
    assert drive(hand) == [(r.START_LEG, "gantry.1")]
    assert (hand.get("gantry.1", "MOTION"), hand.get("gantry.1", "AT")) == (r.PARKING, 2)
    end_leg(hand.floor, hand.at("gantry.1"))
    assert drive(hand) == []
    assert hand.get("gantry.1", "MOTION") == r.IDLE


def test_a_carriage_can_park_at_the_very_first_stop() -> None:
    hand = Hand(gantry_line(park_at="stocker"))
    for name in ("turn.1", "grind.1"):
        hand.work(name)
    hand.set("gantry.1", AT=2)
    hand.look()
    drive(hand)
    assert (hand.get("gantry.1", "MOTION"), hand.get("gantry.1", "AT")) == (r.PARKING, 0)


def test_without_a_parking_place_an_idle_carriage_stays_where_it_is() -> None:
    hand = Hand(gantry_line())
    for name in ("turn.1", "grind.1"):
        hand.work(name)
    hand.look()
    assert drive(hand) == []


def test_a_carriage_finds_the_place_that_another_one_has_just_emptied() -> None:
    line = gantry_line(park=1)
    gantry = line["loaders"]["gantry"]
    stops = gantry["stops"]
    gantry["stops"] = {name: stops[name] for name in ("park_1", "grind", "tray")}
    line["loaders"]["feeder"] = {**gantry, "stops": {name: stops[name] for name in ("stocker", "turn", "park_1")}}
    hand = Hand(line)
    hand.fill("park_1")
    hand.finish("turn.1")
    hand.look()
    assert drive(hand) == [(r.START_LEG, "gantry.1")]  # until its pick has ended the park is full
    end_handling(hand.floor, hand.at("gantry.1"))
    assert (r.START_LEG, "feeder.1") in drive(hand)
