"""The page of a sensitivity study, against outputs chosen by hand."""

from __future__ import annotations

import pandas as pd
import pytest

from linesim.report.page import html
from linesim.report.sensitivity_page import sensitivity_book, sensitivity_page, tornado, worth
from linesim.results import Sensitivity
from linesim.results.intervals import Estimate
from linesim.results.sensitivity import VALUE_COLUMNS
from tests.unit.report.pages import HOSTILE, Reading, results_of
from tests.unit.results.ledgers import line

OUTPUTS = {  # kind, name, at -> output in three replications; as it is: 20, 21, 22
    ("base", "", ""): (20.0, 21.0, 22.0),
    ("lever", "turn.cycle", "10 %"): (22.0, 23.1, 23.9),
    ("lever", "grind.cycle", "10 %"): (20.0, 21.0, 22.1),
    ("range", "stations.turn.cycle", "80 s"): (21.0, 22.1, 22.9),
    ("range", "stations.turn.cycle", "95 s"): (18.0, 19.1, 19.9),
}


@pytest.fixture(scope="module")
def found() -> Sensitivity:
    rows = [(*key, number, made) for key, outputs in OUTPUTS.items() for number, made in enumerate(outputs, 1)]
    about = {**results_of(line()).about, "name": HOSTILE, "step_percent": 10.0, "replications": [1, 2, 3]}
    about["units"] = {"turn.cycle": "1 %", "grind.cycle": "1 %"}
    about["words"] = {"turn.cycle": f"cycle of turn {HOSTILE}", "grind.cycle": "cycle of grind"}
    return Sensitivity(pd.DataFrame(rows, columns=VALUE_COLUMNS), about)


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
