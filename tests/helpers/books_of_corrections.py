"""The part of the audit that looks at feedback: what each reading corrects, reckoned again in fractions."""

from __future__ import annotations

import math
from collections import defaultdict
from fractions import Fraction

from linesim.engine.contract.ledger import Ledger
from linesim.line.model import Line

MOST_PM = 10**11


class Corrections:
    """What each machine was corrected by so far, told from the rows of a trace in their order."""

    def __init__(self, ledger: Ledger, line: Line) -> None:
        self._ledger, self._line = ledger, line
        self._in_all: dict[tuple[int, int], int] = defaultdict(int)  # maker, characteristic -> pm
        self._changes: dict[tuple[int, int], int] = defaultdict(int)
        self._at_start: dict[tuple[int, int], int] = {}  # maker, characteristic -> changes before its part was begun
        self._made_after: dict[tuple[int, int], int] = {}  # part, characteristic -> the same
        self._waiting: dict[tuple[str, int, int], list[Fraction]] = defaultdict(list)

    def started(self, owner: int) -> None:
        for number in range(len(self._ledger.characteristics)):
            self._at_start[owner, number] = self._changes[owner, number]

    def made(self, owner: int, part: int, number: int) -> None:
        self._made_after[part, number] = self._at_start[owner, number]

    def renewed(self, owner: int, stop: str) -> None:
        """A new tool begins uncorrected."""
        for number, (station, name) in enumerate(self._ledger.characteristics):
            after = self._line.stations[station].characteristics[name].after
            own = self._ledger.owners[owner].group == station and stop in after
            if own and not outlasts_tools(self._line, name):
                self._in_all[owner, number] = 0
                self._changes[owner, number] += 1

    def check(self, gauge: int, told: list[list[int]], booked: list[list[int]]) -> None:
        """These readings of a gauge led to these rows of the trace."""
        station = self._ledger.owners[gauge].group
        expected = []
        for _, part, _, number, maker, _, reading, moved in booked:
            before = self._in_all[maker, number]
            self._in_all[maker, number] = self._corrected(station, part, number, maker, reading)
            assert moved == self._in_all[maker, number] - before, f"part {part} moves machine {maker} by {moved} pm"
            if moved:
                self._changes[maker, number] += 1
                expected.append([maker, part, self._in_all[maker, number]])
        assert [row[2:] for row in told] == expected, f"corrections by {station}"

    def _corrected(self, station: str, part: int, number: int, maker: int, reading: int) -> int:
        """The correction of a machine in all [pm] after this reading."""
        made_at, name = self._ledger.characteristics[number]
        inspection, now = self._line.stations[station].inspection, self._in_all[maker, number]
        given = inspection.measures[name].feedback if inspection else None
        if given is None or (given.only_new and self._made_after[part, number] != self._changes[maker, number]):
            return now
        middle = self._line.stations[made_at].characteristics[name].tolerance.middle
        waiting = self._waiting[station, number, maker]
        waiting.append(Fraction(reading - math.floor(1000 * middle + 0.5)))
        if len(waiting) < given.average:
            return now
        mean = sum(waiting, Fraction(0)) / len(waiting)
        waiting.clear()
        if abs(mean) <= math.floor(1000 * given.dead_band + 0.5):
            return now
        step = -Fraction(round(1e6 * given.gain), 10**6) * mean * 1000
        return max(-MOST_PM, min(MOST_PM, now + math.floor(step + Fraction(1, 2))))


def outlasts_tools(line: Line, name: str) -> bool:
    """Whether corrections of a characteristic stay when its tool is renewed."""
    gauges = [station.inspection.measures.get(name) for station in line.stations.values() if station.inspection]
    return any(gauge.feedback.outlasts_tools for gauge in gauges if gauge and gauge.feedback)
