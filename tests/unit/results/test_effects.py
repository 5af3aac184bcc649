"""What factors do, told apart from each other, on outputs written by hand."""

from collections.abc import Mapping
from typing import Any

import numpy as np
import pandas as pd
import pytest

from linesim.results.effects import along_ranges, main_effects
from linesim.results.intervals import estimate

Outputs = Mapping[Any, tuple[float, ...]]  # levels of a point -> output of each replication


def effects_of(made: Outputs, *factors: str, ranges: tuple[str, ...] = (), first: int = 1) -> pd.DataFrame:
    rows = [(p, r, each) for p, outputs in enumerate(made.values(), 1) for r, each in enumerate(outputs, 1)]
    table = pd.DataFrame(rows, columns=["point", "replication", "output"])
    points = pd.DataFrame([*made], columns=[*factors], index=pd.RangeIndex(1, len(made) + 1, name="point"))
    return main_effects(table, points, ranges, "output", first)


def of(effects: pd.DataFrame, factor: str, level: str) -> dict[Any, Any]:
    (row,) = effects[(effects["factor"] == factor) & (effects["level"] == level)].to_dict("records")
    return row


def test_one_at_a_time_each_level_is_set_against_the_base_alone() -> None:
    """By hand: a=2 makes 3 and 4 more than the base, b=2 makes 1 and 2 less. Plain means of a=1 would mix b in."""
    made = {("1", "1"): (10.0, 12.0), ("2", "1"): (13.0, 16.0), ("1", "2"): (9.0, 10.0)}
    effects = effects_of(made, "a", "b")
    more, less = of(effects, "a", "2"), of(effects, "b", "2")
    assert [more["less_first"], more["low"], more["high"]] == pytest.approx(estimate([3.0, 4.0])[:3])
    assert [less["less_first"], less["low"], less["high"]] == pytest.approx(estimate([-1.0, -2.0])[:3])
    assert more["mean"] - of(effects, "a", "1")["mean"] == pytest.approx(3.5)


def test_a_level_that_happens_to_go_with_high_values_of_a_range_is_not_taken_for_them() -> None:
    """By hand: output = 5 + 2 x speed + 3 if fast, and the fast points have the higher speeds."""
    made = {
        (f"{speed} m/s", rule): (5.0 + 2 * speed + 3 * (rule == "fast"), 6.0 + 2 * speed + 3 * (rule == "fast"))
        for speed, rule in ((1, "slow"), (2, "slow"), (4, "slow"), (3, "fast"), (5, "fast"))
    }
    effects = effects_of(made, "speed", "rule", ranges=("speed",))
    assert of(effects, "rule", "fast")["less_first"] == pytest.approx(3)
    (line,) = along_ranges(effects, ["speed"]).to_dict("records")
    assert (line["lowest"], line["highest"], line["change"]) == ("1 m/s", "5 m/s", pytest.approx(8))


def test_factors_that_always_change_together_are_not_told_apart() -> None:
    effects = effects_of({("1", "1"): (10.0, 11.0), ("2", "2"): (13.0, 14.0)}, "a", "b")
    assert effects["less_first"].isna().all()
    assert effects["mean"].isna().all()


def test_a_straight_line_needs_more_points_than_it_has_parts() -> None:
    effects = effects_of({("1 s",): (10.0, 11.0), ("2 s",): (13.0, 14.0)}, "a", ranges=("a",))
    assert along_ranges(effects, ["a"]).empty


def test_a_factor_of_one_line_only_is_told_within_that_line() -> None:
    """By hand: link 10 makes 4 more than link 4; the line that has it makes 22 in the mean of both, the other 15."""
    made = {("ring", ""): (15.0, 15.0), ("divided", "4"): (20.0, 20.0), ("divided", "10"): (24.0, 24.0)}
    effects = effects_of(made, "line", "link")
    assert of(effects, "link", "10")["less_first"] == pytest.approx(4)
    assert of(effects, "line", "divided")["less_first"] == pytest.approx(7)
    assert [of(effects, "link", each)["mean"] for each in ("4", "10")] == pytest.approx([20, 24])
    assert list(effects.loc[effects["factor"] == "link", "level"]) == ["4", "10"]


def test_a_point_that_has_hardly_begun_takes_no_replications_from_the_others() -> None:
    made = {("1",): (10.0, 12.0, 11.0), ("2",): (13.0, 16.0, 14.0), ("3",): (30.0,)}
    effects = effects_of(made, "a", first=3)
    found = of(effects, "a", "2")
    assert [found["less_first"], found["low"], found["high"]] == pytest.approx(estimate([3.0, 4.0, 3.0])[:3])
    assert of(effects, "a", "3")["points"] == 0
    assert np.isnan(of(effects, "a", "3")["less_first"])


def test_points_that_get_more_replications_one_after_the_other_all_count() -> None:
    made = {("1",): (10.0, 12.0, 11.0, 9.0), ("2",): (13.0, 16.0), ("3",): (14.0, 18.0)}
    effects = effects_of(made, "a", first=4)
    assert of(effects, "a", "3")["less_first"] == pytest.approx(5)
    assert effects["points"].tolist() == [1, 1, 1]


def test_nothing_run_tells_nothing() -> None:
    effects = effects_of({("1",): (), ("2",): ()}, "a")
    assert effects["points"].tolist() == [0, 0]
    assert effects["less_first"].isna().all()
