"""What a study asks of the engine, with an engine that only notes what it was asked."""

from collections.abc import Callable
from typing import Any, NamedTuple

import pytest

from linesim.engine.contract import LockUp
from linesim.engine.contract.times import Times
from linesim.study import Stopped, batch, simulate

HOUR_US = 3_600_000_000
LINE: Any = "a line"


class Results:
    """Takes the place of the results; holds what was gathered."""

    def __init__(self, line: Any, ledgers: list[str], traces: list[str], pilot: Any) -> None:
        self.ledgers, self.traces = ledgers, traces
        self.about: dict[str, Any] = {"versions": {}}


class Asked(NamedTuple):
    seed: int
    replication: int
    times: Times
    trace: bool


class Engine:
    """Takes the place of `run_once`; `stop` is raised in the replication of that number."""

    def __init__(self, stop: BaseException | None = None, at: int = 0, kind: str = "simpy") -> None:
        self.asked: list[Asked] = []
        self.stop, self.at, self.kind = stop, at, kind

    def __call__(self, kind: str, line: Any, *how: Any) -> tuple[Any, Any]:
        assert kind == self.kind
        *asked, report = how
        one = Asked(*asked)
        self.asked.append(one)
        if self.stop is not None and one.replication == self.at:
            raise self.stop
        report(one.times.horizon_us)
        return f"ledger {one.replication}", f"trace {one.replication}" if one.trace else None


@pytest.fixture(name="with_engine")
def _with_engine(monkeypatch: pytest.MonkeyPatch) -> Callable[[Engine], Engine]:
    def put(engine: Engine) -> Engine:
        monkeypatch.setattr(batch, "choose_engine", lambda *_: engine.kind)
        monkeypatch.setattr(batch, "run_once", engine)
        monkeypatch.setattr(batch, "Results", Results)
        return engine

    return put


def test_replications_are_numbered_from_one_and_share_seed_and_times(with_engine: Callable[[Engine], Engine]) -> None:
    engine = with_engine(Engine())
    results: Any = simulate(LINE, hours=2, warmup_hours=0.5, replications=3, seed=7, window_h=0.25)
    times = Times(warmup_us=HOUR_US // 2, horizon_us=HOUR_US * 5 // 2, window_us=HOUR_US // 4)
    assert engine.asked == [(7, number, times, False) for number in (1, 2, 3)]
    assert (results.ledgers, results.traces) == (["ledger 1", "ledger 2", "ledger 3"], [])


def test_one_replication_alone_is_asked_for_as_among_the_others(with_engine: Callable[[Engine], Engine]) -> None:
    all_of_them, alone = Engine(), Engine()
    with_engine(all_of_them)
    simulate(LINE, replications=3, seed=7)
    with_engine(alone)
    simulate(LINE, replications=3, seed=7, only_replication=2)
    assert alone.asked == [all_of_them.asked[1]]


def test_a_seed_is_drawn_once_for_all_replications(with_engine: Callable[[Engine], Engine]) -> None:
    engine = with_engine(Engine())
    simulate(LINE, replications=4)
    assert len({asked.seed for asked in engine.asked}) == 1


def test_traces_are_kept_when_wanted(with_engine: Callable[[Engine], Engine]) -> None:
    with_engine(Engine())
    results: Any = simulate(LINE, replications=2, trace=True)
    assert results.traces == ["trace 1", "trace 2"]


def test_what_was_finished_survives_a_stop_by_the_user(with_engine: Callable[[Engine], Engine]) -> None:
    with_engine(Engine(KeyboardInterrupt(), at=3))
    with pytest.raises(Stopped, match="after 2 of 5 replications") as caught:
        simulate(LINE, replications=5)
    kept: Any = caught.value.results
    assert kept.ledgers == ["ledger 1", "ledger 2"]


def test_a_stop_in_the_first_replication_leaves_no_results(with_engine: Callable[[Engine], Engine]) -> None:
    with_engine(Engine(KeyboardInterrupt(), at=1))
    with pytest.raises(Stopped) as caught:
        simulate(LINE, replications=5)
    assert caught.value.results is None


def test_a_lock_up_says_how_to_see_it_again(with_engine: Callable[[Engine], Engine]) -> None:
    stand = LockUp(3 * HOUR_US, {"grind.1": [4]}, "the line has locked up")
    with_engine(Engine(stand, at=2))
    with pytest.raises(LockUp, match=r"grind\.1: part 4") as caught:
        simulate(LINE, replications=2, seed=7)
    assert "linesim trace LINE seed=7 replication=2 from_h=2.95" in caught.value.__notes__[0]


def test_the_compiled_engine_is_asked_for_the_same_and_answers_in_order(
    with_engine: Callable[[Engine], Engine],
) -> None:
    engine = with_engine(Engine(kind="compiled"))
    results: Any = simulate(LINE, hours=2, replications=20, seed=7, workers=4)
    assert results.ledgers == [f"ledger {number}" for number in range(1, 21)]
    assert sorted(asked.replication for asked in engine.asked) == list(range(1, 21))
    assert {asked.seed for asked in engine.asked} == {7}


@pytest.mark.parametrize("kind", ["simpy", "compiled"])
def test_results_tell_which_engine_ran(with_engine: Callable[[Engine], Engine], kind: str) -> None:
    with_engine(Engine(kind=kind))
    results: Any = simulate(LINE, replications=1)
    assert results.about["engine"] == kind
    assert ("numba" in results.about["versions"]) == (kind == "compiled")


def test_the_engine_is_chosen_for_the_time_of_all_replications_together(
    with_engine: Callable[[Engine], Engine], monkeypatch: pytest.MonkeyPatch
) -> None:
    with_engine(Engine())
    asked: list[Any] = []

    def choose(*given: Any) -> str:
        asked.append(given)
        return "simpy"

    monkeypatch.setattr(batch, "choose_engine", choose)
    simulate(LINE, hours=8, warmup_hours=2, replications=3, engine="auto")
    simulate(LINE, hours=8, warmup_hours=2, replications=3, only_replication=2, engine="compiled")
    assert asked == [("auto", LINE, 30.0), ("compiled", LINE, 10.0)]


def test_a_stop_while_the_engine_is_compiled_leaves_no_results(
    with_engine: Callable[[Engine], Engine], monkeypatch: pytest.MonkeyPatch
) -> None:
    with_engine(Engine())

    def stopped(*_: Any) -> str:
        raise KeyboardInterrupt

    monkeypatch.setattr(batch, "choose_engine", stopped)
    with pytest.raises(Stopped) as caught:
        simulate(LINE, replications=5)
    assert caught.value.results is None
