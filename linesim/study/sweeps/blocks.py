"""A block of work: some runs of some points, done by one worker at a stretch, and the rows that come of them."""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

from linesim.engine.contract import Times
from linesim.line import build
from linesim.results.tables import Yardstick, measures
from linesim.study.one_run import run_once


class Run(NamedTuple):
    """One replication of one point, both by number."""

    point: int
    replication: int


@dataclass(frozen=True)
class Block:
    """runs: in order. contents: the line of each point that they need. It can be sent to another machine."""

    runs: Sequence[Run]
    contents: Mapping[int, Mapping[str, Any]]
    times: Times
    seed: int
    engine: str


class Done(NamedTuple):
    """Rows of finished runs: point, replication, error (None or text) and the measures; and how long they took [s]."""

    rows: list[dict[str, Any]]
    took_s: float


def work(block: Block, go_on: Callable[[], bool] = lambda: True) -> Done:
    """Does the runs of a block, one after another. A run that fails leaves its error in its row, and the next begins.

    go_on: asked now and then; once it says no the run under way is given up, and those finished come back.
    """
    began_s = time.monotonic()
    rows: list[dict[str, Any]] = []
    built: dict[int, Yardstick] = {}

    def look_up(now_us: int) -> None:
        if not go_on():
            raise _GivenUp

    for run in block.runs:
        row: dict[str, Any] = {**run._asdict(), "error": None}
        try:
            look_up(0)
            if run.point not in built:
                built = {run.point: Yardstick.of(build(block.contents[run.point]))}
            yardstick = built[run.point]
            ledger, _ = run_once(
                block.engine, yardstick.line, block.seed, run.replication, block.times, on_progress=look_up
            )
            row |= measures(ledger, yardstick)
        except _GivenUp:
            break
        except Exception as error:
            row["error"] = f"{type(error).__name__}: {error}"
        rows.append(row)
    return Done(rows, time.monotonic() - began_s)


class _GivenUp(Exception):
    """The rest of the block is no longer wanted."""
