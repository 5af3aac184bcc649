"""Machines with constant cycles and breakdowns in series against known results.

Random repairs hide small differences; repair time beyond its long-run share of the time at work is known to be zero on
average, so it serves as a control variate, and is checked itself.
"""

from __future__ import annotations

import numpy as np
import pytest

from linesim.engine.contract.ledger import Ledger
from tests.helpers.agreement import assert_agrees, assert_between, steadied
from tests.helpers.lines import Plain, constant, serial
from tests.helpers.sampling import good_parts_per_s, repair_beyond_its_share, sample
from tests.helpers.seeds import (
    TWENTY_STATIONS_WITH_BUFFERS,
    TWENTY_STATIONS_WITHOUT_BUFFERS,
    TWO_MACHINES_WITH_STOPS,
)
from tests.helpers.theory.two_machines import Flow, throughput_per_cycle

pytestmark = pytest.mark.statistical


@pytest.mark.parametrize("places", [0, 10, 50])
def test_two_machines_with_a_buffer_follow_the_continuous_flow_formula(places: int) -> None:
    """Cycle 1 s, MTBF 100 s of work, MTTR 10 s: 0.83333, 0.85873, 0.88757 parts a cycle. N = b waiting places.

    Source: Wijngaard (1979); Gershwin & Schick (1980), from memory.
    """
    machine = {"cycle": "1 s", "breakdowns": {"jam": {"mtbf": "100 s", "mttr": "10 s"}}}
    line = serial({"first": machine, "second": machine}, [places])

    def measure(ledger: Ledger) -> tuple[float, float, float]:
        extra = [repair_beyond_its_share(ledger, 0.1, [name]) for name in ("first.1", "second.1")]
        return good_parts_per_s(ledger), extra[0], extra[1]

    found = sample(line, TWO_MACHINES_WITH_STOPS, replications=24, warmup_s=600, measured_s=2800, measure=measure)
    flow = Flow(failure=0.01, repair=0.1)
    exact = throughput_per_cycle(flow, flow, places)
    assert_agrees(1.0 + found[:, 1:].mean(axis=1) / (0.1 * exact), 1.0, meaningful_share=0.2)  # repair as it should be
    assert_agrees(steadied(found[:, 0], found[:, 1:], [0.0, 0.0]), exact, meaningful_share=0.01)


def twenty_stations(mttr: object, places: list[int]) -> Plain:
    """The published line: cycle 1, mean time to failure 200, mean time to repair 10.5 (minutes there, seconds here)."""
    station = {"cycle": "1 s", "breakdowns": {"jam": {"mtbf": "200 s", "mttr": mttr}}}
    return serial({f"s{number}": station for number in range(1, 21)}, places)


def test_twenty_stations_without_buffers_make_more_than_the_formula_for_a_line_stopped_as_a_whole() -> None:
    """0.52 +- 0.01. The printed 0.487 (0.488 by 1 / (1 + 20 x 10.5/200), Buzacott 1967, from memory) belongs to another

    model: there one stop halts all stations, here several can be down at the same time.
    """
    names = [f"s{number}.1" for number in range(1, 21)]

    def measure(ledger: Ledger) -> tuple[float, float]:
        return good_parts_per_s(ledger), repair_beyond_its_share(ledger, 10.5 / 200, names)

    line = twenty_stations("10.5 s", [0] * 19)
    found = sample(line, TWENTY_STATIONS_WITHOUT_BUFFERS, 24, warmup_s=100, measured_s=1500, measure=measure)
    output = steadied(found[:, 0], found[:, 1:], [0.0])
    assert_agrees(1.0 + found[:, 1] / (0.0525 * 0.52), 1.0, meaningful_share=0.2)
    assert_between(output, 0.51, 0.53)
    assert output.mean() - 4 * output.std(ddof=1) / np.sqrt(len(output)) > 1 / (1 + 20 * 10.5 / 200)


@pytest.mark.parametrize(
    ("mttr", "measured_s"), [("10.5 s", 9000), (constant(10.5), 2500)], ids=["exponential repair", "constant repair"]
)
def test_twenty_stations_with_430_places_make_between_085_and_091(mttr: object, measured_s: float) -> None:
    """The printed 0.88 for 430 places leaves the law of the repairs open; between a constant and an exponential one.

    The places are spread evenly here: 12 buffers of 23 and 7 of 22.
    """
    line = twenty_stations(mttr, [23] * 12 + [22] * 7)
    found = sample(line, TWENTY_STATIONS_WITH_BUFFERS, 6, 2000, measured_s, good_parts_per_s)
    assert_between(found, 0.85, 0.91)
