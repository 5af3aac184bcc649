"""`linesim check` and `linesim trace` as a user types them."""

from pathlib import Path

import pandas as pd

from tests.end_to_end.conftest import Shell


def test_check_sums_up_a_good_line(linesim: Shell, tmp_path: Path) -> None:
    shown = linesim("check", "ring_cell")
    assert (shown.returncode, shown.stderr) == (0, "")
    assert all(word in shown.stdout for word in ("compact ring cell", "grind", "gantry", "takt"))
    assert list(tmp_path.iterdir()) == []


def test_check_tells_every_problem_with_its_place(linesim: Shell, tmp_path: Path) -> None:
    bad = "route: [press, mill]\nstations:\n  press: {cycle: 30}\n  mill: {cycel: 40 s}\n"
    (tmp_path / "bad.yaml").write_text(bad, encoding="utf-8")
    shown = linesim("check", "bad.yaml", "line.stations.press.price=cheap")
    assert (shown.returncode, shown.stdout) == (2, "")
    assert all(word in shown.stderr for word in ("bad.yaml:3", "bad.yaml:4", "stations.press.price", "cycle?"))
    assert "Traceback" not in shown.stderr


def test_trace_prints_the_first_events_in_words(linesim: Shell) -> None:
    shown = linesim("trace", "two_machines", "events=5")
    assert (shown.returncode, shown.stderr) == (0, "")
    lines = [" ".join(line.split()) for line in shown.stdout.splitlines()]
    assert lines[1] == "time who what part detail"
    assert "0:00:00.000 blanks part leaves 1 directly" in lines
    assert "turn.1 starts 1 58 s" in lines
    assert len(lines) == 2 + 5 + 1


def test_trace_follows_one_part_and_one_machine(linesim: Shell) -> None:
    part = linesim("trace", "two_machines", "part=1", "to_h=1").stdout
    assert "tray" in part
    machine = linesim("trace", "two_machines", "machine=grind.1", "from_h=0.5", "to_h=0.6").stdout
    assert "turn.1" not in machine
    assert "grind.1" in machine
    assert all(line.split()[0] >= "0:30:00.000" for line in machine.splitlines()[2:] if line[:13].strip())


def test_the_whole_trace_goes_to_a_file(linesim: Shell, tmp_path: Path) -> None:
    shown = linesim("trace", "two_machines", "to_h=1", "events=3", "parquet=deep/whole.parquet")
    assert shown.returncode == 0, shown.stderr
    events = pd.read_parquet(tmp_path / "deep" / "whole.parquet")
    assert len(events) > 100
    assert {"time_us", "what", "owner", "part", "value", "owner_name"} <= set(events.columns)
    assert linesim("trace", "two_machines", "parquet=deep/whole.parquet").returncode == 2
