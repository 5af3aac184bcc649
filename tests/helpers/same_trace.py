"""Two traces are one and the same, row by row to the last bit, or an error shows the rows where they part."""

from __future__ import annotations

import numpy as np

from linesim.engine.contract.trace import Trace
from linesim.engine.contract.trace_words import in_words

ROWS_AROUND = 8


def assert_same_trace(one: Trace, other: Trace) -> None:
    """Equal names and equal rows, in the order of happening."""
    for name in ("owners", "stoppages", "defects"):
        assert getattr(one, name) == getattr(other, name), f"the traces name other {name}"
    for trace in (one, other):
        assert trace.rows.dtype == np.int64, "a trace holds whole numbers of 64 bits"
        assert trace.rows.ndim == 2
    at = first_difference(one.rows, other.rows)
    if at >= 0:
        raise AssertionError(
            f"the traces differ from row {at} on ({len(one.rows)} and {len(other.rows)} rows)\n"
            f"first run:\n{_around(one, at)}\nsecond run:\n{_around(other, at)}"
        )


def first_difference(one: np.ndarray, other: np.ndarray) -> int:
    """The first row that differs or that only one of them has; -1 if there is none."""
    length = min(len(one), len(other))
    differs = np.flatnonzero((one[:length] != other[:length]).any(axis=1))
    if len(differs):
        return int(differs[0])
    return -1 if len(one) == len(other) else length


def _around(trace: Trace, at: int) -> str:
    """Rows before and after a row, in words, the row itself marked."""
    near = range(max(0, at - ROWS_AROUND), min(len(trace.rows), at + ROWS_AROUND // 2))
    told = [f"{'>' if row == at else ' '} {_told(trace, row)}" for row in near]
    return "\n".join(told) + ("" if at < len(trace.rows) else "\n> (no more rows)")


def _told(trace: Trace, row: int) -> str:
    """A row in words; in its numbers where they make no sense."""
    try:
        (words,) = in_words(trace, [row])
    except (IndexError, ValueError):
        return f"no such row can be: {trace.rows[row].tolist()}"
    part = "" if words.part is None else f"part {words.part}"
    return f"{words.time_s:14.6f} s  {words.owner:<14} {words.what:<15} {part:<9} {words.detail}"
