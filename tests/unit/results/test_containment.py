"""Suspect parts and late readings of a hand-written ledger, worked out on paper."""

import math
from typing import Any

import pytest

from linesim.results.measures.containment import Containment, containment
from linesim.results.measures.sizes_over_time import MOST_STRETCHES, sizes_over_time
from tests.unit.results.ledgers import ledger, readings, sizes

GOOD, BAD = 0, 9000


def made(machine: int, *parts: int) -> list[tuple[int, int, int, int, int, int]]:
    """Part n is made at 100 n seconds."""
    return [(100 * part, part, machine, 0, GOOD, 0) for part in parts]


def read(machine: int, *rows: tuple[int, int, int]) -> list[tuple[int, int, int, int, int, int, int, int]]:
    """(time, part, reading) of parts of a machine."""
    return [(time_s, part, 4, 0, machine, GOOD, reading, 0) for time_s, part, reading in rows]


def found(makings: list[Any], reads: list[Any]) -> Containment:
    told = ledger(sizes=sizes(sorted(makings)), readings=readings(sorted(reads)))
    return containment(told, 0, -2000, 2000)


def test_parts_between_the_last_good_sample_and_a_bad_one_are_suspect() -> None:
    """Parts 1, 4, 7, 8 are read. 4 is bad: 2 and 3 have gone on. 7 is bad too, but the alarm was given."""
    rows = found(made(1, *range(1, 9)), read(1, (150, 1, GOOD), (650, 4, BAD), (950, 7, BAD), (960, 8, BAD)))
    assert rows[:3] == (1, 2, 2)


def test_mean_and_most_are_of_all_alarms() -> None:
    """Parts 2 and 3 at the first, 6 at the second."""
    told = read(1, (150, 1, GOOD), (460, 4, BAD), (560, 5, GOOD), (760, 7, BAD))
    assert found(made(1, *range(1, 9)), told)[:3] == (2, 1.5, 2)


def test_only_parts_of_the_same_machine_are_suspect() -> None:
    """Machine 1 makes 1, 3, 5, machine 2 the others. 5 is bad after 1: only 3 is suspect."""
    told = read(1, (150, 1, GOOD), (560, 5, BAD)) + read(2, (250, 2, GOOD), (660, 6, GOOD))
    assert found(made(1, 1, 3, 5) + made(2, 2, 4, 6), told)[:3] == (1, 1, 1)


def test_a_first_sample_that_is_bad_makes_all_before_it_suspect() -> None:
    assert found(made(1, 1, 2, 3, 4), read(1, (450, 4, BAD)))[:3] == (1, 3, 3)


def test_what_is_read_in_the_warm_up_is_no_alarm_but_counts_as_the_last_sample() -> None:
    """The warm-up ends at 100 s."""
    early = [(10, 1, 1, 0, GOOD, 0), (20, 2, 1, 0, GOOD, 0), *made(1, 3, 4)]
    assert found(early, read(1, (15, 1, GOOD), (25, 2, BAD), (350, 3, GOOD)))[0] == 0
    assert found(early, read(1, (25, 2, GOOD), (450, 4, BAD)))[:3] == (1, 1, 1)


def test_late_are_the_parts_ended_between_a_part_and_its_reading() -> None:
    """Part 1 is read at 350 s, when 2 and 3 are made; part 5 at once; that of part 3 made again counts from then."""
    assert found(made(1, *range(1, 6)), read(1, (350, 1, GOOD), (500, 5, GOOD))).late_parts == 1
    again = [*made(1, 1, 2, 3), (500, 1, 1, 0, GOOD, 0)]
    assert found(again, read(1, (150, 1, GOOD), (500, 1, GOOD))).late_parts == 0


def test_without_readings_there_is_no_alarm_and_no_delay() -> None:
    rows = found(made(1, 1, 2), [])
    assert rows.alarms == 0
    assert all(math.isnan(value) for value in rows[1:])


def test_sizes_over_time_show_each_part_of_the_first_machine_if_they_are_few() -> None:
    table = sizes_over_time(ledger())
    assert table["machine"].unique().tolist() == ["mill.1"]
    assert table["set_to_um"].tolist() == [0.9, 0, 0, 0]
    assert table["mean_um"].tolist() == table["lowest_um"].tolist() == [0.9, -2, 1, 2]
    assert table["to_h"].tolist() == pytest.approx([50 / 3600, 100 / 3600, 300 / 3600, 900 / 3600])


def test_many_sizes_are_put_together_in_equal_stretches() -> None:
    """900 parts of sizes 0, 1, 2 ... nm: five to a stretch; the first has 0 to 4 nm, and its mean setting is 20 nm."""
    rows = [(part, part, 1, 0, part, 10 * part) for part in range(900)]
    table = sizes_over_time(ledger(sizes=sizes(rows)))
    assert len(table) == 180 <= MOST_STRETCHES
    assert table["parts"].unique().tolist() == [5]
    first = table.iloc[0]
    assert (first["lowest_um"], first["highest_um"], first["mean_um"], first["set_to_um"]) == (0, 0.004, 0.002, 0.02)


def test_a_line_without_sizes_has_an_empty_table_with_its_columns() -> None:
    none = sizes_over_time(ledger(sizes=sizes([]), characteristics=()))
    assert none.empty
    assert "set_to_um" in none
    assert sizes_over_time(ledger(sizes=sizes([]))).empty
