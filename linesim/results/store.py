"""Results on disk: a folder of tables and traces, summary.json, which makes them whole, and then their plots."""

from __future__ import annotations

import math
from functools import partial
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd

from linesim.engine.contract.trace import TRACE_COLUMNS, Trace, What
from linesim.results.definitions import MEASURES, TABLES, in_words
from linesim.results.files import read_about, write, write_csv, write_parquet, write_study, write_text
from linesim.results.results import Results

SUMMARY, LINE, WORDS = "summary.json", "line.yaml", "definitions.txt"


def save(results: Results, folder: Path, line_text: str | None, plots: bool) -> Path:
    """Write everything; the folder counts as results only when summary.json is there.

    The plots only show what the tables hold and come after it, so that one that fails takes nothing else with it.
    """
    (folder / SUMMARY).unlink(missing_ok=True)  # before anything else is written over
    (folder / "tables").mkdir(parents=True, exist_ok=True)
    write(folder / "tables" / "summary.csv", partial(write_csv, results.summary()))
    write(folder / "tables" / "outlook.csv", partial(write_csv, results.outlook()))
    if results.traces:
        (folder / "traces").mkdir(exist_ok=True)
        for number, trace in zip(results.about["replications"], results.traces, strict=True):
            write(folder / "traces" / f"replication_{number}.parquet", partial(write_parquet, trace_table(trace)))
    if line_text is not None:
        write(folder / LINE, partial(write_text, line_text))
    write(folder / WORDS, partial(write_text, in_words()))
    write_study(folder, SUMMARY, _summary(results), results.tables, results.text_summary())
    if plots:
        from linesim.results import plots as drawn

        drawn.save(drawn.PLOTS, results, folder / "plots")
    return folder


def without_results(folder: Path) -> str:
    """Why a folder can't be opened as results, and which can."""
    why = f"holds no finished results (no {SUMMARY})" if folder.is_dir() else "there is no such folder"
    return f"{folder}: {why}. Give the folder that the command named after `saved in`"


def open_run(folder: Path) -> Results:
    """Read back the results of a run that were saved in a folder.

    Raises FileNotFoundError if no finished run is there, ValueError if a later version wrote it.
    """
    file = folder / SUMMARY
    if not file.is_file():
        raise FileNotFoundError(without_results(folder))
    about = read_about(file)
    tables = {name: pd.read_parquet(folder / "tables" / f"{name}.parquet") for name in about["tables"]}
    return Results.restored(about["about"], tables)


def trace_table(trace: Trace) -> pd.DataFrame:
    """A trace as a table: its five columns as whole numbers, and the names of `what` and `owner` beside them."""
    events = pd.DataFrame(trace.rows, columns=list(TRACE_COLUMNS))
    kinds = [kind.name.lower() for kind in What]
    events["what_words"] = pd.Categorical(np.take(kinds, trace.rows[:, 1]), categories=kinds)
    events["owner_name"] = np.take([owner.name for owner in trace.owners], trace.rows[:, 2])
    return events


def _summary(results: Results) -> dict[str, Any]:
    about = results.about
    demand = about["demand_per_h"]
    return {
        "about": about,
        "demand": None if demand is None else {"value": demand, "unit": "parts/h", "verdict": results.demand_verdict()},
        "measures": {name: _measure(results, name) for name in MEASURES},
        "interval": "95 % t-interval over replications; null where it is not defined",
        "tables": {name: TABLES[name] for name in results.tables},
    }


def _measure(results: Results, name: str) -> dict[str, Any]:
    found = results.estimate(name)
    return {
        "unit": MEASURES[name].unit,
        "mean": _plain(found.mean),
        "low": _plain(found.low),
        "high": _plain(found.high),
        "replications": found.replications,
        "definition": MEASURES[name].definition,
    }


def _plain(value: float) -> float | None:
    """JSON knows no NaN."""
    return None if math.isnan(value) else value
