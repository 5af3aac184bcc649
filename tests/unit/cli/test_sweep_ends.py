"""How a sweep ends: what is said when it is stopped, at whatever moment, and its exit status."""

from pathlib import Path
from typing import Any

import pytest
import yaml

from linesim.cli import command
from linesim.study.sweeps import running
from tests.faults.conftest import STUCK

WORDS = ["sweep", "two_machines", "line.buffers.park.capacity=1,2", "hours=0.2", "warmup_hours=0", "replications=1"]
WORDS += ["engine=simpy", "plots=false", "seed=5", "out=swept"]


@pytest.mark.parametrize("moment", ["choose_engine", "put_together"])
def test_whoever_stops_a_sweep_is_told_how_it_goes_on(
    moment: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def stop(*_: Any) -> None:
        raise KeyboardInterrupt

    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(running, moment, stop)
    assert command(WORDS) == 130
    said = capsys.readouterr().err
    assert "linesim: stopped; finished runs are kept. To go on: linesim sweep two_machines" in said
    assert "seed=5 out=swept" in said


@pytest.mark.parametrize(
    ("varied", "failed", "status"),
    [
        ("line.loaders.gantry.next_call=downstream_first,{fixed: [a, b]}", "1 run of 1 point failed", 0),
        ("line.stations.a.cycle=10 s,12 s", "2 runs of 2 points failed", 1),
    ],
)
def test_a_sweep_of_which_every_run_fails_has_failed(
    varied: str,
    failed: str,
    status: int,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """The fixed round of this line locks up; another rule for its calls does not."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "stuck.yaml").write_text(yaml.safe_dump(STUCK), encoding="utf-8")
    assert command(["sweep", "stuck.yaml", varied, *WORDS[3:]]) == status
    assert failed in capsys.readouterr().out
