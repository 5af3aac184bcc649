"""A problem reads as one sentence with key, value, place, rule and fix; the error lists them all."""

from linesim.line import LineError, Problem
from linesim.line.problems import dotted, listed, nearest, shown


def test_a_problem_names_key_value_place_rule_suggestion_and_fix():
    problem = Problem("buffers.prak.capacity", -3, "must be 0 or more", "write 0", "cell.yaml", 31, "park")
    assert str(problem) == "buffers.prak.capacity = -3 (cell.yaml:31): must be 0 or more. Did you mean park? Write 0."


def test_a_missing_value_and_an_unknown_place_leave_no_gaps():
    assert str(Problem("route", None, "is missing", "a line needs it")) == "route: is missing. A line needs it."
    assert str(Problem("", None, "is not YAML", "", "a.yaml", 3)) == "a.yaml:3: is not YAML."
    assert str(Problem("route", 3, "must be a list", "", "override")) == "route = 3 (override): must be a list."


def test_the_error_is_a_value_error_with_all_problems_as_data_and_text():
    found = [Problem("a", 1, "is wrong"), Problem("b", None, "is missing")]
    error = LineError(found, "my line")
    assert isinstance(error, ValueError)
    assert error.problems == found
    assert str(error) == "2 problems in my line:\n  - a = 1: is wrong.\n  - b: is missing."


def test_keys_and_values_are_shown_as_the_file_shows_them():
    assert dotted(("loaders", "gantry", "stops", "turn", 1)) == "loaders.gantry.stops.turn[1]"
    assert shown({"on": True, "at": ["1 m", "2 m"]}) == "{on: true, at: [1 m, 2 m]}"
    assert len(shown("x" * 200)) == 60


def test_names_are_listed_as_in_a_sentence_and_long_lists_are_cut():
    assert (listed(["a"]), listed(["a", "b", "c"], "or")) == ("a", "a, b or c")
    assert listed(range(30)).endswith("14 and 15 more")


def test_only_a_name_that_comes_near_is_suggested():
    assert nearest("techncian", ["technician", "operator"]) == "technician"
    assert nearest("pitch", ["price", "cycle"]) is None
