"""Files are found by name or path, and what can't be read is told with file and line."""

import pytest

from linesim.line import LineError, known_names
from linesim.line.sources import find, read_change, read_line_file


def write(path, text):
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")
    return path


def problem_of(call, *arguments):
    with pytest.raises(LineError) as raised:
        call(*arguments)
    assert len(raised.value.problems) == 1
    return raised.value.problems[0]


def test_a_name_in_the_users_folder_goes_before_a_shipped_one(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    shipped = find("line", "ring_cell")
    own = write(tmp_path / "conf/line/ring_cell.yaml", "route: []\n")
    assert find("line", "ring_cell").resolve() == own.resolve() != shipped.resolve()


def test_the_users_lines_and_changes_are_known_beside_the_shipped_ones(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    write(tmp_path / "conf/line/mine.yaml", "route: []\n")
    assert {"mine", "ring_cell"} <= set(known_names("line"))
    assert "mine" not in known_names("change")


def test_a_path_is_taken_as_it_is(tmp_path):
    file = write(tmp_path / "mine.yaml", "route: []\n")
    assert find("line", str(file)) == file
    assert find("line", tmp_path / "mine") == file


def test_an_unknown_name_is_told_with_the_nearest_one():
    problem = problem_of(find, "change", "fast_gantri")
    assert problem.suggestion == "fast_gantry"
    assert "one of" in problem.fix


def test_a_file_that_is_not_there_is_told_with_the_one_beside_it(tmp_path):
    beside = write(tmp_path / "my_line.yaml", "route: []\n")
    assert problem_of(find, "line", str(tmp_path / "my_line.yml")).suggestion == str(beside)
    assert problem_of(find, "line", str(tmp_path / "my_lien.yaml")).suggestion == str(beside)


def test_every_key_and_list_item_keeps_its_line(tmp_path):
    file = write(tmp_path / "a.yaml", "name: x\nroute: [a,\n  b]\nstations:\n  on: {cycle: 3 s}\n")
    content, origins = read_line_file(file)
    assert content["stations"] == {"on": {"cycle": "3 s"}}
    assert [origins[path].line for path in (("name",), ("route", 1), ("stations", "on"))] == [1, 3, 5]


def test_an_anchor_is_written_out_wherever_it_is_used(tmp_path):
    file = write(tmp_path / "a.yaml", "a: &a {x: 1, y: 2}\nb: *a\nc: {<<: *a, y: 3}\n")
    assert read_line_file(file).content == {"a": {"x": 1, "y": 2}, "b": {"x": 1, "y": 2}, "c": {"x": 1, "y": 3}}


@pytest.mark.parametrize(
    ("text", "line", "rule", "fix"),
    [
        ("a: [1, 2\nb: 3\n", 2, "is not YAML", "indents, brackets"),
        ("a: 1\n\tb: 3\n", 2, "is not YAML", "not with tabs"),
        ("a: {x: 1}\nb: 1\na: 2\n", 3, "stands twice here, first in line 1", "keep one"),
        ("a: &a {x: *a}\n", 1, "an alias inside its own anchor", "this line"),
        ("a: 1\n---\nb: 1\n", 2, "is not YAML", "this line"),
        ('a: 1\nb: "c\nd: 2\n', 4, "that begins in line 2", "this line"),
        ("", None, "is empty", "route and stations"),
        ("# nothing\n", None, "is empty", "route and stations"),
        ("- a\n- b\n", 1, "must be a map of keys", "write KEY: VALUE"),
        ("route\n", 1, "must be a map of keys", "write KEY: VALUE"),
    ],
)
def test_a_file_that_can_not_be_read_is_told_with_its_line(tmp_path, text, line, rule, fix):
    file = write(tmp_path / "bad.yaml", text)
    problem = problem_of(read_line_file, file)
    assert (problem.file, problem.line) == (str(file), line)
    assert rule in problem.rule
    assert fix in problem.fix


def test_a_file_in_another_encoding_is_refused(tmp_path):
    (tmp_path / "bad.yaml").write_bytes("route: []\nname: Schönau\n".encode("latin-1"))
    problem = problem_of(read_line_file, tmp_path / "bad.yaml")
    assert (problem.line, problem.fix) == (2, "save it as UTF-8 text")
    assert "0xf6" in problem.rule


def test_a_change_without_its_header_is_refused(tmp_path):
    file = write(tmp_path / "faster.yaml", "# faster\nbuffers: {}\n")
    assert problem_of(read_change, file).rule == "a change must be headed # @package line"


def test_a_change_remembers_its_name_for_every_key(tmp_path):
    file = write(tmp_path / "faster.yaml", "# @package line\nbuffers: {park: {capacity: 3}}\n")
    assert read_change(file).origins["buffers", "park"] == (str(file), 2, "change faster")


def test_the_folder_of_the_environment_is_searched_after_the_working_folder(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("LINESIM_CONF", str(tmp_path / "theirs"))
    theirs = write(tmp_path / "theirs/line/ring_cell.yaml", "route: []\n")
    assert find("line", "ring_cell") == theirs
    assert find("line", "two_machines").is_file()
    own = write(tmp_path / "conf/line/ring_cell.yaml", "route: []\n")
    assert find("line", "ring_cell").resolve() == own.resolve()
