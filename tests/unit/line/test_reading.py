"""The walk reads every key by its field and reports whatever can't be read, all of it together."""

from typing import Any

import pytest

from linesim.line import build, load_line
from linesim.line.distributions import Constant, Exponential, Lognormal
from linesim.line.model import Assumption, Breakdown, Demand, Inspection, NextCall, Rework, Stop
from tests.unit.line.lines import cell, messages, problems


def only(source, *overrides):
    found = problems(source, *overrides)
    assert len(found) == 1, [str(problem) for problem in found]
    return found[0]


def test_a_line_without_faults_is_read_in_seconds_metres_and_parts():
    line = load_line(cell(demand={"volume": "85000 /year", "planned": "3480 h/year"}))
    assert line.route == ("blanks", "turn", "park", "grind", "tray")
    assert line.demand == Demand(volume=85000, planned=3480)
    assert line.stations["turn"].cycle == Constant(60)
    assert line.loaders["gantry"].stops["turn"].at == (2.0,)
    assert (line.loaders["gantry"].exchange, line.buffers["park"].dwell) == (7, 0)


def test_plain_times_of_breakdowns_are_exponential_and_all_others_constant():
    overrides = ["stations.turn.breakdowns.jam={mtbf: 9 h, mttr: 12 min, clock: calendar, part: scrap}"]
    overrides += ["stations.turn.tool_change.insert={every: 120 parts, takes: 3 min, age: 0 parts}"]
    turn = load_line(cell(), overrides).stations["turn"]
    assert turn.breakdowns["jam"] == Breakdown(Exponential(32400), Exponential(720), "calendar", "scrap")
    assert turn.tool_change["insert"] == Stop(Constant(180), 120, age=0)


def test_a_map_of_a_family_gives_its_law():
    line = load_line(cell(), ["stations.turn.cycle={family: lognormal, median: 20 s, sigma: 0.1}"])
    assert line.stations["turn"].cycle == Lognormal(20, 0.1)


def test_stops_of_a_loader_may_be_a_position_a_list_or_a_map():
    overrides = ["stations.turn.machines=2", "loaders.gantry.stops.turn=[2 m, 300 cm]"]
    stops = (
        load_line(cell(), [*overrides, "loaders.gantry.stops.grind={at: 6 m, exchange: 9 s}"]).loaders["gantry"].stops
    )
    assert stops["turn"].at == (2.0, 3.0)
    assert (stops["grind"].at, stops["grind"].exchange) == ((6,), 9)


@pytest.mark.parametrize(
    ("given", "expected"),
    [
        ("nearest", NextCall("nearest")),
        (["grind", "turn"], NextCall("priority", ("grind", "turn"))),
        ({"fixed": ["grind", "turn", "blanks"]}, NextCall("fixed", ("grind", "turn", "blanks"))),
    ],
)
def test_next_call_is_a_rule_a_list_by_priority_or_a_fixed_round(given, expected):
    source = cell()
    source["loaders"]["gantry"]["next_call"] = given
    assert load_line(source).loaders["gantry"].next_call == expected


def test_inspection_with_rework_and_assumptions_are_read():
    overrides = ["stations.grind.inspection={catches: 98 %, rework: {to: turn, at_most: 2}}"]
    source = cell(assumptions={"stations.turn.cycle": {"range": ["50 s", "70 s"], "class": "supplier"}})
    line = load_line(source, overrides)
    assert line.stations["grind"].inspection == Inspection(catches=0.98, rework=Rework("turn", 2))
    assert line.assumptions["stations.turn.cycle"] == Assumption(("50 s", "70 s"), "supplier")


