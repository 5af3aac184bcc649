"""Parts of a line that don't fit each other are told, each with the key to look at."""

import pytest

from tests.unit.line.lines import cell, problems


def keys(source, *overrides):
    return [problem.key for problem in problems(source, *overrides)]


def serial(**changes):
    """Three stations with a buffer, handing over directly, without infeed and outfeed."""
    line = {
        "route": ["a", "b", "park", "c"],
        "stations": {"a": {"cycle": "3 s"}, "b": {"cycle": "4 s"}, "c": {"cycle": "5 s"}},
        "buffers": {"park": {"capacity": 1}},
    }
    return line | changes


def test_sound_lines_have_no_problems():
    assert problems(cell()) == []
    assert problems(serial()) == []


@pytest.mark.parametrize(
    ("route", "expected"),
    [
        (["blanks", "turn", "park", "grind", "tray", "turn"], ["route[5]", "route"]),
        (["turn", "blanks", "park", "grind", "tray"], ["route"]),
        (["blanks", "turn", "park", "tray", "grind"], ["route"]),
        (["blanks", "turn", "park", "mill", "grind", "tray"], ["route[3]"]),
        (["blanks", "turn", "grind", "tray"], ["buffers.park"]),
    ],
)
def test_a_route_names_each_place_once_from_infeed_to_outfeed(route, expected):
    found = keys(cell(route=route, loaders={}) if "park" in route else cell(route=route))
    assert found == expected


def test_a_place_on_the_route_that_does_not_exist_is_told_with_the_nearest():
    (problem,) = problems(serial(route=["a", "b", "prak", "c"]))
    assert (problem.key, problem.value, problem.suggestion) == ("route[2]", "prak", "park")


def test_a_place_that_the_route_does_not_name_is_told_once_though_a_loader_stops_there():
    (problem,) = problems(cell(route=["blanks", "turn", "grind", "tray"]))
    assert (problem.key, problem.rule) == ("buffers.park", "is not on the route")
    (problem,) = problems(cell(route=["blanks", "turn", "prak", "grind", "tray"]))
    assert (problem.key, problem.suggestion) == ("route[2]", "park")


def test_two_infeeds_are_one_too_many():
    source = cell(
        infeed={"blanks": {}, "more": {}}, route=["blanks", "more", "turn", "park", "grind", "tray"], loaders={}
    )
    assert keys(source) == ["infeed"]


def test_a_name_is_taken_once_over_all_kinds():
    source = cell(crews={"park": {}, "gantry": {}})
    assert keys(source) == ["crews.park", "crews.gantry"]


@pytest.mark.parametrize("name", ["turn.1", "2nd", "soft turn", "a-b", ""])
def test_names_hold_letters_digits_and_underscores(name):
    source = serial(stations={name: {"cycle": "3 s"}}, route=[name], buffers={})
    (problem,) = problems(source)
    assert "letters, digits" in problem.rule


@pytest.mark.parametrize(
    ("stop", "key"),
    [
        ("{every: 9 parts, takes: 3 s, age: 9 parts}", "age"),
        ("{every: 9 parts, takes: 3 s, age: 1 h}", "age"),
        ("{every: 9 h, takes: 3 s, age: 1 parts}", "age"),
        ("{every: 9 parts, takes: 3 s, clock: working}", "clock"),
    ],
)
def test_age_and_clock_of_a_stop_must_fit_its_interval(stop, key):
    assert keys(serial(), f"stations.a.cleaning.chips={stop}") == [f"stations.a.cleaning.chips.{key}"]


@pytest.mark.parametrize(
    "stop", ["{every: 9 parts, takes: 3 s, age: 8 parts}", "{every: 9 h, takes: 3 s, age: 8 h, clock: working}"]
)
def test_age_below_the_interval_and_a_clock_for_times_are_fine(stop):
    assert keys(serial(), f"stations.a.cleaning.chips={stop}") == []


def test_defects_of_a_station_stay_below_all_parts():
    assert keys(serial(), "stations.a.defects={x: 60 %, y: 41 %}") == ["stations.a.defects"]
    assert keys(serial(), "stations.a.defects={x: 60 %, y: 40 %}") == []


@pytest.mark.parametrize(("to", "sound"), [("a", True), ("park", True), ("b", True), ("c", False), ("blanks", False)])
def test_rework_goes_to_an_earlier_station_or_buffer(to, sound):
    source = serial(route=["blanks", "a", "b", "park", "c"], infeed={"blanks": {}})
    found = keys(source, f"stations.c.inspection.rework.to={to}")
    assert found == ([] if sound else ["stations.c.inspection.rework.to"])


def test_rework_can_not_go_to_a_buffer_without_places():
    assert keys(serial(), "stations.c.inspection.rework.to=park", "buffers.park.capacity=0") == [
        "stations.c.inspection.rework.to"
    ]


def test_dwell_needs_places():
    assert keys(serial(), "buffers.park.capacity=0", "buffers.park.dwell=3 s") == ["buffers.park.dwell"]


def test_a_line_whose_cycles_are_all_zero_is_refused():
    zero = {name: {"cycle": "0 s"} for name in "abc"}
    assert keys(serial(stations=zero)) == ["stations"]
    assert keys(serial(stations=zero), "stations.b.cycle=1 ms") == []


def test_a_rework_loop_that_takes_no_time_is_refused():
    overrides = ["stations.b.cycle=0 s", "stations.c.cycle=0 s", "stations.c.inspection.rework.to=b"]
    assert keys(serial(), *overrides) == ["stations.c.inspection.rework.to"]
    assert keys(serial(), *overrides, "buffers.park.dwell=1 s") == []
    assert keys(serial(), *overrides, "stations.c.inspection.rework.to=a") == []


def test_an_assumption_names_a_key_of_the_file():
    source = cell(assumptions={"stations.turn.cylce": {}, "buffers.park.capacity": {"range": ["1"]}})
    first, second = problems(source)
    assert (first.key, first.suggestion) == ("assumptions.stations.turn.cylce", "cycle")
    assert second.key == "assumptions.buffers.park.capacity.range"


def test_a_crew_that_nobody_calls_is_fine():
    assert keys(cell(crews={"fitter": {"people": 2}})) == []


def test_a_buffer_taken_away_but_still_on_the_route_can_be_handed_over_directly_instead():
    (problem,) = problems(serial(), "buffers.park=null")
    assert (problem.key, problem.value, problem.suggestion) == ("route[2]", "park", None)
    assert "buffers.park.capacity=0" in problem.fix
    assert problems(serial(), "buffers.park.capacity=0") == []
    assert problems(serial(), "buffers.park=null", "route=[a, b, c]") == []
