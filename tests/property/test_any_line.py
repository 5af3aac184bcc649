"""What must hold for any legal line, whatever its features. A failing line is printed as a line file."""

from __future__ import annotations

import numpy as np
import yaml
from hypothesis import given, note, settings

import linesim
from linesim.engine.contract.ledger import US
from linesim.engine.contract.trace import Trace
from linesim.engine.simpy import run
from tests.helpers.books import check_books
from tests.helpers.lines import Plain
from tests.helpers.random_lines import lines
from tests.helpers.seeds import PROPERTY

HORIZON_US = 240 * US
WARMUP_US = 47 * US
WINDOW_US = 50 * US


def show(line: Plain) -> None:
    note(yaml.safe_dump(line, sort_keys=False, default_flow_style=None, width=120))


def traced(line: linesim.Line, warmup_us: int = 0, look_everywhere: bool = False) -> Trace:
    _, trace = run(
        line, PROPERTY, 0, warmup_us, HORIZON_US, WINDOW_US, trace=True, look_everywhere=look_everywhere
    )
    assert trace is not None
    return trace


def assert_same_rows(one: Trace, other: Trace) -> None:
    """Equal row by row; else show the rows around the first difference."""
    length = min(len(one.rows), len(other.rows))
    differs = np.flatnonzero((one.rows[:length] != other.rows[:length]).any(axis=1))
    if len(differs) or len(one.rows) != len(other.rows):
        first = int(differs[0]) if len(differs) else length
        around = slice(max(0, first - 5), first + 5)
        raise AssertionError(f"rows differ from {first} on:\n{one.rows[around]}\nagainst\n{other.rows[around]}")


@settings(max_examples=150)
@given(lines())
def test_the_books_of_any_line_balance(plain: Plain) -> None:
    show(plain)
    line = linesim.load_line(plain)
    for warmup_us in (0, WARMUP_US):
        ledger, trace = run(line, PROPERTY, 0, warmup_us, HORIZON_US, WINDOW_US, trace=True)
        assert trace is not None
        check_books(ledger, trace, line)


@settings(max_examples=60)
@given(lines())
def test_a_line_run_twice_gives_the_same_trace(plain: Plain) -> None:
    show(plain)
    assert_same_rows(traced(linesim.load_line(plain)), traced(linesim.load_line(plain)))


@settings(max_examples=60)
@given(lines())
def test_a_warm_up_changes_what_is_counted_but_nothing_that_happens(plain: Plain) -> None:
    show(plain)
    line = linesim.load_line(plain)
    assert_same_rows(traced(line), traced(line, warmup_us=WARMUP_US))


@settings(max_examples=150)
@given(lines())
def test_looking_only_where_something_changed_decides_like_looking_everywhere(plain: Plain) -> None:
    show(plain)
    line = linesim.load_line(plain)
    assert_same_rows(traced(line), traced(line, look_everywhere=True))
