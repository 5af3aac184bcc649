"""A change made for another line is told as such, in one message, not by what follows from it."""

import pytest

from tests.unit.line.lines import cell, problems


def test_a_change_for_a_loader_the_line_does_not_have_says_which_it_has():
    (problem,) = problems("ring_divided", change="fast_gantry")
    assert problem.key == "loaders.gantry"
    assert (
        problem.rule == "change fast_gantry sets gantry, but the line has no such loaders: it has gantry_1 and gantry_2"
    )
    assert problem.file is not None
    assert problem.file.endswith("fast_gantry.yaml")


def test_names_of_one_kind_share_a_message():
    (problem,) = problems("ring_cell", change="long_links")
    assert problem.rule.startswith("change long_links sets link_1, link_2 and link_3, but the line has no such buffers")


def test_a_crew_that_only_the_change_names_has_no_effect_and_is_told():
    (problem,) = problems("ring_cell", change="one_technician")
    assert (problem.key, problem.suggestion) == ("crews.technicians", "technician")


def test_a_misspelt_override_is_told_with_the_nearest_name():
    (problem,) = problems(cell(), "buffers.prak.capacity=8")
    assert (problem.key, problem.suggestion, problem.file) == ("buffers.prak", "park", "override")


@pytest.mark.parametrize(
    "overrides",
    [
        ["route=[blanks, turn, park, grind, cool, tray]", "buffers.cool.capacity=3", "loaders.gantry.stops.cool=7 m"],
        ["crews.fitter.people=2", "stations.turn.breakdowns.jam={mtbf: 9 h, mttr: 3 min, crew: fitter}"],
    ],
)
def test_what_is_really_new_is_welcome(overrides):
    assert problems(cell(), *overrides) == []


def test_a_fault_in_something_really_new_is_told_as_any_other():
    overrides = [
        "route=[blanks, turn, park, grind, cool, tray]",
        "buffers.cool.dwell=3 s",
        "loaders.gantry.stops.cool=7 m",
    ]
    assert [problem.key for problem in problems(cell(), *overrides)] == ["buffers.cool.capacity"]
