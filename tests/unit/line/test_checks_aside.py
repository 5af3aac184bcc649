"""Chutes and drawers have names of their own, and one loader brings parts there."""

from typing import Any

import pytest

from linesim.line import load_line
from tests.unit.line.lines import cell, problems

CHUTE = ("stations.grind.chute=chute_1", "loaders.gantry.stops.chute_1=7 m")


def found(source: Any, *overrides: str) -> dict[str, str]:
    return {problem.key: problem.rule for problem in problems(source, *overrides)}


def two_loaders(**crane: Any) -> dict[str, Any]:
    """The gantry brings parts to grind, a crane takes them away."""
    gantry = cell()["loaders"]["gantry"]
    stops = {"blanks": "0 m", "turn": "2 m", "park": "4 m", "grind": "6 m"}
    away = {**gantry, "stops": {"grind": "0 m", "tray": "2 m"}, **crane}
    return cell(loaders={"gantry": {**gantry, "stops": stops}, "crane": away})


def test_a_station_may_name_a_stop_of_its_loader_as_its_chute() -> None:
    assert load_line(cell(), CHUTE).stations["grind"].chute == "chute_1"


def test_two_stations_may_share_a_chute() -> None:
    assert found(cell(), *CHUTE, "stations.turn.chute=chute_1") == {}


def test_a_chute_that_no_loader_reaches_is_told() -> None:
    rule = "no loader has both grind and chute_1 among its stops"
    assert found(cell(), CHUTE[0]) == {"stations.grind.chute": rule}


def test_a_stop_that_is_no_place_and_no_chute_is_told() -> None:
    rule = "chute_1 is no place of the route, chute of a station or drawer"
    assert found(cell(), CHUTE[1]) == {"loaders.gantry.stops.chute_1": rule}


def test_a_chute_that_two_loaders_reach_is_ambiguous() -> None:
    stops = [f"loaders.{name}.stops.chute_1=7 m" for name in ("gantry", "crane")]
    assert found(two_loaders(), CHUTE[0], *stops) == {"stations.grind.chute": "could be reached by gantry or crane"}


def test_a_loader_that_does_not_serve_the_station_needs_no_stop_at_its_chute() -> None:
    problem = found(two_loaders(), *CHUTE, "stations.turn.chute=chute_2", "loaders.gantry.stops.chute_2=1 m",
                    "loaders.crane.stops.chute_2=1 m")  # fmt: skip
    assert "no station that sends parts there is a stop of crane" in problem["loaders.crane.stops.chute_2"]


@pytest.mark.parametrize("name", ["park", "gantry"])
def test_a_chute_has_a_name_of_its_own(name: str) -> None:
    assert f"the name {name} is taken" in found(cell(), f"stations.grind.chute={name}")["stations.grind.chute"]


def test_a_name_of_a_chute_is_a_name() -> None:
    rules = found(cell(), "stations.grind.chute=chute 1", 'loaders.gantry.stops={"chute 1": 7 m}')
    assert rules == {"stations.grind.chute": "names hold letters, digits and _ only, a letter first"}


def test_a_chute_has_one_position() -> None:
    rule = "has 2 positions, but only a station has several"
    assert found(cell(), CHUTE[0], "loaders.gantry.stops.chute_1=[7 m, 8 m]")["loaders.gantry.stops.chute_1"] == rule


def test_who_is_called_ahead_is_who_brings_scrap_away() -> None:
    rule = "grind calls crane ahead, but gantry brings its scrap away"
    assert found(two_loaders(), *CHUTE) == {}
    assert found(two_loaders(), *CHUTE, "stations.grind.call_ahead=5 s") == {"stations.grind.chute": rule}


def test_a_fixed_round_brings_scrap_only_from_where_it_takes_parts_away() -> None:
    a_round = "loaders.gantry.next_call={fixed: [park, turn, blanks]}"
    rule = "gantry makes a fixed round, and does not take parts away from grind"
    assert found(two_loaders(), *CHUTE, a_round) == {"stations.grind.chute": rule}
    assert found(cell(), *CHUTE, "loaders.gantry.next_call={fixed: [grind, turn, blanks]}") == {}


