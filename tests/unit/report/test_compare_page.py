"""The page of a comparison, against two lines whose ledgers are written by hand.

`now` makes 5 good parts in 1000 s, 18 an hour; the other makes 7, 7 and 6 in three replications beside 5, 5 and 5.
"""

from __future__ import annotations

import numpy as np
import pytest

from linesim.line import Line
from linesim.report import compare_sheets
from linesim.report.compare_page import compare_page
from linesim.report.page import html
from linesim.report.parts import Words
from linesim.results import Comparison, Results
from tests.unit.report.pages import HOSTILE, Reading
from tests.unit.results.ledgers import DEPARTURES, departures, ledger, line

Departure = tuple[int, int, int, int, int, int, int]
MONEY = {"life": "10 years", "wages": "40 /h"}  # no interest, nothing but depreciation and labour
EXTRA = (950, 8, 700, 0, -1, -1, 0)
FURTHER = (960, 9, 700, 0, -1, -1, 0)


def priced(price: str) -> Line:
    stations = {"mill": {"cycle": "60 s", "machines": 2, "price": price}, "gauge": {"cycle": "20 s"}}
    return line(money=MONEY, stations=stations, crews={"people": {"people": 1}})


def results_of(shown: Line, added: list[list[Departure]]) -> Results:
    told = []
    for number, more in enumerate(added, 1):
        left = departures(sorted([*DEPARTURES, *more]))
        told.append(ledger(replication=number, departures=left, characteristics=(), sizes=NO_SIZES))
    results = Results(shown, told)
    choice = {"next_call": "downstream_first", "places": [], "grippers": 2, "exchanges_per_tour": 1}
    results.about["loaders"] = {"gantry": choice}
    return results


NO_SIZES = np.empty((0, 6), dtype=np.int64)


@pytest.fixture(scope="module")
def known() -> dict[str, Line | None]:
    return {"now": priced("100 k"), HOSTILE: priced("120 k")}


@pytest.fixture(scope="module")
def comparison(known: dict[str, Line | None]) -> Comparison:
    now, more = known.values()
    assert now is not None
    assert more is not None
    added = [[EXTRA, FURTHER], [EXTRA, FURTHER], [EXTRA]]
    return Comparison({"now": results_of(now, [[], [], []]), HOSTILE: results_of(more, added)})


def test_the_page_tells_the_difference_and_takes_names_as_text(comparison: Comparison, known: dict[str, Line]) -> None:
    page = html(compare_page(comparison, known, {}))
    read = Reading(page)
    assert (read.mismatched, read.open) == ([], [])
    assert HOSTILE in read.words["dt"]
    assert "b" not in read.words
    answer = " ".join(read.words["li"])
    assert "+6.00 good parts/h beside the base" in answer  # (2 + 2 + 1) / 3 parts in 1000 s
    assert "may" not in answer.partition("makes the most")[0]


def test_each_step_is_told_with_what_it_buys(comparison: Comparison) -> None:
    steps = compare_sheets.steps(comparison)
    assert steps is not None
    (row,) = steps.rows
    assert row[1] == pytest.approx(40)  # two mills, 20 k each
    assert row[4] == pytest.approx(40 / 6)


def test_break_even_is_where_the_sheet_gives_the_same_cost(comparison: Comparison, known: dict[str, Line]) -> None:
    """Now: (200 k / 10 + 4000 h x 40) a year by 18 x 4000 parts, scrap 2 of 5 parts at that cost.

    The dearer line has (240 k / 10 + 160 k) a year, so it needs 184 / 180 of the output, less scrap: 6 of 20 parts.
    """
    (told,) = compare_sheets.break_even(comparison, known)
    needed = 18 * 184 / 180 * (1 + 6 / 20) / (1 + 2 / 5)
    assert f"from {needed:.2f} good parts/h on; it makes 24.00" in told
    assert told.endswith("reaches that.")


def test_without_files_and_money_the_page_holds_what_is_left(comparison: Comparison) -> None:
    page = compare_page(comparison, dict.fromkeys(comparison.names), {})
    words = [part for section in page.sections for part in section.parts if isinstance(part, Words)]
    assert not any("costs no more" in sentence for each in words for sentence in each.sentences)
    assert "plan" not in [section.anchor for section in page.sections]


def test_a_choice_of_the_best_is_told_instead_of_a_comparison_with_it(comparison: Comparison) -> None:
    found = {"measure": "throughput_per_h", "indifference": 0.2, "left": ["now"], "decided": True}
    found["most_replications"] = 50
    chosen = Comparison(comparison.results, found)
    page = compare_page(chosen, dict.fromkeys(chosen.names), {})
    told = next(part for part in page.sections[0].parts if isinstance(part, Words)).sentences
    assert told[0] == "The best by output is now, with 95 % confidence, if the best leads by 0.2 parts/h or more."
    assert not any("makes the most" in sentence for sentence in told)
    undecided = Comparison(comparison.results, {**found, "left": ["now", "then"], "decided": False})
    page = compare_page(undecided, dict.fromkeys(chosen.names), {})
    told = next(part for part in page.sections[0].parts if isinstance(part, Words)).sentences
    assert told[0].startswith("Not decided with 50 replications: the best by output is one of now, then,")
