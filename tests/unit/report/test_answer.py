"""The words and tables of a run's page, against the ledger by hand; the numbers are worked out on paper.

The line makes 5 good parts in 1000 s, 18 an hour; 20 are wanted.
"""

import pandas as pd
import pytest

import linesim
from linesim.report import basis_sheets, quality_sheets, run_sheets, validity
from linesim.report.answer import sentences, tiles
from linesim.report.sheets import CHANGE, COUNT, FIGURE, PERCENT, TEXT, Cell, Column, Sheet, interval, value
from linesim.results.intervals import Estimate
from tests.unit.line.lines import two_carriages
from tests.unit.report.pages import cells, results_of
from tests.unit.results.ledgers import line


def test_the_answer_tells_what_is_made_beside_what_is_wanted() -> None:
    told = tiles(results_of(line()))
    assert [(tile.what, tile.figure) for tile in told[:2]] == [("output", "18.00"), ("demand", "20.00")]
    assert told[1].below == ["not met"]
    words = sentences(results_of(line()), line())
    assert words[0] == (
        "Demand is not met. The mean output is 2.00 good parts/h below the demand; 0 of 2 replications reached it."
    )


def test_one_replication_shows_nothing_either_way() -> None:
    one = results_of(line(), 1)
    assert sentences(one, line())[0].startswith("Whether demand is met is not shown either way.")
    assert "one replication, no interval" in tiles(one)[0].below


def test_assumptions_are_counted_by_their_class() -> None:
    noted = line(
        assumptions={"stations.mill.cycle": {"class": "estimate"}, "buffers.park.capacity": {"class": "supplier"}}
    )
    assert any("2 of its values are (1 estimate, 1 supplier)" in words for words in sentences(results_of(noted), noted))


def test_a_station_is_told_with_what_it_made() -> None:
    mill = cells(run_sheets.stations(results_of(line()), line()), "mill")
    assert mill[1:3] == [2, 60.0]
    made = next(cell for cell in mill if isinstance(cell, Estimate))
    assert made.mean == pytest.approx(10 / 1000 * 3600)  # 10 parts in 1000 s


def test_counts_are_told_for_the_measured_time_and_none_as_a_plain_nought() -> None:
    """1000 s are 0.2778 h; nothing was put aside as a sample."""
    sheet = quality_sheets.quality(results_of(line()))
    assert sheet.columns[1].unit == "in 0.277778 h"
    samples = cells(sheet, "samples")[1]
    assert value(samples, sheet.columns[1].form) == "0"
    assert value(Estimate(15.0, 12.4, 17.6, 10), COUNT) == "15.0"  # a mean, among others with decimals
    assert value(Estimate(2.0, 2.0, 2.0, 10), COUNT) == "2"


def test_measures_are_told_in_the_units_of_the_rest_of_the_page() -> None:
    """Line OEE 12 %: the mean of 15 % and 9 %, by hand in the tests of results."""
    sheet = basis_sheets.measures(results_of(line()))
    oee = cells(sheet, "line OEE")
    assert oee[2] == "%"
    assert oee[1].mean == pytest.approx(100 * results_of(line()).estimate("line_oee").mean)
    assert cells(sheet, "lead time, mean")[1].mean == pytest.approx(200.0)
    assert "cut where the quantity ends" in sheet.note


def test_stops_are_told_by_how_long_each_took() -> None:
    sheet = run_sheets.stoppages(results_of(line()))
    assert sheet is not None
    jam = cells(sheet, "mill.1")
    assert jam[4:7] == [4, pytest.approx(25 / 60), pytest.approx(100 / 60)]  # 2 jams in each: 50 s, 200 s together


