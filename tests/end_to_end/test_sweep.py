"""`linesim sweep` and `linesim ask` as a user types them."""

from pathlib import Path
from typing import Any

import pandas as pd
import pytest
import yaml

import linesim as package
from tests.end_to_end.conftest import Shell

QUICK = ("hours=10", "warmup_hours=1", "replications=2", "engine=simpy", "seed=5")
FACTORS = ("two_machines", "line.buffers.park.capacity=1,6", "line.stations.turn.cycle=80 s,90 s")


def test_a_sweep_leaves_one_table_goes_on_with_more_replications_and_can_be_asked(
    linesim: Shell, tmp_path: Path
) -> None:
    ran = linesim("sweep", *FACTORS, *QUICK, "out=swept")
    assert ran.returncode == 0, ran.stderr
    assert "4 points, 2 replications" in ran.stdout
    table = pd.read_csv(tmp_path / "swept" / "tables" / "table.csv")
    assert list(table.columns[:4]) == ["point", "park.capacity", "turn.cycle", "investment"]
    assert len(table) == 8
    assert {file.name for file in (tmp_path / "swept" / "plots").iterdir()} >= {"effects.png", "two_factors.png"}
    typed = "two_machines line.buffers.park.capacity=1,6 'line.stations.turn.cycle=80 s,90 s' hours=10 warmup_hours=1"
    told = f": linesim sweep {typed} replications=2 engine=simpy seed=5 out=swept"
    assert any(line.endswith(told) for line in ran.stdout.splitlines())

    more = linesim("sweep", *FACTORS, *QUICK, "replications=3", "out=swept")  # of a key given twice the last counts
    assert more.returncode == 0, more.stderr
    grown = pd.read_csv(tmp_path / "swept" / "tables" / "table.csv")
    few = grown.loc[grown["replication"] <= 2].reset_index(drop=True)
    pd.testing.assert_frame_equal(few, table, check_exact=True)

    values = ("line.buffers.park.capacity=6", "line.stations.turn.cycle=80 s")
    point = linesim("run", "two_machines", *values, *QUICK, "plots=false", "out=alone")
    assert point.returncode == 0
    alone = package.open_results(tmp_path / "alone").table()
    swept = package.open_results(tmp_path / "swept").table()
    same = swept.loc[(swept["park.capacity"] == "6") & (swept["turn.cycle"] == "80 s") & (swept["replication"] <= 2)]
    pd.testing.assert_frame_equal(
        same[alone.columns].reset_index(drop=True), alone.reset_index(drop=True), check_dtype=False, check_exact=True
    )

    listed = linesim("ask", ".")
    assert listed.returncode == 0
    assert [line.split()[:2] for line in listed.stdout.splitlines()[1:]] == [["alone", "run"], ["swept", "sweep"]]
    best = linesim("ask", ".", "where=throughput_per_h > 0", "by=wip_parts", "count=2")
    assert best.returncode == 0, best.stderr
    assert len(best.stdout.splitlines()) == 3


def test_python_and_shell_sweep_alike(linesim: Shell, tmp_path: Path) -> None:
    study = tmp_path / "conf" / "study"
    study.mkdir(parents=True)
    (study / "mine.yaml").write_text(
        "# @package _global_\nfactors: {buffers.park.capacity: [1, 3]}\n", encoding="utf-8"
    )
    ran = linesim("sweep", "two_machines", "study=mine", *QUICK, "plots=false", "out=shell")
    assert ran.returncode == 0, ran.stderr
    found = package.sweep(
        "two_machines", {"buffers": {"park": {"capacity": [1, 3]}}}, tmp_path / "python",
        hours=10, warmup_hours=1, replications=2, engine="simpy", seed=5, plots=False,
    )  # fmt: skip
    pd.testing.assert_frame_equal(found.table(), package.open_results(tmp_path / "shell").table(), check_exact=True)


STUDY = """# @package _global_
line: two_machines
change: [quick]
out: by_study
hours: 7
design: latin_hypercube
points: 3
factors: {buffers.park.capacity: {low: 1, high: 60}}
"""


def settings_of(linesim: Shell, *words: str) -> dict[str, Any]:
    """The settings and the line that a sweep would have."""
    shown = linesim("sweep", *words, "--cfg", "job")
    assert shown.returncode == 0, shown.stderr
    return dict(yaml.safe_load(shown.stdout))


@pytest.mark.parametrize("study", ["mine", "conf/study/mine.yaml"])
def test_a_study_file_sets_all_that_words_can_and_gives_way_to_them(linesim: Shell, tmp_path: Path, study: str) -> None:
    for name, text in (("study/mine", STUDY), ("change/quick", "# @package line\nstations: {turn: {cycle: 9 s}}\n")):
        (tmp_path / "conf" / name).parent.mkdir(parents=True)
        (tmp_path / "conf" / name).with_suffix(".yaml").write_text(text, encoding="utf-8")
    (tmp_path / "conf" / "sweep.yaml").write_text("hours: 6\nreplications: 4\n", encoding="utf-8")
    found = settings_of(linesim, f"study={study}")
    assert [found[key] for key in ("hours", "design", "points", "replications")] == [7, "latin_hypercube", 3, 4]
    assert (found["line"]["name"], found["line"]["stations"]["turn"]["cycle"]) == ("two machines", "9 s")
    assert found["out"] == "by_study"
    typed = settings_of(linesim, "ring_cell", f"study={study}", "change=none", "hours=8", "out=elsewhere")
    assert (typed["hours"], typed["line"]["name"], typed["out"]) == (8, "compact ring cell", "elsewhere")


def test_a_study_without_its_header_is_refused(linesim: Shell, tmp_path: Path) -> None:
    (tmp_path / "mine.yaml").write_text("hours: 7\n", encoding="utf-8")
    ran = linesim("sweep", "study=mine.yaml")
    assert (ran.returncode, ran.stdout) == (2, "")
    assert "mine.yaml:1: a study must be headed # @package _global_" in ran.stderr


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ((), "there is nothing to vary"),
        (("line.buffers.park_1.capacity=1,x",), "buffers.park_1.capacity = x"),
        (("change=none,fst_gantry",), "did you mean fast_gantry?"),
        (("line.buffers.park_1.capacity=1,2", "design=sobol"), "needs a number of points"),
        (
            ("line.buffers.park_1.capacity=1,2", "precision={throughput_per_h: fast}"),
            "precision.throughput_per_h = fast",
        ),
        (("line.buffers.park_1.capacity=1,2", "indifference={throughput_per_h: 0.2}"), "replications = 5"),
        (("line.buffers.park_1.capacity=1,2", "budget=8"), "budget = 8"),
        (("table=none.csv",), "can't be read"),
    ],
)
def test_what_can_not_be_swept_is_refused_and_leaves_nothing(
    linesim: Shell, tmp_path: Path, words: tuple[str, ...], told: str
) -> None:
    ran = linesim("sweep", *words, "out=swept")
    assert (ran.returncode, ran.stdout) == (2, "")
    assert told.lower() in ran.stderr.lower()
    assert "Traceback" not in ran.stderr
    assert list(tmp_path.iterdir()) == []


def test_questions_that_can_not_be_answered_are_told(linesim: Shell) -> None:
    for words, told in (((), "no results"), (("a", "b"), "one folder"), (("count=x",), "count")):
        ran = linesim("ask", *words)
        assert (ran.returncode, ran.stdout) == (2, "")
        assert told in ran.stderr
