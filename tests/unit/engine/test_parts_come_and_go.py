"""What a part's move changes at the place it leaves and the place it reaches."""

from __future__ import annotations

from linesim.engine.contract import records as r
from linesim.engine.contract.leaving import scrap_part
from linesim.engine.contract.levels import count_level
from linesim.engine.contract.places import put_part, ripe_at, ripen, take_part
from tests.unit.engine.floors import Hand, gantry_line


def park(dwell: str = "0 s") -> Hand:
    return Hand(gantry_line(park=3, dwell=dwell))


def take(hand: Hand, name: str) -> int:
    """Take a part from a place; returns its id."""
    return hand.floor[take_part(hand.floor, hand.at(name), -1) + r.PART_ID]


def test_parts_leave_a_buffer_first_in_first_out_round_and_round_its_places() -> None:
    hand = park()
    hand.fill("park_1", 2)
    left = []
    for _ in range(7):  # more than the capacity, so the places are used again
        hand.fill("park_1")
        left.append(take(hand, "park_1"))
    assert left == [1, 2, 3, 4, 5, 6, 7]
    assert hand.where()["park_1"] == [8, 9]


def test_without_a_least_stay_every_part_is_ripe_when_it_comes() -> None:
    hand = park()
    hand.fill("park_1", 2)
    assert (hand.get("park_1", "RIPE"), hand.get("park_1", "LEVEL")) == (2, 2)
    assert hand.wakes() == []


def test_each_part_is_ripe_when_its_own_least_stay_is_over() -> None:
    """Least stay 60 s; parts come at 0, 10 and 25 s."""
    hand = park("60 s")
    buffer = hand.at("park_1")
    assert ripe_at(hand.floor, buffer) == -1
    for time_s in (0, 10, 25):
        hand.now(time_s * 10**6)
        hand.fill("park_1")
    assert hand.wakes() == [(r.START_DWELL, "park_1")]  # the first starts the timer, the others queue behind it
    due = []
    for _ in range(3):
        due.append(ripe_at(hand.floor, buffer))
        ripen(hand.floor, buffer)
    assert due == [60_000_000, 70_000_000, 85_000_000]
    assert (hand.get("park_1", "RIPE"), ripe_at(hand.floor, buffer)) == (3, -1)


def test_a_part_taken_while_others_ripen_leaves_their_times_alone() -> None:
    hand = park("60 s")
    hand.fill("park_1")
    hand.now(5)
    hand.fill("park_1")
    ripen(hand.floor, hand.at("park_1"))
    assert take(hand, "park_1") == 1
    assert ripe_at(hand.floor, hand.at("park_1")) == 60_000_005


def test_the_time_at_each_level_of_a_buffer_is_kept() -> None:
    """0 parts for 10, 1 for 15, 2 for 5, 1 for 70."""
    hand = park()
    for time, comes in ((10, True), (25, True), (30, False)):
        hand.now(time)
        if comes:
            hand.fill("park_1")
        else:
            take(hand, "park_1")
    hand.now(100)
    count_level(hand.floor, hand.at("park_1"), 0)
    first = hand.get("park_1", "LEVEL_TIME")
    assert hand.floor[first : first + 4] == [10, 15 + 70, 5, 0]


def test_parts_inside_are_counted_from_the_infeed_to_the_outfeed_or_scrap() -> None:
    """1 inside from 10 to 20, 2 to 50, 1 to 60, none after."""
    hand = park()
    hand.now(10)
    part = hand.new_part()
    hand.now(20)
    hand.work("turn.1")
    hand.now(50)
    scrap_part(hand.floor, hand.at("turn.1"), hand.steps["turn"])
    hand.now(60)
    put_part(hand.floor, hand.at("tray"), part, -1)
    first = hand.floor[r.WIP_TIME]
    assert hand.floor[first : first + 3] == [10, 10 + 10, 30]
    assert hand.floor[r.WIP_AREA] == 1 * 20 + 2 * 30
    assert (hand.floor[r.INSIDE], hand.floor[r.ENTERED]) == (0, 2)


def test_a_part_that_leaves_is_written_down_with_its_fate() -> None:
    """Columns: time, part, entered, fate (0 good, 1 scrapped), defect, station charged, reworks, part type,
    station where it became scrap."""
    hand = park()
    hand.now(3)
    good = hand.new_part()
    hand.layout.set(good, REWORKS=2)
    bad = hand.work("grind.1")
    hand.layout.set(bad, DEFECT=4)
    hand.now(8)
    put_part(hand.floor, hand.at("tray"), good, -1)
    scrap_part(hand.floor, hand.at("grind.1"), hand.steps["turn"])
    first = hand.floor[r.DEPARTURES_AT]
    assert hand.floor[first : first + 18] == [8, 1, 3, 0, -1, -1, 2, -1, -1, 8, 2, 3, 1, 4, 0, 0, -1, 1]


def test_ids_of_parts_never_come_again_though_their_records_do() -> None:
    hand = park()
    part = hand.new_part()
    put_part(hand.floor, hand.at("tray"), part, -1)
    again = hand.new_part()
    assert again == part
    assert hand.floor[again + r.PART_ID] == 2


def test_an_emptied_machine_waits_from_that_instant_and_forgets_who_took_the_part() -> None:
    hand = park()
    hand.finish("turn.1", since=4)
    hand.set("turn.1", TAKING=hand.at("gantry.1"))
    hand.now(9)
    take(hand, "turn.1")
    assert [hand.get("turn.1", field) for field in ("PHASE", "SINCE", "TAKING")] == [r.EMPTY, 9, r.NONE]
    assert hand.get("turn.1", "PART") == r.NO_PART
