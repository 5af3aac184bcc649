"""A clock that can stand still: the one kind of event of this engine.

SimPy's heap orders events by time and priority; a clock's priority is its rank in the order table. Standing still and
going on again replaces every interrupt, so a machine's story need not know that breakdowns exist.
"""

from __future__ import annotations

from collections.abc import Callable

import simpy
from simpy.events import EventPriority

FIRST_RANK = 2  # SimPy starts processes with priority 0 and uses 1 by default


class Clock:
    """Times one thing at a time: set it, wait for the event; meanwhile it may stand still and go on, or be stopped."""

    def __init__(self, env: simpy.Environment, rank: int, kind: int, record: int, on_tick: Callable[[], None]) -> None:
        self.kind = kind
        self.record = record  # what it times
        self._env = env
        self._priority = EventPriority(FIRST_RANK + rank)
        self._on_tick = on_tick
        self._end = simpy.Event(env)
        self.is_set = False
        self.runs = False
        self.due = 0  # while it runs
        self.left = 0  # while it stands still

    def set(self, duration: int) -> simpy.Event:
        """Set the clock, still standing. The event it returns fires with True at the end, with False if stopped."""
        self.is_set = True
        self.left = duration
        self._end = simpy.Event(self._env)
        self._end.callbacks = [self._tick]
        return self._end

    def go_on(self) -> None:
        self.runs = True
        self.due = int(self._env.now) + self.left
        self._end._ok, self._end._value = True, True
        self._env.schedule(self._end, priority=self._priority, delay=self.left)

    def stand_still(self) -> None:
        """The event in the heap cannot be taken back: it passes without effect, and who waits is moved to a new one."""
        if self.runs:
            self.runs = False
            self.left = self.due - int(self._env.now)
            waiting, self._end.callbacks = self._end.callbacks, []
            self._end = simpy.Event(self._env)
            self._end.callbacks = waiting

    def stop(self) -> None:
        """Give up: what was timed does not come to its end."""
        if not self.is_set:
            return
        self.stand_still()
        self.is_set = False
        self._end.callbacks.remove(self._tick)
        fire(self._end, False)

    def _tick(self, _: simpy.Event) -> None:
        self.is_set = self.runs = False
        self._on_tick()


def fire(event: simpy.Event, value: object = None) -> None:
    """Let whoever waits for this event go on at once, within the running event.

    `event.succeed` would put a second event behind others of this instant; order here is the order table's alone.
    """
    callbacks, event.callbacks = event.callbacks, None  # type: ignore[assignment]
    event._ok, event._value = True, value
    for callback in callbacks:
        callback(event)