def test_each_carriage_of_a_rail_is_told_with_its_own_rule() -> None:
    cell = two_carriages()
    cell["loaders"]["gantry"]["carriages"]["left"]["next_call"] = "nearest"
    results = linesim.simulate(
        linesim.load_line(cell), hours=0.1, warmup_hours=0, replications=1, seed=1, engine="simpy"
    )
    sheet = run_sheets.loaders(results)
    assert sheet is not None
    assert (cells(sheet, "gantry.left")[1], cells(sheet, "gantry.right")[1]) == ("nearest", "downstream first")
    assert "gantry.left in use" in results.text_summary()


def test_books_that_balance_hold_and_tampered_ones_do_not() -> None:
    results = results_of(line())
    assert [check.what for check in validity.checks(results) if check.holds is False] == []
    for name, column in (("states", "working"), ("losses", "parts"), ("windows", "good_parts"), ("wip", "share")):
        tampered = results_of(line())
        tampered.tables[name] = _raised(tampered.tables[name], column)
        assert len([check for check in validity.checks(tampered) if check.holds is False]) == 1, name
    tampered = results_of(line())
    tampered.tables["lead_times"] = _raised(tampered.tables["lead_times"], "good_parts")
    assert [check.what for check in validity.checks(tampered) if check.holds is False] == [
        "every good part has a lead time"
    ]


def _raised(table: pd.DataFrame, column: str) -> pd.DataFrame:
    changed = table.copy()
    at = changed.index[changed[column] > 0][-1]
    changed.loc[at, column] = changed.loc[at, column] + 1
    return changed


def test_little_stands_beside_wip_and_causes_that_were_rare_are_named() -> None:
    found = {check.what: check.found for check in validity.checks(results_of(line()))}
    assert any("jam of mill.1 (4 times)" in words for words in found.values())
    assert any("Little" in what for what in found)


def test_cells_are_written_by_their_form() -> None:
    found = Estimate(0.5, -0.1, 1.2, 3)
    assert (value(found, PERCENT), interval(found, PERCENT)) == ("50.0 %", "0.0 to 100.0 %")
    assert (value(12000, COUNT), value(2.5, COUNT), value(None, COUNT), value(None, TEXT)) == (
        "12,000",
        "2.5",
        "-",
        "",
    )
    assert (value(found, CHANGE), interval(found, CHANGE)) == ("+0.50", "-0.10 to +1.20"), "a cell agrees with itself"
    assert interval(Estimate(1.0, float("nan"), float("nan"), 1), PERCENT) == ""


def test_the_numbers_of_a_column_have_the_decimals_that_fit_the_largest() -> None:
    """Means and ends of intervals alike; counts no more than they need, rows of several quantities each their own."""
    wide, close = Estimate(99.5, 98.25, 100.75, 3), Estimate(0.125, 0.125, 0.125, 3)
    columns = [Column("a"), Column("b", form=COUNT), Column("c", form=COUNT), Column("d", unlike=True), Column("e")]
    rows: list[list[Cell]] = [[wide, 3, 41, wide, "text"], [close, 3.25, 7, close, float("nan")]]
    sheet = Sheet("t", columns, [*rows, [None, 3.1, None, 0.5, 2.0]])
    assert sheet.places == [1, 2, 0, None, 2]
    shown = [[value(cell, column.form, places) for cell in cells] for column, places, cells in
             zip(columns, sheet.places, zip(*sheet.rows, strict=True), strict=True)]  # fmt: skip
    assert shown[:3] == [["99.5", "0.1", "-"], ["3.00", "3.25", "3.10"], ["41", "7", "-"]]
    assert shown[3:] == [["99.5", "0.125", "0.500"], ["text", "-", "2.00"]]
    assert interval(wide, FIGURE, sheet.places[0]) == "98.2 to 100.8"
    assert Sheet("t", columns, []).places == []


def test_means_of_counts_have_a_decimal_less() -> None:
    counted: list[Cell] = [Estimate(4.5, 4.25, 4.75, 3), 40]
    assert Sheet("t", [Column("a", form=COUNT)], [[cell] for cell in counted]).places == [1]
    assert (value(counted[1], COUNT, 1), interval(counted[0], COUNT, 1)) == ("40.0", "4.2 to 4.8")
    assert value(Estimate(476.0, 463.3, 488.7, 3), COUNT) == "476"


