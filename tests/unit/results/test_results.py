"""Results of two hand-written ledgers: tables, summary, text, and what is found again on disk."""

import json
from dataclasses import replace
from pathlib import Path

import numpy as np
import pandas as pd
import pytest

from linesim.engine.contract.ledger import Owner
from linesim.engine.contract.trace import Trace, What
from linesim.results import Results, open_results, plots, store
from linesim.results.definitions import MEASURES, TABLES
from linesim.results.store import open_run
from linesim.results.text import _ranking
from tests.unit.results.ledgers import departures, ledger, line

FEWER = departures([(500, 1, 400, 0, -1, -1, 0), (600, 2, 400, 0, -1, -1, 0), (700, 3, 400, 0, -1, -1, 0)])


@pytest.fixture
def results() -> Results:
    """Two replications: 5 and 3 good parts in 1000 s."""
    return Results(line(), [ledger(), ledger(replication=2, departures=FEWER)])


def test_every_table_is_defined_and_tells_the_replication_first(results: Results) -> None:
    assert set(results.tables) == set(TABLES)
    assert all(table.columns[0] == "replication" for table in results.tables.values())
    assert results.replications.columns.tolist() == ["replication", *MEASURES]
    assert results.states["owner"].tolist() == ["mill.1", "mill.2", "gauge.1", "gantry.1"] * 2


def test_summary_gives_mean_and_interval_with_their_unit(results: Results) -> None:
    """18 and 10.8 parts/h: mean 14.4, deviation 5.0912, t = 12.7062 with one degree: half width 45.74."""
    made = results.summary().set_index("measure").loc["throughput_per_h"]
    assert (made["unit"], made["replications"]) == ("parts/h", 2)
    assert made["mean"] == pytest.approx(14.4)
    assert made["high"] - made["mean"] == pytest.approx(45.742, abs=1e-3)


def test_one_replication_has_no_interval_and_shows_nothing_about_demand() -> None:
    alone = Results(line(), [ledger()])
    assert alone.summary()[["low", "high"]].isna().all(axis=None)
    assert alone.demand_verdict() == "not shown either way"


def test_a_level_that_one_replication_never_reached_counts_as_no_time_there() -> None:
    low = np.array([1000, 0, 0, 0, 0, 0]) * 1_000_000
    both = Results(line(), [ledger(), ledger(replication=2, wip=low)])
    assert both.averages("wip", "parts", "share")["mean"].tolist() == pytest.approx([0.55, 0.15, 0.2, 0.1])


def test_results_without_a_ledger_are_refused() -> None:
    with pytest.raises(ValueError, match="at least one replication"):
        Results(line(), [])


def test_the_same_replication_twice_is_refused() -> None:
    """It would make the intervals too narrow."""
    with pytest.raises(ValueError, match="same replication"):
        Results(line(), [ledger(), ledger()])


def test_an_unknown_table_is_named_with_those_there_are(results: Results) -> None:
    with pytest.raises(AttributeError, match="'buffer'; their tables are replications"):
        _ = results.buffer


def test_text_gives_the_answer_with_interval_unit_and_demand(results: Results) -> None:
    text = results.text_summary()
    lines = text.splitlines()
    assert lines[0] == "by hand"
    assert "2 replications of 0.277778 h after 0.0277778 h of warm-up, seed 1" in lines[1]
    assert "14.40" in lines[3]
    assert lines[3].endswith("good parts/h")
    assert "demand 20.00 parts/h: not shown either way" in text
    assert max(map(len, lines)) <= 100


def test_text_says_where_replications_cannot_tell_two_losses_apart(results: Results) -> None:
    """Starved and blocked are 36 and 18 parts/h in both. Growth is 3.6 and 18, made again, the next, 7.2 in both."""
    rows = results.text_summary().splitlines()
    starved, growth = (next(row for row in rows if word in row) for word in ("starved", "growth"))
    assert "not shown to differ" not in starved
    assert "not shown to differ from row below" in growth


def test_a_rest_of_one_loss_is_named_and_a_rest_of_two_is_summed_up() -> None:
    losses = pd.DataFrame([[4.0, 3.0, 2.0, 1.0]], columns=["starved", "blocked", "speed", "scrap"])
    named = list(_ranking(losses, 3, str, with_rest=True))
    assert [row.split()[:2] for row in named][-1] == ["scrap", "1.0"]
    summed = list(_ranking(losses, 2, str, with_rest=True))
    assert [len(named), len(summed)] == [4, 3]
    assert summed[-1].split() == ["the", "other", "2", "together", "3.0"]


