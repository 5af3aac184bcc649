"""A sweep that is killed, stopped or run out of disk goes on where it was, and ends with the same table."""

import errno
import os
import signal
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import pandas as pd
import pytest

from linesim.line import LineError
from linesim.results import open_results, sweep_store
from linesim.study.sweeps import running
from linesim.study.sweeps.running import SweepStopped
from tests.faults.conftest import FACTORS, LINE, STUCK, Swept

PROJECT = Path(__file__).resolve().parents[2]
SLOW = """
import sys
from pathlib import Path
from linesim.study.sweeps import blocks
from tests.faults.conftest import FACTORS, LINE
from linesim.study.sweeps.sweep import sweep
once = blocks.run_once
def slow(*given, **named):
    import time
    time.sleep(0.15)
    return once(*given, **named)
blocks.run_once = slow
blocks.work.__globals__["run_once"] = slow
sweep(LINE, FACTORS, Path(sys.argv[1]), hours=2, warmup_hours=1, replications=3, seed=11, engine="simpy", plots=False)
"""


def start(folder: Path) -> "subprocess.Popen[bytes]":
    """The same sweep in a process of its own, slow enough to be caught in the middle; returns it after some rows."""
    path = os.pathsep.join(filter(None, [str(PROJECT), os.environ.get("PYTHONPATH")]))
    process = subprocess.Popen([sys.executable, "-c", SLOW, str(folder)], env={**os.environ, "PYTHONPATH": path})
    until_s = time.monotonic() + 120
    while len(list((folder / "rows").glob("*.parquet"))) < 4:
        assert process.poll() is None, "the sweep ended before it could be killed"
        assert time.monotonic() < until_s
        time.sleep(0.02)
    return process


def test_a_killed_sweep_goes_on_and_ends_with_the_same_table(swept: Swept, tmp_path: Path) -> None:
    whole = swept("whole")
    process = start(tmp_path / "killed")
    process.send_signal(signal.SIGKILL if hasattr(signal, "SIGKILL") else signal.SIGTERM)
    process.wait()
    kept = len(sweep_store.rows_of(tmp_path / "killed"))
    assert 4 <= kept < 24
    seen = open_results(tmp_path / "killed")
    assert f"not finished: {kept} of 24 runs are there" in seen.text_summary(), "an unfinished sweep can be looked at"
    again = swept("killed")
    pd.testing.assert_frame_equal(again.table(), whole.table(), check_exact=True)
    for name in ("table", "points", "main_effects"):
        one, other = (tmp_path / folder / "tables" / f"{name}.csv" for folder in ("whole", "killed"))
        assert one.read_bytes() == other.read_bytes()


def test_a_second_sweep_in_the_same_folder_is_refused_while_the_first_lives(swept: Swept, tmp_path: Path) -> None:
    process = start(tmp_path / "taken")
    try:
        with pytest.raises(LineError, match="another sweep is running in there"):
            swept("taken")
    finally:
        process.kill()
        process.wait()
    assert len(swept("taken").table()) == 24, "a lock of a process that is dead blocks nobody"


