"""Stations that do more than one part for one cycle: what can't be meant is told with key and fix."""

import pytest

from linesim.line import load_line
from linesim.line.distributions import Constant
from linesim.line.model import Strokes
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