@pytest.mark.parametrize(("little", "places"), [(0.6, 0), (0.4, 1), (0.04, 2), (0.004, 0)])
def test_what_is_not_nothing_does_not_read_as_nothing_beside_large_numbers(little: float, places: int) -> None:
    assert Sheet("t", [Column("a")], [[4321.25], [little], [0.0]]).places == [places]


def test_a_column_in_which_nothing_stands_is_left_out() -> None:
    sheet = Sheet("t", [Column("a"), Column("b"), Column("c")], [[1, None, 2], [3, float("nan"), None]])
    assert [column.head for column in sheet.without_empty().columns] == ["a", "c"]
    assert sheet.without_empty().rows == [[1, 2], [3, None]]


def test_weeks_below_the_demand_are_told_with_their_bounds() -> None:
    """Two replications of two weeks each: one of four stays below, so the shares of the replications are 0 and 1/2."""
    results = results_of(line())
    weeks = [(1, "week", 0.0, 21.0), (1, "week", 1.0, 19.0), (2, "week", 0.0, 22.0), (2, "week", 0.0, 23.0)]
    results.tables["periods"] = pd.DataFrame(weeks, columns=["replication", "period", "below", "throughput_per_h"])
    sheet = run_sheets.outlook(results)
    assert sheet is not None
    week = cells(sheet, "week")
    assert week[:2] == ["week", 4]
    assert week[2].mean == 0.25
    assert any(
        "Of 4 weeks 25.0 % (0.0 % to 100.0 %) stay below the demand." in words for words in sentences(results, line())
    )
    results.tables["periods"] = results.periods.iloc[:0]
    assert run_sheets.outlook(results) is None


def test_sizes_are_told_with_how_often_the_gauge_was_wrong() -> None:
    results = results_of(line())
    told = results.characteristics.assign(measured_parts=4, false_rejects=1, false_accepts=0)
    results.tables["characteristics"] = told
    sheet = quality_sheets.characteristics(results)
    assert sheet is not None
    row = dict(zip((column.head for column in sheet.columns), sheet.rows[0], strict=True))
    assert isinstance(row["false rejects"], Estimate)
    assert row["false rejects"].mean == 0.25
    results.tables["characteristics"] = told.assign(measured_parts=0, false_rejects=0)
    without = quality_sheets.characteristics(results)
    assert without is not None
    assert "false rejects" not in [column.head for column in without.columns]


def test_part_types_have_their_own_rows() -> None:
    results = results_of(line())
    assert run_sheets.parts(results) is None
    rows = [(number, part, 2, 7.2, 0.4, 0, 90.0) for number in (1, 2) for part in ("a", "b")]
    columns = ["replication", "part", "good_parts", "throughput_per_h", "share_of_good", "scrapped_parts"]
    results.tables["parts"] = pd.DataFrame(rows, columns=[*columns, "lead_time_mean_s"])
    sheet = run_sheets.parts(results)
    assert sheet is not None
    assert [row[0] for row in sheet.rows] == ["a", "b"]
    assert cells(sheet, "a")[1].mean == pytest.approx(7.2)


def test_what_the_study_found_out_by_itself_is_told() -> None:
    about = {**results_of(line()).about}
    assert "precision" not in [row[0] for row in basis_sheets.how_it_was_run(about).rows]
    found = {"rule": "MSER-5", "cuts_h": {"throughput_per_h": 3.0, "wip_parts": 5.0}}
    about["warmup"] = {**found, "pilot_replications": 5, "pilot_hours": 100.0}
    told = cells(basis_sheets.how_it_was_run(about), "how the warm-up was found")
    assert "MSER-5" in told[1]
