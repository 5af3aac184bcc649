"""Two runs of a line are one and the same run, or an error shows where they part: the rows around the first difference.

Whole traces are compared row by row as they stand, never sorted, and every number of the ledgers; nothing is rounded.
A line that comes to a stand must do so in both runs, at the same instant, with the same words.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import partial
from typing import Any

import numpy as np
import pandas as pd

import linesim
from linesim.engine import compiled, simpy
from linesim.engine.contract.ledger import US, Ledger
from linesim.engine.contract.lockup import LockUp
from linesim.engine.contract.times import Times
from linesim.engine.contract.trace import Trace
from linesim.line.model import Line
from tests.helpers.same_trace import assert_same_trace

DIFFERENTIAL = 20_401  # the seed of these tests

Engine = Callable[..., tuple[Ledger, Trace | None]]


@dataclass(frozen=True)
class Span:
    """How long to run, from when to measure, and the length of the output windows [s]."""

    horizon_s: float = 600.0
    warmup_s: float = 0.0
    window_s: float = 100.0

    def times(self) -> Times:
        return Times(round(self.warmup_s * US), round(self.horizon_s * US), round(self.window_s * US))


@dataclass(frozen=True)
class Outcome:
    """What a run left behind: ledger and trace, or the words with which it came to a stand."""

    ledger: Ledger | None = None
    trace: Trace | None = None
    stand: str = ""


def assert_same_run(
    line: Line | Mapping[str, Any],
    span: Span = Span(),
    seed: int = DIFFERENTIAL,
    replication: int = 0,
    one: Engine = simpy.run,
    other: Engine = compiled.run,
    trace: bool = True,
) -> Outcome:
    """Run a line on both engines and compare; returns what the first run left behind.

    one, other: two engines, or one engine in two ways. trace: without it the ledgers alone are compared.
    """
    sound = line if isinstance(line, Line) else linesim.load_line(line)
    how = {"line": sound, "seed": seed, "replication": replication, "times": span.times(), "trace": trace}
    first, second = _outcome(partial(one, **how)), _outcome(partial(other, **how))
    assert first.stand == second.stand, f"one run came to a stand:\n{first.stand or '-'}\n{second.stand or '-'}"
    if first.trace is not None and second.trace is not None:
        assert_same_trace(first.trace, second.trace)
    if first.ledger is not None and second.ledger is not None:
        assert_same_ledger(first.ledger, second.ledger)
    return first


def _outcome(run: Callable[[], tuple[Ledger, Trace | None]]) -> Outcome:
    try:
        return Outcome(*run())
    except LockUp as stand:
        return Outcome(stand=f"{int(stand.time_us)} us: {stand}")


def assert_same_ledger(one: Ledger, other: Ledger) -> None:
    """Equal in every entry; an error names all entries that differ."""
    wrong: list[str] = []
    for field in dataclasses.fields(Ledger):
        wrong += _differences(field.name, getattr(one, field.name), getattr(other, field.name))
    assert not wrong, "the ledgers differ:\n" + "\n".join(wrong)


def _differences(name: str, one: Any, other: Any) -> list[str]:
    """What differs in one entry of the ledger, kinds of numbers included."""
    if isinstance(one, dict):
        if list(one) != list(other):
            return [f"{name}: names {list(one)} against {list(other)}"]
        return [told for key in one for told in _differences(f"{name}.{key}", one[key], other[key])]
    if isinstance(one, np.ndarray):
        same = one.dtype == other.dtype and np.array_equal(one, other)
    elif isinstance(one, pd.DataFrame):
        same = one.equals(other) and (one.dtypes == other.dtypes).all()
    else:
        same = type(one) is type(other) and one == other
    return [] if same else [f"{name}:\n{one}\nagainst\n{other}"]
