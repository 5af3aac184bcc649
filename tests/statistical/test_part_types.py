"""A mix of part types against the formula of a queue with two service times, and against its shares."""

from __future__ import annotations

import numpy as np
import pytest

from linesim.engine.contract.ledger import Ledger
from tests.helpers.agreement import assert_agrees
from tests.helpers.lines import Plain, alone, exponential
from tests.helpers.sampling import sample
from tests.helpers.seeds import MIX_OF_TWO

pytestmark = pytest.mark.statistical


def fed() -> Plain:
    """Blanks arrive at random, one every 5 s in the mean; 60 % take 2 s and 40 % take 7 s: 4 s in the mean, rho 0.8."""
    mix = {"small": {"share": "60 %"}, "large": {"share": "40 %"}}
    line = alone({"cycle": {"small": "2 s", "large": "7 s"}}, parts=mix)
    return {**line, "infeed": {"stocker": {"arrivals": {"every": exponential(5)}}}}


def stock(ledger: Ledger) -> float:
    """Mean number of blanks waiting at the infeed."""
    return float(ledger.ends["stock_us"].iloc[0] / ledger.measured_us)


def small(ledger: Ledger) -> float:
    """Share of small parts among those that left."""
    return float(np.mean(ledger.departures[:, 7] == 0))


def test_a_mix_of_two_cycles_waits_as_pollaczek_and_khinchine_say() -> None:
    """M/G/1: rate^2 E[S^2] / (2 (1 - rho)) wait; E[S^2] = 0.6 x 4 + 0.4 x 49 = 22 s2: 22 / 25 / 0.4 = 2.2 parts.

    Bronson, Operations Research, or any book on queues (from memory). Drawn types that were not independent, such as
    batches, would let more wait.
    """
    found = sample(fed(), MIX_OF_TWO, 20, warmup_s=2000, measured_s=200_000, measure=stock)
    assert_agrees(found, 2.2, meaningful_share=0.1)


def test_parts_come_in_the_shares_of_the_mix() -> None:
    found = sample(fed(), MIX_OF_TWO + 1, 20, warmup_s=0, measured_s=50_000, measure=small)
    assert_agrees(found, 0.6, meaningful_share=0.01)
