"""A fixed round of starting places: which the loader heads for, and when the tour from there is planned."""

from __future__ import annotations

from linesim.engine.contract import records as r
from linesim.engine.contract.rounds import go_to_next_start, plan_round_tour
from tests.unit.engine.floors import Hand, gantry_line

Tour = list[tuple[str, str]]


def round_of(*places: str, **keys: object) -> Hand:
    return Hand(gantry_line(**{"next_call": {"fixed": list(places)}} | keys))  # type: ignore[arg-type]


def head_for(hand: Hand) -> Tour:
    go_to_next_start(hand.floor, hand.at("gantry.1"))
    return hand.tour()


def plan(hand: Hand) -> Tour | None:
    """The tour from where the loader stands, None if it has to wait."""
    plan_round_tour(hand.floor, hand.at("gantry.1"))
    return hand.tour() if hand.get("gantry.1", "PLANNED") else None


def test_the_round_begins_with_its_first_place_and_goes_on_from_there() -> None:
    hand = round_of("grind", "turn", "stocker")
    for name in ("turn.1", "grind.1"):
        hand.work(name)
    assert head_for(hand) == [("pick", "grind.1")]
    assert head_for(hand) == [("pick", "turn.1")]
    assert head_for(hand) == [("pick", "stocker")]
    hand.set("grind.1", TAKING=r.NONE)
    assert head_for(hand) == [("pick", "grind.1")]


def test_the_loader_heads_for_a_part_that_is_still_being_worked_on_and_claims_it() -> None:
    hand = round_of("turn", "stocker")
    hand.work("turn.1")
    assert head_for(hand) == [("pick", "turn.1")]
    assert hand.get("turn.1", "TAKING") == hand.at("gantry.1")
    assert hand.get("gantry.1", "PLANNED") == 0


def test_an_empty_place_that_the_loader_feeds_itself_is_passed_over() -> None:
    hand = round_of("grind", "turn", "stocker")
    assert head_for(hand) == [("pick", "stocker")]


def test_at_an_empty_place_that_is_fed_otherwise_the_round_stands_still() -> None:
    line = gantry_line(next_call={"fixed": ["turn", "grind"]})
    del line["loaders"]["gantry"]["stops"]["stocker"]  # the stocker hands over to turn directly
    hand = Hand(line)
    hand.work("grind.1")
    assert head_for(hand) == []
    assert hand.get("gantry.1", "MOTION") == r.IDLE
    hand.work("turn.1")
    assert head_for(hand) == [("pick", "turn.1")]


def test_a_buffer_whose_parts_are_all_claimed_is_passed_over() -> None:
    hand = round_of("park_1", "stocker", park=2)
    hand.fill("park_1")
    hand.set("park_1", PARTS_TAKEN=1)
    assert head_for(hand) == [("pick", "stocker")]


def test_of_several_machines_the_first_to_finish_comes_first_and_one_that_still_works_last() -> None:
    hand = round_of("turn", turn=3)
    hand.finish("turn.1", since=5)
    hand.finish("turn.2", since=8)
    hand.work("turn.3", since=1)
    assert [head_for(hand) for _ in range(3)] == [[("pick", name)] for name in ("turn.1", "turn.2", "turn.3")]


def standing_at(hand: Hand, name: str) -> Hand:
    """The loader has come to this starting place."""
    go_to_next_start(hand.floor, hand.at("gantry.1"))
    assert hand.tour() == [("pick", name)]
    return hand


def test_the_loader_waits_until_the_part_is_finished_and_its_machine_can_be_served() -> None:
    hand = round_of("turn", "stocker")
    hand.work("turn.1")
    standing_at(hand, "turn.1")
    assert plan(hand) is None
    hand.set("turn.1", PHASE=r.FINISHED)
    hand.break_down("turn.1")
    assert plan(hand) is None
    hand.set("turn.1", DOWN=r.NONE)
    assert plan(hand) == [("pick", "turn.1"), ("put", "grind.1")]
    assert hand.get("grind.1", "COMING") == hand.at("gantry.1")
    assert hand.get("turn.1", "TAKING") == hand.at("gantry.1")


def test_the_loader_waits_until_the_part_has_a_place_to_go() -> None:
    hand = round_of("turn", "stocker")
    hand.finish("turn.1")
    hand.work("grind.1")
    standing_at(hand, "turn.1")
    assert plan(hand) is None
    hand.set("grind.1", PHASE=r.EMPTY)
    assert plan(hand) == [("pick", "turn.1"), ("put", "grind.1")]


def test_the_loader_waits_for_the_least_stay_of_a_part_in_a_buffer() -> None:
    hand = round_of("park_1", "stocker", park=2, dwell="60 s")
    hand.fill("park_1")
    standing_at(hand, "park_1")
    assert plan(hand) is None
    hand.set("park_1", RIPE=1)
    assert plan(hand) == [("pick", "park_1"), ("put", "grind.1")]
    assert hand.get("park_1", "PARTS_TAKEN") == 1


def test_with_two_grippers_the_tour_swaps_at_a_machine_that_still_works() -> None:
    hand = round_of("stocker", grippers=2)
    hand.work("turn.1")
    standing_at(hand, "stocker")
    assert plan(hand) == [("pick", "stocker"), ("exchange", "turn.1"), ("put", "grind.1")]
    gantry = hand.at("gantry.1")
    assert (hand.get("turn.1", "COMING"), hand.get("turn.1", "TAKING")) == (gantry, gantry)


def test_a_round_makes_no_more_exchanges_in_a_tour_than_allowed() -> None:
    for allowed, tour in (
        (1, None),  # two swaps would be needed, so the loader waits
        (2, [("pick", "stocker"), ("exchange", "turn.1"), ("exchange", "grind.1"), ("put", "tray")]),
    ):
        hand = round_of("stocker", grippers=2, exchanges_per_tour=allowed)
        hand.work("turn.1")
        hand.work("grind.1")
        standing_at(hand, "stocker")
        assert plan(hand) == tour


def test_with_one_gripper_a_round_never_swaps() -> None:
    hand = round_of("stocker")
    hand.work("turn.1")
    standing_at(hand, "stocker")
    assert plan(hand) is None


def test_a_loader_whose_part_was_scrapped_before_it_came_is_free_for_the_next_place() -> None:
    hand = round_of("turn", "stocker")
    hand.work("turn.1")
    standing_at(hand, "turn.1")
    hand.set("turn.1", PHASE=r.EMPTY)
    assert plan(hand) is None
    assert hand.get("gantry.1", "MOTION") == r.IDLE
    assert hand.get("turn.1", "TAKING") == r.NONE
