"""`linesim run` as a user types it."""

import json
import shlex
import time
from pathlib import Path

import pandas as pd
import pytest
import yaml

import linesim as package
from tests.end_to_end.conftest import Shell

QUICK = ("two_machines", "hours=3", "warmup_hours=1", "replications=2", "plots=false")


def test_help_of_the_command_is_there_in_less_than_a_second(linesim: Shell) -> None:
    before = time.monotonic()
    shown = linesim("--help")
    assert time.monotonic() - before < 1
    assert shown.returncode == 0
    assert all(word in shown.stdout for word in ("run", "check", "trace", "usage"))


def test_help_of_a_sub_command_names_its_settings_lines_and_changes(linesim: Shell) -> None:
    shown = linesim("run", "--help")
    assert shown.returncode == 0
    assert all(word in shown.stdout for word in ("hours=", "seed=null", "ring_cell", "fast_gantry", "LINESIM_CONF"))


def test_a_run_prints_its_summary_and_leaves_all_that_repeats_it(linesim: Shell, tmp_path: Path) -> None:
    ran = linesim("run", *QUICK, "seed=11")
    assert (ran.returncode, ran.stderr) == (0, "")
    (folder,) = tmp_path.glob("outputs/*/*_two_machines")
    assert ":" not in str(folder.relative_to(tmp_path))
    assert str(folder.relative_to(tmp_path)) in ran.stdout
    summary = json.loads((folder / "summary.json").read_text(encoding="utf-8"))
    assert summary["about"]["seed"] == 11
    assert yaml.safe_load((folder / "settings.yaml").read_text(encoding="utf-8"))["seed"] == 11

    line = str(folder.relative_to(tmp_path) / "line.yaml")
    again = linesim("run", line, *QUICK[1:], "seed=11", "out=again")
    assert again.returncode == 0
    repeated = json.loads((tmp_path / "again" / "summary.json").read_text(encoding="utf-8"))
    assert repeated["measures"] == summary["measures"]


def test_shell_and_python_give_the_same_numbers(linesim: Shell, tmp_path: Path) -> None:
    words = ("change=[small_buffers]", "line.stations.turn.cycle=70 s", "seed=5", "out=shell")
    assert linesim("run", "ring_cell", *QUICK[1:], *words).returncode == 0
    line = package.load_line("ring_cell", overrides=["stations.turn.cycle=70 s"], change="small_buffers")
    results = package.simulate(line, hours=3, warmup_hours=1, replications=2, seed=5)
    saved = package.open_results(tmp_path / "shell")
    pd.testing.assert_frame_equal(results.replications, saved.table())


def test_a_seed_that_was_drawn_is_told(linesim: Shell, tmp_path: Path) -> None:
    ran = linesim("run", *QUICK, "out=drawn")
    seed = json.loads((tmp_path / "drawn" / "summary.json").read_text(encoding="utf-8"))["about"]["seed"]
    assert f"seed={seed}" in ran.stdout


def test_one_replication_alone_gives_the_same_numbers(linesim: Shell, tmp_path: Path) -> None:
    linesim("run", *QUICK, "seed=5", "out=all")
    linesim("run", *QUICK, "seed=5", "out=alone", "only_replication=2")
    both = [package.open_results(tmp_path / name).table() for name in ("all", "alone")]
    together = both[0][both[0]["replication"] == 2].reset_index(drop=True)
    pd.testing.assert_frame_equal(together, both[1])


def test_plots_are_drawn_unless_they_are_not_wanted(linesim: Shell, tmp_path: Path) -> None:
    assert linesim("run", *QUICK[:-1], "out=plotted").returncode == 0
    assert linesim("run", *QUICK, "out=plain").returncode == 0
    plots = list((tmp_path / "plotted" / "plots").glob("*.png"))
    assert len(plots) >= 4
    assert all(plot.read_bytes().startswith(b"\x89PNG") for plot in plots)
    assert not (tmp_path / "plain" / "plots").exists()


def test_results_are_never_written_over(linesim: Shell, tmp_path: Path) -> None:
    linesim("run", *QUICK, "seed=1", "out=mine")
    before = (tmp_path / "mine" / "summary.json").read_bytes()
    again = linesim("run", *QUICK, "seed=2", "out=mine")
    assert again.returncode == 2
    assert "holds files already" in again.stderr
    assert (tmp_path / "mine" / "summary.json").read_bytes() == before


def test_multirun_runs_each_value_and_goes_on_after_a_bad_one(linesim: Shell, tmp_path: Path) -> None:
    ran = linesim("run", *QUICK, "--multirun", "line.buffers.park.capacity=-1,2,8", "seed=1", "out=many")
    assert ran.returncode == 2
    assert "Traceback" not in ran.stderr
    capacities = {
        path.parent.name: yaml.safe_load(path.read_text(encoding="utf-8"))["buffers"]["park"]["capacity"]
        for path in (tmp_path / "many").glob("*/line.yaml")
    }
    assert capacities == {"1": 2, "2": 8}


@pytest.mark.parametrize("words", [("trace=true",)])
def test_traces_are_saved_when_wanted(linesim: Shell, tmp_path: Path, words: tuple[str, ...]) -> None:
    assert linesim("run", *QUICK, *words, "out=traced").returncode == 0
    traces = sorted((tmp_path / "traced" / "traces").glob("*.parquet"))
    assert len(traces) == 2
    assert pd.read_parquet(traces[0])["time_us"].is_monotonic_increasing


def test_a_run_that_finds_its_warm_up_and_its_replications_can_be_repeated(linesim: Shell, tmp_path: Path) -> None:
    words = ("two_machines", "hours=40", "seed=5", "engine=simpy", "plots=false", "most_replications=12")
    first = linesim("run", *words, "warmup=auto", "precision={throughput_per_h: 2 %}", "out=first")
    assert (first.returncode, first.stderr) == (0, "")
    assert "warm-up found by MSER-5" in first.stdout
    assert "half width of throughput_per_h: 2 % wanted" in first.stdout
    repeat = next(line for line in first.stdout.splitlines() if line.startswith("the same again: linesim "))
    again = linesim(*shlex.split(repeat.removeprefix("the same again: linesim ")), "plots=false", "out=again")
    assert again.returncode == 0, again.stderr
    tables = [package.open_results(tmp_path / name) for name in ("first", "again")]
    assert tables[0].table().equals(tables[1].table())
    assert tables[0].about["warmup"] == tables[1].about["warmup"]
