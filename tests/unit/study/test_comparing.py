"""What a comparison keeps when it is stopped, and what it refuses."""

from typing import Any

import pytest

import linesim
from linesim.line import LineError
from linesim.study import StoppedComparison, batch
from linesim.study.one_run import run_once

LINES = {
    name: linesim.load_line({"name": name, "route": ["turn"], "stations": {"turn": {"cycle": cycle}}})
    for name, cycle in {"slow": "600 s", "quick": "300 s", "best": "200 s"}.items()
}
HOW: dict[str, Any] = {"hours": 2, "warmup_hours": 1, "replications": 2, "seed": 1, "engine": "simpy"}


def stopped_in(monkeypatch: pytest.MonkeyPatch, name: str) -> StoppedComparison:
    def run(engine: str, line: Any, *rest: Any) -> Any:
        if line.name == name:
            raise KeyboardInterrupt
        return run_once(engine, line, *rest)

    monkeypatch.setattr(batch, "run_once", run)
    with pytest.raises(StoppedComparison) as caught:
        linesim.compare(LINES, **HOW)
    return caught.value


def test_lines_that_were_finished_survive_a_stop_by_the_user(monkeypatch: pytest.MonkeyPatch) -> None:
    stop = stopped_in(monkeypatch, "best")
    assert str(stop) == "stopped after 2 of 3 lines"
    assert stop.comparison is not None
    assert stop.comparison.names == ["slow", "quick"]
    assert stop.comparison.differences()["mean"].tolist() == [6.0]


def test_one_finished_line_is_no_comparison(monkeypatch: pytest.MonkeyPatch) -> None:
    stop = stopped_in(monkeypatch, "quick")
    assert (str(stop), stop.comparison) == ("stopped after 1 of 3 lines", None)


def test_one_line_alone_is_refused() -> None:
    with pytest.raises(ValueError, match="two lines at least"):
        linesim.compare({"slow": LINES["slow"]}, **HOW)


def test_settings_are_judged_once_before_any_line_runs() -> None:
    with pytest.raises(LineError, match="1 problem"):
        linesim.compare(LINES, **{**HOW, "hours": -1})
