"""Bad input: one message on stderr that names key, rule and fix, exit status 2, no traceback, nothing left behind."""

from pathlib import Path

import pytest

from linesim.cli import main
from tests.end_to_end.conftest import Shell


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["rnu"], ["'rnu'", "'run'"]),
        (["run", "huors=3"], ["huors = 3", "hours?"]),
        (["run", "hours=long"], ["hours = long", "a number of hours", "hours=100"]),
        (["run", "hours=-3", "replications=0"], ["hours = -3", "replications = 0"]),
        (["run", "engine=fast"], ["engine = fast", "auto, simpy or compiled"]),
        (["run", "hours=3,4"], ["--multirun"]),
        (["run", "ring_cell", "two_machines"], ["line = ring_cell,two_machines", "linesim compare"]),
        (["run", "change=none,fast_gantry"], ["change = none,fast_gantry", "linesim compare"]),
        (["run", "change=fast_gantry,one_gripper"], ["linesim compare", "change=[fast_gantry,one_gripper]"]),
        (["run", "line.stations.turn.cycle=90", "s"], ["line.stations.turn.cycle=90s"]),
        (["run", "--hours", "5"], ["--hours", "hours=VALUE"]),
        (["run", ".."], ["line = ..", "is a folder"]),
        (["sweep", "buffers.park_1.capacity=1,2"], ["line.buffers.park_1.capacity=1,2"]),
        (["sweep", "prak_1.capacity=1,2"], ["not a run setting", "begins with line."]),
        (["sweep", "table=none.csv"], ["table = none.csv", "No such file", "path of a CSV file"]),
        (["compare", "buffers.park_1.capacity=1,2"], ["Write line.buffers.park_1.capacity=1"]),
        (["report", "nowhere"], ["nowhere", "no such folder"]),
        (["ask", "nowhere"], ["nowhere", "no such folder"]),
        (["check", "line.buffers.park_1.price=900 EUR"], ["0.9 k for 900 units of currency"]),
        (["run", "rng_cell"], ["rng_cell", "ring_cell?"]),
        (["run", "change=fast_gantri"], ["fast_gantri", "fast_gantry?"]),
        (["run", "nowhere/line.yaml"], ["nowhere/line.yaml"]),
        (["run", "line.stations.turn.cycel=3 s"], ["stations.turn.cycel", "cycle?"]),
        (["run", "line.stations.turn.cycle=90"], ["stations.turn.cycle = 90", "90 s"]),
        (["run", "line.stations.turn.cycle={mean: 3 s"], ["brackets"]),
        (["run", "buffers.park_1.capacity=3"], ["line.buffers.park_1.capacity=3"]),
        (["run", "~line.buffers.park_9"], ["line.buffers.park_9", "not there"]),
        (["run", "+foo=3"], ["foo = 3", "not a run setting"]),
        (["run", "line=null"], ["line", "linesim run"]),
        (["run", "--config-dir", "nowhere"], ["nowhere"]),
        (["run", "--no-such-flag"], ["--no-such-flag"]),
        (["check", "hours=3"], ["hours = 3", "not a run setting"]),
        (["trace", "machine=grnd.1"], ["grnd.1", "grind.1?"]),
        (["trace", "parquet=/proc/version/mine.parquet"], ["parquet = /proc/version/mine.parquet", "is a file"]),
        (["trace", "from_h=3", "to_h=2"], ["to_h = 2", "later than"]),
    ],
)
def test_bad_input_gets_one_message_and_status_2(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capfd: pytest.CaptureFixture[str],
    words: list[str],
    said: list[str],
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr("sys.argv", ["linesim", *words])
    with pytest.raises(SystemExit) as ended:
        main()
    answer = capfd.readouterr()
    assert ended.value.code == 2
    assert answer.out == ""
    assert [word for word in said if word not in answer.err] == []
    assert "Traceback" not in answer.err
    assert "Error executing" not in answer.err
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("out", ["mine", "mine/inside"])
@pytest.mark.parametrize(
    "words",
    [
        ["run"],
        ["sensitivity"],
        ["compare", "change=none,fast_gantry"],
        ["sweep", "line.buffers.park_1.capacity=1,2"],
        ["acceptance"],
    ],
)
def test_a_file_in_the_place_of_a_results_folder_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str], words: list[str], out: str
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("mine").write_text("a file", encoding="utf-8")
    monkeypatch.setattr("sys.argv", ["linesim", *words, f"out={out}"])
    with pytest.raises(SystemExit) as ended:
        main()
    answer = capfd.readouterr()
    assert ended.value.code == 2
    assert f"out = {out}: is no folder that can be made" in answer.err
    assert "after out=" in answer.err
    assert "Traceback" not in answer.err
    assert [file.read_text(encoding="utf-8") for file in tmp_path.iterdir()] == ["a file"]


def test_a_word_without_its_ending_or_file_is_told_with_what_is_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("mine.yaml").touch()
    Path("results").mkdir()
    Path("results/line.yaml").touch()
    for word, meant in (("mine", "Write mine.yaml"), ("results", "Write results/line.yaml")):
        monkeypatch.setattr("sys.argv", ["linesim", "check", word])
        with pytest.raises(SystemExit) as ended:
            main()
        assert ended.value.code == 2
        assert meant in capfd.readouterr().err


def test_the_shell_sees_status_and_message_too(linesim: Shell, tmp_path: Path) -> None:
    answer = linesim("run", "line.stations.turn.cycle=90")
    assert (answer.returncode, answer.stdout) == (2, "")
    assert "Write 90 s" in answer.stderr
    assert "Traceback" not in answer.stderr
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("content", "said"),
    [
        ("buffers: {park: {capacity: 9}}\n", "# @package line"),
        ("# @package line\nbuffers: {park: {capacity: 9}\n", "roomy.yaml:3"),
        ("# @package line\n- buffers\n", "roomy.yaml: must be a map of keys"),
    ],
)
def test_a_change_that_can_not_be_read_is_named(linesim: Shell, tmp_path: Path, content: str, said: str) -> None:
    file = tmp_path / "conf" / "change" / "roomy.yaml"
    file.parent.mkdir(parents=True)
    file.write_text(content, encoding="utf-8")
    answer = linesim("check", "two_machines", "change=roomy")
    assert answer.returncode == 2
    assert said in answer.stderr
    assert "roomy" in answer.stderr
    assert "Traceback" not in answer.stderr
