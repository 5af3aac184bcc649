"""When a line can go no further: an error with time, parts and places, never a wrong number."""

from __future__ import annotations

from linesim.engine.contract import records as r
from linesim.engine.contract.held import part_in
from linesim.engine.contract.layout import Layout
from linesim.engine.contract.ledger import US
from linesim.engine.contract.records import Floor

MOST_ROUNDS = 10_000  # at one instant


class LockUp(RuntimeError):
    """The line has locked up: no timer will end, and parts are inside. `time_us`, and `parts`: place -> part ids.

    line: the name of the line, where a study runs several; else "".
    """

    line = ""

    def __init__(self, time_us: int, parts: dict[str, list[int]], why: str) -> None:
        self.time_us = time_us
        self.parts = parts
        where = "; ".join(f"{place}: part {', '.join(map(str, ids))}" for place, ids in parts.items())
        super().__init__(f"at t = {time_us / US:,.3f} s {why}. Parts inside: {where or 'none'}")


def locked_up(layout: Layout, floor: Floor) -> LockUp:
    """The error for a line on which nothing moves any more."""
    why = (
        "the line has locked up: nothing is being worked on, carried or repaired, and no part can move on. "
        "Look at the loader's next_call, at rework loops and at places that only each other could free"
    )
    return LockUp(floor[r.NOW], _parts_inside(layout, floor), why)


def stuck_in_time(layout: Layout, floor: Floor) -> LockUp:
    """The error for a line that goes round in zero time."""
    why = f"more than {MOST_ROUNDS:,} rounds of events took no time. Give some cycle or handling a duration above 0"
    return LockUp(floor[r.NOW], _parts_inside(layout, floor), why)


def _parts_inside(layout: Layout, floor: Floor) -> dict[str, list[int]]:
    found: dict[str, list[int]] = {}
    for machine, (name, _) in layout.machines.items():
        if floor[machine + r.PART] != r.NO_PART:
            count = max(1, floor[machine + r.N_INSIDE])
            found[name] = [floor[part_in(floor, machine, n) + r.PART_ID] for n in range(count)]
    for buffer, name in layout.buffers.items():
        at = (floor[buffer + r.HEAD] + n for n in range(floor[buffer + r.LEVEL]))
        parts = [floor[floor[buffer + r.RING] + n % floor[buffer + r.CAPACITY]] for n in at]
        if parts:
            found[name] = [floor[part + r.PART_ID] for part in parts]
    for carriage in layout.carriages:
        if floor[carriage + r.HELD] != r.NO_PART:
            found[layout.owners[floor[carriage + r.NUMBER]].name] = [floor[floor[carriage + r.HELD] + r.PART_ID]]
    return found
