"""What Hydra is given for what the user typed."""

from pathlib import Path

import pytest
from hydra.core.override_parser.overrides_parser import OverridesParser

from linesim.cli.arguments import read_arguments
from linesim.line import LineError


@pytest.mark.parametrize(
    ("typed", "given"),
    [
        (["hours=500"], ["hours=500"]),
        (["ring_cell"], ["line=ring_cell"]),
        (["ring_cell", "hours=5", "two_machines"], ["line=ring_cell,two_machines", "hours=5"]),
        (["--config-dir", "mine", "a", "b"], ["line=a,b", "--config-dir", "mine"]),
        (["line.stations.turn.cycle=90s"], ["++line.stations.turn.cycle=90s"]),
        (["line.stations.turn.cycle=90 s"], ["++line.stations.turn.cycle=90 s"]),
        (["~line.buffers.park_1"], ["~line.buffers.park_1"]),
        (["+line.buffers.x.capacity=3"], ["+line.buffers.x.capacity=3"]),
        (["change=none"], ["change=[]"]),
        (["change=null"], ["change=[]"]),
        (["change=[fast_gantry, one_gripper]"], ["change=[fast_gantry,one_gripper]"]),
        (["change=none,fast_gantry", "-m"], ["change=[],fast_gantry", "-m"]),
        (["--config-dir", "mine", "hours=5"], ["hours=5", "--config-dir", "mine"]),
        (
            ["hours=5", "--info", "searchpath", "seed=1", "-m", "engine=simpy"],
            ["hours=5", "seed=1", "engine=simpy", "--info", "searchpath", "-m"],
        ),
        (["--cfg", "job", "two_machines"], ["line=two_machines", "--cfg", "job"]),
    ],
)
def test_words_become_overrides(typed: list[str], given: list[str]) -> None:
    assert read_arguments(typed).words == given


@pytest.mark.parametrize(
    ("typed", "key", "fix"),
    [
        (["line.stations.turn.cycle=90", "s"], "line.stations.turn.cycle", "leave the blank out"),
        (["ring_cell", "line.stations.turn.cycle=36", "s,40", "s"], "line.stations.turn.cycle", "quote the whole"),
        (["--hours", "5"], "--hours", "hours=VALUE"),
    ],
)
def test_words_that_came_apart_are_told(typed: list[str], key: str, fix: str) -> None:
    with pytest.raises(LineError) as raised:
        read_arguments(typed)
    (problem,) = raised.value.problems
    assert problem.key == key
    assert fix in problem.fix


def test_a_path_becomes_a_name_that_leads_back_to_the_file() -> None:
    read = read_arguments(["my lines/cell 2.yaml", "change=mine/fast.yml"])
    assert read.words == ["line=file/cell_2", "change=file/fast"]
    assert read.files == {"line/file/cell_2": Path("my lines/cell 2.yaml"), "change/file/fast": Path("mine/fast.yml")}


def test_two_files_of_one_name_stay_apart() -> None:
    read = read_arguments(["change=[a/fast.yaml,b/fast.yaml,a/fast.yaml]"])
    assert read.words == ["change=[file/fast,file/fast_2,file/fast]"]
    assert read.files["change/file/fast_2"] == Path("b/fast.yaml")


def test_the_folders_of_the_command_line_are_known() -> None:
    assert read_arguments(["--config-dir=a", "-cd", "b"]).folders == [Path("a"), Path("b")]


@pytest.mark.parametrize(
    "value", ["Bob's cell", "50 % < 3", "a (b)", "x=y", "no. #3", "ends in \\", "it\\'s", "Öl 5 µm"]
)
def test_a_value_that_hydra_can_not_read_bare_arrives_as_it_was_typed(value: str) -> None:
    (word,) = read_arguments([f"line.name={value}"]).words
    assert OverridesParser.create().parse_override(word).value() == value


def test_a_map_without_its_last_bracket_is_not_taken_for_a_text() -> None:
    assert read_arguments(["line.stations.turn.cycle={mean: 3 s"]).words == ["++line.stations.turn.cycle={mean: 3 s"]
