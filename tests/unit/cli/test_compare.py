"""Names of the lines that `linesim compare` sets side by side."""

from linesim.cli.compare import names_of


def test_lines_are_named_by_what_differs() -> None:
    words = [["line=ring_cell", "change=[]", "hours=9"], ["line=ring_cell", "change=fast_gantry", "hours=9"]]
    assert names_of(words) == ["none", "fast_gantry"]


def test_a_value_of_the_line_is_named_without_the_kind_of_its_place() -> None:
    words = [["++line.buffers.park_1.capacity=1"], ["++line.buffers.park_1.capacity=2"]]
    assert names_of(words) == ["park_1.capacity=1", "park_1.capacity=2"]


def test_several_differences_are_told_together_and_files_by_their_names() -> None:
    words = [["line=file/mine", "change=[a,b]"], ["line=ring_cell", "change=[]"]]
    assert names_of(words) == ["mine, a,b", "ring_cell, none"]
