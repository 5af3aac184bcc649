"""The page of a sweep, against a sweep by hand."""

from __future__ import annotations

import pytest

from linesim.report import sweep_sheets
from linesim.report.page import html
from linesim.report.parts import Tiles, Words
from linesim.report.sweep_page import sweep_book, sweep_page
from linesim.results.intervals import Estimate
from tests.unit.report.pages import HOSTILE, Reading
from tests.unit.report.sweeps import sweep


def test_the_page_takes_levels_as_text_and_tells_the_best() -> None:
    page = html(sweep_page(sweep(HOSTILE)))
    read = Reading(page)
    assert (read.mismatched, read.open) == ([], [])
    assert HOSTILE in read.words["td"]
    assert "b" not in read.words
    assert any("one of 2, with 95 % confidence: 2, 4." in words for words in read.words["li"])
    assert any("loader moves the output most" in words for words in read.words["li"])


def test_the_best_and_the_least_point_are_told_with_their_levels() -> None:
    """Means of 25.13 at point 4, 21 at point 1."""
    (tiles,) = (part for part in sweep_page(sweep()).sections[0].parts if isinstance(part, Tiles))
    most, least, _ = tiles.tiles
    assert (most.figure, list(most.below[1:])) == ("25.13", ["point 4", "turn.machines: 2", "loader: quick"])
    assert (least.figure, list(least.below[1:])) == ("21.00", ["point 1", "turn.machines: 1", "loader: slow"])


def test_points_come_with_the_most_output_first_and_those_that_no_other_beats_are_told() -> None:
    table = sweep_sheets.points(sweep())
    assert [row[0] for row in table.rows] == [4, 2, 3, 1]
    assert [row[-1] for row in table.rows] == ["yes", "yes", "", "yes"]
    first = next(cell for cell in table.rows[0] if isinstance(cell, Estimate))
    assert first.mean == pytest.approx((24.0 + 25.1 + 26.3) / 3)
    assert table.filterable


def test_a_long_table_is_cut_on_the_page_and_whole_in_the_workbook() -> None:
    table = sweep_sheets.points(sweep(), most=3)
    assert len(table.rows) == 3
    assert "The 3 with most output of 4" in table.note
    assert len(sweep_book(sweep())[0].sheets[0].rows) == 4


def test_the_factor_that_does_most_comes_first() -> None:
    """The quick loader makes 4 more with one machine and 3.7 with two; a second machine 0.43 and 0.13."""
    rows = sweep_sheets.effects(sweep()).rows
    assert [row[:2] for row in rows[:2]] == [["loader", "slow"], ["loader", "quick"]]
    change = rows[1][4]
    assert isinstance(change, Estimate)
    assert change.mean == pytest.approx((4.0 + 3.7) / 2, abs=0.01)


def test_an_unfinished_sweep_says_so() -> None:
    parts = [part for section in sweep_page(sweep(planned=40)).sections for part in section.parts]
    words = [sentence for part in parts if isinstance(part, Words) for sentence in part.sentences]
    assert "Not finished: 12 of 40 runs are there, and each figure says what it rests on." in words
