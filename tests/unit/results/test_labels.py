"""Numbers as people read them."""

import math

import pytest

from linesim.results.intervals import Estimate
from linesim.results.labels import aligned, figure, figures, mean_and_interval, signed, with_intervals

UNKNOWN = Estimate(math.nan, math.nan, math.nan, 0)


@pytest.mark.parametrize(
    ("values", "shown"),
    [
        ([3.0, 3.25, 3.1], ["3.00", "3.25", "3.10"]),
        ([0.5, 0.0625], ["0.500", "0.062"]),
        ([0.0004, 24.0], ["0.00", "24.00"]),
        ([99.96, 100.5], ["100.0", "100.5"]),
        ([1234.5, -0.25, math.nan], ["1,234", "0", "-"]),
        ([], []),
    ],
)
def test_the_numbers_of_a_column_have_the_decimals_that_fit_the_largest(values: list[float], shown: list[str]) -> None:
    assert figures(values) == shown


def test_what_is_rounded_to_nothing_has_no_sign() -> None:
    assert [figure(-0.004, 2), signed(0.004, 2), signed(-0.004, 2), signed(0.006, 2)] == [
        "0.00",
        "0.00",
        "0.00",
        "+0.01",
    ]


def test_a_mean_its_interval_and_its_neighbours_agree() -> None:
    found = [Estimate(0.125, -26.5, 27.25, 3), Estimate(0.5, math.nan, math.nan, 1), UNKNOWN]
    assert with_intervals(found) == ["0.12 (-26.50 to 27.25)", "0.50", "-"]
    assert [*mean_and_interval(found, signed)] == [("+0.12", "(-26.50 to +27.25)"), ("+0.50", ""), ("-", "")]


def test_a_column_of_words_is_flush_left_and_one_without_any_value_is_left_out() -> None:
    rows = [["line", "empty", "out", "what"], ["a", "-", "1.0", "few"], ["long", "", "24.0", "more words"]]
    assert [*aligned(rows, heads=1, words=3)] == ["line   out  what", "a      1.0  few", "long  24.0  more words"]
