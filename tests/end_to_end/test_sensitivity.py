"""`linesim sensitivity` as a user types it."""

import shlex
from pathlib import Path

import linesim as package
from tests.end_to_end.conftest import Shell

QUICK = ("hours=20", "warmup_hours=1", "replications=3", "engine=simpy", "seed=5")


def test_a_study_is_printed_saved_and_can_be_repeated(linesim: Shell, tmp_path: Path) -> None:
    ran = linesim("sensitivity", "two_machines", *QUICK, "step_percent=20", "out=first")
    assert (ran.returncode, ran.stderr) == (0, "")
    assert "by a step of 20 %" in ran.stdout
    repeat = next(line for line in ran.stdout.splitlines() if line.startswith("the same again: linesim "))
    again = linesim(*shlex.split(repeat.removeprefix("the same again: linesim ")), "plots=false", "out=again")
    assert again.returncode == 0, again.stderr
    tables = [package.open_results(tmp_path / name).table() for name in ("first", "again")]
    assert tables[0].equals(tables[1])


def test_bad_input_leaves_nothing(linesim: Shell, tmp_path: Path) -> None:
    ran = linesim("sensitivity", "two_machines", "step_percent=0", "out=never")
    assert ran.returncode == 2
    assert "step_percent = 0" in ran.stderr
    assert not (tmp_path / "never").exists()


def test_check_tells_values_that_no_assumption_covers(linesim: Shell) -> None:
    told = linesim("check", "ring_cell").stdout
    assert "without an entry under assumptions" in told
    assert "  grind: cycle, breakdowns.stop.mtbf, tool_change" in told, "its mttr has one"
