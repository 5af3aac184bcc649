"""How far a long run is: a bar with the time left on a terminal, a plain line every 30 s elsewhere, on stderr."""

from __future__ import annotations

import sys
import threading
import time
from collections.abc import Callable
from types import TracebackType
from typing import Any, TextIO

QUIET_S = 30.0  # between two plain lines


class Progress:
    """Tells on `stream` how much of `total` is done. A run that is over before it would speak says nothing.

    Use it as a context; call `update(done, text)` as often as you like. With `on=False` nothing is ever written.
    """

    def __init__(
        self,
        total: float,
        on: bool = True,
        stream: TextIO | None = None,
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        self._total = total
        self._on = on
        self._stream = sys.stderr if stream is None else stream
        self._clock = clock
        self._began_s = self._spoke_s = clock()
        self._bar: Any = None

    def __enter__(self) -> Progress:
        if self._on and self._stream.isatty():
            self._bar = _bar(self._stream)
            self._bar.start()
            self._bar.add_task("", total=self._total)
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        if self._bar is not None:
            self._bar.stop()

    def update(self, done: float, text: str) -> None:
        """`done` of the total is over; `text` says what is going on, e.g. "2 of 5 replications done"."""
        if self._bar is not None:
            self._bar.update(self._bar.task_ids[0], completed=done, description=text)
        elif self._on and self._clock() - self._spoke_s >= QUIET_S:
            self._spoke_s = self._clock()
            gone_s = self._spoke_s - self._began_s
            left = f", about {readable(gone_s * (self._total - done) / done)} left" if done > 0 else ""
            share = f"{done / self._total:.0%} done after {readable(gone_s)}"
            print(f"{text}: {share}{left}", file=self._stream, flush=True)


class Tally:
    """Adds up how far replications are, whether they run one after another or side by side in threads."""

    def __init__(self, shown: Progress, planned: int, horizon_us: int, doing: str = "") -> None:
        self._shown, self._planned, self._horizon_us, self._doing = shown, planned, horizon_us, doing
        self._reached_us: dict[int, int] = {}
        self._total_us = self._finished = 0
        self._lock = threading.Lock()

    def report(self, replication: int, now_us: int) -> None:
        """A replication has got so far in its own time."""
        with self._lock:
            self._total_us += now_us - self._reached_us.get(replication, 0)
            self._reached_us[replication] = now_us
            self._finished += now_us >= self._horizon_us
            self._shown.update(self._total_us, f"{self._doing}{self._finished} of {self._planned} replications done")


def readable(seconds: float) -> str:
    """A time for people: "45 s", "12 min", "3 h 20 min"."""
    if seconds < 100:
        return f"{seconds:.0f} s"
    minutes = round(seconds / 60)
    if minutes < 100:
        return f"{minutes} min"
    return f"{minutes // 60} h {minutes % 60} min"


def _bar(stream: TextIO) -> Any:
    from rich.console import Console
    from rich.progress import BarColumn, TaskProgressColumn, TextColumn, TimeRemainingColumn
    from rich.progress import Progress as RichProgress

    return RichProgress(
        TextColumn("{task.description}"),
        BarColumn(),
        TaskProgressColumn(),
        TextColumn("time left"),
        TimeRemainingColumn(),
        console=Console(file=stream),
        transient=True,
    )
