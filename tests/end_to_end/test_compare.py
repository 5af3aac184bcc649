"""`linesim compare` as a user types it."""

import re
import shlex
from pathlib import Path

import pandas as pd
import pytest

import linesim as package
from tests.end_to_end.conftest import Shell
from tests.end_to_end.test_lock_up import LINE as STUCK

QUICK = ("hours=20", "warmup_hours=1", "replications=3", "engine=simpy", "seed=5")


def test_lines_are_compared_saved_and_opened_again_with_the_numbers_of_their_own_runs(
    linesim: Shell, tmp_path: Path
) -> None:
    ran = linesim("compare", "two_machines", "line.buffers.park.capacity=1,6", *QUICK, "out=both")
    assert (ran.returncode, ran.stderr) == (0, "")
    assert "park.capacity=6" in ran.stdout
    assert "paired 95 % intervals" in ran.stdout
    assert re.search(r"^  park\.capacity=6 +\+?[\d.]+ +\(", ran.stdout, re.MULTILINE), "the only difference is told"
    assert {file.name for file in (tmp_path / "both" / "plots").iterdir()} == {"output.png"}, "no prices, no investment"
    saved = package.open_results(tmp_path / "both")
    assert isinstance(saved, package.results.Comparison)
    assert saved.text_summary() in ran.stdout
    wide = pd.read_csv(tmp_path / "both" / "tables" / "replications.csv")
    assert wide.groupby("line").size().to_dict() == {"park.capacity=1": 3, "park.capacity=6": 3}

    alone = linesim("run", "two_machines", "line.buffers.park.capacity=6", *QUICK, "plots=false", "out=alone")
    assert alone.returncode == 0
    pd.testing.assert_frame_equal(
        saved.results["park.capacity=6"].replications, package.open_results(tmp_path / "alone").table()
    )


def test_the_command_that_is_told_gives_the_same_again(linesim: Shell, tmp_path: Path) -> None:
    first = linesim("compare", "two_machines", "line.buffers.park.capacity=1,6", *QUICK, "plots=false", "out=first")
    repeat = next(line for line in first.stdout.splitlines() if line.startswith("the same again: linesim "))
    words = shlex.split(repeat.removeprefix("the same again: linesim "))
    again = linesim(*words, "plots=false", "out=again")
    assert again.returncode == 0, again.stderr
    tables = [package.open_results(tmp_path / name).table() for name in ("first", "again")]
    assert set(tables[1]["line"]) == {"1_park_capacity_1", "2_park_capacity_6"}
    pd.testing.assert_frame_equal(tables[0].drop(columns="line"), tables[1].drop(columns="line"))


def test_a_lock_up_names_the_line_and_how_to_see_it(linesim: Shell, tmp_path: Path) -> None:
    (tmp_path / "stuck.yaml").write_text(STUCK, encoding="utf-8")
    ran = linesim("compare", "line=two_machines,stuck.yaml", *QUICK, "out=both")
    assert ran.returncode == 1
    assert ran.stderr.startswith("linesim: stuck: at t = 95.000 s")
    way = next(line for line in ran.stderr.splitlines() if "linesim trace" in line).partition("linesim trace ")[2]
    assert "t = 95.000 s" in linesim("trace", *way.split()).stderr


def test_a_problem_that_all_lines_have_is_told_once(linesim: Shell, tmp_path: Path) -> None:
    ran = linesim("compare", "line.buffers.park_1.capacity=1,2,4", "hours=-1", "out=never")
    assert (ran.returncode, ran.stderr.count("hours = -1")) == (2, 1)
    assert not (tmp_path / "never").exists()


def test_python_and_shell_compare_alike(linesim: Shell, tmp_path: Path) -> None:
    assert linesim("compare", "two_machines", "change=none,small", *QUICK, "plots=false").returncode == 2
    own = tmp_path / "conf" / "change"
    own.mkdir(parents=True)
    (own / "small.yaml").write_text("# @package line\nbuffers: {park: {capacity: 1}}\n", encoding="utf-8")
    ran = linesim("compare", "two_machines", "change=none,small", *QUICK, "plots=false", "out=both")
    assert ran.returncode == 0, ran.stderr
    lines = {
        "no change": package.load_line("two_machines"),
        "small": package.load_line("two_machines", overrides=["buffers.park.capacity=1"]),
    }
    found = package.compare(lines, hours=20, warmup_hours=1, replications=3, engine="simpy", seed=5)
    pd.testing.assert_frame_equal(found.table(), package.open_results(tmp_path / "both").table())


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ((), "needs two lines at least"),
        (("change=none,fast_gantry", "hours=1,2"), "must be the same for all lines"),
        (("change=none,fst_gantry",), "Did you mean fast_gantry?"),
        (("line.buffers.park_1.capacity=1,x",), "buffers.park_1.capacity"),
    ],
)
def test_what_can_not_be_compared_is_refused_and_leaves_nothing(
    linesim: Shell, tmp_path: Path, words: tuple[str, ...], told: str
) -> None:
    ran = linesim("compare", *words, "out=never")
    assert ran.returncode == 2
    assert told in ran.stderr
    assert "Traceback" not in ran.stderr
    assert not (tmp_path / "never").exists()


def test_help_names_the_settings(linesim: Shell) -> None:
    shown = linesim("compare", "--help")
    assert shown.returncode == 0
    assert "replications=10" in shown.stdout
    assert "only_replication" not in shown.stdout


def test_the_dressing_interval_at_the_lowest_cost_is_found(linesim: Shell, tmp_path: Path) -> None:
    """Every 3 parts wheels cost 1.00 a part, every 10 parts 0.30; every 16 parts a tenth of the parts is scrapped."""
    key = "line.stations.grind.dressing.wheel.every"
    words = ("ring_cell", "change=wearing_wheel", f"{key}=10 parts,3 parts,16 parts")
    settings = ("hours=100", "warmup_hours=5", "replications=4", "seed=5", "plots=false", "out=wheels")
    ran = linesim("compare", *words, *settings)
    assert ran.returncode == 0, ran.stderr
    assert "least cost of a good part: wheel.every=10 parts, with 95 % confidence" in ran.stdout
    saved = package.open_results(tmp_path / "wheels")
    assert isinstance(saved, package.results.Comparison)
    assert (saved.differences("cost_per_good_part")["low"] > 0).all()
