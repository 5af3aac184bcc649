"""Stations that do more than one part for one cycle: what can't be meant is told with key and fix."""

import pytest

from linesim.line import load_line
from linesim.line.distributions import Constant, Exponential
from linesim.line.model import Life, Strokes
from linesim.line.units import Dressings
from tests.unit.line.lines import cell, problems

NO_LOADER = cell(loaders={})


def strokes(**changes):
    return {"number": {0: "60 %", 1: "40 %"}, "takes": "3 s"} | changes


def with_turn(**keys):
    source = cell(loaders={})
    source["stations"]["turn"] = source["stations"]["turn"] | keys
    return source


def test_strokes_are_read_by_number():
    read = load_line(with_turn(strokes=strokes(at_most=2))).stations["turn"].strokes
    assert read == Strokes({0: 0.6, 1: 0.4}, Constant(3), 2)


def test_the_defect_of_parts_that_stay_too_long_has_its_name():
    (problem,) = problems(with_turn(overstay="4 min", defects={"overstay": "1 %"}))
    assert (problem.key, problem.fix) == ("stations.turn.defects.overstay", "give the defect another name")


def tool(**keys):
    return {"tool_change": {"insert": {"every": "9 parts", "takes": "3 s"} | keys}}


LIFE = {"family": "weibull", "mean": "150 parts", "shape": 3}


def test_a_life_is_read_in_parts_or_in_time():
    turn = load_line(with_turn(**tool(life=LIFE))).stations["turn"].tool_change["insert"]
    assert turn.life is not None
    assert (turn.life.in_parts, round(turn.life.law.mean)) == (True, 150)
    by_time = with_turn(**tool(life={"family": "exponential", "mean": "5 h"}, every="4 h", clock="working"))
    assert load_line(by_time).stations["turn"].tool_change["insert"].life == Life(Exponential(18000), False)
    plain = load_line(with_turn(**tool(life="99 parts"))).stations["turn"].tool_change["insert"].life
    assert plain == Life(Constant(99), True)


def test_an_interval_in_dressings_is_read_as_such():
    stops = {"dressing": {"wheel": {"every": "9 parts", "takes": "3 s"}}} | tool(every="400 dressings")
    assert load_line(with_turn(**stops)).stations["turn"].tool_change["insert"].every == Dressings(400)


@pytest.mark.parametrize(
    ("keys", "key", "rule"),
    [
        ({"life": "3"}, "life", "must be a number of parts or a time"),
        ({"life": "0 parts"}, "life", "must be a number of parts or a time above zero"),
        ({"life": LIFE | {"mean": "150"}, "every": None}, "life.mean", "must be a time with its unit"),
        ({"life": LIFE | {"mean": "-3 parts"}}, "life", "mean must be above zero"),
        ({"life": LIFE, "age": "2 parts"}, "age", "tools with a life are new at the start"),
        ({"life": LIFE, "every": "3 h"}, "every", "must be in the unit of life, parts"),
        ({"life": LIFE, "every": "3 dressings"}, "every", "must be in the unit of life, parts"),
        ({"life": "3 h", "every": "2 h"}, "clock", "must be working"),
        ({"breakage": {"takes": "3 s"}}, "breakage", "a tool without a life never breaks"),
        ({"life": LIFE, "breakage": {}}, "breakage.takes", "is missing"),
        ({"life": LIFE, "breakage": {"takes": "3 s", "crew": "fitter"}}, "breakage.crew", "fitter is no crew"),
        ({"worn_by": "wheel"}, "worn_by", "has a meaning only where every is a number of dressings"),
        ({"every": "3 dressings"}, "every", "nothing is dressed here"),
        ({"cost": "18"}, "cost", "must be money for each with its unit (each)"),
        ({"every": None}, "every", "is missing"),
        ({"every": "2 parts", "start_up_scrap": "2 parts"}, "start_up_scrap", "scraps every part from one stop to"),
        ({"start_up_scrap": "2 s"}, "start_up_scrap", "must be a number of parts"),
    ],
)
def test_tools_that_make_no_sense_are_told(keys, key, rule):
    (problem,) = problems(with_turn(**tool(**keys)))
    assert problem.key == f"stations.turn.tool_change.insert.{key}"
    assert rule in problem.rule


@pytest.mark.parametrize(
    ("keys", "key", "rule"),
    [
        ({"life": LIFE}, "life", "only a tool change has one"),
        ({"worn_by": "rough"}, "worn_by", "only a tool change has one"),
        ({"every": "3 dressings"}, "every", "only a tool change counts dressings"),
    ],
)
def test_only_tools_break_and_wear(keys, key, rule):
    (problem,) = problems(with_turn(dressing={"wheel": {"every": "9 parts", "takes": "3 s"} | keys}))
    assert (problem.key, problem.rule) == (f"stations.turn.dressing.wheel.{key}", rule)


@pytest.mark.parametrize(
    ("worn_by", "rule", "suggestion"),
    [(None, "is missing", None), ("fine", None, None), ("fin", "is no dressing of this station", "fine")],
)
def test_of_several_dressings_the_one_that_wears_is_named(worn_by, rule, suggestion):
    job = {"every": "9 parts", "takes": "3 s"}
    found = problems(with_turn(dressing={"fine": job, "rough": job}, **tool(every="9 dressings", worn_by=worn_by)))
    assert [(problem.rule, problem.suggestion) for problem in found] == ([(rule, suggestion)] if rule else [])


@pytest.mark.parametrize(
    ("given", "key", "rule"),
    [
        ({"number": {0: "60 %", 1: "30 %"}}, "number", "must add up to 100 %"),
        ({"number": {"some": "100 %"}}, "number.some", "must be a whole number from 0 to 99"),
        ({"number": {1: "60"}}, "number.1", "must be a share"),
        ({"number": 3}, "number", "must be a map"),
        ({"takes": "3"}, "takes", "must be a time with its unit"),
        ({"at_most": -1}, "at_most", "must be 0 or more"),
        ({"defect": "size"}, "defect", "the name size is taken by a defect of this station"),
    ],
)
def test_strokes_that_make_no_sense_are_told(given, key, rule):
    found = problems(with_turn(strokes=strokes(**given), defects={"size": "1 %"}))
    assert [problem.key for problem in found] == [f"stations.turn.strokes.{key}"]
    assert rule in found[0].rule


HELD = "stations.turn.measuring.master={every: 4 h, takes: 90 s, holds: loader}"


def test_a_stop_may_hold_the_loader_of_its_station() -> None:
    assert problems(cell(), HELD) == []


def test_a_loader_can_be_held_only_where_one_serves() -> None:
    (problem,) = problems(cell(loaders={}), HELD)
    assert (problem.key, problem.rule) == ("stations.turn.measuring.master.holds", "no loader serves this station")


def test_a_loader_that_is_held_can_not_load_meanwhile() -> None:
    (problem,) = problems(cell(), HELD, "stations.turn.measuring.master.overlaps=loading")
    assert problem.key == "stations.turn.measuring.master.holds"
    assert problem.rule == "a loader that this stop holds can't load meanwhile"


def test_a_stop_of_a_named_machine_may_hold_it_too() -> None:
    own = "stations.turn.machines={turn_a: {measuring: {master: {every: 4 h, takes: 90 s, holds: loader}}}}"
    assert problems(cell(), own) == []
    (problem,) = problems(cell(loaders={}), own)
    assert problem.key == "stations.turn.machines.turn_a.measuring.master.holds"
