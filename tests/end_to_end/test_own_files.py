"""A user's own lines, changes and settings, wherever they lie."""

from pathlib import Path
from typing import Any

import yaml

from tests.end_to_end.conftest import Shell

LINE = """
name: {name}
route: [press, {buffer}mill]
stations: {{press: {{cycle: 30 s}}, mill: {{cycle: 40 s}}}}
"""
CHANGE = "# @package line\nstations: {mill: {cycle: 20 s}}\n"


def line_of(linesim: Shell, *words: str, **environment: str) -> Any:
    """The line that a command would run."""
    shown = linesim("run", *words, "--cfg", "job", **environment)
    assert shown.returncode == 0, shown.stderr
    return yaml.safe_load(shown.stdout)["line"]


def write(path: Path, text: str) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")


def own_line(name: str) -> str:
    return LINE.format(name=name, buffer="")


def test_a_line_file_of_ones_own_is_run(linesim: Shell, tmp_path: Path) -> None:
    write(tmp_path / "my lines" / "mine.yaml", own_line("mine"))
    ran = linesim("run", "my lines/mine.yaml", "hours=1", "warmup_hours=0", "replications=1", "plots=false", "out=o")
    assert ran.returncode == 0, ran.stderr
    # one mill of 40 s makes 89 parts in the hour: the first arrives after 30 s and the last end is at 30 + 89 * 40 s
    assert "89.00" in ran.stdout


def test_the_users_conf_folder_wins_over_the_shipped_one(linesim: Shell, tmp_path: Path) -> None:
    write(tmp_path / "conf" / "line" / "ring_cell.yaml", own_line("not the shipped one"))
    assert line_of(linesim)["name"] == "not the shipped one"


def test_a_change_of_ones_own_lies_over_a_shipped_line(linesim: Shell, tmp_path: Path) -> None:
    write(tmp_path / "conf" / "change" / "quick.yaml", "# @package line\nstations: {turn: {cycle: 5 s}}\n")
    line = line_of(linesim, "two_machines", "change=quick")
    assert line["stations"]["turn"]["cycle"] == "5 s"
    assert line["stations"]["grind"]["cycle"] == "60 s"


def test_a_change_may_be_a_file_anywhere_and_changes_come_in_order(linesim: Shell, tmp_path: Path) -> None:
    write(tmp_path / "mine.yaml", own_line("mine"))
    write(tmp_path / "a" / "mill.yaml", CHANGE)
    write(tmp_path / "b" / "mill.yaml", CHANGE.replace("20 s", "25 s"))
    for changes, cycle in (("a/mill.yaml", "20 s"), ("[a/mill.yaml,b/mill.yaml]", "25 s"), ("none", "40 s")):
        assert line_of(linesim, "mine.yaml", f"change={changes}")["stations"]["mill"]["cycle"] == cycle


def test_a_folder_named_in_the_environment_or_on_the_command_line_is_searched(linesim: Shell, tmp_path: Path) -> None:
    write(tmp_path / "here" / "line" / "two_machines.yaml", own_line("from here"))
    write(tmp_path / "there" / "line" / "two_machines.yaml", own_line("from there"))
    here, there = str(tmp_path / "here"), str(tmp_path / "there")
    assert line_of(linesim, "two_machines", LINESIM_CONF=here)["name"] == "from here"
    assert line_of(linesim, "two_machines", "--config-dir", there, LINESIM_CONF=here)["name"] == "from there"


def test_a_study_file_of_ones_own_sets_line_change_and_settings(linesim: Shell, tmp_path: Path) -> None:
    write(
        tmp_path / "conf" / "study.yaml",
        "defaults: [run, override line: two_machines, _self_]\nhours: 7\nline: {buffers: {park: {capacity: 1}}}\n",
    )
    shown = linesim("run", "--config-name", "study", "--cfg", "job")
    settings = yaml.safe_load(shown.stdout)
    assert settings["hours"] == 7
    assert settings["line"]["name"] == "two machines"
    assert settings["line"]["buffers"]["park"]["capacity"] == 1


def test_a_key_that_the_file_leaves_out_can_be_set(linesim: Shell) -> None:
    line = line_of(linesim, "two_machines", "line.stations.turn.machines=2", "line.stations.turn.cycle=90 s")
    assert line["stations"]["turn"]["machines"] == 2
    assert line["stations"]["turn"]["cycle"] == "90 s"
    assert linesim("check", "two_machines", "line.buffers.park.dwell=20s").returncode == 0


