"""Changes and overrides lie over the file in order; maps merge and null takes away."""

import pytest

from linesim.line import line_mapping, load_line
from linesim.line.distributions import Constant, Exponential
from linesim.line.layers import compose
from tests.unit.line.lines import cell, messages, problems


@pytest.fixture
def change(tmp_path):
    """Writes a change and gives its path."""

    def write(text, name="other"):
        file = tmp_path / f"{name}.yaml"
        file.write_text("# @package line\n" + text, encoding="utf-8")
        return str(file)

    return write


@pytest.mark.parametrize("prefix", ["", "line.", "++", "+", "++line."])
def test_an_override_may_carry_any_of_the_usual_prefixes(prefix):
    assert load_line(cell(), [f"{prefix}buffers.park.capacity=8"]).buffers["park"].capacity == 8


def test_a_quantity_in_an_override_needs_no_blank():
    assert load_line(cell(), ["stations.turn.cycle=2min"]).stations["turn"].cycle == Constant(120)


def test_an_override_can_set_a_value_the_file_leaves_out_and_a_whole_map():
    line = load_line(
        cell(), ["stations.turn.breakdowns.jam={mtbf: 9 h, mttr: 3 min}", "crews.fitter.people=2", "crews.fitter=null"]
    )
    assert line.stations["turn"].breakdowns["jam"].mtbf == Exponential(32400)


def test_overrides_in_a_map_are_taken_as_they_are():
    found = compose(cell(), {"buffers.park.capacity": 8, "name": "8"})
    assert found.content["buffers"]["park"]["capacity"] == 8
    assert found.content["name"] == "8"
    assert found.origins["buffers", "park", "capacity"].layer == "override"


def test_a_map_over_a_map_merges_and_a_list_replaces_a_list():
    content = line_mapping(cell(), ["loaders.gantry={pick: 9 s}", "route=[a, b]"])
    assert content["loaders"]["gantry"]["pick"] == "9 s"
    assert content["loaders"]["gantry"]["place"] == "4 s"
    assert content["route"] == ["a", "b"]


def test_changes_lie_over_the_file_and_overrides_over_changes(change):
    first, second = change("buffers: {park: {capacity: 5, price: 3 k}}"), change("buffers: {park: {capacity: 6}}", "b")
    park = load_line(cell(), ["buffers.park.capacity=7"], [first, second]).buffers["park"]
    assert (park.capacity, park.price) == (7, 3000)
    assert load_line(cell(), change=[first, second]).buffers["park"].capacity == 6


def test_none_is_no_change():
    assert load_line(cell(), change="none") == load_line(cell()) == load_line(cell(), change=["none"])


def test_null_takes_a_place_away(change):
    text = "route: [blanks, turn, grind, tray]\nbuffers: {park: null}\nloaders: {gantry: {stops: {park: null}}}"
    line = load_line(cell(), change=change(text))
    assert line.buffers == {}
    assert list(line.loaders["gantry"].stops) == ["blanks", "turn", "grind", "tray"]


def test_a_tilde_in_front_of_an_override_takes_a_key_away():
    assert load_line(cell(), ["~loaders.gantry.load"]).loaders["gantry"].load is None


def test_a_null_for_a_name_that_is_not_there_is_told(change):
    found = problems(cell(), change=change("loaders: {gantry: {stops: {prak: null}}}"))
    assert [(problem.key, problem.suggestion, problem.line) for problem in found] == [
        ("loaders.gantry.stops.prak", "park", 2)
    ]


def test_an_infeed_on_the_route_may_have_nothing_to_say():
    assert list(load_line(cell(infeed={"blanks": None})).infeed) == ["blanks"]


def test_the_given_map_is_left_as_it_was():
    given = cell()
    load_line(given, ["buffers.park.capacity=8"])
    assert given == cell()


@pytest.mark.parametrize("override", ["buffers", "=3", "buffers..park=3", ".x=1"])
def test_what_is_no_override_is_told_with_an_example(override):
    (message,) = messages(cell(), override)
    assert message == f"{override} is not an override. Write key=value, such as buffers.park.capacity=8."


def test_an_override_that_is_no_value_is_told_with_its_key():
    (problem,) = problems(cell(), "route=[a")
    assert (problem.key, problem.file) == ("route", "override")


def test_a_problem_of_an_override_names_the_override_and_not_the_file():
    (problem,) = problems("ring_cell", "buffers.park_1.capacity=-3")
    assert (problem.key, problem.value, problem.file, problem.line) == ("buffers.park_1.capacity", -3, "override", None)


def test_files_and_overrides_that_can_not_be_read_are_all_told_at_once():
    found = problems("ring_cel", "buffers", change="fast_gantri")
    assert [problem.suggestion for problem in found] == ["ring_cell", "fast_gantry", None]


def test_the_merged_map_builds_the_same_line():
    overrides = ["buffers.park_1.capacity=4"]
    assert load_line(line_mapping("ring_cell", overrides, "fast_gantry")) == load_line(
        "ring_cell", overrides, "fast_gantry"
    )
