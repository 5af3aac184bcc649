"""No heading of a page says again what the one above it says."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest

from linesim.report.acceptance_page import acceptance_page
from linesim.report.compare_page import compare_page
from linesim.report.page import html
from linesim.report.parts import Page, Section
from linesim.report.run_page import run_page
from linesim.report.sensitivity_page import sensitivity_page
from linesim.report.sheets import TEXT, Column, Sheet
from linesim.report.sweep_page import sweep_page
from linesim.results import Comparison
from tests.unit.report.pages import Reading, results_of
from tests.unit.report.studies import acceptance, sensitivity
from tests.unit.report.sweeps import sweep
from tests.unit.results.ledgers import line


def compared() -> Page:
    both = Comparison({"now": results_of(line()), "then": results_of(line())})
    return compare_page(both, {"now": line(), "then": line()}, {})


PAGES: dict[str, Callable[[], Page]] = {
    "run": lambda: run_page(results_of(line()), line()),
    "comparison": compared,
    "sweep": lambda: sweep_page(sweep()),
    "sensitivity": lambda: sensitivity_page(sensitivity()),
    "acceptance": lambda: acceptance_page(acceptance(), {}),
}


@pytest.mark.parametrize("kind", PAGES)
def test_titles_of_tables_and_plots_differ_from_that_of_their_section(kind: str) -> None:
    page = html(PAGES[kind]())
    read = Reading(page)
    sections = [words.strip().lower() for words in read.words["h2"]]
    captions = [words.strip().lower() for words in read.words["caption"]]
    of_plots = [
        words.strip().lower()
        for words in re.findall(r'<text style="font-weight: 700; font-size: 12px[^>]*>([^<]+)', page)
    ]
    assert len(sections) >= 4
    assert len(of_plots) >= 1
    together = sections + captions + of_plots
    assert [title for title in together if together.count(title) > 1] == []


def test_a_table_with_a_title_of_its_own_keeps_it_and_each_is_named_for_who_cannot_see() -> None:
    sheets = [Sheet(title, [Column("what", form=TEXT)], [["a"]]) for title in ("Stock", "Buffers")]
    read = Reading(html(Page("a line", "", [Section("stock", "Stock", sheets)])))
    assert read.words["caption"] == ["Buffers"]
    assert [value for _, name, value in read.attributes if name == "aria-label"] == ["contents", "Stock", "Buffers"]
