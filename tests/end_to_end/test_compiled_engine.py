"""The compiled engine as a user meets it: when it is taken, what is said, and that nothing else changes."""

import json
import os
import shutil
from pathlib import Path
from typing import Any

import pandas as pd
import pytest
import yaml

import linesim as package
from tests.end_to_end.conftest import PROJECT, Shell

SHORT = ("two_machines", "hours=3", "warmup_hours=1", "replications=2", "plots=false", "seed=11")
LONG = ("two_machines", "hours=300", "warmup_hours=1", "replications=1", "plots=false", "seed=11")  # not for SimPy


def about(folder: Path) -> Any:
    return json.loads((folder / "summary.json").read_text(encoding="utf-8"))["about"]


def measures(folder: Path) -> Any:
    return json.loads((folder / "summary.json").read_text(encoding="utf-8"))["measures"]


@pytest.fixture(name="without_numba")
def _without_numba(tmp_path: Path) -> str:
    """A path on which numba can't be imported."""
    (tmp_path / "lacking").mkdir()
    (tmp_path / "lacking" / "numba.py").write_text("raise ImportError('numba is broken here')", encoding="utf-8")
    return os.pathsep.join([str(tmp_path / "lacking"), str(PROJECT)])


def test_the_number_of_workers_and_the_engine_make_no_difference_to_any_table() -> None:
    line = package.load_line("ring_cell", overrides=["stations.turn.defects.surface=3 %"])
    how: dict[str, Any] = {"hours": 6, "warmup_hours": 2, "replications": 5, "seed": 3}
    readable = package.simulate(line, engine="simpy", **how)
    for workers in (1, 2, 4):
        compiled = package.simulate(line, engine="compiled", workers=workers, **how)
        assert compiled.about["engine"] == "compiled"
        for name, table in readable.tables.items():
            pd.testing.assert_frame_equal(compiled.tables[name], table, obj=f"{name}, {workers} workers")


def test_traces_of_the_compiled_engine_are_those_of_simpy_in_the_order_of_the_replications() -> None:
    line = package.load_line("ring_cell")
    how: dict[str, Any] = {"hours": 1, "warmup_hours": 0, "replications": 3, "seed": 3, "trace": True}
    readable, compiled = (package.simulate(line, engine=engine, **how) for engine in ("simpy", "compiled"))
    assert len(compiled.traces) == 3
    for one, other in zip(readable.traces, compiled.traces, strict=True):
        assert (one.rows == other.rows).all()


def test_auto_takes_simpy_for_a_glance_and_the_compiled_engine_for_more(linesim: Shell, tmp_path: Path) -> None:
    for words, engine in ((SHORT, "simpy"), (LONG, "compiled")):
        ran = linesim("run", *words, f"out={engine}")
        assert ran.returncode == 0, ran.stderr
        assert about(tmp_path / engine)["engine"] == engine
        assert yaml.safe_load((tmp_path / engine / "settings.yaml").read_text(encoding="utf-8"))["engine"] == engine
        assert f"engine={engine}" in ran.stdout


def test_a_short_trace_needs_no_compiler(linesim: Shell, tmp_path: Path) -> None:
    shown = linesim("trace", "two_machines", "events=5", XDG_CACHE_HOME=str(tmp_path / "cache"))
    assert (shown.returncode, shown.stderr) == (0, "")
    assert not (tmp_path / "cache").exists()
    compiled = linesim("trace", "two_machines", "events=5", "engine=compiled")
    assert compiled.stdout == shown.stdout


def test_where_numba_lacks_auto_takes_simpy_and_says_so(linesim: Shell, tmp_path: Path, without_numba: str) -> None:
    ran = linesim("run", *LONG, "out=slow", PYTHONPATH=without_numba)
    assert ran.returncode == 0
    assert about(tmp_path / "slow")["engine"] == "simpy"
    (told,) = ran.stderr.splitlines()
    assert "numba is broken here" in told
    assert "SimPy runs this line" in told


def test_where_numba_lacks_the_compiled_engine_is_refused(linesim: Shell, tmp_path: Path, without_numba: str) -> None:
    for command in (("run", *SHORT, "out=none"), ("trace", "two_machines")):
        ran = linesim(*command, "engine=compiled", PYTHONPATH=without_numba)
        assert (ran.returncode, ran.stdout) == (2, "")
        assert all(word in ran.stderr for word in ("engine = compiled", "numba", "engine=simpy"))
        assert "Traceback" not in ran.stderr
        assert not (tmp_path / "none").exists()


def test_with_the_compiler_switched_off_the_compiled_engine_still_runs(linesim: Shell, tmp_path: Path) -> None:
    assert linesim("run", *SHORT, "engine=simpy", "out=simpy").returncode == 0
    ran = linesim("run", *SHORT, "engine=compiled", "out=plain", NUMBA_DISABLE_JIT="1")
    assert (ran.returncode, ran.stderr) == (0, "")
    assert measures(tmp_path / "plain") == measures(tmp_path / "simpy")


def test_the_first_run_says_that_it_compiles_and_the_second_does_not(linesim: Shell, tmp_path: Path) -> None:
    """In a copy in which parts are written down a second after they leave, which the lead times must show."""
    for name in ("linesim", "conf"):
        shutil.copytree(PROJECT / name, tmp_path / "copy" / name, ignore=shutil.ignore_patterns("__pycache__"))
    source = tmp_path / "copy" / "linesim" / "engine" / "contract" / "log.py"
    head, edited, rest = source.read_text(encoding="utf-8").partition("def note_departure")
    assert rest.count("floor[row] = floor[NOW]\n") >= 1
    rest = rest.replace("floor[row] = floor[NOW]\n", "floor[row] = floor[NOW] + 1_000_000\n", 1)
    source.write_text(head + edited + rest, encoding="utf-8")

    where = {"PYTHONPATH": str(tmp_path / "copy"), "XDG_CACHE_HOME": str(tmp_path / "cache")}
    here = {**where, "PYTHONDONTWRITEBYTECODE": "1"}
    sources = sorted((tmp_path / "copy").rglob("*"))
    first = linesim("run", *SHORT, "engine=compiled", "out=first", **here)
    assert first.returncode == 0, first.stderr
    begun, ended = first.stderr.splitlines()
    assert "compiling the engine for this machine, once" in begun
    assert ended.startswith("linesim: compiled in ")
    second = linesim("run", *SHORT, "engine=compiled", "out=second", **here)
    assert (second.returncode, second.stderr) == (0, "")
    assert sorted((tmp_path / "copy").rglob("*")) == sources  # nothing is written beside the sources
    assert measures(tmp_path / "second") == measures(tmp_path / "first")

    assert linesim("run", *SHORT, "engine=simpy", "out=unedited").returncode == 0
    late, right = (measures(tmp_path / name)["lead_time_p50_s"]["mean"] for name in ("first", "unedited"))
    assert late == pytest.approx(right + 1)
