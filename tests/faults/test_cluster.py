"""A real cluster of two processes; workers and scheduler killed on purpose: nothing lost, nothing counted twice."""

import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pandas as pd
import pytest

from linesim.engine.contract import Times
from linesim.results import sweep_store
from linesim.study.sweeps import running
from linesim.study.sweeps.blocks import Block, Done, Run
from linesim.study.sweeps.cluster import DaskWorkers
from linesim.study.sweeps.executing import execute
from tests.faults.conftest import Swept

distributed = pytest.importorskip("distributed", reason="needs Dask: pip install 'linesim[cluster]'")
pytestmark = [
    pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="this system has no SIGKILL"),
    pytest.mark.filterwarnings("ignore"),  # those of Dask are its own
]
PROJECT = Path(__file__).resolve().parents[2]


class Cluster:
    """A scheduler and two workers, each a process, as a user starts them."""

    def __init__(self, folder: Path) -> None:
        self.file = folder / "scheduler.json"
        path = os.pathsep.join(filter(None, [str(PROJECT), os.environ.get("PYTHONPATH")]))
        environment = {**os.environ, "PYTHONPATH": path, "DASK_DISTRIBUTED__SCHEDULER__ALLOWED_FAILURES": "0"}
        silent = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
        self._start: dict[str, Any] = {"env": environment, "cwd": folder, **silent}
        file = ["--scheduler-file", str(self.file)]
        self.scheduler = self._dask("scheduler", *file, "--host", "127.0.0.1", "--port", "0", "--no-dashboard")
        self.workers = [self._dask("worker", *file, "--nthreads", "1", "--no-dashboard") for _ in range(2)]

    def _dask(self, *words: str) -> "subprocess.Popen[bytes]":
        return subprocess.Popen([sys.executable, "-m", "distributed.cli.dask_" + words[0], *words[1:]], **self._start)

    def end(self) -> None:
        for process in (*self.workers, self.scheduler):
            process.terminate()
        for process in (*self.workers, self.scheduler):
            try:
                process.wait(10)
            except subprocess.TimeoutExpired:
                process.kill()
                process.wait()


@pytest.fixture
def cluster(tmp_path: Path) -> Iterator[Cluster]:
    made = Cluster(tmp_path)
    until_s = time.monotonic() + 60
    while not made.file.exists() and time.monotonic() < until_s:
        time.sleep(0.05)
    yield made
    made.end()


def test_a_worker_that_is_killed_costs_nothing(swept: Swept, cluster: Cluster, monkeypatch: pytest.MonkeyPatch) -> None:
    whole = swept("whole", replications=12)
    keep, count = running.keep, 0

    def murderous(folder: Path, rows: list[dict[str, Any]]) -> None:
        nonlocal count
        keep(folder, rows)
        count += 1
        if count == 2:
            with distributed.Client(scheduler_file=str(cluster.file), set_as_default=False) as client:
                os.kill(min(client.run(os.getpid).values()), signal.SIGKILL)

    monkeypatch.setattr(running, "keep", murderous)
    found = swept("killed", replications=12, cluster=str(cluster.file))
    assert count >= 2
    pd.testing.assert_frame_equal(found.table(), whole.table(), check_exact=True)
    assert found.failed.empty


def test_a_scheduler_that_goes_away_ends_the_sweep_which_then_goes_on_elsewhere(
    swept: Swept,
    cluster: Cluster,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capfd: pytest.CaptureFixture[str],
) -> None:
    whole = swept("whole", replications=12)
    keep = running.keep

    def fatal(folder: Path, rows: list[dict[str, Any]]) -> None:
        keep(folder, rows)
        cluster.scheduler.kill()

    monkeypatch.setattr(running, "keep", fatal)
    with pytest.raises(OSError, match="gone"):
        swept("left", replications=12, cluster=str(cluster.file))
    assert "Traceback" not in capfd.readouterr().err  # Dask's own, which would stand before our message
    assert 0 < len(sweep_store.rows_of(tmp_path / "left")) < 96
    monkeypatch.setattr(running, "keep", keep)
    pd.testing.assert_frame_equal(swept("left", replications=12).table(), whole.table(), check_exact=True)


def deadly(block: Block) -> Done:
    """Run 3 of point 1 takes its worker with it, always."""
    if Run(1, 3) in block.runs:
        os.kill(os.getpid(), signal.SIGKILL)
    time.sleep(0.05)
    return Done([{**run._asdict(), "error": None} for run in block.runs], 0.05 * len(block.runs))


class LostOnItsWay(Done):
    """Takes its worker with it when it is fetched."""

    def __reduce__(self) -> Any:
        os.kill(os.getpid(), signal.SIGKILL)


def lost_twice(block: Block) -> Done:
    """What comes of it is lost with its worker; then a worker dies at it; the third one does it."""
    tries = len(list(Path().glob("try_*"))) + 1
    Path(f"try_{tries}").touch()
    if tries == 2:
        os.kill(os.getpid(), signal.SIGKILL)
    done = Done([{**run._asdict(), "error": None} for run in block.runs], 0.1)
    return LostOnItsWay(*done) if tries == 1 else done


def rows_of(runs: list[Run], cluster: Cluster) -> list[dict[str, Any]]:
    """What the workers of a cluster bring back."""
    rows: list[dict[str, Any]] = []
    with distributed.Client(scheduler_file=str(cluster.file), set_as_default=False) as client:
        client.wait_for_workers(2, timeout=60)
        execute(runs, lambda some: Block(some, {}, Times(0, 1, 1), 0, ""), DaskWorkers(client), rows.extend)
    return rows


def test_a_run_that_always_kills_its_worker_is_named_and_its_neighbours_are_done(
    cluster: Cluster, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("linesim.study.sweeps.cluster.work", deadly)
    runs = [Run(point, number) for point in (1, 2) for number in range(1, 11)]
    rows = rows_of(runs, cluster)
    assert sorted((row["point"], row["replication"]) for row in rows) == sorted(runs)
    failed = [(row["point"], row["replication"], row["error"]) for row in rows if row["error"]]
    assert failed == [(1, 3, "its worker died with it 3 times, nobody beside it")]


def test_what_is_lost_on_its_way_and_then_with_its_worker_is_done_again(
    cluster: Cluster, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("linesim.study.sweeps.cluster.work", lost_twice)
    assert rows_of([Run(1, 1)], cluster) == [{"point": 1, "replication": 1, "error": None}]


def test_a_cluster_that_is_not_there_is_a_clear_error(swept: Swept, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("linesim.study.sweeps.cluster.WAIT_S", 1.0)
    with pytest.raises(ValueError, match="no worker answers") as caught:
        swept(cluster="tcp://127.0.0.1:9")
    assert "cluster=local" in str(caught.value)


def test_a_scheduler_file_that_is_not_there_is_told_at_once(swept: Swept) -> None:
    began_s = time.monotonic()
    with pytest.raises(ValueError, match="neither local, nor an address, nor a file"):
        swept(cluster="shared/none.json")
    assert time.monotonic() - began_s < 20
