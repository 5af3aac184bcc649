"""The best of several lines, on lines whose order is known."""

from pathlib import Path
from typing import Any

import pytest

import linesim
from linesim.engine.contract import LockUp
from linesim.line import Line, LineError
from linesim.results import Comparison
from linesim.study import StoppedComparison, batch
from linesim.study.one_run import run_once


def noisy(name: str, mean_s: float) -> Line:
    """Its station has a name of its own, so that lines do not share their luck."""
    cycle = {"family": "exponential", "mean": f"{mean_s} s"}
    return linesim.load_line({"name": name, "route": [name], "stations": {name: {"cycle": cycle}}})


LINES = {"slow": noisy("slow", 1800), "mean": noisy("mean", 600), "best": noisy("best", 500)}
HOW: dict[str, Any] = {"hours": 6, "warmup_hours": 0, "seed": 4, "engine": "simpy"}


@pytest.fixture(name="found", scope="module")
def _found() -> Comparison:
    return linesim.compare(LINES, indifference={"throughput_per_h": 0.6}, **HOW)


def test_the_best_is_found_and_the_clear_loser_gets_no_more_replications(found: Comparison) -> None:
    """2, 6 and 7.2 parts/h, standard deviations of about 1: the first is out at once, the others take more."""
    assert found.selection is not None
    assert (found.selection["left"], found.selection["decided"]) == (["best"], True)
    counts = {name: len(each.about["replications"]) for name, each in found.results.items()}
    assert counts["slow"] == 10 < counts["mean"] == counts["best"]
    assert counts["best"] % 5 == 0


def test_replications_are_those_that_a_plain_comparison_makes(found: Comparison) -> None:
    plain = linesim.compare(LINES, **HOW, replications=10)
    for name in LINES:
        assert found.results[name].replications.head(10).equals(plain.results[name].replications)


def test_the_choice_is_told_and_kept_on_disk(found: Comparison, tmp_path: Path) -> None:
    told = " ".join(found.text_summary().split())
    assert "best by throughput_per_h: best. It is so with 95 % confidence if the best leads by 0.6 parts/h" in told
    assert "most good parts/h:" not in told, "only one procedure says which is best"
    found.save(tmp_path, plots=False)
    again = linesim.open_results(tmp_path)
    assert isinstance(again, Comparison)
    assert again.text_summary() == found.text_summary()


def test_less_is_better_for_some_measures() -> None:
    chosen = linesim.compare(LINES, indifference={"lead_time_mean_s": 100}, **HOW).selection
    assert chosen is not None
    assert chosen["left"] == ["best"]


def test_what_is_not_decided_is_told_plainly() -> None:
    same = {"one": noisy("one", 600), "two": noisy("two", 601)}
    found = linesim.compare(same, indifference={"throughput_per_h": 0.001}, most_replications=12, **HOW)
    assert found.selection is not None
    assert found.selection["left"] == ["one", "two"]
    assert "NOT DECIDED with 12 replications" in found.text_summary()
    assert [len(each.about["replications"]) for each in found.results.values()] == [12, 12]


def test_a_stop_keeps_the_complete_rounds(monkeypatch: pytest.MonkeyPatch) -> None:
    def run(engine: str, line: Any, seed: int, number: int, *rest: Any) -> Any:
        if (line.name, number) == ("best", 13):
            raise KeyboardInterrupt
        return run_once(engine, line, seed, number, *rest)

    monkeypatch.setattr(batch, "run_once", run)
    with pytest.raises(StoppedComparison) as caught:
        linesim.compare(LINES, indifference={"throughput_per_h": 0.6}, **HOW)
    kept = caught.value.comparison
    assert kept is not None
    assert [len(each.about["replications"]) for each in kept.results.values()] == [10, 10, 10]


def test_a_line_that_comes_to_a_stand_while_the_best_is_sought_is_told_by_its_own_name(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """In a replication that only the two left are given; the other of them is the last of all lines."""

    def run(engine: str, line: Any, seed: int, number: int, *rest: Any) -> Any:
        if (line.name, number) == ("mean", 13):
            raise LockUp(1, {"mean": [1]}, "the line has locked up")
        return run_once(engine, line, seed, number, *rest)

    monkeypatch.setattr(batch, "run_once", run)
    with pytest.raises(LockUp) as caught:
        linesim.compare(LINES, indifference={"throughput_per_h": 0.6}, **HOW)
    assert caught.value.line == "mean"


@pytest.mark.parametrize(
    ("settings", "told"),
    [
        ({"indifference": {"throughput_per_h": "1 %"}}, "must be a number in the measure's unit"),
        ({"indifference": {"throughput_per_h": 0.2, "wip_parts": 1}}, "looks at one measure"),
        ({"indifference": {"output": 0.2}}, "is no measure"),
        ({"indifference": {"throughput_per_h": 0.2}, "replications": 5}, "too few to judge"),
        ({"indifference": {"throughput_per_h": 0.2}, "replications": 20, "most_replications": 10}, "replications = 20"),
        ({"indifference": 0.2}, "must be a map of one measure"),
    ],
)
def test_what_can_not_be_chosen_by_is_refused(settings: dict[str, Any], told: str) -> None:
    with pytest.raises(LineError, match=told):
        linesim.compare(LINES, **HOW, **settings)
