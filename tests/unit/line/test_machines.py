"""Unequal machines are read as stations laid over their station; what is wrong is told once, where it stands."""

import pytest

from linesim.line import load_line
from linesim.line.distributions import Constant
from linesim.line.layers import compose
from linesim.line.lead_time import least_lead_time_s
from linesim.line.machines import each_machine
from tests.unit.line.lines import cell, problems


def mill(**machines):
    """Two machines a and b; 60 s; a jam and a tool change common to both."""
    station = {
        "cycle": "60 s",
        "machines": {"a": {}, "b": {}} | machines,
        "breakdowns": {"jam": {"mtbf": "1 h", "mttr": "6 min"}},
        "tool_change": {"insert": {"every": "120 parts", "takes": "3 min"}},
    }
    return cell(route=["mill"], stations={"mill": station}, infeed={}, outfeed={}, buffers={}, loaders={})


def machines(*overrides, **given):
    station = load_line(mill(**given), list(overrides)).stations["mill"]
    return each_machine("mill", station)


def test_equal_machines_are_numbered_and_all_alike():
    station = load_line(cell(loaders={}), ["stations.turn.machines=2"]).stations["turn"]
    assert each_machine("turn", station) == {"turn.1": station, "turn.2": station}


def test_a_machine_has_what_its_station_has_but_for_what_its_own_map_says():
    found = machines(
        b={"cycle": "84 s", "breakdowns": {"jam": {"mttr": "9 min"}, "hard": {"mtbf": "9 h", "mttr": "1 h"}}}
    )
    assert (found["a"].cycle, found["b"].cycle) == (Constant(60), Constant(84))
    assert found["b"].breakdowns["jam"].mttr.mean == 540
    assert found["b"].breakdowns["jam"].mtbf.mean == 3600
    assert list(found["b"].breakdowns) == ["jam", "hard"]
    assert found["b"].tool_change == found["a"].tool_change
    assert load_line(mill()).stations["mill"].machines == 2


@pytest.mark.parametrize("where", ["file", "override"])
def test_null_takes_away_what_the_station_has_and_stays_written_in_the_resolved_line(where):
    if where == "file":
        source, overrides = mill(b={"breakdowns": {"jam": None}}), []
    else:
        source, overrides = mill(), ["stations.mill.machines.b.breakdowns.jam=null"]
    found = each_machine("mill", load_line(source, overrides).stations["mill"])
    assert (list(found["a"].breakdowns), list(found["b"].breakdowns)) == (["jam"], [])
    resolved = compose(source, overrides).content
    assert load_line(resolved) == load_line(source, overrides)


def test_null_takes_a_whole_machine_away():
    assert list(machines("stations.mill.machines.b=null")) == ["a"]


def test_a_distribution_of_a_machine_replaces_the_one_of_its_station():
    source = mill(b={"cycle": {"family": "exponential", "mean": "9 s"}})
    source["stations"]["mill"]["cycle"] = {"family": "gamma", "mean": "8 s", "cv": 1}
    assert load_line(source).stations["mill"].unequal["b"].cycle.mean == 9


@pytest.mark.parametrize(
    ("override", "key", "rule", "suggestion"),
    [
        ("stations.mill.machines.b=7", "machines.b", "must be a map of what differs there", None),
        ("stations.mill.machines.b.cycle=84", "machines.b.cycle", "must be a time with its unit", None),
        ("stations.mill.machines.b.cylce=84 s", "machines.b.cylce", "can't differ by machine", "cycle"),
        ("stations.mill.machines.b.blocking=before_service", "machines.b.blocking", "can't differ by machine", None),
        ("stations.mill.machines.b.breakdowns.jan=null", "machines.b.breakdowns.jan", "nothing of this name", "jam"),
        ("stations.mill.machines.2nd={}", "machines.2nd", "names hold letters, digits", None),
        ("stations.mill.machines.mill={}", "machines.mill", "the name mill is taken: stations.mill", None),
        (
            "stations.mill.machines.b.tool_change.insert.age=300 parts",
            "machines.b.tool_change.insert.age",
            "must be below every (120 parts)",
            None,
        ),
    ],
)
def test_what_is_wrong_with_a_machine_is_told_at_its_own_key(override, key, rule, suggestion):
    (problem,) = problems(mill(), override)
    assert (problem.key, problem.suggestion) == (f"stations.mill.{key}", suggestion)
    assert rule in problem.rule


def test_what_is_wrong_with_the_station_is_told_once():
    (problem,) = problems(mill(b={"cycle": "84 s"}), "stations.mill.breakdowns.jam.mtbf=3")
    assert problem.key == "stations.mill.breakdowns.jam.mtbf"


def test_positions_of_a_loader_are_one_for_each_named_machine():
    source = cell()
    source["stations"]["turn"]["machines"] = {"left": {}, "right": {}}
    (problem,) = problems(source)
    assert problem.key == "loaders.gantry.stops.turn"
    assert problems(source, "loaders.gantry.stops.turn=[2 m, 3 m]") == []


def test_the_least_lead_time_is_that_of_the_quickest_machine():
    assert least_lead_time_s(load_line(mill(b={"cycle": "40 s"}))) == 40
