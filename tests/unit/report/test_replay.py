"""What a replay is given: the window that was asked for, how everything stood before it, and that it is of this run."""

import json
from html import unescape

import numpy as np
import pytest

from linesim import simulate
from linesim.engine.contract.ledger import HOUR_US
from linesim.engine.contract.times import Times
from linesim.engine.contract.trace import Trace
from linesim.engine.simpy import run
from linesim.line import Line, load_line
from linesim.report import replay
from linesim.report.replay import is_of, replay_of

FROM_US, TO_US = HOUR_US, 2 * HOUR_US


@pytest.fixture(scope="module", params=["ring_cell", "ring_cell+rejects_by_loader", "two_machines", "twenty_stations"])
def line(request: pytest.FixtureRequest) -> Line:
    name, _, change = request.param.partition("+")
    return load_line(name, change=change or None)


def trace_of(line: Line, seed: int, until_us: int) -> Trace:
    trace = run(line, seed, 1, Times(0, until_us, HOUR_US), trace=True)[1]
    assert trace is not None
    return trace


def test_the_window_begins_with_what_the_ledger_says_is_inside(line: Line) -> None:
    ledger, trace = run(line, 3, 1, Times(FROM_US, TO_US, HOUR_US), trace=True)
    assert trace is not None
    data = json.loads(unescape(replay_of(trace, line, 1, FROM_US, TO_US).data))
    assert data["start"]["inside"] == ledger.inside_start
    rows = np.array(data["rows"]).reshape(-1, 5)
    times = FROM_US + rows[:, 0].cumsum()
    assert times[0] >= FROM_US
    assert times[-1] < TO_US


def test_a_window_with_too_many_events_is_cut_to_whole_minutes(line: Line, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(replay, "MOST_ROWS", 100)
    trace = trace_of(line, 3, TO_US)
    from_us, to_us = replay.window_of(trace, FROM_US, TO_US)
    assert from_us == FROM_US
    assert FROM_US < to_us < TO_US
    assert to_us % (60 * 10**6) == 0


def test_the_window_is_told_in_hours_and_minutes() -> None:
    line = load_line("two_machines")
    trace = trace_of(line, 3, TO_US)
    whole = replay_of(trace, line, 1, FROM_US, TO_US)
    assert whole.about == "Replication 1, from 1 h to 2 h after its start."
    part = replay_of(trace, line, 1, FROM_US + HOUR_US // 4, TO_US)
    assert part.about == "Replication 1, from 1 h 15 min to 2 h after its start."


def test_a_trace_of_another_run_is_noticed(line: Line) -> None:
    results = simulate(line, hours=3, warmup_hours=0.5, replications=1, seed=3, engine="simpy", window_h=0.1)
    assert is_of(trace_of(line, 3, TO_US), line, results, 1)
    assert not is_of(trace_of(line, 4, TO_US), line, results, 1)


def test_each_part_in_the_window_has_the_mark_of_its_type() -> None:
    """Orders of 20 and 20, parts numbered from 1 on as they enter: 1 to 20 are of the first type, 21 to 40 not."""
    orders = "orders=[{part: small, size: 20}, {part: large, size: 20}]"
    line = load_line("ring_cell", [orders], change="two_rings")
    trace = trace_of(line, 3, TO_US)
    shown = replay_of(trace, line, 1, 0, TO_US)
    assert [name for _, name in shown.types] == list(line.parts)
    marks = json.loads(unescape(shown.data))["marks"]
    assert set(marks) == {str(part) for part in trace.rows[trace.rows[:, 3] > 0, 3]}
    assert all(mark == "AB"[(int(part) - 1) // 20 % 2] for part, mark in marks.items())
    assert len(marks) > 40


def test_where_all_parts_are_alike_none_has_a_mark(line: Line) -> None:
    shown = replay_of(trace_of(line, 3, TO_US), line, 1, FROM_US, TO_US)
    assert (shown.types, json.loads(unescape(shown.data))["marks"]) == ([], {})
