"""The page of a sensitivity study, against outputs chosen by hand."""

from __future__ import annotations

import pytest

from linesim.report.page import html
from linesim.report.sensitivity_page import sensitivity_book, sensitivity_page, tornado, worth
from linesim.results import Sensitivity
from linesim.results.intervals import Estimate
from tests.unit.report.pages import HOSTILE, Reading
from tests.unit.report.studies import sensitivity


@pytest.fixture(scope="module")
def found() -> Sensitivity:
    return sensitivity()


def test_worth_is_told_for_one_percent_and_the_greatest_first(found: Sensitivity) -> None:
    rows = worth(found).rows
    assert [row[0] for row in rows] == [f"cycle of turn {HOSTILE}", "cycle of grind"]
    first = rows[0][1]
    assert isinstance(first, Estimate)
    assert first.mean == pytest.approx(0.2)  # (2 + 2.1 + 1.9) / 3 for 10 %
    assert [row[3] for row in rows] == ["more", "no difference shown"]


def test_the_end_of_a_range_that_matters_most_is_named(found: Sensitivity) -> None:
    rows = tornado(found).rows
    assert [row[1] for row in rows] == ["80 s", "95 s"]
    page = html(sensitivity_page(found))
    read = Reading(page)
    assert (read.mismatched, read.open) == ([], [])
    assert "b" not in read.words
    answer = " ".join(read.words["li"])
    assert "The assumption that matters most is stations.turn.cycle" in answer
    assert HOSTILE in answer


def test_the_workbook_has_both_tables(found: Sensitivity) -> None:
    assert [leaf.name for leaf in sensitivity_book(found)] == ["Improvements", "Assumptions", "How it was run"]
