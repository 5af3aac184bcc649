"""Compile before the first run, with a word to whoever waits."""

from __future__ import annotations

import time
from collections.abc import Callable
from contextlib import suppress

from numba.core.event import Event, Listener, install_listener

from linesim.engine.compiled.engine import run
from linesim.engine.contract.lockup import LockUp
from linesim.line.model import Line


def make_ready(line: Line, say: Callable[[str], None]) -> None:
    """Compile the engine, or load it from where it was kept; from then on replications may run in several threads.

    say: gets a text when compiling begins and one when it is over, if it must be done at all.
    Raises: ValueError for a line that this engine does not take.
    """
    begun = _Begun(say)
    with install_listener("numba:compile", begun), suppress(LockUp):  # that comes again in the run
        run(line, seed=0, replication=0, warmup_us=0, horizon_us=1, window_us=1)
    if begun.at_s is not None:
        say(f"compiled in {time.monotonic() - begun.at_s:.0f} s")


class _Begun(Listener):
    """Notes when the compiler begins; it is not asked to begin where its code was kept."""

    def __init__(self, say: Callable[[str], None]) -> None:
        self._say = say
        self.at_s: float | None = None

    def on_start(self, event: Event) -> None:
        if self.at_s is None:
            self.at_s = time.monotonic()
            self._say("compiling the engine for this machine, once: about a minute ...")

    def on_end(self, event: Event) -> None:
        """Each function that is called has an end of its own; the last one is not known from here."""
