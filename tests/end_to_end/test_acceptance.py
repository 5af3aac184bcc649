"""`linesim acceptance` as a user types it."""

import shlex
from pathlib import Path

import linesim as package
from tests.end_to_end.conftest import Shell

QUICK = ("hours=2", "warmup_hours=1", "replications=20", "engine=simpy", "seed=5", "plots=false")


def test_tests_of_two_lines_are_told_saved_and_can_be_repeated(linesim: Shell, tmp_path: Path) -> None:
    ran = linesim("acceptance", "two_machines", "line.buffers.park.capacity=6,0", *QUICK, "mark=90", "out=first")
    assert (ran.returncode, ran.stderr) == (0, "")
    assert "a mark of 90 good parts: park.capacity=6 passes in" in ran.stdout
    repeat = next(line for line in ran.stdout.splitlines() if line.startswith("the same again: linesim "))
    again = linesim(*shlex.split(repeat.removeprefix("the same again: linesim ")), "plots=false", "out=again")
    assert again.returncode == 0, again.stderr
    first, second = (package.open_results(tmp_path / name).table() for name in ("first", "again"))
    assert first["good_parts"].tolist() == second["good_parts"].tolist()


def test_one_line_is_enough_and_bad_input_leaves_nothing(linesim: Shell, tmp_path: Path) -> None:
    assert "highest mark that" in linesim("acceptance", "two_machines", *QUICK, "out=one").stdout
    ran = linesim("acceptance", "two_machines", *QUICK, "mark=-2", "out=never")
    assert (ran.returncode, ran.stderr.count("mark = -2")) == (2, 1)
    assert not (tmp_path / "never").exists()