def test_null_takes_a_key_away(linesim: Shell, tmp_path: Path) -> None:
    write(tmp_path / "calm.yaml", "# @package line\nstations: {turn: {breakdowns: null}, grind: {breakdowns: null}}\n")
    words = ("hours=1", "warmup_hours=0", "replications=1", "plots=false", "line.stations.grind.dressing=null", "out=o")
    ran = linesim("run", "two_machines", "change=calm.yaml", *words)
    assert ran.returncode == 0, ran.stderr
    # without stops the grinder of 60 s, fed from 58 s on, has ended 59 parts before the hour is over
    assert "59.00" in ran.stdout


def settings_of(linesim: Shell, *words: str, **environment: str) -> Any:
    shown = linesim("run", *words, "--cfg", "job", **environment)
    assert shown.returncode == 0, shown.stderr
    return yaml.safe_load(shown.stdout)


def test_settings_of_ones_own_need_hold_only_what_differs(linesim: Shell, tmp_path: Path) -> None:
    shipped = settings_of(linesim, "two_machines")
    write(tmp_path / "conf" / "line" / "mine.yaml", own_line("mine"))
    write(tmp_path / "conf" / "run.yaml", "hours: 3\n")
    mine = settings_of(linesim, "mine")
    assert mine["line"]["name"] == "mine"
    assert mine | {"line": None} == shipped | {"hours": 3, "line": None}
    assert settings_of(linesim, "mine", "hours=4")["hours"] == 4


def test_settings_of_ones_own_may_choose_line_and_change(linesim: Shell, tmp_path: Path) -> None:
    write(tmp_path / "conf" / "line" / "mine.yaml", own_line("mine"))
    write(tmp_path / "conf" / "change" / "quick.yaml", CHANGE)
    write(tmp_path / "there" / "run.yaml", "line: mine\nchange: [quick]\n")
    there = {"LINESIM_CONF": str(tmp_path / "there")}
    assert line_of(linesim, **there)["stations"]["mill"]["cycle"] == "20 s"
    assert line_of(linesim, "two_machines", "change=none", **there)["name"] == "two machines"


def test_a_study_file_builds_on_settings_of_ones_own(linesim: Shell, tmp_path: Path) -> None:
    write(tmp_path / "conf" / "run.yaml", "warmup_hours: 2\n")
    write(tmp_path / "conf" / "study.yaml", "defaults: [run, override line: two_machines, _self_]\nhours: 7\n")
    study = settings_of(linesim, "--config-name", "study")
    assert (study["hours"], study["warmup_hours"], study["line"]["name"]) == (7, 2, "two machines")


def test_a_problem_in_settings_of_ones_own_is_told_with_its_file(linesim: Shell, tmp_path: Path) -> None:
    for content, said in (
        ("huors: 3\n", ["huors (run.yaml)", "hours?"]),
        ("hours: long\n", ["hours = long (run.yaml)", "a number of hours"]),
        ("line: mnie\n", ["line = mnie", "ring_cell"]),
        ("defaults: [settings_run]\n", ["line = two_machines", "take its defaults away", "defaults list"]),
    ):
        write(tmp_path / "conf" / "run.yaml", content)
        words = () if content.startswith("line") else ("two_machines",)
        answer = linesim("run", *words)
        assert (answer.returncode, answer.stdout) == (2, "")
        assert [word for word in said if word.lower() not in answer.stderr.lower()] == []
        assert "Traceback" not in answer.stderr


def test_a_line_with_shifts_is_run_by_weeks_and_its_times_of_day_need_no_quotes(linesim: Shell, tmp_path: Path) -> None:
    """An hour on Mondays makes 60 parts of a minute; the same an hour, as only that hour is planned."""
    shifts = "shifts: {day: {days: mon, from: 6:00, to: 7:00}}"
    write(tmp_path / "week.yaml", f"route: [mill]\nstations: {{mill: {{cycle: 60 s}}}}\n{shifts}\n")
    how = ["weeks=2", "warmup_hours=0", "replications=1", "plots=false", "out=o"]
    ran = linesim("run", "week.yaml", *how)
    assert ran.returncode == 0, ran.stderr
    assert "336 h (2 of them planned)" in ran.stdout
    assert "60.00" in ran.stdout
    again = linesim("run", "o/line.yaml", *how[:-1], "out=p", "line.shifts.day.from=6:30")
    assert again.returncode == 0, again.stderr
    assert "336 h (1 of them planned)" in again.stdout


def test_hours_and_weeks_together_are_refused(linesim: Shell, tmp_path: Path) -> None:
    ran = linesim("run", "two_machines", "weeks=2", "hours=100", "out=o")
    assert ran.returncode == 2
    assert "hours is given as well: 100" in ran.stderr
