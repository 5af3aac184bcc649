"""Names of the lines that `linesim compare` and `acceptance` run together."""

from linesim.cli.jobs_together import names_of


def test_lines_are_named_by_what_differs() -> None:
    words = [["line=ring_cell", "change=none", "hours=9"], ["line=ring_cell", "change=fast_gantry", "hours=9"]]
    assert names_of(words) == ["no change", "fast_gantry"]


def test_a_value_of_the_line_is_named_without_the_kind_of_its_place() -> None:
    words = [["++line.buffers.park_1.capacity=1"], ["++line.buffers.park_1.capacity=2"]]
    assert names_of(words) == ["park_1.capacity=1", "park_1.capacity=2"]


def test_several_differences_are_told_together_and_files_by_their_names() -> None:
    words = [["line=my/mine.yaml", "change=a,b"], ["line=ring_cell", "change=none"]]
    assert names_of(words) == ["mine, a,b", "ring_cell, no change"]


def test_files_of_one_name_are_told_apart() -> None:
    """A folder tells most of them apart; a file here and a name that is shipped differ by the ending only."""
    words = [["change=mine"], ["change=mine.yaml"], ["change=a/mine.yaml"], ["change=b/mine.yaml,a/mine.yaml"]]
    assert names_of(words) == ["mine", "mine.yaml", "a/mine", "b/mine,a/mine"]


def test_keys_are_told_by_their_last_steps_and_blanks_as_blanks() -> None:
    words = [
        [r"++line.stations.grind.dressing.wheel.every=9\ parts"],
        [r"++line.stations.grind.dressing.wheel.every=12\ parts"],
    ]
    assert names_of(words) == ["wheel.every=9 parts", "wheel.every=12 parts"]


def test_keys_that_end_alike_are_told_as_far_as_they_differ() -> None:
    words = [["++line.stations.turn.breakdowns.stop.mtbf=9h"], ["++line.stations.drill.breakdowns.stop.mtbf=9h"]]
    assert names_of(words) == ["turn.breakdowns.stop.mtbf=9h", "drill.breakdowns.stop.mtbf=9h"]
