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


SHIFT = ("line.demand=null", "line.shifts={day: {days: mon to fri, from: '6:20', to: '14:00'}}")


def test_a_trace_begins_by_default_where_the_line_is_first_planned_to_run(linesim: Shell) -> None:
    shown = linesim("trace", "two_machines", *SHIFT, "events=100000")
    assert (shown.returncode, shown.stderr) == (0, "")
    _, told, _, *events = shown.stdout.splitlines()
    assert told == "from 6.33333 h on, the first planned working time; from_h=0 shows what comes before"
    assert events[0].split()[0] == "6:20:00.000"
    assert any("part leaves" in event for event in events)
    times = [event.split()[0] for event in events if event[:13].strip()]
    assert times[-1].startswith("14:")  # of the 8 hours


def test_a_trace_keeps_the_times_that_were_asked_for(linesim: Shell) -> None:
    for asked in (("from_h=0",), ("to_h=5",), ("from_h=0", "to_h=24")):
        lines = linesim("trace", "two_machines", *SHIFT, *asked).stdout.splitlines()
        assert lines[1].split()[:2] == ["time", "who"]
        assert lines[2].split()[0] == "0:00:00.000"
    late = linesim("trace", "two_machines", *SHIFT, "to_h=24", "from_h=7").stdout.splitlines()
    assert late[1].split()[:2] == ["time", "who"]
    assert late[2].split()[0] >= "7:00:00.000"
    until = linesim("trace", "two_machines", *SHIFT, "to_h=6.5", "events=100000").stdout.splitlines()
    assert until[1].startswith("from 6.33333 h on")
    times = [line.split()[0] for line in until[3:] if line[:13].strip()]
    assert "6:20:00.000" == times[0] < times[-1] <= "6:30:00.000"


def test_the_whole_trace_goes_to_a_file(linesim: Shell, tmp_path: Path) -> None:
    shown = linesim("trace", "two_machines", "to_h=1", "events=3", "parquet=deep/whole.parquet")
    assert shown.returncode == 0, shown.stderr
    events = pd.read_parquet(tmp_path / "deep" / "whole.parquet")
    assert len(events) > 100
    assert {"time_us", "what", "owner", "part", "value", "owner_name"} <= set(events.columns)
    assert linesim("trace", "two_machines", "parquet=deep/whole.parquet").returncode == 2
