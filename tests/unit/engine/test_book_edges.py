"""Edges of the books: output windows, spells that touch, tallies begun anew, rows taken off the floor."""

from __future__ import annotations

import numpy as np

from linesim.engine.contract import records as r
from linesim.engine.contract.books import Books, Rows
from linesim.engine.contract.replication import stretches
from linesim.engine.contract.spells import Spells, active_since, note_spell, outlasting
from linesim.engine.contract.windows import close_window
from tests.helpers.lines import serial
from tests.unit.engine.floors import Hand


def test_a_run_tells_how_far_it_is_at_the_end_of_the_warm_up_and_a_hundred_times_behind_it() -> None:
    assert stretches(50, 1050, 1) == list(range(50, 1051, 10))
    assert stretches(0, 4, 1) == [0, 1, 2, 3, 4], "never twice the same"
    assert stretches(50, 1050, 300) == [50, 383, 716, 1050], "none shorter than wanted"
    assert stretches(50, 60, 300) == [50, 60], "but to the end"


def left_of(*rows: tuple[int, int, int], running_since: int = 100) -> list[tuple[int, ...]]:
    found = outlasting(np.array(rows, dtype=np.int64).reshape(-1, 3), running_since)
    return [tuple(row) for row in found.tolist()]


def test_a_spell_inside_one_that_ends_later_is_forgotten() -> None:
    assert left_of((2, 3, 6), (3, 0, 7), (1, 2, 9), (4, 8, 10)) == [(3, 0, 7), (1, 2, 9), (4, 8, 10)]


def test_spells_that_end_together_are_both_kept() -> None:
    assert left_of((1, 0, 5), (2, 3, 5)) == [(1, 0, 5), (2, 3, 5)]


def test_a_spell_inside_one_that_still_runs_is_forgotten() -> None:
    assert left_of((1, 0, 5), (2, 3, 6), (3, 4, 7), running_since=3) == [(1, 0, 5)]


def test_no_spells_are_no_spells() -> None:
    assert left_of() == []


def test_a_spell_goes_on_if_its_owner_is_active_again_in_the_same_instant() -> None:
    hand = Hand(serial({"mill": 5}))
    hand.floor[r.NOW] = 20
    for owner in (1, 2, 3):
        note_spell(hand.floor, owner, 10 + owner)
    assert active_since(hand.floor, 2) == 12
    assert sorted(hand.spells()) == [[1, 11, 20], [3, 13, 20]]
    assert active_since(hand.floor, 2) == 20, "it is no longer written down"
    hand.floor[r.NOW] = 21
    assert active_since(hand.floor, 1) == 21, "it was passive from 20 to 21"


def test_spells_that_lie_inside_one_that_ends_now_give_way_to_it_but_not_those_that_end_with_it() -> None:
    hand = Hand(serial({"mill": 5}))
    for now, owner, since in ((10, 1, 8), (20, 2, 12), (30, 3, 9), (30, 4, 5), (40, 5, 9)):
        hand.floor[r.NOW] = now
        note_spell(hand.floor, owner, since)
    assert hand.spells() == [[1, 8, 10], [3, 9, 30], [4, 5, 30], [5, 9, 40]], "2 lies inside 3"


def test_rows_of_spells_that_ended_just_now_stay_on_the_floor() -> None:
    hand = Hand(serial({"mill": 5}))
    spells = Spells()
    for now, owner, since in ((20, 1, 12), (30, 2, 15), (40, 3, 35)):
        hand.floor[r.NOW] = now
        note_spell(hand.floor, owner, since)
    spells.take(hand.floor, 40)
    assert hand.spells() == [[3, 35, 40]]
    assert spells.all(hand.floor, [(4, 15)]).tolist() == [[1, 12, 20], [3, 35, 40], [4, 15, 40]], "2 lies inside 4"


def held_open() -> tuple[Hand, Books]:
    """One mill, one part inside since 10; it is 30 now."""
    hand = Hand(serial({"mill": 5}))
    books = Books(hand.layout, hand.floor)
    hand.now(10)
    hand.work("mill.1")
    hand.now(30)
    return hand, books


def test_a_window_keeps_the_integral_of_the_parts_inside() -> None:
    hand, books = held_open()
    books.begin(30)
    close_window(hand.floor)  # 10 with none, 20 with one
    assert hand.floor[r.WINDOW_ENDS] == 60
    hand.now(40)
    hand.new_part()
    hand.now(55)  # 10 with one, 15 with two
    windows = books.ledger(0, 0, 0, 30).windows.tolist()
    assert windows == [[30, 20, 1], [55, 40, 2]]


def test_measuring_begins_with_empty_tallies_and_the_parts_that_are_inside() -> None:
    hand, books = held_open()
    hand.set("mill.1", PROCESSED=7)
    books.start_measuring()
    hand.now(42)
    ledger = books.ledger(0, 0, 30, 12)
    assert (ledger.entered, ledger.inside_start, ledger.inside_end) == (0, 1, 1)
    assert ledger.wip.tolist()[:2] == [0, 12]
    assert ledger.machines.processed.tolist() == [0]


def test_a_spell_that_still_runs_is_cut_at_the_horizon() -> None:
    hand, books = held_open()
    hand.set("mill.1", ACTIVE_SINCE=10)
    assert books.ledger(0, 0, 0, 30).spells.tolist() == [[hand.get("mill.1", "NUMBER"), 10, 30]]


def test_a_crew_that_is_all_busy_at_the_horizon_ends_its_spell_there_and_a_free_one_has_none() -> None:
    hand = Hand(serial({"mill": 5}, crews={"fitter": {}, "setter": {}}))
    for crew, free, since in (("fitter", 0, 10), ("setter", 1, -1)):
        hand.set(crew, FREE=free, ALL_BUSY_SINCE=since, BUSY_SINCE=30)
    hand.now(30)
    ledger = Books(hand.layout, hand.floor).ledger(0, 0, 0, 30)
    assert ledger.spells.tolist() == [[hand.get("fitter", "CREW_NUMBER"), 10, 30]]


def test_rows_taken_in_several_blocks_keep_their_order() -> None:
    rows = Rows(2)
    rows.take([0, 1, 2, 3, 4], 1, 2)
    rows.take([9, 9, 5, 6], 2, 1)
    assert rows.all().tolist() == [[1, 2], [3, 4], [5, 6]]


def test_rows_are_taken_off_the_floor_only_when_enough_have_come_together() -> None:
    hand, books = held_open()
    hand.floor[r.N_SPELLS] = 3
    books.empty_rows(4)
    assert hand.floor[r.N_SPELLS] == 3
    books.empty_rows(3)
    assert hand.floor[r.N_SPELLS] == 0
