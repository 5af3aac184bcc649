"""Which run settings are refused, and in which words."""

from typing import Any

import pytest

from linesim.line import LineError
from linesim.study.run_settings import check_run_settings, filled, in_hours, times_h


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("hours", 0),
        ("hours", -3.0),
        ("hours", float("nan")),
        ("hours", float("inf")),
        ("hours", "200"),
        ("hours", True),
        ("weeks", 0),
        ("warmup_weeks", -1.0),
        ("warmup_hours", -1),
        ("window_h", 0.0),
        ("replications", 0),
        ("replications", 2.5),
        ("only_replication", 0),
        ("seed", -1),
        ("seed", 2**63),
        ("seed", 1.0),
        ("events", 0),
        ("workers", 0),
        ("workers", 1.5),
        ("engine", "quick"),
        ("warmup", 20),
        ("warmup", "20 h"),
    ],
)
def test_an_impossible_setting_is_named_with_its_value_and_a_fix(name: str, value: Any) -> None:
    with pytest.raises(LineError) as caught:
        check_run_settings(**{name: value})
    (problem,) = caught.value.problems
    assert problem.key == name
    assert problem.value is value
    assert problem.rule.startswith("must be")
    assert problem.fix


@pytest.mark.parametrize(
    "settings",
    [
        {"hours": 0.001, "warmup_hours": 0, "replications": 1, "window_h": 0.5, "seed": 0},
        {"hours": 8760, "warmup_hours": 100.5, "seed": 2**63 - 1, "engine": "simpy"},
        {"seed": None, "only_replication": None, "engine": "auto", "workers": None},
        {"engine": "compiled", "workers": 1},
        {"replications": 3, "only_replication": 3},
    ],
)
def test_settings_at_their_limits_pass(settings: dict[str, Any]) -> None:
    check_run_settings(**settings)


def test_all_problems_come_together() -> None:
    with pytest.raises(LineError) as caught:
        check_run_settings(hours=-1, warmup_hours=-1, replications=0, engine="fast")
    assert [problem.key for problem in caught.value.problems] == ["hours", "warmup_hours", "replications", "engine"]


def test_a_warm_up_is_given_or_found_not_both() -> None:
    with pytest.raises(LineError, match="warmup_hours is given as well: 20"):
        check_run_settings(warmup="auto", warmup_hours=20)
    assert times_h({"hours": None, "warmup": "auto"}) == (500, 0)
    assert times_h({"weeks": 2, "warmup_weeks": 0.5}) == (336, 84)


@pytest.mark.parametrize(
    ("settings", "told"),
    [
        ({"precision": "1 %"}, "must be a map of measures"),
        ({"precision": {"throughput": "1 %"}}, "is no measure"),
        ({"precision": {"wip_parts": 0}}, "above 0 %"),
        ({"precision": {"wip_parts": 1}, "only_replication": 2}, "more than one replication"),
        ({"precision": {"wip_parts": 1}, "replications": 20, "most_replications": 10}, "replications = 20"),
        ({"most_replications": 0}, "whole number"),
    ],
)
def test_a_precision_that_can_not_be_is_refused(settings: dict[str, Any], told: str) -> None:
    with pytest.raises(LineError, match=told) as caught:
        check_run_settings(**settings)
    assert len(caught.value.problems) == 1


def test_only_replication_must_be_one_of_the_replications() -> None:
    with pytest.raises(LineError, match="from 1 to 5"):
        check_run_settings(replications=5, only_replication=6)


def test_a_time_is_given_in_hours_or_in_weeks_not_both() -> None:
    with pytest.raises(LineError) as caught:
        check_run_settings(hours=200, weeks=2, warmup_hours=0, warmup_weeks=1.5)
    told = [(problem.key, problem.rule) for problem in caught.value.problems]
    assert told == [("weeks", "hours is given as well: 200"), ("warmup_weeks", "warmup_hours is given as well: 0")]


def test_what_is_given_in_neither_has_its_usual_value() -> None:
    assert filled({"hours": None, "weeks": 2, "seed": 7}) == {
        "hours": None,
        "weeks": 2,
        "seed": 7,
        "warmup_hours": 20.0,
    }
    assert filled({"warmup_weeks": 0}) == {"warmup_weeks": 0, "hours": 500.0}
    assert (in_hours(None, 2), in_hours(3.5, None)) == (336, 3.5)
