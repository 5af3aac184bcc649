"""Replications one after another, or side by side in threads. Which it is makes no difference to what comes out."""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor, wait
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

    When one fails, those behind it are given up: what is raised does not depend on the workers. When the user stops,
    those under way are given up at their next report. `finished` then holds what was finished, in any order.
    """
    stopped = Event()
    failed: list[int] = []

    def check(number: int) -> None:
        if stopped.is_set() or number > min(failed, default=number):
            raise _GivenUp

    def work(number: int) -> Run:
        def go_on(now_us: int) -> None:
            check(number)
            report(number, now_us)

        check(number)
        try:
            return play(number, go_on)
        except BaseException:
            failed.append(number)
            raise

    with ThreadPoolExecutor(workers, thread_name_prefix="replication") as pool:
        tasks = {number: pool.submit(work, number) for number in numbers}
        try:
            while not all(task.done() for task in tasks.values()):
                wait(tasks.values(), PATIENCE_S)
        except BaseException:
            stopped.set()
            raise
        finally:
            pool.shutdown()
            finished.update((number, task.result()) for number, task in tasks.items() if task.exception() is None)
    for task in tasks.values():
        task.result()  # raises what the first by number failed with


def cores() -> int:
    """How many processor cores this process may use."""
    mine = getattr(os, "sched_getaffinity", None)  # not on every system
    return len(mine(0)) if mine else os.cpu_count() or 1


class _GivenUp(Exception):
    """A replication is no longer wanted."""