@pytest.mark.parametrize(
    ("override", "key", "rule", "suggestion"),
    [
        ("stations.turn.price=3", "stations.turn.price", "must be an amount of money with its unit", None),
        ("stations.turn.cycle=38", "stations.turn.cycle", "must be a time with its unit", None),
        ("stations.turn.cycle=-3 s", "stations.turn.cycle", "must be 0 s or more", None),
        ("stations.turn.cycle=true", "stations.turn.cycle", "must be a time", None),
        ("stations.turn.machines=0", "stations.turn.machines", "must be 1 or more", None),
        ("stations.turn.machines={}", "stations.turn.machines", "must be a count", None),
        ("stations.turn.blockng=x", "stations.turn.blockng", "is an unknown key", "blocking"),
        ("stations.turn.blocking=before", "stations.turn.blocking", "must be after_service or before_service", None),
        ("stations.turn.blocking=before_servce", "stations.turn.blocking", "must be after_service", "before_service"),
        ("stations.turn.defects.size=101 %", "stations.turn.defects.size", "must be at most 100 %", None),
        ("stations.turn.inspection.rejects=chute", "stations.turn.inspection.rejects", "must be scrap", None),
        (
            "stations.turn.breakdowns.jam={mtbf: 0 h, mttr: 3 s}",
            "stations.turn.breakdowns.jam.mtbf",
            "must be above 0 s",
            None,
        ),
        ("stations.turn.breakdowns=3", "stations.turn.breakdowns", "must be a map of names", None),
        (
            "stations.turn.dressing.wheel={every: 0 parts, takes: 3 s}",
            "stations.turn.dressing.wheel.every",
            "above 0 parts",
            None,
        ),
        (
            "stations.turn.dressing.wheel={every: 1.5 parts, takes: 3 s}",
            "stations.turn.dressing.wheel.every",
            "whole number",
            None,
        ),
        ("stations.turn.dressing.wheel.takes=3 s", "stations.turn.dressing.wheel.every", "is missing", None),
        (
            "stations.turn.dressing.wh-eel={every: 9 parts, takes: 3 s}",
            "stations.turn.dressing.wh-eel",
            "letters, digits",
            None,
        ),
        ("buffers.park.capacity=-3", "buffers.park.capacity", "must be 0 parts or more", None),
        ("buffers.park.capacity=2.5", "buffers.park.capacity", "must be a whole number", None),
        ("loaders.gantry.grippers=3", "loaders.gantry.grippers", "must be at most 2", None),
        ("loaders.gantry.speed=0 m/s", "loaders.gantry.speed", "must be above 0 m/s", None),
        ("loaders.gantry.stops.turn=2", "loaders.gantry.stops.turn", "must be a length with its unit", None),
        (
            "loaders.gantry.next_call=downstream",
            "loaders.gantry.next_call",
            "must be downstream_first",
            "downstream_first",
        ),
        ("loaders.gantry.next_call={fixed: []}", "loaders.gantry.next_call", "needs at least one place", None),
        ("loaders.gantry.next_call=[gridn]", "loaders.gantry.next_call[0]", "gridn is no stop of this loader", "grind"),
        ("loaders.gantry.next_call={fixed: [gridn]}", "loaders.gantry.next_call.fixed[0]", "is no stop", "grind"),
        ("loaders.gantry.park_at=gridn", "loaders.gantry.park_at", "gridn is no stop of this loader", "grind"),
        (
            "loaders.gantry.stops.gridn=3 m",
            "loaders.gantry.stops.gridn",
            "gridn is no place of the route, chute of a station or drawer",
            "grind",
        ),
        ("crews=3", "crews", "must be a map of names", None),
        ("buffers.park.capacity=2 m", "buffers.park.capacity", "must be a number of parts in parts or part", None),
        ("demand.volume=85000 /year", "demand.planned", "is missing", None),
        ("name=[a]", "name", "must be text", None),
        ("colour=red", "colour", "is an unknown key", None),
    ],
)
def test_a_bad_value_is_told_with_its_full_key_rule_and_nearest_name(override, key, rule, suggestion):
    problem = only(cell(), override)
    assert problem.key == key
    assert rule in problem.rule
    assert problem.suggestion == suggestion


