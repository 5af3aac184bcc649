"""Tools changed at a set age or when they break before, against the renewal-reward formula of age replacement.

Source: Barlow & Proschan 1965, chapter 4 (from memory): changes per part = 1 / E[min(life, T)], share broken F(T).
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from scipy import integrate

from tests.helpers.agreement import assert_agrees
from tests.helpers.lines import alone, seconds
from tests.helpers.sampling import sample
from tests.helpers.seeds import AGE_REPLACEMENT

pytestmark = pytest.mark.statistical

SHAPE, MEAN, PLANNED = 3.0, 150.0, 120
SCALE = MEAN / math.gamma(1 + 1 / SHAPE)
CYCLE_S, CHANGE_S, BREAKAGE_S = 10.0, 60.0, 240.0


def survival(age: float) -> float:
    return math.exp(-((age / SCALE) ** SHAPE))


def line(**insert: Any) -> Any:
    life = {"family": "weibull", "mean": f"{MEAN:g} parts", "shape": SHAPE}
    change = {"takes": seconds(CHANGE_S), "life": life, "breakage": {"takes": seconds(BREAKAGE_S)}} | insert
    return alone({"cycle": seconds(CYCLE_S), "tool_change": {"insert": change}})


def good_per_s(ledger: Any) -> float:
    measured = ledger.departures[ledger.departures[:, 0] >= ledger.warmup_us]
    return float((measured[:, 3] == 0).sum() / ledger.measured_us * 1e6)


def broken_share(ledger: Any) -> float:
    count = ledger.stoppages.set_index("kind")["begun"]
    return float(count["breakage"] / count.sum())


def made_until_change(planned: float) -> float:
    """Whole parts a tool works on: the sum of the survival at 0, 1, ... below the planned age."""
    last = int(min(planned, 1000))
    return sum(survival(part) for part in range(last))


@pytest.mark.parametrize("planned", [PLANNED, math.inf])
def test_a_station_with_tools_that_break_makes_what_the_formula_says(planned: float) -> None:
    insert = {} if math.isinf(planned) else {"every": f"{planned} parts"}
    alive = 0.0 if math.isinf(planned) else survival(planned)
    parts = made_until_change(planned)
    change_s = alive * CHANGE_S + (1 - alive) * BREAKAGE_S
    expected = (parts - (1 - alive)) / (parts * CYCLE_S + change_s)
    samples = sample(line(**insert), AGE_REPLACEMENT, 20, warmup_s=20_000, measured_s=200_000, measure=good_per_s)
    assert_agrees(samples, expected, meaningful_share=0.01)


def test_the_share_of_broken_tools_is_the_chance_to_die_before_the_planned_age() -> None:
    samples = sample(
        line(every=f"{PLANNED} parts"), AGE_REPLACEMENT, 20, warmup_s=20_000, measured_s=400_000, measure=broken_share
    )
    assert_agrees(samples, 1 - survival(PLANNED), meaningful_share=0.1)


def test_the_sum_over_whole_parts_is_the_integral_of_the_survival_but_for_half_a_part() -> None:
    integral, _ = integrate.quad(survival, 0, PLANNED)
    assert made_until_change(PLANNED) == pytest.approx(integral + (1 - survival(PLANNED)) / 2, abs=0.01)
    assert np.isclose(made_until_change(math.inf), MEAN + 0.5, atol=0.01)
