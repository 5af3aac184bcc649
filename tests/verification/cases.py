"""How often statements hold that are meant to hold in 95 of 100, on lines and values whose truth is known."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
import pandas as pd

from linesim.results.differences import paired
from linesim.results.intervals import estimate
from linesim.results.outlook import binomial_interval, quantile_interval
from linesim.results.precision import Wanted, stands
from linesim.results.selection import survivors
from linesim.study.until_chosen import STEP
from tests.helpers.lines import exponential, serial
from tests.helpers.sampling import good_parts_per_s, sample
from tests.helpers.seeds import VERIFICATION
from tests.helpers.theory.exponential_lines import throughput

REPLICATIONS = 10  # of an experiment
WARM_UP_S, MEASURED_S = 200.0, 500.0  # of lines with cycles of 1 s: far longer than they take to settle


@dataclass(frozen=True)
class Case:
    """held: in how many of the experiments the statement held. low, high: the share that it should hold in."""

    name: str
    experiments: int
    held: int
    low: float
    high: float = 1.0

    @property
    def share(self) -> float:
        return self.held / self.experiments

    @property
    def is_right(self) -> bool:
        return self.low <= self.share <= self.high


def line_of(places: list[int]) -> dict[str, Any]:
    """Exponential stations of mean 1 s with so many places between them."""
    return serial({f"m{number}": exponential(1) for number in range(len(places) + 1)}, places)


def runs(places: list[int], experiments: int) -> np.ndarray:
    """Output of a line [parts/s], shape (experiments, REPLICATIONS)."""
    count = experiments * REPLICATIONS
    made = sample(line_of(places), VERIFICATION, count, WARM_UP_S, MEASURED_S, good_parts_per_s)
    return made.reshape(experiments, REPLICATIONS)


def interval_of_a_line(experiments: int, places: list[int]) -> Case:
    """The t-interval of the output holds the exact one (Hunt 1956, Hillier & Boling 1967, solved as Markov chain)."""
    truth = throughput([1.0] * (len(places) + 1), places)
    held = sum(found.low <= truth <= found.high for found in map(estimate, runs(places, experiments)))
    name = f"output of {len(places) + 1} exponential stations, {'-'.join(map(str, places))} places: t-interval"
    return Case(name, experiments, held, 0.93, 0.97)


def difference_of_lines(experiments: int) -> Case:
    """The paired interval of one place more, on the same random numbers, holds the exact difference."""
    truth = throughput([1.0, 1.0], [1]) - throughput([1.0, 1.0], [0])
    pairs = zip(runs([1], experiments), runs([0], experiments), strict=True)
    held = 0
    for more, less in pairs:
        found = paired(pd.Series(more), pd.Series(less))
        held += found.low <= truth <= found.high
    return Case("one place more, on the same random numbers: paired interval", experiments, held, 0.93, 0.97)


def quantile(experiments: int) -> Case:
    """Bounds of the twentieth part of 100 exponential values; by order statistics they hold a little more often."""
    chance = np.random.default_rng([VERIFICATION, 1])
    truth = -np.log(0.95)
    found = [quantile_interval(chance.exponential(size=100), 0.05) for _ in range(experiments)]
    held = sum(each.low <= truth <= each.high for each in found)
    return Case("5 % quantile of 100 exponential values: order statistics", experiments, held, 0.94, 0.99)


def share(experiments: int) -> Case:
    """Binomial bounds of a share of 0.1 in 60 trials; Clopper & Pearson's hold at least so often."""
    hits = np.random.default_rng([VERIFICATION, 2]).binomial(60, 0.1, experiments)
    held = sum(each.low <= 0.1 <= each.high for each in (binomial_interval(int(hit), 60) for hit in hits))
    return Case("share of 0.1 in 60 trials: binomial bounds", experiments, held, 0.945)


def until_precise(experiments: int) -> Case:
    """The interval of a run that ends when it is precise. Ending by what was found costs a little of the 95 %.

    Normal values of mean 100 and standard deviation 10, to 3 % of the mean: about 45 replications.
    """
    held = 0
    wanted = [Wanted("throughput_per_h", 0.03, True)]
    for number in range(experiments):
        values = np.random.default_rng([VERIFICATION, 3, number]).normal(100, 10, 1000)
        count = REPLICATIONS
        while not stands(wanted, {"throughput_per_h": values[:count].tolist()}):
            count += 5
        found = estimate(values[:count])
        held += found.low <= 100 <= found.high
    return Case("mean after adding replications until 3 %: t-interval", experiments, held, 0.93, 0.97)


def selection(experiments: int) -> Case:
    """The best of five that leads by the indifference, the others all equal, is chosen; looked at as `compare` does."""
    held = 0
    for number in range(experiments):
        source = np.random.default_rng([VERIFICATION, 4, number])
        common = source.normal(0, 1, (400, 1))  # shared luck
        values = pd.DataFrame(common + source.normal(0, [1, 1, 2, 1, 0.5], (400, 5)) + [0.5, 0, 0, 0, 0])
        left, count = [*range(5)], REPLICATIONS
        while len(left) > 1 and count <= len(values):
            left = survivors(values.loc[: count - 1, left], REPLICATIONS, 5, 0.5)
            count += STEP
        held += left == [0]
    return Case("best of five, ahead by the indifference: chosen", experiments, held, 0.95 - 3 * 0.0109)


CASES: Mapping[str, Callable[[], Case]] = {
    "two_stations": lambda: interval_of_a_line(1000, [0]),
    "three_stations": lambda: interval_of_a_line(1000, [1, 1]),
    "difference": lambda: difference_of_lines(1000),
    "quantile": lambda: quantile(2000),
    "share": lambda: share(2000),
    "until_precise": lambda: until_precise(1000),
    "selection": lambda: selection(400),
}
