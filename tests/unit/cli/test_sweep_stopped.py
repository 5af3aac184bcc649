"""What is said when a sweep is stopped, at whatever moment."""

from pathlib import Path
from typing import Any

import pytest

from linesim.cli import command
from linesim.study.sweeps import running

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
