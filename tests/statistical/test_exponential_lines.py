"""Serial lines with exponential cycles against their exact throughput.

Sources: Hunt (1956), Hillier & Boling (1967), from memory, solved again in tests/helpers/theory/exponential_lines.py;
reversibility: Yamazaki & Sakasegawa (1975), Muth (1979), from memory.
"""

from __future__ import annotations

import numpy as np
import pytest

from linesim.engine.contract.ledger import Ledger, MachineState
from tests.helpers.agreement import assert_agrees
from tests.helpers.lines import exponential, serial
from tests.helpers.sampling import good_parts_per_s, sample, share
from tests.helpers.seeds import EXPONENTIAL_LINES, REVERSIBILITY, REVERSIBILITY_WITH_BREAKDOWNS
from tests.helpers.theory.exponential_lines import throughput

pytestmark = pytest.mark.statistical


def output_and_work(ledger: Ledger) -> tuple[float, float]:
    """Parts out per second, and the mean share of time at work: with a mean cycle of 1 s both are the throughput."""
    return good_parts_per_s(ledger), share(ledger, MachineState.WORKING)


@pytest.mark.parametrize(("stations", "places"), [(2, 0), (2, 2), (3, 1), (4, 0), (5, 1), (6, 0)])
def test_a_balanced_line_makes_what_its_markov_chain_says(stations: int, places: int) -> None:
    """The share of time at work scatters less than the count, so it is held to 1 %, the count to 2 %."""
    line = serial({f"s{number}": exponential(1.0) for number in range(stations)}, [places] * (stations - 1))
    found = sample(line, EXPONENTIAL_LINES, replications=24, warmup_s=100, measured_s=2400, measure=output_and_work)
    exact = throughput([1.0] * stations, [places] * (stations - 1))
    assert_agrees(found[:, 0], exact, meaningful_share=0.02)
    assert_agrees(found[:, 1], exact, meaningful_share=0.01)


def test_an_unbalanced_exponential_line_and_its_mirror_image_make_the_same() -> None:
    """Means 1, 0.6, 1.2 s with 0 and 2 places; both directions are held to the chain too."""
    means_s, places = [1.0, 0.6, 1.2], [0, 2]
    stations = {f"s{number}": exponential(mean_s) for number, mean_s in enumerate(means_s)}
    mirror = dict(reversed(stations.items()))
    there = sample(serial(stations, places), REVERSIBILITY, 24, 100, 1600, good_parts_per_s)
    back = sample(serial(mirror, places[::-1]), REVERSIBILITY, 24, 100, 1600, good_parts_per_s)
    exact = throughput([1 / mean_s for mean_s in means_s], places)
    assert_agrees(there, exact, meaningful_share=0.02)
    assert_agrees(back, exact, meaningful_share=0.02)
    assert_agrees(there / back, 1.0, meaningful_share=0.02)


def test_a_line_with_breakdowns_and_its_mirror_image_make_the_same() -> None:
    """Three machines of 1 s, one of them often down, with 1 and 5 places. Each keeps its own random numbers."""
    plans = {"a": (40.0, 4.0), "b": (80.0, 10.0), "c": (30.0, 9.0)}
    stations = {
        name: {"cycle": "1 s", "breakdowns": {"jam": {"mtbf": f"{mtbf} s", "mttr": f"{mttr} s"}}}
        for name, (mtbf, mttr) in plans.items()
    }
    mirror = dict(reversed(stations.items()))
    there = sample(serial(stations, [1, 5]), REVERSIBILITY_WITH_BREAKDOWNS, 20, 200, 2500, good_parts_per_s)
    back = sample(serial(mirror, [5, 1]), REVERSIBILITY_WITH_BREAKDOWNS, 20, 200, 2500, good_parts_per_s)
    assert_agrees(there / back, 1.0, meaningful_share=0.01)
    assert np.mean(there) < 1 / 1.3  # machine c alone
