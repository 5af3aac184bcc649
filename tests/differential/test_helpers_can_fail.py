"""The comparison itself finds what it must find: one changed number anywhere."""

from __future__ import annotations

import dataclasses
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
import pytest

import linesim
from linesim.engine import simpy
from linesim.engine.contract.ledger import US, Ledger
from linesim.engine.contract.times import Times
from linesim.engine.contract.trace import Trace
from linesim.line.model import Line
from tests.differential import test_random_lines
from tests.differential.same_run import DIFFERENTIAL, Span, assert_same_ledger
from tests.helpers.lines import serial
from tests.helpers.same_trace import assert_same_trace

LINE = serial({"turn": {"cycle": "7 s", "breakdowns": {"jam": {"mtbf": "60 s", "mttr": "9 s"}}}, "mill": 5}, [2])


@pytest.fixture
def run() -> tuple[Ledger, Trace]:
    line = linesim.load_line(LINE)
    ledger, trace = simpy.run(line, DIFFERENTIAL, 0, Times(0, 90 * US, 30 * US), trace=True)
    assert trace is not None
    return ledger, trace


@pytest.mark.parametrize("column", range(5))
def test_one_changed_number_of_a_trace_is_found_and_its_row_shown_in_words(
    run: tuple[Ledger, Trace], column: int
) -> None:
    _, trace = run
    rows = trace.rows.copy()
    at = int(np.flatnonzero(rows[:, 1] == 3)[2])  # the third start of an operation
    rows[at, column] += 1
    with pytest.raises(AssertionError, match=f"from row {at} on") as found:
        assert_same_trace(trace, dataclasses.replace(trace, rows=rows))
    first, _, second = str(found.value).partition("second run:")
    marked = [next(line for line in told.splitlines() if line.startswith(">")) for told in (first, second)]
    assert "starts" in marked[0]
    assert marked[1] != marked[0]


def test_two_rows_of_one_instant_in_another_order_are_a_difference(run: tuple[Ledger, Trace]) -> None:
    _, trace = run
    rows = trace.rows.copy()
    at = int(np.flatnonzero((rows[1:, 0] == rows[:-1, 0]) & (rows[1:] != rows[:-1]).any(axis=1))[0])
    rows[[at, at + 1]] = rows[[at + 1, at]]
    with pytest.raises(AssertionError, match=f"from row {at} on"):
        assert_same_trace(trace, dataclasses.replace(trace, rows=rows))


def test_a_missing_last_row_is_a_difference(run: tuple[Ledger, Trace]) -> None:
    _, trace = run
    with pytest.raises(AssertionError, match="no more rows"):
        assert_same_trace(trace, dataclasses.replace(trace, rows=trace.rows[:-1]))


@pytest.mark.parametrize("field", [field.name for field in dataclasses.fields(Ledger)])
def test_one_changed_entry_of_a_ledger_is_found_and_named(run: tuple[Ledger, Trace], field: str) -> None:
    ledger, _ = run
    changed = dataclasses.replace(ledger, **{field: _changed(getattr(ledger, field))})
    assert_same_ledger(ledger, ledger)
    with pytest.raises(AssertionError, match=field):
        assert_same_ledger(ledger, changed)


def _changed(entry: Any) -> Any:
    if isinstance(entry, dict):
        first = next(iter(entry))
        return {**entry, first: _changed(entry[first])}
    if isinstance(entry, np.ndarray):
        return np.append(entry.ravel()[1:], entry.ravel()[:1] + 1).reshape(entry.shape) if entry.size else entry[None]
    if isinstance(entry, pd.DataFrame):
        return entry.assign(extra=1)
    if isinstance(entry, tuple):
        return (*entry, "one more")
    return entry + 1


def test_a_random_line_on_which_runs_differ_is_kept_as_a_line_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(test_random_lines, "FAILED_LINES", tmp_path)

    def part_ways(line: Line, span: Span) -> None:
        raise AssertionError("rows differ\nin many ways")

    monkeypatch.setattr(test_random_lines, "assert_same_run", part_ways)
    with pytest.raises(AssertionError, match="in many ways"):
        test_random_lines.compare(LINE)
    (kept,) = tmp_path.glob("*.yaml")
    assert kept.read_text(encoding="utf-8").startswith("# rows differ\n")
    assert linesim.load_line(kept) == linesim.load_line(LINE)
