"""The page of an acceptance test, against tests chosen by hand."""

from __future__ import annotations

import pytest

from linesim.report import acceptance_sheets as sheets
from linesim.report.acceptance_page import acceptance_book, acceptance_page
from linesim.report.page import html
from linesim.report.sheets import PERCENT, interval
from linesim.results.intervals import Estimate
from tests.unit.report.pages import HOSTILE, Reading, cells
from tests.unit.report.studies import acceptance as found


def test_who_passes_a_mark_is_told_with_bounds() -> None:
    """120 or more: 81 of 101 to 200, and 31 of 51 to 150. Bounds of 81 of 100 from a beta law, worked out apart."""
    share = cells(sheets.passing(found(), 120), "promised")[1]
    assert isinstance(share, Estimate)
    assert share.mean == 0.81
    assert interval(share, PERCENT) == "71.9 to 88.2 %"
    other = cells(sheets.passing(found(), 120), HOSTILE)[1]
    assert isinstance(other, Estimate)
    assert other.mean == 0.31


def test_a_risk_has_its_mark_and_the_share_of_the_other_line_that_passes_it() -> None:
    """Of 101 to 200 ten stay below 111, so the highest mark for 10 % is 111."""
    row = cells(sheets.risks(found()), "10.0 %")
    assert row[1] == 111
    assert row[2] <= 111
    assert isinstance(row[3], Estimate)
    assert row[3].mean == pytest.approx((150 - row[2] + 1) / 100)
    assert [row[0] for row in sheets.risks(found()).rows] == ["1.0 %", "2.0 %", "5.0 %", "10.0 %", "20.0 %"]


def test_too_few_tests_to_be_sure_of_a_mark_are_told() -> None:
    """None of a hundred tests may fail a mark for 1 %, and to be sure of that takes 368: 0.99 ** 368 < 0.025."""
    assert cells(sheets.risks(found()), "1.0 %")[2] is None


def test_the_page_takes_names_as_text_and_tells_both_risks() -> None:
    contents = {"promised": {"a": {"b": "1 s"}}, HOSTILE: {"a": {"b": "2 s"}}}
    read = Reading(html(acceptance_page(found(), contents)))
    assert (read.mismatched, read.open) == ([], [])
    assert "b" not in read.words
    answer = " ".join(read.words["li"])
    assert "“promised” passes a mark of 120 good parts in 81.0 % of tests" in answer
    assert f"“{HOSTILE}” passes all the same in" in answer
    assert "“promised” fails a mark of 106 in 5.0 % of these tests at most" in answer
    assert [words for words in read.words["th"] if words == "a.b"] == ["a.b"]


def test_one_line_and_no_mark_are_enough() -> None:
    alone = found(None, ("promised",))
    read = Reading(html(acceptance_page(alone, {"promised": None})))
    assert (read.mismatched, read.open) == ([], [])
    assert [leaf.name for leaf in acceptance_book(alone, {"promised": None})] == [
        "Outputs", "Marks", "Tests", "How it was run",
    ]  # fmt: skip


def test_the_workbook_holds_each_test() -> None:
    leaves = {leaf.name: leaf for leaf in acceptance_book(found(), {})}
    assert len(leaves["Tests"].sheets[0].rows) == 200
    assert [sheet.title for sheet in leaves["Marks"].sheets] == ["A mark of 120 good parts", "Which mark a risk allows"]
