"""Replications in threads: order, failures and stops make no difference to what is kept."""

import threading
from collections.abc import Callable
from typing import Any

import pytest

from linesim.study.side_by_side import cores, one_by_one, side_by_side

NUMBERS = range(1, 9)
Report = Callable[[int], None]


def nobody(number: int, now_us: int) -> None:
    """Nobody wants to know."""


@pytest.mark.parametrize("workers", [1, 2, 4, 20])
def test_the_number_of_workers_makes_no_difference(workers: int) -> None:
    def play(number: int, report: Report) -> Any:
        return number * number

    alone: dict[int, Any] = {}
    one_by_one(play, NUMBERS, nobody, alone)
    together: dict[int, Any] = {}
    side_by_side(play, NUMBERS, workers, nobody, together)
    assert together == alone == {number: number * number for number in NUMBERS}


def test_as_many_run_at_a_time_as_there_are_workers() -> None:
    together = threading.Barrier(4, timeout=10)  # lets nobody pass before four are there

    def play(number: int, report: Report) -> Any:
        return together.wait()

    finished: dict[int, Any] = {}
    side_by_side(play, NUMBERS, 4, nobody, finished)
    assert sorted(finished) == list(NUMBERS)


def test_each_report_names_its_replication() -> None:
    told: list[tuple[int, int]] = []

    def play(number: int, report: Report) -> Any:
        report(10 * number)

    side_by_side(play, NUMBERS, 2, lambda number, now_us: told.append((number, now_us)), {})
    one_by_one(play, NUMBERS, lambda number, now_us: told.append((number, now_us)), {})
    assert sorted(told) == sorted(2 * [(number, 10 * number) for number in NUMBERS])


def test_of_several_that_fail_the_first_by_number_is_told() -> None:
    """The second fails only after the third has: the order of happening must not show."""
    third_failed = threading.Event()

    def play(number: int, report: Report) -> Any:
        if number == 2:
            assert third_failed.wait(10)
            raise ValueError("second")
        if number == 3:
            third_failed.set()
            raise ValueError("third")
        return number

    finished: dict[int, Any] = {}
    with pytest.raises(ValueError, match="second"):
        side_by_side(play, NUMBERS, 3, nobody, finished)
    assert finished[1] == 1
    assert not {2, 3} & set(finished)


def test_after_a_failure_none_behind_it_is_begun_or_goes_on() -> None:
    """The fourth is under way when the third fails, and hears of it at its next report; no fifth is begun."""
    fourth_begun, third_failed = threading.Event(), threading.Event()
    begun: list[int] = []

    def play(number: int, report: Report) -> Any:
        begun.append(number)
        if number == 3:
            assert fourth_begun.wait(10)
            threading.Timer(0.05, third_failed.set).start()
            raise ValueError("third")
        if number == 4:
            fourth_begun.set()
            assert third_failed.wait(10)
            report(1)
            raise AssertionError("went on")
        return number

    finished: dict[int, Any] = {}
    with pytest.raises(ValueError, match="third"):
        side_by_side(play, range(1, 1001), 2, nobody, finished)
    assert sorted(begun) == [1, 2, 3, 4]
    assert finished == {1: 1, 2: 2}


def test_when_the_user_stops_the_finished_ones_are_kept_and_the_others_given_up(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    first_done, stopped = threading.Event(), threading.Event()

    def play(number: int, report: Report) -> Any:
        if number == 1:
            return "whole"
        first_done.set()  # a single worker: the first one is over
        stopped.wait(10)
        report(1)
        raise AssertionError("went on after the user's stop")

    def interrupted(*_: Any) -> None:
        assert first_done.wait(10)
        threading.Timer(0.05, stopped.set).start()
        raise KeyboardInterrupt

    monkeypatch.setattr("linesim.study.side_by_side.wait", interrupted)
    finished: dict[int, Any] = {}
    with pytest.raises(KeyboardInterrupt):
        side_by_side(play, NUMBERS, 1, nobody, finished)
    assert finished == {1: "whole"}


def test_there_is_at_least_one_core() -> None:
    assert cores() >= 1
