"""What a study asks of the engine, with an engine that only notes what it was asked."""

from collections.abc import Callable
from typing import Any

import pytest

from linesim.engine.contract import LockUp
from linesim.study import Stopped, replications, simulate

HOUR_US = 3_600_000_000
LINE: Any = "a line"


class Engine:
    """Takes the place of `run_once`; `stop` is raised in the replication of that number."""

    def __init__(self, stop: BaseException | None = None, at: int = 0) -> None:
        self.asked: list[tuple[Any, ...]] = []
        self.stop, self.at = stop, at

    def __call__(self, *asked: Any) -> tuple[Any, Any]:
        self.asked.append(asked)
        if self.stop is not None and asked[2] == self.at:
            raise self.stop
        asked[7](asked[4])
        return f"ledger {asked[2]}", f"trace {asked[2]}" if asked[6] else None


@pytest.fixture(name="with_engine")
def _with_engine(monkeypatch: pytest.MonkeyPatch) -> Callable[[Engine], Engine]:
    def put(engine: Engine) -> Engine:
        monkeypatch.setattr(replications, "run_once", engine)
        monkeypatch.setattr(replications, "Results", lambda line, ledgers, traces: (line, ledgers, traces))
        return engine

    return put


def test_replications_are_numbered_from_one_and_share_seed_and_times(with_engine: Callable[[Engine], Engine]) -> None:
    engine = with_engine(Engine())
    results: Any = simulate(LINE, hours=2, warmup_hours=0.5, replications=3, seed=7, window_h=0.25)
    assert [asked[1:6] for asked in engine.asked] == [
        (7, number, HOUR_US // 2, HOUR_US * 5 // 2, HOUR_US // 4) for number in (1, 2, 3)
    ]
    assert results == (LINE, ["ledger 1", "ledger 2", "ledger 3"], [])


def test_one_replication_alone_is_asked_for_as_among_the_others(with_engine: Callable[[Engine], Engine]) -> None:
    all_of_them, alone = Engine(), Engine()
    with_engine(all_of_them)
    simulate(LINE, replications=3, seed=7)
    with_engine(alone)
    simulate(LINE, replications=3, seed=7, only_replication=2)
    assert [asked[:7] for asked in alone.asked] == [all_of_them.asked[1][:7]]


def test_a_seed_is_drawn_once_for_all_replications(with_engine: Callable[[Engine], Engine]) -> None:
    engine = with_engine(Engine())
    simulate(LINE, replications=4)
    assert len({asked[1] for asked in engine.asked}) == 1


def test_traces_are_kept_when_wanted(with_engine: Callable[[Engine], Engine]) -> None:
    with_engine(Engine())
    results: Any = simulate(LINE, replications=2, trace=True)
    assert results[2] == ["trace 1", "trace 2"]


def test_what_was_finished_survives_a_stop_by_the_user(with_engine: Callable[[Engine], Engine]) -> None:
    with_engine(Engine(KeyboardInterrupt(), at=3))
    with pytest.raises(Stopped, match="after 2 of 5 replications") as caught:
        simulate(LINE, replications=5)
    kept: Any = caught.value.results
    assert kept[1] == ["ledger 1", "ledger 2"]


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
