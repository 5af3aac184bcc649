"""Laws of serial lines: more room never hurts, and time has no scale."""

from __future__ import annotations

import numpy as np
import yaml
from hypothesis import given, note, settings
from hypothesis import strategies as st

import linesim
from linesim.engine.contract.ledger import US
from linesim.engine.contract.times import Times
from linesim.engine.simpy import run
from tests.helpers.lines import Plain
from tests.helpers.random_lines import deterministic_serial_lines, serial_lines
from tests.helpers.seeds import PROPERTY

TIMES = Times(0, 300 * US, 300 * US)
TWICE_AS_LONG = Times(0, 600 * US, 600 * US)


def departures_us(plain: Plain) -> np.ndarray:
    ledger, _ = run(linesim.load_line(plain), PROPERTY, 0, TIMES)
    return ledger.departures[:, 0]


@settings(max_examples=60)
@given(serial_lines(), st.data())
def test_more_buffer_never_makes_the_nth_part_leave_later(plain: Plain, data: st.DataObject) -> None:
    """Blocking after service, one machine a station, working clocks, no crew, no scrap, the same seed, from empty.

    Source: lines in tandem are monotone in their buffers, Shanthikumar & Yao (1989), from memory.
    """
    bigger = {**plain, "buffers": {}}
    for name, buffer in plain["buffers"].items():
        more = data.draw(st.integers(0, 3), label=f"more places in {name}")
        bigger["buffers"][name] = {"capacity": buffer["capacity"] + more}
    note(yaml.safe_dump({"plain": plain, "bigger": bigger}, sort_keys=False, default_flow_style=None, width=120))
    small, large = departures_us(plain), departures_us(bigger)
    assert len(large) >= len(small)
    assert (large[: len(small)] <= small).all()


@settings(max_examples=60)
@given(deterministic_serial_lines())
def test_doubling_every_time_of_a_line_without_chance_doubles_the_times_of_its_trace_and_nothing_else(
    pair: tuple[Plain, Plain],
) -> None:
    plain, doubled = pair
    note(yaml.safe_dump(plain, sort_keys=False, default_flow_style=None, width=120))
    ledger, trace = run(linesim.load_line(plain), PROPERTY, 0, TIMES, trace=True)
    slow_ledger, slow_trace = run(linesim.load_line(doubled), PROPERTY, 0, TWICE_AS_LONG, trace=True)
    assert trace is not None
    assert slow_trace is not None
    assert slow_ledger.machines.equals(ledger.machines)
    assert slow_ledger.stoppages["begun"].tolist() == ledger.stoppages["begun"].tolist()
    assert slow_ledger.departures[:, 0].tolist() == (2 * ledger.departures[:, 0]).tolist()
    assert slow_trace.rows[:, [1, 2, 3]].tolist() == trace.rows[:, [1, 2, 3]].tolist()
    assert slow_trace.rows[:, 0].tolist() == (2 * trace.rows[:, 0]).tolist()
