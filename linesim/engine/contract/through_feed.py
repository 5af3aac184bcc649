"""Through-feed: parts enter one after the other, at most one each pitch, and are at the exit after their transit.

It moves as a whole. When a part is at the exit everything stands until that has been taken; likewise while the machine
is down or closed. Each part has a clock of its own, and so has the entry; they run while the machine works, that of
the entry also while it is empty. A machine that has parts inside and none at the exit is loaded, and starts again.
"""

from __future__ import annotations

from linesim.engine.contract.held import put_last, take_first
from linesim.engine.contract.records import (
    EMPTY,
    ENTRY_CLOSED,
    LOADED,
    N_DONE,
    N_INSIDE,
    NOW,
    PHASE,
    SINCE,
    STEP,
    Floor,
)
from linesim.engine.contract.touch import touch_room


def enter_feed(floor: Floor, machine: int, part: int) -> None:
    """A part is put down at the entry, which is closed then."""
    put_last(floor, machine, part)
    floor[machine + ENTRY_CLOSED] = 1
    if floor[machine + N_INSIDE] == 1:
        floor[machine + PHASE] = LOADED
        floor[machine + SINCE] = floor[NOW]


def leave_feed(floor: Floor, machine: int) -> None:
    """The first part leaves: from the exit, or as scrap."""
    floor[machine + N_DONE] = 0
    take_first(floor, machine)
    floor[machine + PHASE] = LOADED if floor[machine + N_INSIDE] else EMPTY
    floor[machine + SINCE] = floor[NOW]


def open_entry(floor: Floor, machine: int) -> None:
    """The part that entered a through-feed last is a pitch inside: another may follow."""
    floor[machine + ENTRY_CLOSED] = 0
    touch_room(floor, floor[machine + STEP])
