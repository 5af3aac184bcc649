"""Acceptance tests: marks and risks, by hand and against tables."""

from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
import pytest

import linesim
from linesim.line import LineError
from linesim.results.acceptance import OUTPUT_COLUMNS, Acceptance
from linesim.results.plots.acceptance import ACCEPTANCES


def of(promised: list[int], slower: list[int], mark: float | None = None, risk: float = 0.05) -> Acceptance:
    rows = [
        (name, n, made) for name, tests in (("promised", promised), ("slower", slower)) for n, made in enumerate(tests)
    ]
    about = {"lines": ["promised", "slower"], "hours": 8.0, "warmup_hours": 20.0, "seed": 1, "mark": mark, "risk": risk}
    return Acceptance(pd.DataFrame(rows, columns=OUTPUT_COLUMNS), about)


HUNDRED = list(range(101, 201))  # one test each of 101 to 200 parts


def test_who_makes_the_mark_passes_with_the_bounds_of_the_tables() -> None:
    """9 of 10: 55.5 to 99.7 %; none of ten: up to 30.85 % (exact binomial limits, tabled in books on statistics)."""
    found = of([180] * 9 + [179], [170] * 10).passing(180)
    assert found["passes"].tolist() == [0.9, 0.0]
    assert found["low"].tolist() == pytest.approx([0.5550, 0.0], abs=5e-5)
    assert found["high"].tolist() == pytest.approx([0.9975, 0.3085], abs=5e-5)


def test_the_highest_mark_for_a_risk_is_failed_by_just_so_many() -> None:
    """Of 101 to 200 five stay below 106 and six below 107."""
    found = of(HUNDRED, HUNDRED)
    highest, _ = found.mark_for(0.05)
    assert highest == 106
    made = np.array(HUNDRED)
    assert ((made < highest).mean(), (made < highest + 1).mean()) == (0.05, 0.06)


def test_a_mark_to_be_sure_of_is_the_lowest_of_a_hundred() -> None:
    """Of 100 a binomial number lies below the twentieth: P(none) = 0.0059, P(one at most) = 0.0371, above 2.5 %: the
    lowest value is the bound. Of 71 none is."""
    assert of(HUNDRED, HUNDRED).mark_for(0.05)[1] == 101
    assert of(HUNDRED[:71], HUNDRED).mark_for(0.05)[1] is None


def test_both_risks_are_told() -> None:
    told = of(HUNDRED, [n - 60 for n in HUNDRED], mark=150).text_summary()
    assert "a mark of 150 good parts: promised passes in 51.0 %" in told
    assert "a mark of 150 good parts: slower passes in 0.0 %" in told
    assert "highest mark that promised fails in 5.0 % of tests at most: 106 (101, to be sure at 97.5 %)" in told
    assert "with a mark of 101 slower passes all the same in 40.0 %" in told


def test_too_few_tests_are_told_to_be_so() -> None:
    assert "more tests are needed to be sure of one" in of(HUNDRED[:20], HUNDRED[:20]).text_summary()


SLOW: dict[str, Any] = {"name": "slow", "route": ["turn"], "stations": {"turn": {"cycle": "600 s"}}}


def test_a_test_counts_the_good_parts_of_its_hours(tmp_path: Path) -> None:
    """Six parts an hour without chance: 12 in two hours; at 300 s twice as many."""
    quick = linesim.load_line(SLOW, overrides=["stations.turn.cycle=300s"])
    how: dict[str, Any] = {"hours": 2, "warmup_hours": 1, "replications": 3, "seed": 1, "engine": "simpy"}
    found = linesim.acceptance({"slow": linesim.load_line(SLOW), "quick": quick}, mark=12, **how)
    assert found.outputs.groupby("line")["good_parts"].agg(list).to_dict() == {"slow": [12] * 3, "quick": [24] * 3}
    assert found.mark_for(0.05)[0] == 12
    found.save(tmp_path)
    again = linesim.open_results(tmp_path)
    assert isinstance(again, Acceptance)
    assert again.text_summary() == found.text_summary()
    assert {file.stem for file in (tmp_path / "plots").iterdir()} == set(ACCEPTANCES)


@pytest.mark.parametrize("wrong", [{"mark": -1}, {"risk_percent": 0}, {"risk_percent": 100}, {"hours": 0}])
def test_what_is_no_test_is_refused(wrong: dict[str, Any]) -> None:
    with pytest.raises(LineError, match="must be"):
        linesim.acceptance({"slow": linesim.load_line(SLOW)}, **wrong)


def test_no_line_is_no_test() -> None:
    with pytest.raises(ValueError, match="needs a line"):
        linesim.acceptance({})