def test_a_crew_that_does_not_exist_is_told_with_the_nearest():
    source = cell(crews={"technician": {}})
    problem = only(source, "stations.turn.breakdowns.jam={mtbf: 9 h, mttr: 3 min, crew: techncian}")
    assert (problem.key, problem.suggestion) == ("stations.turn.breakdowns.jam.crew", "technician")


def test_a_missing_key_is_told_once_when_an_unknown_one_is_its_misspelling():
    source = cell()
    source["stations"]["turn"] = {"cylce": "60 s"}
    problem = only(source)
    assert (problem.key, problem.suggestion) == ("stations.turn.cylce", "cycle")


def test_a_foreign_parameter_left_by_a_merge_is_told_where_it_stands():
    problem = only("ring_cell", "stations.turn.breakdowns.stop.mttr.family=exponential")
    assert problem.key == "stations.turn.breakdowns.stop.mttr.cv"
    assert problem.file.endswith("ring_cell.yaml")
    assert problem.line is not None
    assert "null" in problem.fix


def test_every_problem_of_a_file_is_told_together_with_its_line(tmp_path):
    file = tmp_path / "bad.yaml"
    file.write_text(
        "name: bad\n"
        "route: [blanks, turn, prak, tray]\n"
        "infeed: {blanks: }\n"
        "outfeed: {tray: {price: 55}}\n"
        "stations:\n"
        "  turn: {cycle: 38, machnes: 2}\n"
        "buffers:\n"
        "  park: {capacity: -1}\n",
        encoding="utf-8",
    )
    assert {(problem.key, problem.line) for problem in problems(file)} == {
        ("outfeed.tray.price", 4),
        ("stations.turn.cycle", 6),
        ("stations.turn.machnes", 6),
        ("buffers.park.capacity", 8),
        ("route[2]", 2),
    }


def test_an_empty_map_lacks_route_and_stations():
    assert messages({}) == ["route: is missing. A line needs it.", "stations: is missing. A line needs it."]


@pytest.mark.parametrize("content", ["ring_cell", None, [1], 3])
def test_what_is_no_map_is_refused_by_build(content):
    with pytest.raises(ValueError, match="must be a map with route"):
        build(content)


def test_a_csv_file_of_a_law_lies_beside_its_line_file(tmp_path):
    (tmp_path / "repairs.csv").write_text("s\n5\n7\n", encoding="utf-8")
    line = "route: [a]\nstations: {a: {cycle: {family: empirical, file: repairs.csv, column: s, unit: s}}}\n"
    (tmp_path / "line.yaml").write_text(line, encoding="utf-8")
    assert load_line(tmp_path / "line.yaml").stations["a"].cycle.mean == 6


JUNK: list[Any] = [
    None,
    True,
    0,
    -1,
    2.5,
    float("nan"),
    1e300,
    "",
    "x",
    "3 s",
    "2 parts",
    "10 %",
    "turn",
    "gantry",
    "1e400 s",
]
JUNK += [
    [],
    ["a"],
    [None],
    [{"a": 1}],
    {},
    {"a": 1},
    {1: 2},
    {"family": ["a"]},
    {"family": "gamma", "mean": "3 s", "cv": 1e9},
]


def _paths(content, path=()):
    for key, value in content.items():
        yield (*path, key)
        if isinstance(value, dict):
            yield from _paths(value, (*path, key))


@pytest.mark.parametrize("junk", JUNK, ids=str)
def test_junk_anywhere_is_refused_with_problems_or_read_but_never_breaks(junk):
    for path in _paths(cell()):
        source = inner = cell()
        for key in path[:-1]:
            inner = inner[key]
        inner[path[-1]] = junk
        for problem in problems(source):
            assert str(problem)


@pytest.mark.parametrize(
    ("override", "fix"),
    [
        ("stations.turn.defects=[dent, crack]", "write {dent: 0 %, crack: 0 %}"),
        ("buffers=[park]", "write {park: ...}"),
        ("crews=3", "write {name: ...}"),
    ],
)
def test_where_a_map_of_names_is_wanted_a_list_is_told_as_a_map(override, fix):
    assert fix in [problem.fix for problem in problems(cell(), override)]
