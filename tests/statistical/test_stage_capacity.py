"""A stage simulated alone makes what the rough-cut capacity sheet says: it never starves, its crews are always free.

Source: common practice of capacity sheets; tests/helpers/theory/capacity.py.
"""

from __future__ import annotations

from typing import Any

import pytest

from tests.helpers.agreement import assert_agrees
from tests.helpers.lines import alone, constant, exponential
from tests.helpers.sampling import good_parts_per_s, sample
from tests.helpers.seeds import STAGE_CAPACITY
from tests.helpers.theory.capacity import Cause
from tests.helpers.theory.capacity import good_parts_per_s as capacity

pytestmark = pytest.mark.statistical

CREWS = {"technician": {"people": 9, "response": constant(15)}, "setter": {"people": 9, "response": constant(10)}}
JAM = {"mtbf": exponential(400), "mttr": exponential(25), "crew": "technician"}  # down 40 s with response
WEAR = {"mtbf": exponential(900), "mttr": exponential(60)}


def found(measured_s: float = 65_000, **station: Any) -> Any:
    line = alone({"cycle": exponential(10), **station}, crews=CREWS)
    return sample(line, STAGE_CAPACITY, 20, warmup_s=2000, measured_s=measured_s, measure=good_parts_per_s)


def test_two_causes_on_the_working_clock_lengthen_the_cycle() -> None:
    expected = capacity(10, working=[Cause(400, 40), Cause(900, 60)])
    assert expected == pytest.approx(0.1 / (1 + 0.1 + 0.0666667), rel=1e-6)
    assert_agrees(found(breakdowns={"jam": JAM, "wear": WEAR}), expected, meaningful_share=0.02)


def test_a_cause_on_the_calendar_takes_its_share_of_the_time_and_ages_during_stops() -> None:
    """Tool change 50 s every 20 parts: 12.5 s a part; of that 400/440 is available.

    The stop has no crew, so it stands still while the machine is down. One that people see to goes on meanwhile, and
    the stage then makes a little more than the sheet.
    """
    stops = {"insert": {"every": "20 parts", "takes": "50 s"}}
    expected = capacity(10, calendar=[Cause(400, 40)], stops=[(50, 20)])
    assert expected == pytest.approx(1 / 12.5 * 400 / 440)
    assert_agrees(
        found(breakdowns={"jam": {**JAM, "clock": "calendar"}}, tool_change=stops), expected, meaningful_share=0.02
    )


def test_causes_on_the_working_clock_do_not_age_during_stops_nor_scrapped_parts_count() -> None:
    """10 x (1 + 40/400) + 50/20 = 13.5 s a part, of which 95 % are good; two machines."""
    stops = {"insert": {"every": "20 parts", "takes": "40 s", "crew": "setter"}}
    expected = capacity(10, machines=2, working=[Cause(400, 40)], stops=[(50, 20)], scrap=0.05)
    assert expected == pytest.approx(2 * 0.95 / 13.5)
    quality = {"defects": {"size": "5 %"}, "inspection": {"catches": "100 %"}}
    samples = found(measured_s=40_000, machines=2, breakdowns={"jam": JAM}, tool_change=stops, **quality)
    assert_agrees(samples, expected, meaningful_share=0.015)


def test_causes_on_both_clocks_multiply_but_for_the_time_they_are_down_together() -> None:
    """The sheet lets the calendar clock age while the other cause is repaired; in the model it stands still then.

    So the stage makes a little more than the sheet: 10 x (1 + 60/900) a part at work, of which 10 s cost 10 % more.
    """
    sheet = capacity(10, working=[Cause(900, 60)], calendar=[Cause(400, 40)])
    exact = 1 / (10 * (1 + 60 / 900 + 40 / 400))
    assert sheet < exact < 1.01 * sheet
    both = {"jam": {**JAM, "clock": "calendar"}, "wear": WEAR}
    assert_agrees(found(breakdowns=both), exact, meaningful_share=0.02)
