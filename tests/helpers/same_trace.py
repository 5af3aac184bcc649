"""Two traces of one line must be the same, row by row, to the last bit."""

from __future__ import annotations

import numpy as np

from linesim.engine.contract.trace import Trace, What

AROUND = 5  # rows shown before and after the first difference


def assert_same_trace(one: Trace, other: Trace) -> None:
    """Raise AssertionError with the rows around the first difference."""
    assert one.owners == other.owners
    assert one.stoppages == other.stoppages
    length = min(len(one.rows), len(other.rows))
    differs = np.flatnonzero((one.rows[:length] != other.rows[:length]).any(axis=1))
    if len(differs) or len(one.rows) != len(other.rows):
        first = int(differs[0]) if len(differs) else length
        raise AssertionError(f"rows differ from {first} on:\n{_shown(one, first)}\nagainst\n{_shown(other, first)}")


def _shown(trace: Trace, first: int) -> str:
    lines = []
    for number in range(max(0, first - AROUND), min(len(trace.rows), first + AROUND)):
        time_us, what, owner, part, value = trace.rows[number].tolist()
        name = trace.owners[owner].name
        lines.append(f"{number:6d} {time_us / 1e6:14.6f} s {What(what).name:9s} {name:12s} part {part} value {value}")
    return "\n".join(lines)
