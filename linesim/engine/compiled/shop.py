"""One replication of a line on the compiled kernel: hands it what it needs whenever it returns."""

from __future__ import annotations

from linesim.engine.compiled.clock import MOST_TIMERS, new_tree
from linesim.engine.compiled.draws import Blocks
from linesim.engine.compiled.kernel import (
    LOCKED_UP,
    NEEDS_DRAWS,
    REACHED,
    ROWS_FULL,
    STUCK_IN_TIME,
    advance,
    begin,
)
from linesim.engine.compiled.translate import compiled
from linesim.engine.contract import records as r
from linesim.engine.contract.books import Books
from linesim.engine.contract.decide import look_at_everything
from linesim.engine.contract.layout import ROWS_KEPT, Layout
from linesim.engine.contract.lockup import locked_up, stuck_in_time
from linesim.engine.contract.streams import start_age
from linesim.line.calendar import WEEK_US

_advance = compiled(advance)
_begin = compiled(begin)


class Shop:
    """One replication of a line, ready to run."""

    shortest_stretch_us = WEEK_US  # over in some 20 ms; each return waits for the other threads of Python

    def __init__(self, layout: Layout, seed: int, replication: int, trace: bool, look_everywhere: bool) -> None:
        if layout.floor[r.N_TIMERS] > MOST_TIMERS:
            raise ValueError(f"the compiled engine takes {MOST_TIMERS} timers at most")
        self.layout = layout
        self.floor = layout.new_array()
        self.floor[r.TRACING] = trace
        self.floor[r.LOOK_EVERYWHERE] = look_everywhere
        self.books = Books(layout, self.floor)
        self._tree = new_tree(layout.floor[r.N_TIMERS])
        most_at_once = 16 + layout.floor[r.N_MACHINES] + layout.most_strokes + layout.types_ahead
        most_at_once += layout.most_together
        self._blocks = Blocks(layout.streams, seed, replication, most_at_once)
        for stop in layout.stoppages:
            if stop.kind != "breakdown":
                self.floor[stop.record + r.COUNT] = start_age(
                    stop, layout.floor[stop.record + r.EVERY], seed, replication
                )
        self.floor[r.LEAVES] = len(self._tree) // 2
        self.floor[r.COLUMNS] = self._blocks.numbers.shape[1]
        _begin(self.floor, self._tree, self._blocks.numbers)
        self.floor[r.DECISION_DUE] = 1
        look_at_everything(self.floor)

    def run_until(self, time_us: int) -> None:
        """Run up to an instant; what is due at that instant itself comes later."""
        while (why := _advance(self.floor, self._tree, self._blocks.numbers, time_us)) != REACHED:
            if why == LOCKED_UP:
                raise locked_up(self.layout, self.floor)
            if why == STUCK_IN_TIME:
                raise stuck_in_time(self.layout, self.floor)
            if why == NEEDS_DRAWS:
                self.floor[r.DRAWS_LOW] = 0
                self._blocks.refill()
            if why == ROWS_FULL:
                self.books.empty_rows(ROWS_KEPT)
