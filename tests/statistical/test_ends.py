"""Lines with a limit of parts inside, and stocks that blanks arrive at, against formulas of closed and open queues."""

from __future__ import annotations

import numpy as np
import pytest

from linesim.engine.contract.ledger import Ledger
from tests.helpers.agreement import assert_agrees
from tests.helpers.lines import Plain, alone, exponential, serial
from tests.helpers.sampling import good_parts_per_s, sample
from tests.helpers.seeds import CLOSED_LINE, RANDOM_ARRIVALS, REGULAR_ARRIVALS

pytestmark = pytest.mark.statistical


def stock(ledger: Ledger) -> float:
    """Mean number of blanks waiting at the infeed."""
    return float(ledger.ends["stock_us"].iloc[0] / ledger.measured_us)


@pytest.mark.parametrize("inside", [1, 3])
def test_a_closed_line_makes_w_over_w_plus_n_minus_1_of_the_station_rate(inside: int) -> None:
    """Exponential cycles of mean 1 s on 4 machines, buffers that never fill: 1 / 4 and 3 / 6 parts/s.

    Hopp & Spearman, Factory Physics, practical worst case (from memory); exact by mean value analysis.
    """
    line = serial({f"m{number}": exponential(1) for number in range(4)}, [3, 3, 3], wip_limit=inside)
    found = sample(line, CLOSED_LINE + inside, 20, warmup_s=100, measured_s=10_000, measure=good_parts_per_s)
    assert_agrees(found, inside / (inside + 4 - 1), meaningful_share=0.01)


def fed(arrivals: object) -> Plain:
    """A machine with exponential cycles of 4 s behind these arrivals, one every 5 s in the mean: rho 0.8."""
    line = alone({"cycle": exponential(4)})
    return {**line, "infeed": {"stocker": {"arrivals": {"every": arrivals}}}}


def test_random_arrivals_before_a_machine_wait_as_in_the_simplest_queue() -> None:
    """M/M/1: rho^2 / (1 - rho) = 3.2 wait; with 24 and 30 an hour as in Bronson, Operations Research, chapter 23."""
    found = sample(fed(exponential(5)), RANDOM_ARRIVALS, 20, warmup_s=2000, measured_s=200_000, measure=stock)
    assert_agrees(found, 3.2, meaningful_share=0.1)


def test_regular_arrivals_wait_less() -> None:
    """D/M/1: sigma = exp(-(1 - sigma) / rho), rho sigma / (1 - sigma) wait.

    Kleinrock, Queueing Systems 1, chapter on GI/M/1 (from memory); sigma solved here by iteration.
    """
    sigma = 0.5
    for _ in range(300):
        sigma = float(np.exp(-(1 - sigma) / 0.8))
    found = sample(fed("5 s"), REGULAR_ARRIVALS, 20, warmup_s=2000, measured_s=200_000, measure=stock)
    assert_agrees(found, 0.8 * sigma / (1 - sigma), meaningful_share=0.06)
