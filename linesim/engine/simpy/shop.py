"""The shop: a SimPy environment with a clock for each timer, a story for all that takes time, and the decision."""

from __future__ import annotations

import simpy

from linesim.engine.contract import records as r
from linesim.engine.contract.at_start import fill_buffers
from linesim.engine.contract.books import Books
from linesim.engine.contract.decide import decide, look_at_everything
from linesim.engine.contract.ends import waits_for_the_outside
from linesim.engine.contract.layout import ROWS_KEPT, Layout, Stoppage
from linesim.engine.contract.lockup import MOST_ROUNDS, locked_up, stuck_in_time
from linesim.engine.contract.order import may_run, strikes_now
from linesim.engine.contract.part_types import add_type, types_to_draw
from linesim.engine.contract.shifts import may_rest
from linesim.engine.contract.streams import Draws, start_age
from linesim.engine.contract.windows import close_window
from linesim.engine.simpy.clock import Clock, fire
from linesim.engine.simpy.stories import (
    arrivals_story,
    batch_wait_story,
    belt_story,
    breakdown_story,
    buffer_story,
    call_by_hand_story,
    carriage_story,
    machine_story,
    stop_story,
    through_feed_story,
    week_story,
)


class Shop:
    """One replication of a line, ready to run."""

    shortest_stretch_us = 1

    def __init__(self, layout: Layout, seed: int, replication: int, trace: bool, look_everywhere: bool) -> None:
        self.layout = layout
        self.floor = layout.new_floor()
        self.floor[r.TRACING] = int(trace)
        self.floor[r.LOOK_EVERYWHERE] = int(look_everywhere)
        self.env = simpy.Environment(initial_time=0)
        self.books = Books(layout, self.floor)
        self._key = (seed, replication)
        self._waiting: dict[tuple[int, int], simpy.Event] = {}
        self._last_instant, self._rounds = -1, 0
        self._decision_due = True
        self._make_clocks()
        self._draws = [Draws(stream, seed, replication) for stream in layout.streams]
        self._tell_stories()
        self._draw_types()
        fill_buffers(self.floor)
        look_at_everything(self.floor)

    def _make_clocks(self) -> None:
        floor = self.floor
        self.clocks: list[Clock] = []
        self._work_clocks: list[Clock] = []
        for rank in range(floor[r.N_TIMERS]):
            timer = floor[r.TIMERS] + rank * r.TIMER_SIZE
            clock = Clock(self.env, rank, floor[timer + r.TIMER_KIND], floor[timer + r.TIMED], self._on_tick)
            self.clocks.append(clock)
            if clock.kind < r.TRIGGER_CLOCK:
                self._work_clocks.append(clock)
        self._owned = {
            owner: [self.clocks[floor[n]] for n in self._timers_of(owner)]
            for owner in (*self.layout.machines, *self.layout.carriages, *self.layout.ends)
        }

    def _timers_of(self, owner: int) -> range:
        first = self.floor[owner + r.OWN_TIMERS]
        return range(first, first + self.floor[owner + r.N_OWN_TIMERS])

    def settle(self, owner: int) -> None:
        """Let every clock of an owner run or stand still, as its present state asks for."""
        floor = self.floor
        for clock in self._owned[owner]:
            if clock.is_set and may_run(floor, clock.kind, clock.record, owner) != clock.runs:
                if not clock.runs:
                    clock.go_on()
                elif clock.due != floor[r.NOW] or not strikes_now(floor, clock.kind, owner):
                    clock.stand_still()

    def _on_tick(self) -> None:
        self.floor[r.NOW] = int(self.env.now)
        self.floor[r.EVENTS] += 1
        self._decision_due = True

    def _draw_types(self) -> None:
        """Draw the types of the blanks that may leave the infeed next."""
        for _ in range(types_to_draw(self.floor)):
            add_type(self.floor, self.draw(self.floor[self.floor[r.MIX] + r.MIX_STREAM]))

    def draw(self, stream: int) -> int:
        """The next number of a random stream; -1 where there is none."""
        return self._draws[stream].next() if stream >= 0 else -1

    def start_age(self, stop: Stoppage) -> int:
        return start_age(stop, self.floor[stop.record + r.EVERY], *self._key)

    def _tell_stories(self) -> None:
        env = self.env
        for machine in self.layout.machines:
            if self.floor[machine + r.PITCH]:
                env.process(belt_story(self, machine))
                env.process(through_feed_story(self, machine))
            else:
                env.process(machine_story(self, machine))
            if self.floor[machine + r.LONGEST_WAIT] >= 0:
                env.process(batch_wait_story(self, machine))
        for carriage in self.layout.carriages:
            env.process(carriage_story(self, carriage))
        for buffer in self.layout.buffers:
            if self.floor[buffer + r.DWELL]:
                env.process(buffer_story(self, buffer))
        for end in self.layout.ends:
            if self.floor[end + r.BATCH]:
                env.process(arrivals_story(self, end))
        if self.floor[r.CALENDAR]:
            env.process(week_story(self))
        for stoppage in self.layout.stoppages:
            story = {"breakdown": breakdown_story, "by_hand": call_by_hand_story}.get(stoppage.kind, stop_story)
            env.process(story(self, stoppage))

    def begins(self, what: int, who: int) -> simpy.Event:
        """The event that fires when a decision wants this timer started."""
        event = self.env.event()
        self._waiting[what, who] = event
        return event

    def run_until(self, time_us: int) -> None:
        """Run up to an instant, window by window; what is due at that instant itself comes later."""
        while self.floor[r.WINDOW_ENDS] < time_us:
            self._run_until(self.floor[r.WINDOW_ENDS])
            close_window(self.floor)
        self._run_until(time_us)

    def _run_until(self, time_us: int) -> None:
        """A round: every clock that is due ends, in the order of its rank; then the line decides once."""
        env = self.env
        while env.now < time_us:
            while env.peek() == env.now:
                env.step()
            if self._decision_due:
                self._decide()
            elif env.peek() < time_us:
                env.step()
            else:
                break
        self.floor[r.NOW] = time_us

    def _decide(self) -> None:
        self._decision_due = False
        floor = self.floor
        self._rounds = self._rounds + 1 if floor[r.NOW] == self._last_instant else 1
        self._last_instant = floor[r.NOW]
        if self._rounds > MOST_ROUNDS:
            raise stuck_in_time(self.layout, floor)
        decide(floor)
        count, at = floor[r.N_WAKES], floor[r.WAKES]
        floor[r.N_WAKES] = 0
        for n in range(at, at + 2 * count, 2):
            fire(self._waiting.pop((floor[n], floor[n + 1])))
        for n in range(floor[r.N_SETTLES]):
            self.settle(floor[floor[r.SETTLES] + n])
        floor[r.N_SETTLES] = 0
        self._draw_types()
        self.books.empty_rows(ROWS_KEPT)
        nothing_works = not any(clock.runs for clock in self._work_clocks)
        if count == 0 and nothing_works and not waits_for_the_outside(floor) and not may_rest(floor):
            raise locked_up(self.layout, floor)
