"""Run a line for a test and read its trace as short tables in seconds, parts numbered 1, 2, ... as they enter."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

import linesim
from linesim.engine.contract.ledger import US, CarriageState, Fate, Ledger, MachineState
from linesim.engine.contract.times import Times
from linesim.engine.contract.trace import Trace, What
from linesim.engine.simpy import run
from linesim.line.model import Line
from tests.helpers.books import check_books
from tests.helpers.seeds import EXACT


@dataclass(frozen=True)
class Play:
    """A traced run whose books were found in order."""

    line: Line
    ledger: Ledger
    trace: Trace

    def moves(self) -> list[tuple[float, int, str, str]]:
        """Every move that ended, in the order of happening: (time of arrival, part, from, to)."""
        moved, left = [], {}
        for time_us, what, owner, part, _ in self.trace.rows.tolist():
            if what == What.LEAVE:
                left[part] = self._name(owner)
            elif what == What.ARRIVE:
                moved.append((time_us / US, self._number[part], left.pop(part), self._name(owner)))
        return moved

    def carried(self) -> list[tuple[float, float, int, str, str]]:
        """The moves made by a loader: (end of pick-up, end of set-down, part, from, to), in order of set-down."""
        moved, left = [], {}
        for time_us, what, owner, part, value in self.trace.rows.tolist():
            if what == What.LEAVE and value >= 0:
                left[part] = (time_us / US, self._name(owner))
            elif what == What.ARRIVE and value >= 0:
                picked, source = left.pop(part)
                moved.append((picked, time_us / US, self._number[part], source, self._name(owner)))
        return moved

    def departures(self) -> list[tuple[float, int, str]]:
        """(time, part, "good" or "scrapped") of every part that left."""
        return [
            (time_us / US, self._number[part], Fate(fate).name.lower())
            for time_us, part, _, fate, *_ in self.ledger.departures.tolist()
        ]

    def left_at(self) -> list[float]:
        """Times at which parts left, good or scrapped."""
        return [time_s for time_s, _, _ in self.departures()]

    def operations(self, machine: str) -> list[tuple[float, float, int]]:
        """(start, end, part) of every operation of this machine that ended."""
        begun: dict[int, float] = {}
        ended = []
        for time_us, what, owner, part, _ in self.trace.rows.tolist():
            if self._name(owner) == machine and what == What.START:
                begun.setdefault(part, time_us / US)
            elif self._name(owner) == machine and what == What.END:
                ended.append((begun.pop(part), time_us / US, self._number[part]))
        return ended

    def states(self, owner: str) -> list[tuple[float, str]]:
        """(since, state) of a machine or carriage; states of no length are left out, equal neighbours are one."""
        index = self._index(owner)
        names = MachineState if self.ledger.owners[index].kind == "machine" else CarriageState
        told: list[tuple[float, str]] = []
        for time_us, what, row_owner, _, value in self.trace.rows.tolist():
            if what == What.STATE and row_owner == index:
                if told and told[-1][0] == time_us / US:
                    told.pop()
                state = names(value).name.lower()
                if not told or told[-1][1] != state:
                    told.append((time_us / US, state))
        return told

    def wip(self) -> list[int]:
        """Time with n parts inside [us], up to the highest number that occurred."""
        return np.trim_zeros(self.ledger.wip, "b").tolist()

    def rows(self, *kinds: What) -> list[tuple[float, str, int, int]]:
        """(time, owner, part, value) of the rows of these kinds, in order; parts and values as they stand there."""
        return [
            (time_us / US, self._name(owner), part, value)
            for time_us, what, owner, part, value in self.trace.rows.tolist()
            if what in kinds
        ]

    @cached_property
    def _number(self) -> dict[int, int]:
        entered: dict[int, int] = {}
        for _, what, owner, part, _ in self.trace.rows.tolist():
            if what == What.LEAVE and self.ledger.owners[owner].kind == "infeed":
                entered[part] = len(entered) + 1
        return entered

    def _name(self, owner: int) -> str:
        return self.ledger.owners[owner].name

    def _index(self, name: str) -> int:
        return next(index for index, owner in enumerate(self.ledger.owners) if owner.name == name)


def play(
    given: Mapping[str, Any],
    horizon_s: float,
    warmup_s: float = 0.0,
    seed: int = EXACT,
    replication: int = 0,
    **how: Any,
) -> Play:
    """Load, run with a trace and audit the books. how: further keywords of the engine."""
    line = linesim.load_line(given)
    horizon_us = round(horizon_s * US)
    window_us = how.pop("window_us", max(1, horizon_us // 3))
    times = Times(round(warmup_s * US), horizon_us, window_us)
    ledger, trace = run(line, seed, replication, times, trace=True, **how)
    assert trace is not None
    check_books(ledger, trace, line)
    return Play(line, ledger, trace)
