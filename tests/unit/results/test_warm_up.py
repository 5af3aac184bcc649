"""Where a series is cut, worked out by hand."""

from collections.abc import Sequence

import pandas as pd
import pytest

from linesim.results.warm_up import Pilot, settled


def test_what_is_left_has_the_least_error_of_its_mean() -> None:
    """Batch of 1. Deviations of 0 4 6 4 6 4 6: all of it sum(x - 30/7)^2 / 49 = 27.43 / 49 = 0.560; without the 0
    six values around 5: 6 / 36 = 0.167; without two 5 left around 5.2: 4.8 / 25 = 0.192. So one is cut."""
    assert settled([0, 4, 6, 4, 6, 4, 6], batch=1) == 1


def test_batches_are_cut_whole() -> None:
    """Means of five: 1, 5, 5, ...: the first is cut, though only four of its values are low."""
    assert settled([0, 0, 0, 0, 5] + [5] * 50) == 5


def test_values_beyond_the_last_whole_batch_do_not_count() -> None:
    assert settled([0] * 5 + [5] * 50 + [900]) == 5


def test_of_equal_errors_the_shortest_cut_is_taken_in_spite_of_rounding() -> None:
    assert settled([0.1] * 100) == 0
    assert settled([0.0] * 10 + [0.1 + 0.2] * 90) == 10


def test_the_last_five_batches_are_never_cut_off() -> None:
    """The last six are equal, which would leave no error at all; 15 of 20 may be cut."""
    assert settled([*range(15), 14, 14, 14, 14, 14], batch=1) <= 15


def test_a_series_of_one_batch_is_not_cut() -> None:
    assert settled([1, 2, 3]) == 0
    assert settled([]) == 0


def pilot(**series: Sequence[float]) -> Pilot:
    hours = len(series["throughput_per_h"])
    both = [
        {"replication": number, "from_h": h, "to_h": h + 1.0, **{name: values[h] for name, values in series.items()}}
        for number in (1, 2)
        for h in range(hours)
    ]
    return Pilot(pd.DataFrame(both), whole_weeks=False)


def test_each_series_has_a_cut_of_its_own() -> None:
    found = pilot(throughput_per_h=[0] * 5 + [6] * 45, wip_parts=[1] * 10 + [6] * 40)
    assert found.cuts_h() == {"throughput_per_h": 5.0, "wip_parts": 10.0}
    assert found.about() == {
        "rule": "MSER-5",
        "pilot_hours": 50.0,
        "pilot_replications": 2,
        "cuts_h": {"throughput_per_h": 5.0, "wip_parts": 10.0},
    }


def test_the_mean_over_the_replications_is_what_is_cut() -> None:
    """One goes up where the other goes down, so their mean is level from the start."""
    rising = pilot(throughput_per_h=[float(h) for h in range(50)], wip_parts=[1.0] * 50)
    table = rising.windows
    table.loc[table["replication"] == 2, "throughput_per_h"] = 49.0 - table["from_h"]
    assert Pilot(table, False).cuts_h()["throughput_per_h"] == pytest.approx(0)