def test_a_full_disk_ends_the_sweep_and_loses_nothing_that_was_kept(
    swept: Swept, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole = swept("whole")
    put, count = sweep_store._to_disk, 0

    def full(table: pd.DataFrame, beside: Path) -> None:
        nonlocal count
        count += 1
        if count > 3:
            beside.write_bytes(b"PAR1")  # what fitted
            raise OSError(errno.ENOSPC, "No space left on device")
        put(table, beside)

    monkeypatch.setattr(sweep_store, "_to_disk", full)
    with pytest.raises(OSError, match="No space left"):
        swept("full")
    kept = len(sweep_store.rows_of(tmp_path / "full"))
    assert 0 < kept < 24
    assert not list((tmp_path / "full" / "rows").glob(".*"))
    monkeypatch.setattr(sweep_store, "_to_disk", put)
    pd.testing.assert_frame_equal(swept("full").table(), whole.table(), check_exact=True)


def test_a_user_who_stops_a_sweep_keeps_what_was_finished(
    swept: Swept, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    keep, count = running.keep, 0

    def impatient(folder: Path, rows: list[dict[str, Any]]) -> None:
        nonlocal count
        keep(folder, rows)
        count += 1
        if count == 3:
            raise KeyboardInterrupt

    monkeypatch.setattr(running, "keep", impatient)
    with pytest.raises(SweepStopped, match=r"stopped after \d+ of 24 runs"):
        swept("stopped")
    assert 3 <= len(sweep_store.rows_of(tmp_path / "stopped")) < 24
    monkeypatch.setattr(running, "keep", keep)
    pd.testing.assert_frame_equal(swept("stopped").table(), swept("whole").table(), check_exact=True)


def test_a_sweep_that_adds_replications_decides_alike_after_a_stop(
    swept: Swept, monkeypatch: pytest.MonkeyPatch
) -> None:
    adaptive: dict[str, Any] = {"replications": 10, "most_replications": 20, "precision": {"throughput_per_h": "6 %"}}
    adaptive["indifference"] = {"throughput_per_h": 0.5}
    whole = swept("whole", **adaptive)
    counts = whole.by_point()["replications"]
    assert counts.min() == 10
    assert counts.max() > 10
    keep, left = running.keep, 30

    def impatient(folder: Path, rows: list[dict[str, Any]]) -> None:
        nonlocal left
        keep(folder, rows)
        left -= len(rows)
        if left < 0:
            raise KeyboardInterrupt

    monkeypatch.setattr(running, "keep", impatient)
    stops = 0
    for _ in range(20):
        left = 30
        try:
            found = swept("stopped", workers=3, **adaptive)
        except SweepStopped:
            stops += 1
        else:
            break
    assert stops >= 2
    pd.testing.assert_frame_equal(found.table(), whole.table(), check_exact=True)
    assert found.about == whole.about


def test_a_budget_ends_a_sweep_which_says_so_and_can_go_on(swept: Swept) -> None:
    found = swept("short", budget="0.001 s")
    assert len(found.rows) < 24
    assert "not finished" in found.text_summary()
    pd.testing.assert_frame_equal(swept("short").table(), swept("whole").table(), check_exact=True)


@pytest.mark.parametrize("workers", [1, 2, 5])
def test_rows_do_not_depend_on_the_number_of_workers(swept: Swept, workers: int) -> None:
    one = swept("some", workers=workers, engine="compiled").table()
    pd.testing.assert_frame_equal(one, swept("simpy").table(), check_exact=True)


def test_more_replications_can_be_asked_for_later(swept: Swept) -> None:
    few = swept("growing", replications=2).table()
    more = swept("growing", replications=4)
    assert more.about["rounds"]["first"] == 4
    table = more.table()
    pd.testing.assert_frame_equal(table.loc[table["replication"] <= 2].reset_index(drop=True), few, check_exact=True)
    pd.testing.assert_frame_equal(table, swept("at_once", replications=4).table(), check_exact=True)
    with pytest.raises(LineError, match="can only grow"):
        swept("growing", replications=3)


def test_another_sweep_in_the_folder_is_refused_with_what_differs(swept: Swept) -> None:
    swept()
    other = {**LINE, "stations": {**LINE["stations"], "m2": {"cycle": "70 s"}}}
    with pytest.raises(LineError) as caught:
        swept(line=other, hours=3, factors={**FACTORS, "buffers.park.capacity": [1, 2, 3, 5]})
    text = str(caught.value)
    assert "line.stations.m2.cycle = 70 s" in text
    assert "hours = 3" in text
    assert "was 2 when this sweep began" in text
    assert "the points are not those" in text


def test_a_point_that_locks_up_is_kept_with_its_error_and_the_others_are_done(swept: Swept) -> None:
    found = swept(line=STUCK, factors={"loaders.gantry.next_call": ["downstream_first", {"fixed": ["a", "b"]}]})
    assert found.failed["point"].tolist() == [2, 2, 2]
    assert found.failed["error"].str.startswith("LockUp: at t = 0.000 s the line has locked up").all()
    assert found.table()["point"].tolist() == [1, 1, 1]
    assert swept(line=STUCK, factors={"loaders.gantry.next_call": ["downstream_first", {"fixed": ["a", "b"]}]}).failed[
        "point"
    ].tolist() == [2, 2, 2], "what failed is not tried again"


def test_a_clock_that_jumps_changes_nothing(swept: Swept, monkeypatch: pytest.MonkeyPatch) -> None:
    whole = swept("whole")
    jumps = iter([0.0, 1e9, 5.0, 2e9, 1.0] * 10_000)
    monkeypatch.setattr(time, "time", lambda: next(jumps))
    pd.testing.assert_frame_equal(swept("jumped").table(), whole.table(), check_exact=True)


def test_a_thousand_tiny_runs_are_all_there_once(swept: Swept, tmp_path: Path) -> None:
    cycles = [f"{50 + number / 10:g} s" for number in range(500)]
    found = swept(factors={"stations.m1.cycle": cycles}, hours=0.02, warmup_hours=0, replications=2)
    assert len(found.table()) == 1000
    assert not found.table().duplicated(["point", "replication"]).any()
    assert len(list((tmp_path / "sweep" / "rows").iterdir())) == 1
