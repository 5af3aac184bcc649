"""When a run is precise enough: by hand."""

import math

import pytest

from linesim.results.found_text import precision_words
from linesim.results.intervals import estimate
from linesim.results.precision import Wanted, reached, read_wanted, stands

OUTPUT = "throughput_per_h"


def test_a_share_or_a_number_in_the_unit_of_the_measure_is_read() -> None:
    wanted, problems = read_wanted({OUTPUT: "1 %", "wip_parts": 0.2, "lead_time_mean_s": "30"})
    assert problems == []
    assert wanted == [
        Wanted(OUTPUT, 0.01, True),
        Wanted("wip_parts", 0.2, False),
        Wanted("lead_time_mean_s", 30, False),
    ]
    assert [each.words for each in wanted] == ["1 %", "0.2 parts", "30 s"]


@pytest.mark.parametrize("value", ["0 %", "-1 %", 0, True, "a lot", None, "nan %", float("inf")])
def test_what_is_no_half_width_is_refused_with_an_example(value: object) -> None:
    wanted, (problem,) = read_wanted({OUTPUT: value})
    assert wanted == []
    assert problem.key == "precision.throughput_per_h"
    assert problem.rule == "must be a share of the mean above 0 %, or a number above 0"
    assert "parts/h such as 0.2" in problem.fix


def test_an_unknown_measure_is_refused_with_the_nearest_one() -> None:
    (problem,) = read_wanted({"throughput": "1 %"})[1]
    assert (problem.rule, problem.suggestion) == ("is no measure", OUTPUT)


def test_a_share_g_allows_g_over_one_plus_g_of_the_mean() -> None:
    assert Wanted(OUTPUT, 0.25, True).allowed(-10.0) == pytest.approx(2.0)
    assert Wanted(OUTPUT, 0.25, False).allowed(-10.0) == 0.25


def test_the_number_needed_grows_with_the_square_of_the_half_width() -> None:
    """9 and 11: standard deviation 1.414, half width 12.706 x 1.414 / 1.414 = 12.706; for a tenth 100 times 2."""
    found = estimate([9.0, 11.0])
    assert Wanted(OUTPUT, 1.2706, False).needed(found) == pytest.approx(200, rel=1e-3)
    assert Wanted(OUTPUT, 13.0, False).needed(found) == 2
    assert Wanted(OUTPUT, 0.1, True).needed(estimate([-1.0, 1.0])) == math.inf
    assert Wanted(OUTPUT, 0.1, True).needed(estimate([1.0])) == math.inf


def test_a_precision_must_have_held_for_five_replications() -> None:
    """Half width 0 from the second on, but for one stray value that is forgotten only later."""
    wanted = [Wanted(OUTPUT, 0.5, False)]
    assert stands(wanted, {OUTPUT: [10.0] * 7})
    assert not stands(wanted, {OUTPUT: [10.0] * 6}), "one value alone has no half width, and six look back to one"
    stray = [10.0] * 5 + [16.0]
    assert not stands(wanted, {OUTPUT: [*stray, *[10.0] * 5]})


def test_what_was_not_reached_is_told_plainly() -> None:
    wanted = [Wanted(OUTPUT, 0.01, True)]
    found = reached(wanted, {OUTPUT: [9.0, 11.0]})
    assert found["reached"] is False
    told = list(precision_words(found))
    assert told[0] == "half width of throughput_per_h: 1 % wanted, 127.1 % found"
    assert told[1].startswith("  NOT REACHED with 2 replications; about 32")
    lucky = reached(wanted, {OUTPUT: [9.0, 11.0] + [10.0] * 2000})
    assert lucky["reached"]
    assert list(precision_words(lucky)) == ["half width of throughput_per_h: 1 % wanted, 0.0 % found"]
    short = list(precision_words(reached(wanted, {OUTPUT: [10.0] * 4})))
    assert short[-1] == "  this may be luck: it has not held for the last 5 replications"
