"""Replications until measures are precise enough, on lines whose scatter is known."""

from typing import Any

import pytest

import linesim
from linesim.line import LineError

NOISY = {"route": ["turn"], "stations": {"turn": {"cycle": {"family": "exponential", "mean": "600 s"}}}}
HOW: dict[str, Any] = {"hours": 4, "warmup_hours": 0, "seed": 3, "engine": "simpy"}


def test_a_line_without_chance_stops_at_ten() -> None:
    line = linesim.load_line({"route": ["turn"], "stations": {"turn": {"cycle": "600 s"}}})
    found = linesim.simulate(line, **HOW, replications=2, precision={"throughput_per_h": "1 %"})
    assert found.about["replications"] == list(range(1, 11))
    assert found.about["precision"]["reached"]


def test_replications_are_added_until_the_half_width_stands() -> None:
    found = linesim.simulate(linesim.load_line(NOISY), **HOW, precision={"throughput_per_h": 0.4})
    count = len(found.about["replications"])
    assert 10 < count < 100, "a standard deviation of sqrt(24) / 4 = 1.2 takes about 36"
    output = found.replications["throughput_per_h"]
    for first in range(count - 5, count + 1):
        assert linesim.results.intervals.estimate(output[:first]).half_width <= 0.4
    assert "half width of throughput_per_h: 0.4 parts/h wanted" in found.text_summary()


def test_they_are_the_same_as_if_their_number_had_been_given() -> None:
    line = linesim.load_line(NOISY)
    found = linesim.simulate(line, **HOW, precision={"throughput_per_h": 0.4})
    given = linesim.simulate(line, **HOW, replications=len(found.about["replications"]))
    assert found.replications.equals(given.replications)


def test_a_cap_ends_it_and_says_so() -> None:
    how: dict[str, Any] = {"precision": {"throughput_per_h": "0.1 %"}, "most_replications": 12}
    found = linesim.simulate(linesim.load_line(NOISY), **HOW, **how)
    assert len(found.about["replications"]) == 12
    assert not found.about["precision"]["reached"]
    assert "NOT REACHED with 12 replications" in found.text_summary()


def test_a_measure_that_the_line_has_not_is_refused() -> None:
    with pytest.raises(LineError, match=r"precision\.cost_per_good_part: is not defined for this line"):
        linesim.simulate(linesim.load_line(NOISY), **HOW, precision={"cost_per_good_part": "1 %"})
