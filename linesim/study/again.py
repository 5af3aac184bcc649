"""A stretch of a stored run once more, with every event: the same seed gives the same numbers."""

from __future__ import annotations

from linesim.engine.contract import Times, Trace
from linesim.engine.contract.ledger import HOUR_US
from linesim.line import Line
from linesim.results import Results
from linesim.study.engines import choose_engine
from linesim.study.one_run import run_once


def traced_again(results: Results, line: Line, replication: int, to_h: float) -> Trace:
    """The trace of one replication of these results, from its start up to a time [h]."""
    to_us = round(to_h * HOUR_US)
    engine = choose_engine("auto", line, to_h)
    trace = run_once(engine, line, results.about["seed"], replication, Times(0, to_us, to_us), trace=True)[1]
    assert trace is not None
    return trace
