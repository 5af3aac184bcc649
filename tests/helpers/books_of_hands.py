"""The part of the audit that looks at people who load by hand: whom they serve, and how long each visit takes."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field

from linesim.engine.contract.ledger import to_us
from linesim.engine.contract.trace import Trace, What
from linesim.line.distributions import Constant, Distribution
from linesim.line.hands import hands
from linesim.line.model import Line

NO_TIME = Constant(0.0)


class ToursByHand:
    """Follows the rows of a trace and tells when a tour by hand is over, and its people are free."""

    def __init__(self, trace: Trace) -> None:
        numbers = {owner.name: number for number, owner in enumerate(trace.owners)}
        self._jobs = {numbers[of]: n for n, (of, kind, _) in enumerate(trace.stoppages) if kind == "by_hand"}
        self._last: dict[int, int] = {}  # hands -> the last place of their tour

    def hear(self, what: int, owner: int, value: int) -> None:
        if what == What.TOUR and owner in self._jobs:
            self._last[owner] = value

    def job_over(self, place: int, hand: int) -> int:
        """The call that is dealt with as these hands put a part down here, or -1."""
        if hand not in self._jobs or self._last.get(hand) != place:
            return -1
        del self._last[hand]
        return self._jobs[hand]


@dataclass
class _Tour:
    taken_us: int
    places: list[int] = field(default_factory=list)
    at: int = 0
    since_us: int = -1  # the end of the action before; -1: none yet


def check_hands(trace: Trace, line: Line) -> None:
    """Calls are taken before a tour; each machine on it is free for it; the actions follow each other without a gap,
    each as long as the line says where that leaves nothing to chance; and the tour ends with nothing in hand."""
    jobs = {n: of for n, (of, kind, _) in enumerate(trace.stoppages) if kind == "by_hand"}
    numbers = {owner.name: number for number, owner in enumerate(trace.owners)}
    calling: dict[int, int] = {}  # hands -> when their call was taken
    tours: dict[int, _Tour] = {}
    claimed: dict[int, set[int]] = defaultdict(set)  # machine -> hands on whose tours it is
    for time_us, what, owner, _, value in trace.rows.tolist():
        if what == What.CREW and value in jobs:
            hand = numbers[jobs[value]]
            assert hand not in tours, f"{jobs[value]} have a second tour at {time_us} us"
            calling[hand] = time_us
        elif what == What.TOUR and owner in calling:
            assert calling[owner] == time_us, f"{trace.owners[owner].name} plan a tour after they took their call"
            tours.setdefault(owner, _Tour(time_us)).places.append(value)
            claimed[value].add(owner)
            if trace.owners[value].kind == "machine":
                assert claimed[value] == {owner}, f"{trace.owners[value].name} is on two tours at {time_us} us"
        elif what in (What.LEAVE, What.ARRIVE) and value in tours:
            tour = tours[value]
            is_exchange = 0 < tour.at < len(tour.places) - 1
            if what == What.LEAVE and is_exchange:
                assert owner == tour.places[tour.at]
                continue  # the row of the part that comes follows
            _check_action(trace, line, tour, value, owner, time_us)
            claimed[owner].discard(value)
            if tour.at == len(tour.places):
                del tours[value], calling[value]


def _check_action(trace: Trace, line: Line, tour: _Tour, hand: int, owner: int, time_us: int) -> None:
    place = tour.places[tour.at]
    where = f"{trace.owners[hand].name} at {trace.owners[place].name}, {time_us} us"
    assert owner == place, f"{where}: serve {trace.owners[owner].name} instead"
    each = hands(line)[trace.owners[hand].group]
    law: Distribution = NO_TIME
    if given := each.stations.get(trace.owners[place].group):
        law = given.unloads if tour.at == 0 else given.loads if tour.at == len(tour.places) - 1 else given.exchange
    since_us = tour.since_us
    responses = {line.crews[name].response for name in each.called.crew}
    if tour.at == 0 and all(isinstance(response, Constant) for response in responses) and len(responses) == 1:
        since_us = tour.taken_us + to_us(responses.pop().mean)
    if since_us >= 0 and isinstance(law, Constant):
        assert time_us == since_us + to_us(law.value), f"{where}: takes {time_us - since_us} us"
    tour.at += 1
    tour.since_us = time_us
