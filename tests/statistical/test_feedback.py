"""What correcting on single parts costs: the spread that feedback adds to that of the process."""

from __future__ import annotations

import math

import numpy as np
import pytest

from linesim.engine.contract.ledger import Ledger
from tests.exact.test_control_limits import CYCLE_S, fed_back
from tests.helpers.agreement import assert_agrees
from tests.helpers.sampling import sample
from tests.helpers.seeds import FEEDBACK

pytestmark = pytest.mark.statistical


def spread_with_feedback(delay: int, gain: float) -> float:
    """Standard deviation of the sizes when that of the process is 1.

    s(n+1) = s(n) - g (s(n-k) + w(n-k)) with white w: a step of w at one part is answered by all later settings, and
    its squares add up. Without delay it is sqrt(2 / (2 - g)), exponentially weighted control (from memory).
    """
    answer = [0.0] * (delay + 1) + [-gain]  # of settings to w = 1 at part 0
    while len(answer) < 5000:
        answer.append(answer[-1] - gain * answer[-1 - delay])
    return math.sqrt(1 + sum(step * step for step in answer))


def test_without_delay_the_spread_is_that_of_exponentially_weighted_control() -> None:
    for gain in (0.1, 0.3, 1.0):
        assert spread_with_feedback(0, gain) == pytest.approx(math.sqrt(2 / (2 - gain)), rel=1e-9)


@pytest.mark.parametrize(("delay", "gain"), [(0, 0.3), (3, 0.1), (3, 0.3), (8, 0.1)])
def test_feedback_widens_the_spread_as_the_loop_says(delay: int, gain: float) -> None:
    """1.085 without delay; with three parts 1.035 and 1.255, with eight 1.064: more delay or gain, more spread."""
    line = fed_back(delay, gain, spread="1 um", drift="0.02 um/part")

    def moments(ledger: Ledger) -> np.ndarray:
        made = ledger.sizes[ledger.sizes[:, 0] >= ledger.warmup_us, 4] / 1000
        return np.array([made.std(), made.mean()])

    found = sample(line, FEEDBACK, 20, warmup_s=500 * CYCLE_S, measured_s=20_000 * CYCLE_S, measure=moments)
    assert_agrees(found[:, 0], spread_with_feedback(delay, gain), meaningful_share=0.01)
    assert_agrees(found[:, 1], 0.02 / gain, meaningful_share=0.05)