@pytest.mark.parametrize(
    ("most", "words"), [(1, "2 grippers, 1 exchange a tour"), (2, "2 grippers, 2 exchanges a tour")]
)
def test_exchanges_of_a_tour_are_counted_in_words(results: Results, most: int, words: str) -> None:
    choice = {"next_call": "nearest", "places": [], "grippers": 2, "exchanges_per_tour": most}
    results.about["loaders"] = {"gantry": choice}
    assert f"loader gantry: next call nearest, {words}" in results.text_summary().splitlines()


def test_what_was_saved_is_read_back_the_same(results: Results, tmp_path: Path) -> None:
    results.save(tmp_path, line_text="name: by hand\n", plots=False)
    again = open_run(tmp_path)
    for name, table in results.tables.items():
        pd.testing.assert_frame_equal(again.tables[name], table)
    assert again.about == results.about
    assert again.text_summary() == results.text_summary() == (tmp_path / "summary.txt").read_text("utf-8").rstrip()
    assert (tmp_path / "line.yaml").read_text("utf-8") == "name: by hand\n"
    csv = pd.read_csv(tmp_path / "tables" / "replications.csv")
    assert csv["lead_time_mean_s"].tolist() == pytest.approx([200.0, 200.0])


def test_summary_file_holds_units_definitions_seed_versions_and_verdict(results: Results, tmp_path: Path) -> None:
    results.save(tmp_path, plots=False)
    summary = json.loads((tmp_path / "summary.json").read_text("utf-8"))
    assert summary["demand"] == {"value": 20.0, "unit": "parts/h", "verdict": "not shown either way"}
    assert summary["about"]["seed"] == 1
    assert {"linesim", "python", "numpy", "simpy"} <= set(summary["about"]["versions"])
    oee = summary["measures"]["line_oee"]
    assert oee["mean"] == pytest.approx((0.15 + 0.09) / 2)
    assert oee["definition"] == MEASURES["line_oee"].definition
    assert f"line_oee [ratio]: {oee['definition']}\n" in (tmp_path / "definitions.txt").read_text("utf-8")


def test_a_run_that_was_cut_while_saving_is_not_taken_for_results(
    results: Results, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    results.save(tmp_path, plots=False)

    def full_disk(table: pd.DataFrame, file: Path) -> None:
        file.write_text("half a ta")
        raise OSError("disk full")

    monkeypatch.setattr(store, "write_csv", full_disk)
    with pytest.raises(OSError, match="disk full"):
        results.save(tmp_path, plots=False)
    with pytest.raises(FileNotFoundError, match="no finished results"):
        open_results(tmp_path)
    assert not list(tmp_path.rglob("*.part"))
    assert all("half" not in file.read_text("utf-8") for file in tmp_path.rglob("*.csv"))


def test_a_plot_that_fails_loses_nothing_else(
    results: Results, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(_: Results) -> None:
        raise RuntimeError("no font")

    (tmp_path / "plots").mkdir()
    (tmp_path / "plots" / "wip.png").write_bytes(b"of an earlier run")
    monkeypatch.setattr(plots, "PLOTS", {"states": fails, "wip": fails})
    with pytest.raises(RuntimeError, match="no font"):
        results.save(tmp_path)
    assert open_results(tmp_path).text_summary() == results.text_summary()
    assert list((tmp_path / "plots").iterdir()) == []


def test_results_of_a_later_format_are_refused(results: Results, tmp_path: Path) -> None:
    results.save(tmp_path, plots=False)
    file = tmp_path / "summary.json"
    file.write_text(file.read_text("utf-8").replace('"format": 1', '"format": 99'), "utf-8")
    with pytest.raises(ValueError, match="format 99 is not known here"):
        open_results(tmp_path)


def test_traces_are_saved_row_by_row_with_the_names_beside_them(tmp_path: Path) -> None:
    rows = np.array([(5, What.LEAVE, 0, 3, -1), (5, What.ARRIVE, 1, 3, -1)], dtype=np.int64)
    trace = Trace(rows, (Owner("stocker", "infeed", ""), Owner("mill.1", "machine", "mill")), (), ())
    Results(line(), [replace(ledger(), replication=4)], [trace]).save(tmp_path, plots=False)
    saved = pd.read_parquet(tmp_path / "traces" / "replication_4.parquet")
    assert saved[["time_us", "what", "owner", "part", "value"]].to_numpy().tolist() == rows.tolist()
    assert saved["what_words"].tolist() == ["leave", "arrive"]
    assert saved["owner_name"].tolist() == ["stocker", "mill.1"]
