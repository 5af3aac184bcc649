"""Machines that work on batches behind random arrivals, against the solution of their queue."""

from __future__ import annotations

import pytest

from linesim.engine.contract.ledger import Ledger
from linesim.results.measures.stock import mean_wip
from tests.helpers.agreement import assert_agrees
from tests.helpers.lines import Plain, alone, exponential
from tests.helpers.sampling import sample
from tests.helpers.seeds import BATCHES
from tests.helpers.theory.batches import mean_number

pytestmark = pytest.mark.statistical


def number(ledger: Ledger) -> float:
    """Mean number of parts at the infeed and in the machine."""
    return float(ledger.ends["stock_us"].iloc[0] / ledger.measured_us) + mean_wip(ledger)


def fed(batch: Plain) -> Plain:
    """Blanks arrive at random, one every 5 s in the mean; a batch of up to 3 takes 10 s in the mean: load 2 / 3."""
    line = alone({"cycle": exponential(10), "batch": batch})
    return {**line, "infeed": {"stocker": {"arrivals": {"every": exponential(5)}}}}


def test_the_solution_of_batches_of_one_is_that_of_the_simplest_queue() -> None:
    """M/M/1 at rho 0.8: 4 parts."""
    assert mean_number(0.2, 4, 1, 1) == pytest.approx(4)


def test_full_batches_alone_add_the_wait_for_the_others() -> None:
    """Batches of k that start when full, hardly any work: on the mean (k - 1) / 2 parts wait."""
    assert mean_number(0.2, 0.001, 3, 3) == pytest.approx(1, abs=0.001)


@pytest.mark.parametrize(("least", "seed"), [(1, BATCHES), (2, BATCHES + 1), (3, BATCHES + 2)])
def test_batches_behind_random_arrivals_wait_as_their_queue_says(least: int, seed: int) -> None:
    given: Plain = {"size": "3 parts"}
    if least < 3:
        given |= {"at_least": f"{least} parts", "wait_at_most": "0 s"}
    found = sample(fed(given), seed, 20, warmup_s=2000, measured_s=200_000, measure=number)
    assert_agrees(found, mean_number(0.2, 10, least, 3), meaningful_share=0.05)
