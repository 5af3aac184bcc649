"""What must change nothing: sizes of blocks, looking everywhere, what is traced, other runs at the same time."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from functools import partial

import pytest
from hypothesis import HealthCheck, given, settings

import linesim
from linesim.engine import compiled, simpy
from linesim.engine.compiled import draws
from linesim.engine.contract.streams import Draws
from linesim.engine.simpy import shop as readable_shop
from tests.differential.lines_of_quality import DISTRIBUTIONS
from tests.differential.same_run import (
    DIFFERENTIAL,
    Engine,
    Span,
    assert_same_ledger,
    assert_same_run,
)
from tests.differential.test_each_feature import CASES
from tests.helpers.lines import Plain
from tests.helpers.random_lines import lines
from tests.helpers.same_trace import assert_same_trace

SPAN = Span(3000, 300, 500)
BUSY = ["ring_cell", "two_machines"]
fast: Engine = compiled.run


@pytest.mark.parametrize("block", [1, 2, 37])
@pytest.mark.parametrize("name", [*DISTRIBUTIONS, *BUSY])
def test_the_size_of_the_blocks_of_draws_does_not_matter(
    name: str, block: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Small blocks in the compiled engine against the usual ones in the readable one, and the other way round."""
    line = linesim.load_line(DISTRIBUTIONS[name].line if name in DISTRIBUTIONS else name)
    with monkeypatch.context() as patch:
        patch.setattr(draws, "BLOCK", block)
        assert_same_run(line, SPAN)
    monkeypatch.setattr(readable_shop, "Draws", partial(Draws, block=block))
    assert_same_run(line, SPAN)


@pytest.mark.parametrize("name", CASES)
def test_the_compiled_engine_looking_everywhere_tells_the_same_story_of(name: str) -> None:
    assert_same_run(CASES[name].line, one=compiled.run, other=partial(compiled.run, look_everywhere=True))


@settings(
    max_examples=60,
    derandomize=True,
    database=None,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.filter_too_much],
)
@given(plain=lines())
def test_the_compiled_engine_looking_everywhere_tells_the_same_story_of_random_lines(plain: Plain) -> None:
    span = Span(240, 0, 50)
    assert_same_run(plain, span, one=compiled.run, other=partial(compiled.run, look_everywhere=True))


@pytest.mark.parametrize("engine", [simpy.run, compiled.run], ids=["readable", "compiled"])
def test_keeping_a_trace_changes_no_entry_of_the_ledger(engine: Engine) -> None:
    run = partial(engine, linesim.load_line("ring_cell"), DIFFERENTIAL, 2, SPAN.times())
    assert_same_ledger(run(trace=True)[0], run(trace=False)[0])


def test_where_the_windows_end_changes_nothing_that_happens() -> None:
    """The kernel stops at every window's end and goes on from there."""
    line = linesim.load_line("ring_cell")
    _, often = fast(line, DIFFERENTIAL, 0, Span(7200, 0, 1).times(), trace=True)
    _, never = fast(line, DIFFERENTIAL, 0, Span(7200, 0, 7200).times(), trace=True)
    assert often is not None
    assert never is not None
    assert_same_trace(often, never)


def test_eight_replications_in_four_threads_are_those_that_run_alone() -> None:
    line = linesim.load_line("ring_divided")
    times = Span(50 * 3600, 3600, 3600).times()
    with ThreadPoolExecutor(4) as threads:
        together = list(threads.map(lambda number: fast(line, DIFFERENTIAL, number, times)[0], range(8)))
    for number in (7, 0, 3):
        assert_same_ledger(fast(line, DIFFERENTIAL, number, times)[0], together[number])
