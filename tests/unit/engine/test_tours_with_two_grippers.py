"""Tours with two grippers: begin at a part ready upstream and swap; and tours whose part to swap out is gone."""

from __future__ import annotations

from linesim.engine.contract import records as r
from linesim.engine.contract.leaving import scrap_part
from linesim.engine.contract.tours import choose_tour, commit_tour, end_tour_here
from tests.helpers.lines import Plain
from tests.unit.engine.floors import Hand, gantry_line

Tour = list[tuple[str, str]]


def two_grippers(**keys: object) -> Plain:
    return gantry_line(**{"grippers": 2, "park": 2} | keys)  # type: ignore[arg-type]


def choose(hand: Hand) -> Tour:
    hand.look()
    choose_tour(hand.floor, hand.at("gantry.1"))
    return hand.tour()


def test_a_tour_for_a_finished_part_begins_at_a_part_ready_for_that_machine_and_swaps() -> None:
    hand = Hand(two_grippers())
    hand.fill("park_1")
    hand.finish("grind.1")
    assert choose(hand) == [("pick", "park_1"), ("exchange", "grind.1"), ("put", "tray")]


def test_a_part_behind_an_empty_buffer_is_swapped_in() -> None:
    hand = Hand(two_grippers())
    hand.finish("turn.1")
    hand.finish("grind.1")
    assert choose(hand) == [("pick", "turn.1"), ("exchange", "grind.1"), ("put", "tray")]


def test_a_part_behind_a_buffer_that_holds_one_is_not_swapped_in() -> None:
    hand = Hand(two_grippers(dwell="60 s"))
    hand.fill("park_1")  # its least stay is not over
    hand.finish("turn.1")
    hand.finish("grind.1")
    assert choose(hand) == [("pick", "grind.1"), ("put", "tray")]


def test_without_a_part_upstream_the_finished_part_is_fetched_alone() -> None:
    hand = Hand(two_grippers())
    hand.work("turn.1")
    hand.finish("grind.1")
    assert choose(hand) == [("pick", "grind.1"), ("put", "tray")]


def test_one_gripper_never_swaps() -> None:
    hand = Hand(two_grippers(grippers=1))
    hand.fill("park_1")
    hand.finish("grind.1")
    assert choose(hand) == [("pick", "grind.1"), ("put", "tray")]


def test_a_tour_makes_one_exchange_unless_more_are_allowed() -> None:
    chain = [("pick", "stocker"), ("exchange", "turn.1"), ("exchange", "grind.1"), ("put", "tray")]
    for allowed, tour in ((1, [("pick", "turn.1"), *chain[2:]]), (2, chain), (5, chain)):
        hand = Hand(two_grippers(exchanges_per_tour=allowed))
        hand.finish("turn.1")
        hand.finish("grind.1")
        assert choose(hand) == tour


def test_of_several_ready_machines_upstream_the_first_to_finish_is_swapped_in() -> None:
    hand = Hand(two_grippers(turn=3))
    for name, since in (("turn.1", 9), ("turn.2", 4), ("turn.3", 6)):
        hand.finish(name, since)
    hand.finish("grind.1")
    assert choose(hand)[0] == ("pick", "turn.2")


def test_a_part_in_a_machine_that_is_down_is_not_swapped_in() -> None:
    hand = Hand(two_grippers())
    hand.finish("turn.1")
    hand.break_down("turn.1")
    hand.finish("grind.1")
    assert choose(hand) == [("pick", "grind.1"), ("put", "tray")]


def test_a_part_for_an_empty_machine_is_carried_there_without_a_swap() -> None:
    hand = Hand(two_grippers())
    hand.fill("park_1")
    assert choose(hand) == [("pick", "park_1"), ("put", "grind.1")]


def test_a_part_of_another_loader_is_not_swapped_in() -> None:
    line = two_grippers()
    gantry = line["loaders"]["gantry"]
    stops = gantry["stops"]
    line["loaders"]["feeder"] = {**gantry, "stops": {name: stops[name] for name in ("stocker", "turn", "park_1")}}
    gantry["stops"] = {name: stops[name] for name in ("park_1", "grind", "tray")}
    hand = Hand(line)
    hand.finish("turn.1")
    hand.finish("grind.1")
    assert choose(hand) == [("pick", "grind.1"), ("put", "tray")]


def test_nearest_measures_to_the_start_of_the_swap_not_to_the_called_machine() -> None:
    """From 9 m: grind.1 is 3 m away, but its tour would begin at turn.2, 6 m away; the stocker is 5 m away."""
    line = two_grippers(turn=2, park=0, next_call="nearest")
    line["loaders"]["gantry"]["stops"]["stocker"] = "4 m"
    hand = Hand(line)
    hand.finish("turn.2")
    hand.finish("grind.1")
    hand.set("gantry.1", AT=4)  # the tray
    assert choose(hand) == [("pick", "stocker"), ("put", "turn.1")]


def test_a_swap_reserves_all_its_places_at_once() -> None:
    hand = Hand(two_grippers())
    hand.fill("park_1")
    hand.finish("grind.1")
    choose(hand)
    gantry = hand.at("gantry.1")
    assert hand.get("park_1", "PARTS_TAKEN") == 1
    assert (hand.get("grind.1", "COMING"), hand.get("grind.1", "TAKING")) == (gantry, gantry)


def chain_on_its_way(blocking: str = "after_service") -> Hand:
    """A tour stocker, turn.1, park_1 that reaches turn.1 with a part on board while turn.1 still works."""
    line = two_grippers(exchanges_per_tour=2)
    line["stations"]["turn"]["blocking"] = blocking
    hand = Hand(line)
    hand.fill("grind.1")
    hand.work("turn.1")
    if blocking == "before_service":
        hand.set("turn.1", ROOM=hand.at("park_1"))
        hand.set("park_1", ROOM_TAKEN=1)
    tour = hand.get("gantry.1", "TOUR")
    stops = (("stocker", r.PICK), ("turn.1", r.EXCHANGE), ("park_1", r.PUT))
    hand.floor[tour : tour + 6] = [number for place, action in stops for number in (hand.at(place), action)]
    hand.set("gantry.1", N_TOUR=3)
    commit_tour(hand.floor, hand.at("gantry.1"))
    hand.set("gantry.1", TOUR_AT=1, HELD=hand.new_part())
    return hand


def test_when_the_part_to_swap_out_was_scrapped_the_tour_ends_there() -> None:
    hand = chain_on_its_way()
    assert hand.get("park_1", "ROOM_TAKEN") == 1
    scrap_part(hand.floor, hand.at("turn.1"), hand.steps["turn"])
    end_tour_here(hand.floor, hand.at("gantry.1"))
    assert hand.tour() == [("pick", "stocker"), ("put", "turn.1")]
    assert hand.get("park_1", "ROOM_TAKEN") == 0
    assert (hand.get("turn.1", "TAKING"), hand.get("turn.1", "COMING")) == (r.NONE, hand.at("gantry.1"))


def test_room_that_the_scrapped_part_had_reserved_itself_is_given_up_only_once() -> None:
    hand = chain_on_its_way("before_service")
    assert hand.get("park_1", "ROOM_TAKEN") == 1
    scrap_part(hand.floor, hand.at("turn.1"), hand.steps["turn"])
    end_tour_here(hand.floor, hand.at("gantry.1"))
    assert hand.get("park_1", "ROOM_TAKEN") == 0
