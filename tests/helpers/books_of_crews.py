"""The part of the audit that looks at crews: who takes which call, with how many people, and what is booked on them."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field

from linesim.engine.contract.ledger import Ledger
from linesim.engine.contract.trace import Trace, What
from linesim.line.hands import hands
from linesim.line.machines import each_machine
from linesim.line.model import PRIORITIES, Called, Line
from linesim.line.tool_life import stops_of
from tests.helpers.books_of_hands import ToursByHand
from tests.helpers.rails import carrier


@dataclass
class Board:
    """Calls that wait and people at work, as the trace tells it."""

    calls: list[Called]
    people: dict[str, int]  # on duty
    waiting: dict[int, int] = field(default_factory=dict)  # stoppage -> time of its call
    taken: dict[int, tuple[str, int]] = field(default_factory=dict)  # stoppage -> crew, time

    def free(self, crew: str) -> int:
        return self.people[crew] - sum(self.calls[n].people for n, (name, _) in self.taken.items() if name == crew)

    def before(self, stoppage: int) -> list[int]:
        """Waiting calls that go before this one: by priority, then by the time of the call, then in file order."""
        return [n for n in self.waiting if self._rank(n) < self._rank(stoppage)]

    def _rank(self, stoppage: int) -> tuple[int, int, int]:
        return PRIORITIES.index(self.calls[stoppage].priority), self.waiting[stoppage], stoppage

    def is_held_back(self, crew: str, stoppage: int) -> bool:
        """Whether the people of a crew are kept for an earlier call than this one."""
        earlier = [self.calls[n] for n in self.before(stoppage)]
        return any(it.crew[0] == crew and 1 < it.people <= self.people[crew] for it in earlier)

    def could_take(self, crew: str, stoppage: int) -> bool:
        return self.free(crew) >= self.calls[stoppage].people and not self.is_held_back(crew, stoppage)


def check_crews(ledger: Ledger, trace: Trace, line: Line) -> None:
    """The right crew takes the right call, and no call waits that could be taken; times and counts agree.

    A call counts when it is taken, so does its waiting.
    """
    board = Board(
        [called_of(line, trace, index) for index in range(len(trace.stoppages))],
        {name: crew.most_people for name, crew in line.crews.items()},
    )
    busy: dict[str, list[tuple[int, int]]] = defaultdict(list)  # from, to; once for each person
    waits: dict[str, list[int]] = defaultdict(list)  # of the calls taken in the window
    now_us = 0
    tours = ToursByHand(trace)
    for time_us, what, owner, part, value in trace.rows.tolist():
        if time_us > now_us:
            _nobody_waits_in_vain(board, trace, now_us)
            now_us = time_us
        name = trace.owners[owner].name
        tours.hear(what, owner, value)
        if what == What.ARRIVE and (job := tours.job_over(owner, value)) >= 0:
            crew, since_us = board.taken.pop(job)
            busy[crew] += [(since_us, time_us)] * board.calls[job].people
        elif what == What.CALL_HANDS:
            board.waiting.pop(value, None)
            if part >= 0:
                board.waiting[value] = part
        elif what in (What.FAIL, What.STOP, What.STOCK_CALL) and board.calls[value].crew:
            board.waiting[value] = time_us
        elif what == What.DUTY and trace.owners[owner].kind == "crew":
            board.people[name] = value
        elif what == What.CREW:
            _may_take(board, trace, name, value, time_us)
            called_us = board.waiting.pop(value)
            board.taken[value] = name, time_us
            if time_us >= ledger.warmup_us:
                waits[name].append(time_us - called_us)
        elif what in (What.REPAIRED, What.STOP_OVER) and value in board.taken:
            crew, since_us = board.taken.pop(value)
            busy[crew] += [(since_us, time_us)] * board.calls[value].people
    for stoppage, (crew, since_us) in board.taken.items():
        busy[crew] += [(since_us, ledger.horizon_us)] * board.calls[stoppage].people
    for row in ledger.crews.to_dict("records"):
        name = str(row["crew"])
        told = sum(max(0, to - max(since, ledger.warmup_us)) for since, to in busy[name])
        assert row["people"] == line.crews[name].most_people
        assert row["busy_us"] == told, f"crew {name} busy {row['busy_us']} us, the trace says {told} us"
        assert 0 <= row["all_busy_us"] <= ledger.measured_us
        assert row["calls"] == len(waits[name]), f"calls of crew {name}"
        assert row["calls_waited"] == sum(wait > 0 for wait in waits[name]), f"calls that waited for {name}"
        assert row["waited_us"] == sum(waits[name]), f"time that calls waited for {name}"


def _may_take(board: Board, trace: Trace, crew: str, stoppage: int, time_us: int) -> None:
    called = board.calls[stoppage]
    assert crew in called.crew, f"crew {crew} takes a call for {called.crew} at {time_us} us"
    assert board.free(crew) >= called.people, f"crew {crew} has {board.free(crew)} people free at {time_us} us"
    assert not board.is_held_back(crew, stoppage), f"people of {crew} are kept for an earlier call at {time_us} us"
    for other in board.before(stoppage):
        passed_over = crew in board.calls[other].crew and board.could_take(crew, other)
        assert not passed_over, f"crew {crew} passes over {trace.stoppages[other]} at {time_us} us"
    for preferred in called.crew[: called.crew.index(crew)]:
        assert not board.could_take(preferred, stoppage), f"{crew} comes instead of {preferred} at {time_us} us"


def _nobody_waits_in_vain(board: Board, trace: Trace, time_us: int) -> None:
    for stoppage in board.waiting:
        for crew in board.calls[stoppage].crew:
            assert not board.could_take(crew, stoppage), (
                f"{trace.stoppages[stoppage]} still waits behind {time_us} us, though {crew} could take its call"
            )


def called_of(line: Line, trace: Trace, stoppage: int) -> Called:
    """What the line says of a breakdown or stop in a trace."""
    owner_name, kind, name = trace.stoppages[stoppage]
    owner = next(owner for owner in trace.owners if owner.name == owner_name)
    if kind == "by_hand":
        return hands(line)[owner.group].called
    if owner.kind == "carriage":
        loader = carrier(line, owner.name)
        if kind == "drawer":
            return line.drawers[name].emptied
        return loader.zone[name] if kind == "zone" else loader.breakdowns[name]
    if owner.kind in ("infeed", "outfeed"):
        job = line.infeed[owner_name].refill if owner.kind == "infeed" else line.outfeed[owner_name].emptied
        assert job is not None
        return job
    station = each_machine(owner.group, line.stations[owner.group])[owner_name]
    if kind == "breakdown":
        return station.breakdowns[name]
    if kind == "changeover":
        assert station.changeover is not None
        return station.changeover
    if kind == "cold_start":
        assert station.cold_start is not None
        return station.cold_start
    stops = {(of_kind, called): stop for of_kind, called, stop in stops_of(station)}
    return stops[kind, name]