DRAWER = (
    "drawers.drawer_1={capacity: 4, emptied: {at: 4 parts, takes: 2 min}}",
    "stations.grind.samples={to: drawer_1, every: 50 parts}",
    "loaders.gantry.stops.drawer_1=7 m",
)


def test_samples_of_a_station_may_go_to_a_drawer() -> None:
    line = load_line(cell(), DRAWER)
    assert line.drawers["drawer_1"].capacity == line.drawers["drawer_1"].emptied.at == 4
    assert line.stations["grind"].samples is not None


def test_a_drawer_that_is_not_there_is_told() -> None:
    rules = found(cell(), DRAWER[1])
    assert rules == {"stations.grind.samples.to": "drawer_1 is no drawer of this line"}


def test_a_drawer_that_no_loader_reaches_is_told() -> None:
    rules = found(cell(), *DRAWER[:2])
    assert rules == {"stations.grind.samples.to": "no loader has both grind and drawer_1 among its stops"}


def test_a_drawer_that_gets_no_samples_is_told() -> None:
    assert found(cell(), DRAWER[0])["drawers.drawer_1"] == "no station puts samples into it"


def test_a_drawer_that_two_loaders_reach_is_told() -> None:
    crane = ("stations.turn.samples={to: drawer_1, every: 1 h}", "loaders.crane.stops.drawer_1=1 m")
    rule = "gantry and crane have drawer_1 among their stops: which one stands still while it is emptied?"
    assert found(two_loaders(), *DRAWER, *crane)["loaders.crane.stops.drawer_1"] == rule


@pytest.mark.parametrize(
    ("emptied", "key", "rule"),
    [
        ("{takes: 2 min}", "", "must have every (a time) or at (a number of parts)"),
        ("{at: 2 parts, every: 1 h, takes: 2 min}", "", "not both"),
        ("{at: 5 parts, takes: 2 min}", ".at", "must be between 1 part and the capacity"),
        ("{at: 0 parts, takes: 2 min}", ".at", "must be between 1 part and the capacity"),
    ],
)
def test_a_drawer_is_emptied_by_time_or_at_a_level_that_it_can_reach(emptied: str, key: str, rule: str) -> None:
    rules = found(cell(), f"drawers.drawer_1={{capacity: 4, emptied: {emptied}}}", *DRAWER[1:])
    assert rule in rules[f"drawers.drawer_1.emptied{key}"]


def test_samples_come_by_parts_or_time() -> None:
    rules = found(cell(), DRAWER[0], "stations.grind.samples={to: drawer_1, every: 3 dressings}", DRAWER[2])
    assert rules == {"stations.grind.samples.every": "must be a number of parts or a time"}


def test_who_is_called_ahead_is_who_brings_samples_away() -> None:
    rule = "grind calls crane ahead, but gantry brings its samples away"
    assert found(two_loaders(), *DRAWER, "stations.grind.call_ahead=5 s") == {"stations.grind.samples.to": rule}


def test_a_drawer_needs_to_be_emptied() -> None:
    rule = "must have every (a time) or at (a number of parts)"
    assert found(cell(), "drawers.drawer_1={capacity: 4}", *DRAWER[1:]) == {"drawers.drawer_1.emptied": rule}


@pytest.mark.parametrize(
    ("samples", "key", "rule"),
    [
        ("{to: drawer_1}", "", "says not which parts are samples"),
        ("{to: drawer_1, after: [wheel]}", ".after[0]", "is no stop of this station"),
    ],
)
def test_samples_say_which_parts_they_are(samples: str, key: str, rule: str) -> None:
    rules = found(cell(), DRAWER[0], f"stations.grind.samples={samples}", DRAWER[2])
    assert rules == {f"stations.grind.samples{key}": rule}


def test_samples_may_come_after_a_stop_or_a_pause() -> None:
    dressing = "stations.grind.dressing.wheel={every: 12 parts, takes: 28 s}"
    samples = "stations.grind.samples={to: drawer_1, after: [wheel], after_pause: 30 min}"
    assert found(cell(), DRAWER[0], dressing, samples, DRAWER[2]) == {}
