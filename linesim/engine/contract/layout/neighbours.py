"""Which steps depend on which: what makes a local look equal to a look at the whole line.

A step's *sources* are the steps whose way on can change when it changes: the step itself, those that some part goes
there from, further ones behind buffers that a loader may pass over, and stations that send rejects there. From them
follow
senders: those whose parts may move to it directly;
callers: those whose parts a carriage may bring, itself included: their calls may open or close;
feeders: those from which a carriage may bring a part to it;
viewers: stations whose starts or states can change when it changes: itself, sources that wait for a carriage
or for room before they start, all that its sources feed by carriage, and those whose parts a tour could swap in.
"""

from __future__ import annotations

from collections.abc import Sequence

from linesim.engine.contract import records as r


def write_neighbours(floor: list[int], steps: Sequence[int]) -> None:
    """Write the lists of every step behind the end of the floor."""
    sources = {step: _sources(floor, steps, step) for step in steps}
    feeders = {step: [s for s in sources[step] if s != step and _is_carried(floor, s)] for step in steps}
    for step in steps:
        fed = {other for other in steps if set(feeders[other]) & set(sources[step])} | _swapped_in(
            floor, step, sources, feeders
        )
        _write(floor, step, r.SENDERS, [s for s in sources[step] if s != step and floor[s + r.MOVES_DIRECTLY]])
        _write(floor, step, r.CALLERS, [s for s in sources[step] if _is_carried(floor, s)])
        _write(floor, step, r.FEEDERS, feeders[step])
        waiting = {s for s in sources[step] if s == step or _is_carried(floor, s) or floor[s + r.BEFORE_SERVICE]}
        _write(floor, step, r.VIEWERS, [s for s in sorted(waiting | fed) if floor[s + r.KIND] == r.STATION])


def _swapped_in(floor: list[int], step: int, sources: dict[int, list[int]], feeders: dict[int, list[int]]) -> set[int]:
    """Steps whose parts could be swapped in on the way to a call that this step opens or closes."""
    carriages = range(floor[r.CARRIAGES], floor[r.CARRIAGES] + floor[r.N_CARRIAGES] * r.CARRIAGE_SIZE, r.CARRIAGE_SIZE)
    most = max((floor[c + r.EXCHANGES] for c in carriages if floor[c + r.GRIPPERS] == 2), default=0)
    found: set[int] = set()
    reached = set(sources[step])
    for _ in range(most):
        reached = {feeder for member in reached for feeder in feeders[member]}
        found |= reached
    return found


def _write(floor: list[int], step: int, field: int, members: Sequence[int]) -> None:
    """A list goes to the end of the floor; its address and length are neighbouring fields of the step."""
    floor[step + field] = len(floor)
    floor[step + field + 1] = len(members)
    floor.extend(members)


def _sources(floor: list[int], steps: Sequence[int], step: int) -> list[int]:
    """In route order."""
    found = {step}
    reached = [step]
    while reached:
        at = reached.pop()
        senders = [s for s in steps if floor[s + r.REWORK_TO] == at or at in _next_of(floor, s)]
        for sender in senders:
            found.add(sender)
            # What changes here changes the way on of a sender, and beyond it if parts can pass over the sender.
            if floor[sender + r.PASSABLE] and sender != step:
                reached.append(sender)
    return sorted(found)


def _next_of(floor: list[int], step: int) -> list[int]:
    """The steps that parts go to from a step, unless they are sent back."""
    table = floor[step + r.NEXT_BY_TYPE]
    return floor[table : floor[step + r.WAYS_PAST]] if table else [step + r.STEP_SIZE]


def _is_carried(floor: list[int], step: int) -> bool:
    """Whether a carriage takes parts away from a step."""
    past = floor[step + r.WAYS_PAST]
    carriages = [floor[step + way] for way in (r.WAY_OUT, r.REWORK_WAY, r.CHUTE_WAY, r.DRAWER_WAY)]
    return any(carriages + (floor[past : past + floor[r.N_STEPS]] if past else []))
