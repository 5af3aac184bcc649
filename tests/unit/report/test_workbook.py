"""The workbook, read back by another library: numbers are numbers, units stand beside them, names are text."""

from __future__ import annotations

import warnings
import zipfile
from datetime import datetime
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from linesim import load_line, simulate
from linesim.report.books import run_book
from linesim.report.sheets import CHANGE, COUNT, PERCENT, TEXT, Column, Sheet
from linesim.report.workbook import Leaf, write_workbook
from linesim.results import Results
from linesim.results.intervals import Estimate
from tests.helpers.lines import alone
from tests.helpers.seeds import EXACT
from tests.unit.report.pages import HOSTILE, hostile_line, results_of
from tests.unit.results.ledgers import line

MADE = datetime(2026, 1, 31, 12, 0)


def read_back(leaves: list[Leaf], file: Path) -> Any:
    return openpyxl.load_workbook(write_workbook(leaves, "by hand", MADE, file))


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Any:
    leaves = run_book(results_of(hostile_line()), hostile_line())
    return read_back(leaves, tmp_path_factory.mktemp("book") / "report.xlsx")


def test_an_estimate_takes_a_column_for_its_mean_and_two_for_its_interval(tmp_path: Path) -> None:
    columns = [
        Column("station", form=TEXT),
        Column("made", "parts/h"),
        Column("OEE", form=PERCENT),
        Column("n", form=COUNT),
    ]
    sheet = Sheet("Stations", columns, [["mill", Estimate(3.5, 3.0, 4.0, 5), 0.25, 2], ["gauge", 1.0, None, 1]])
    page = read_back([Leaf("Stations", [sheet])], tmp_path / "a.xlsx")["Stations"]
    rows = [[cell.value for cell in row] for row in page.iter_rows(min_row=2, max_row=4)]
    assert rows[0] == [
        "station", "made [parts/h]", "made, low [parts/h]", "made, high [parts/h]", "OEE [%]", "n"
    ]  # fmt: skip
    assert rows[1] == ["mill", 3.5, 3.0, 4.0, 0.25, 2]
    assert rows[2] == ["gauge", 1.0, None, None, None, 1]
    assert page["E3"].number_format == "0.0%"


def test_intervals_of_shares_are_cut_and_means_of_counts_keep_their_decimals(tmp_path: Path) -> None:
    columns = [Column("share", form=PERCENT), Column("scrapped", "in 500 h", COUNT), Column("change", form=CHANGE)]
    high, low = Estimate(0.98, 0.94, 1.02, 5), Estimate(0.5, -0.25, 1.25, 5)
    sheet = Sheet("Cut", columns, [[high, low, low], [low, Estimate(2.0, 1.0, 3.0, 5), low]])
    page = read_back([Leaf("Cut", [sheet])], tmp_path / "a.xlsx")["Cut"]
    rows = [[cell.value for cell in row] for row in page.iter_rows(min_row=3, max_row=4)]
    assert rows[0] == [0.98, 0.94, 1.0, 0.5, 0.0, 1.25, 0.5, -0.25, 1.25]
    assert rows[1][:3] == [0.5, 0.0, 1.0]
    assert (page["D3"].number_format, page["D4"].number_format) == ("0.000", "#,##0")


def test_the_output_stands_in_the_summary_as_a_number_with_its_unit(book: Any) -> None:
    rows = [[cell.value for cell in row] for row in book["Summary"].iter_rows()]
    (output,) = (row for row in rows if row[0] == "output")
    assert output[1] == pytest.approx(18)
    assert "parts/h" in output


def test_sheets_and_charts_are_there(book: Any) -> None:
    assert {"Summary", "Stations", "Losses", "Replications", "Assumptions", "How it was run"} <= set(book.sheetnames)
    assert [name for name in book.sheetnames if book[name]._charts] == ["Losses", "States", "Replications"]


def test_the_bridge_of_the_chart_ends_at_the_good_parts(book: Any) -> None:
    """Gross: two mills of 60 s a part, 120 an hour; good: 18 an hour."""
    rows = [[cell.value for cell in row] for row in book["Losses"].iter_rows(min_row=3)]
    begins, lengths = zip(*[row[-2:] for row in rows if row[-1] is not None], strict=True)
    assert (begins[0], begins[-1]) == (0, 0)
    assert (lengths[0], lengths[-1]) == pytest.approx((120, 18))


def test_every_state_that_comes_up_can_be_drawn_in_a_chart(tmp_path: Path) -> None:
    """People load by hand and clean: both states are crossed, and a pattern that is not known would be warned of."""
    by_hand = {"crew": "operator", "exchange": "5 s"}
    cleaning = {"chips": {"every": "2 parts", "takes": "4 s"}}
    station = {"cycle": "9 s", "machines": 3, "by_hand": by_hand, "cleaning": cleaning}
    of_hand = load_line(alone(station, crews={"operator": {}}))
    results = simulate(of_hand, hours=0.02, warmup_hours=0, replications=1, seed=EXACT, engine="simpy")
    assert {"waiting_operator", "cleaning"} <= {name for name, mean in _means(results).items() if mean > 0}
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        write_workbook(run_book(results, of_hand), "by hand", MADE, tmp_path / "a.xlsx")


def _means(results: Results) -> dict[str, float]:
    machines = results.states[results.states["kind"] == "machine"]
    return {str(name): float(mean) for name, mean in machines.mean(numeric_only=True).items()}


def test_a_name_is_text_and_never_a_formula(tmp_path: Path) -> None:
    names = ["=1+1", "+cmd", "@x", "https://example.org", HOSTILE, "00123"]
    sheet = Sheet("Names", [Column("name", form=TEXT)], [[name] for name in names])
    page = read_back([Leaf("=Names[]:*?/" * 5, [sheet])], tmp_path / "b.xlsx").worksheets[0]
    cells = [page.cell(row, 1) for row in range(3, 3 + len(names))]
    assert [cell.value for cell in cells] == names
    assert all(cell.data_type == "s" and cell.hyperlink is None for cell in cells)
    assert len(page.title) <= 31


def test_hostile_names_of_a_line_arrive_as_they_are(book: Any) -> None:
    texts = {cell.value for row in book["Assumptions"].iter_rows() for cell in row}
    assert HOSTILE in texts


def test_names_of_sheets_that_are_alike_are_told_apart(tmp_path: Path) -> None:
    sheet = Sheet("t", [Column("a")], [[1]])
    names = read_back([Leaf("Same", [sheet]), Leaf("same", [sheet])], tmp_path / "c.xlsx").sheetnames
    assert names == ["Same", "same 2"]


def test_the_same_results_give_the_same_file(tmp_path: Path) -> None:
    leaves = run_book(results_of(line()), line())
    files = [write_workbook(leaves, "by hand", MADE, tmp_path / name) for name in ("one.xlsx", "two.xlsx")]
    contents = [{name: zipfile.ZipFile(file).read(name) for name in zipfile.ZipFile(file).namelist()} for file in files]
    assert contents[0] == contents[1]
