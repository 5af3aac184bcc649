"""The warm-up that is found for a queue whose start-up is known exactly."""

from __future__ import annotations

import numpy as np
import pytest

import linesim
from linesim.study.warm_up import common_cut_h, run_pilot
from tests.helpers.lines import exponential, serial
from tests.helpers.seeds import WARM_UP
from tests.helpers.theory.start_up import mean_in_system, shortfall

SERVICE_S, RHO, HOURS = 300.0, 0.9, 1000.0


def test_the_solution_gives_the_published_start_up() -> None:
    """Abate & Whitt 1987: mean number at 10, 100 and 1000 service times from empty, rho 0.9 (figures from memory)."""
    curve = mean_in_system(0.9, 1000, 100)
    assert curve[[1, 10, 100]].round(4).tolist() == [2.5307, 6.4439, 8.9556]


@pytest.mark.statistical
def test_the_cut_takes_at_least_half_of_the_start_up_bias_away_at_little_cost() -> None:
    """A machine that never starves feeds a queue that never fills: M/M/1 with 0.9, 1000 h, 12 pilots of ten runs.

    Uncut, the mean over 1000 h stays 0.075 below the 9 of the steady state. Half of that is the least that a cut must
    take away to be worth it, in the mean; none may be refused, and half of them may cost a tenth of the run at most.
    """
    line = linesim.load_line(serial({"feed": exponential(SERVICE_S / RHO), "mill": exponential(SERVICE_S)}, [3000]))
    cuts_h = [common_cut_h({"": run_pilot(line, HOURS, WARM_UP + n, "compiled")}) for n in range(12)]
    in_services = 3600 / SERVICE_S
    uncut, *left = shortfall(RHO, [0.0, *(cut * in_services for cut in cuts_h)], HOURS * in_services)
    assert np.mean(left) <= uncut / 2
    assert np.median(cuts_h) <= HOURS / 10
