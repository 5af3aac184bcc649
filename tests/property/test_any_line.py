"""What must hold for any legal line, whatever its features. A failing line is printed as a line file."""

from __future__ import annotations

import yaml
from hypothesis import given, note, settings

import linesim
from linesim.engine.contract.ledger import US
from linesim.engine.contract.times import Times
from linesim.engine.contract.trace import Trace
from linesim.engine.simpy import run
from tests.helpers.books import check_books
from tests.helpers.lines import Plain
from tests.helpers.random_lines import lines
from tests.helpers.same_trace import assert_same_trace
from tests.helpers.seeds import PROPERTY

HORIZON_US = 200 * US
WARMUP_US = 47 * US
WINDOW_US = 50 * US


def show(line: Plain) -> None:
    note(yaml.safe_dump(line, sort_keys=False, default_flow_style=None, width=120))


def traced(line: linesim.Line, warmup_us: int = 0, look_everywhere: bool = False) -> Trace:
    times = Times(warmup_us, HORIZON_US, WINDOW_US)
    _, trace = run(line, PROPERTY, 0, times, trace=True, look_everywhere=look_everywhere)
    assert trace is not None
    return trace


@settings(max_examples=100)
@given(lines())
def test_the_books_of_any_line_balance(plain: Plain) -> None:
    show(plain)
    line = linesim.load_line(plain)
    for warmup_us in (0, WARMUP_US):
        ledger, trace = run(line, PROPERTY, 0, Times(warmup_us, HORIZON_US, WINDOW_US), trace=True)
        assert trace is not None
        check_books(ledger, trace, line)


@settings(max_examples=30)
@given(lines())
def test_a_line_run_twice_gives_the_same_trace(plain: Plain) -> None:
    show(plain)
    assert_same_trace(traced(linesim.load_line(plain)), traced(linesim.load_line(plain)))


@settings(max_examples=30)
@given(lines())
def test_a_warm_up_changes_what_is_counted_but_nothing_that_happens(plain: Plain) -> None:
    show(plain)
    line = linesim.load_line(plain)
    assert_same_trace(traced(line), traced(line, warmup_us=WARMUP_US))


@settings(max_examples=100)
@given(lines())
def test_looking_only_where_something_changed_decides_like_looking_everywhere(plain: Plain) -> None:
    show(plain)
    line = linesim.load_line(plain)
    assert_same_trace(traced(line), traced(line, look_everywhere=True))


@settings(max_examples=60)
@given(lines(skips=True))
def test_parts_that_skip_places_keep_to_their_ways_and_a_local_look_is_enough_for_them(plain: Plain) -> None:
    show(plain)
    line = linesim.load_line(plain)
    ledger, trace = run(line, PROPERTY, 0, Times(WARMUP_US, HORIZON_US, WINDOW_US), trace=True)
    assert trace is not None
    check_books(ledger, trace, line)
    assert_same_trace(trace, traced(line, look_everywhere=True))
