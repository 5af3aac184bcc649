"""The books: closing the tallies of the floor, emptying its rows, and the ledger at the end."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

import numpy as np

from linesim.engine.contract import records as r
from linesim.engine.contract.crews import count_busy
from linesim.engine.contract.layout import Layout
from linesim.engine.contract.ledger import (
    DEPARTURE_COLUMNS,
    READING_COLUMNS,
    SIZE_COLUMNS,
    WINDOW_COLUMNS,
    CarriageState,
    CrewCounts,
    EndCounts,
    Ledger,
    MachineCounts,
    MachineState,
    StationCounts,
    StoppageCounts,
)
from linesim.engine.contract.levels import count_inside, count_level, count_stock
from linesim.engine.contract.records import Floor
from linesim.engine.contract.spells import Spells
from linesim.engine.contract.states import count_state
from linesim.engine.contract.trace import TRACE_COLUMNS, Trace
from linesim.engine.contract.windows import close_window
from linesim.line.calendar import planned_stretches


@dataclass
class Rows:
    """Rows taken off the floor so far, in blocks: int64, shape (n, width)."""

    width: int
    blocks: list[np.ndarray] = field(default_factory=list)

    def take(self, floor: Floor, at: int, count: int) -> None:
        """Take the rows that stand at an address of the floor."""
        block = np.array(floor[at : at + count * self.width], dtype=np.int64)
        self.blocks.append(block.reshape(count, self.width))

    def all(self) -> np.ndarray:
        """All of them, laid out column by column, as those who measure read them."""
        return np.asfortranarray(np.concatenate([np.empty((0, self.width), np.int64), *self.blocks]))


class Books:
    """The books of one replication: kept open while an engine runs the floor, closed into a ledger."""

    def __init__(self, layout: Layout, floor: Floor) -> None:
        self._layout = layout
        self._floor = floor
        self._trace = Rows(len(TRACE_COLUMNS))
        self._departures = Rows(len(DEPARTURE_COLUMNS))
        self._sizes = Rows(len(SIZE_COLUMNS))
        self._readings = Rows(len(READING_COLUMNS))
        self._windows = Rows(len(WINDOW_COLUMNS))
        self._spells = Spells()
        self._inside_start = 0

    def empty_rows(self, at_least: int) -> None:
        """Take rows off the floor when so many of one kind have come together."""
        floor = self._floor
        for rows, at, count in (
            (self._trace, r.TRACE_AT, r.N_TRACE),
            (self._departures, r.DEPARTURES_AT, r.N_DEPARTURES),
            (self._sizes, r.SIZES_AT, r.N_SIZES),
            (self._readings, r.READINGS_AT, r.N_READINGS),
            (self._windows, r.WINDOWS_AT, r.N_WINDOWS),
        ):
            if floor[count] >= at_least:
                rows.take(floor, floor[at], floor[count])
                floor[count] = 0
        if floor[r.N_SPELLS] >= at_least:
            self._spells.take(floor, min((since for _, since in self._running_spells()), default=floor[r.NOW]))

    def begin(self, window_us: int) -> None:
        """It is time 0: the first output window begins."""
        self._floor[r.WINDOW] = self._floor[r.WINDOW_ENDS] = window_us

    def start_measuring(self) -> None:
        """The warm-up is over: every tally starts again from zero, and an output window begins."""
        floor = self._floor
        if floor[r.NOW] > 0:
            close_window(floor)
        self._bring_up_to_date()
        self._inside_start = int(floor[r.INSIDE])
        floor[r.ENTERED] = 0
        self._clear(floor[r.WIP_TIME], self._length_of_wip())
        for buffer in self._layout.buffers:
            self._clear(floor[buffer + r.LEVEL_TIME], floor[buffer + r.CAPACITY] + 1)
        for end in self._layout.ends:
            self._clear(end + r.STOCK_AREA, 3)
        for owner in (*self._layout.machines, *self._layout.carriages):
            self._clear(owner + r.TALLY, 16)
        for machine in self._layout.machines:
            floor[machine + r.PROCESSED] = 0
        for step in self._layout.stations.values():
            floor[step + r.SCRAPPED] = floor[step + r.REWORKED] = 0
            floor[step + r.FALSE_REJECTS] = floor[step + r.SKIPPED] = 0
        for stoppage in self._layout.stoppages:
            self._clear(stoppage.record + r.BEGUN, 3)
        for crew in self._layout.crews.values():
            floor[crew + r.DUTY_TIME] = floor[crew + r.BUSY_TIME] = floor[crew + r.ALL_BUSY_TIME] = 0
            floor[crew + r.CALLS] = floor[crew + r.CALLS_WAITED] = floor[crew + r.WAITED_TIME] = 0

    def _clear(self, at: int, count: int) -> None:
        self._floor[at : at + count] = [0] * count

    def _length_of_wip(self) -> int:
        """The layout puts the trace's rows right behind this tally."""
        return self._floor[r.TRACE_AT] - self._floor[r.WIP_TIME]

    def _bring_up_to_date(self) -> None:
        floor = self._floor
        count_inside(floor, 0)
        for buffer in self._layout.buffers:
            count_level(floor, buffer, 0)
        for end in self._layout.ends:
            count_stock(floor, end, 0)
        for owner in (*self._layout.machines, *self._layout.carriages):
            count_state(floor, owner)
        for crew in self._layout.crews.values():
            count_busy(floor, crew)

    def trace(self) -> Trace:
        """The whole trace, once the run is over. Raises RuntimeError if some of it did not fit."""
        if self._floor[r.TRACE_LOST]:
            raise RuntimeError("too much moved at one instant to be traced: run without trace, or with smaller buffers")
        layout = self._layout
        stoppages = tuple((s.owner.name, s.kind, s.name) for s in layout.stoppages)
        return Trace(
            self._trace.all(), tuple(layout.owners), stoppages, tuple(layout.defects), tuple(layout.part_types)
        )

    def ledger(self, seed: int, replication: int, warmup_us: int, window_us: int) -> Ledger:
        """Close the books now, and with them the last output window."""
        close_window(self._floor)
        self._bring_up_to_date()
        self.empty_rows(0)
        floor, layout = self._floor, self._layout
        return Ledger(
            seed=seed,
            replication=replication,
            warmup_us=warmup_us,
            horizon_us=int(floor[r.NOW]),
            window_us=window_us,
            planned=planned_stretches(layout.line, int(floor[r.NOW])),
            owners=tuple(layout.owners),
            states=self._states(),
            departures=self._departures.all(),
            entered=int(floor[r.ENTERED]),
            inside_start=self._inside_start,
            inside_end=int(floor[r.INSIDE]),
            wip=self._numbers(floor[r.WIP_TIME], self._length_of_wip()),
            levels={
                name: self._numbers(floor[buffer + r.LEVEL_TIME], floor[buffer + r.CAPACITY] + 1)
                for buffer, name in layout.buffers.items()
            },
            windows=self._windows.all(),
            of_stations=tuple(self._stations()),
            of_machines=tuple(self._machines()),
            of_ends=tuple(self._ends()),
            of_stoppages=tuple(self._stoppages()),
            of_crews=tuple(self._crews()),
            defects=tuple(layout.defects),
            part_types=tuple(layout.part_types),
            characteristics=tuple(layout.characteristics),
            sizes=self._sizes.all(),
            readings=self._readings.all(),
            spells=self._spells.all(self._floor, self._running_spells()),
            visits=int(floor[r.VISITS]),
            events=int(floor[r.EVENTS]),
        )

    def _running_spells(self) -> list[tuple[int, int]]:
        """Owner's number and beginning [us] of each spell that still runs."""
        floor, layout = self._floor, self._layout
        owners = [(o + r.NUMBER, o + r.ACTIVE_SINCE) for o in (*layout.machines, *layout.carriages)]
        crews = [(c + r.CREW_NUMBER, c + r.ALL_BUSY_SINCE) for c in layout.crews.values()]
        return [(floor[number], floor[since]) for number, since in (*owners, *crews) if floor[since] >= 0]

    def _numbers(self, at: int, count: int) -> np.ndarray:
        return np.array(self._floor[at : at + count], dtype=np.int64)

    def _states(self) -> dict[str, np.ndarray]:
        floor = self._floor
        states = {name: self._numbers(m + r.TALLY, len(MachineState)) for m, (name, _) in self._layout.machines.items()}
        for carriage in self._layout.carriages:
            name = self._layout.owners[floor[carriage + r.NUMBER]].name
            states[name] = self._numbers(carriage + r.TALLY, len(CarriageState))
        return states

    def _stations(self) -> Iterator[StationCounts]:
        counts = (r.SCRAPPED, r.REWORKED, r.FALSE_REJECTS, r.SKIPPED)
        for name, step in self._layout.stations.items():
            processed = sum(self._at(machine, r.PROCESSED)[0] for machine in self._layout.places_of(step))
            yield StationCounts(name, processed, *self._at(step, *counts))

    def _machines(self) -> Iterator[MachineCounts]:
        for machine, (name, station) in self._layout.machines.items():
            yield MachineCounts(name, station, *self._at(machine, r.PROCESSED))

    def _ends(self) -> Iterator[EndCounts]:
        for end, name in self._layout.ends.items():
            number, batch, capacity = self._at(end, r.NUMBER, r.BATCH, r.CAPACITY)
            counts = self._at(end, r.STOCK_AREA, r.EMPTY_TIME, r.FULL_TIME)
            yield EndCounts(name, self._layout.owners[number].kind, 0 if batch else capacity, *counts)

    def _stoppages(self) -> Iterator[StoppageCounts]:
        for stop in self._layout.stoppages:
            if stop.kind != "by_hand":  # the table of crews has these calls
                counts = self._at(stop.record, r.BEGUN, r.WAITING_TIME, r.LASTING_TIME)
                yield StoppageCounts(stop.owner.name, stop.name, stop.kind, *counts)

    def _crews(self) -> Iterator[CrewCounts]:
        fields = (r.PEOPLE, r.DUTY_TIME, r.BUSY_TIME, r.ALL_BUSY_TIME, r.CALLS, r.CALLS_WAITED, r.WAITED_TIME)
        for name, crew in self._layout.crews.items():
            yield CrewCounts(name, *self._at(crew, *fields))

    def _at(self, record: int, *fields: int) -> list[int]:
        """Fields of a record, as plain numbers."""
        return [int(self._floor[record + at]) for at in fields]
