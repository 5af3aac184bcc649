"""Replications one after another, or side by side in threads. Which it is makes no difference to what comes out."""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from concurrent.futures import FIRST_EXCEPTION, Future, ThreadPoolExecutor, wait
from functools import partial
from threading import Event

from linesim.study.one_run import Run

PATIENCE_S = 0.2  # between two looks whether the user wants to stop; waiting without an end can't be stopped everywhere

Report = Callable[[int, int], None]  # of a replication, the time it has reached [us]
Play = Callable[[int, Callable[[int], None]], Run]  # a replication, to report its times to whom


def one_by_one(play: Play, numbers: Sequence[int], report: Report, finished: dict[int, Run]) -> None:
    """Plays the replications of these numbers and puts them into `finished`."""
    for number in numbers:
        finished[number] = play(number, partial(report, number))


def side_by_side(play: Play, numbers: Sequence[int], workers: int, report: Report, finished: dict[int, Run]) -> None:
    """As `one_by_one`, so many at a time; only worth it if `play` lets other threads of Python run.

    When one fails, no further one is begun, and of those that failed the first by number is raised. When the user
    stops, those under way are given up at their next report. `finished` then holds the others, whatever their order.
    """
    given_up = Event()

    def work(number: int) -> Run:
        def go_on(now_us: int) -> None:
            if given_up.is_set():
                raise _GivenUp
            report(number, now_us)

        return play(number, go_on)

    with ThreadPoolExecutor(workers, thread_name_prefix="replication") as pool:
        tasks = {number: pool.submit(work, number) for number in numbers}
        try:
            while any(not task.done() for task in tasks.values()) and not any(map(_failed, tasks.values())):
                wait(tasks.values(), PATIENCE_S, FIRST_EXCEPTION)
        except BaseException:
            given_up.set()
            raise
        finally:
            pool.shutdown(cancel_futures=True)
            finished.update((number, task.result()) for number, task in tasks.items() if _succeeded(task))
    for task in tasks.values():
        if not task.cancelled():
            task.result()  # raises what it ended with


def cores() -> int:
    """How many processor cores this process may use."""
    mine = getattr(os, "sched_getaffinity", None)  # not on every system
    return len(mine(0)) if mine else os.cpu_count() or 1


class _GivenUp(Exception):
    """A replication is no longer wanted."""


def _failed(task: Future[Run]) -> bool:
    return task.done() and not task.cancelled() and task.exception() is not None


def _succeeded(task: Future[Run]) -> bool:
    return not task.cancelled() and task.exception() is None
