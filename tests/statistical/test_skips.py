"""Parts that skip a station against the solution of an open network of queues."""

from __future__ import annotations

import numpy as np
import pytest

from linesim.engine.contract.ledger import Ledger, MachineState
from tests.helpers.agreement import assert_agrees
from tests.helpers.lines import Plain, exponential, serial
from tests.helpers.sampling import sample
from tests.helpers.seeds import SKIPPING

pytestmark = pytest.mark.statistical


def network() -> Plain:
    """Blanks at random, one every 4 s in the mean; 60 % go from the saw past the mill to the wash, the rest through it.

    All cycles are exponential, and no buffer ever fills.
    """
    parts = {"small": {"share": "60 %", "skips": ["park_1", "mill"]}, "large": {"share": "40 %"}}
    line = serial({"saw": exponential(2), "mill": exponential(7), "wash": exponential(3)}, [500, 500], parts=parts)
    return {**line, "infeed": {"stocker": {"arrivals": {"every": exponential(4)}}}}


def number_at(ledger: Ledger) -> list[float]:
    """Mean number of parts in front of mill and wash and in them."""
    found = []
    for park, machine in (("park_1", "mill.1"), ("park_2", "wash.1")):
        waiting = np.arange(len(ledger.levels[park])) @ ledger.levels[park]
        found.append(float(waiting + ledger.states[machine][MachineState.WORKING]) / ledger.measured_us)
    return found


def test_each_station_of_a_network_is_a_queue_of_the_parts_that_come_to_it() -> None:
    """Jackson 1957, Burke 1956 (from memory): rho / (1 - rho) parts at each; mill 0.4 x 7 / 4 = 0.7, wash 3 / 4."""
    found = sample(network(), SKIPPING, 20, warmup_s=4000, measured_s=400_000, measure=number_at)
    assert_agrees(found[:, 0], 0.7 / 0.3, meaningful_share=0.1)
    assert_agrees(found[:, 1], 0.75 / 0.25, meaningful_share=0.1)
