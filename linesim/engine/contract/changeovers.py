"""Changeovers: a machine that gets a part of another type than its last is set up for it before it starts.

It is a stop like others, due as the part comes. What a machine gets first it is set up for already.
"""

from __future__ import annotations

from linesim.engine.contract.records import (
    CHANGEOVER,
    DUE,
    MIX,
    N_PART_TYPES,
    OWNER_KIND,
    PART,
    PART_TYPE,
    PROGRESS,
    SET_UP_FOR,
    STATION,
    TAKES_STREAM,
    TAKES_TABLE,
    Floor,
)
from linesim.engine.contract.stoppages import take_up_due_stop


def set_up(floor: Floor, place: int) -> None:
    """A part has come to a place: a machine that makes another type than before changes over first."""
    if floor[place + OWNER_KIND] != STATION or not floor[place + CHANGEOVER]:
        return
    before = floor[place + SET_UP_FOR]
    kind = floor[floor[place + PART] + PART_TYPE]
    floor[place + SET_UP_FOR] = kind
    if before < 0 or before == kind:
        return
    stop = floor[place + CHANGEOVER]
    stream = floor[floor[stop + TAKES_TABLE] + before * floor[floor[MIX] + N_PART_TYPES] + kind]
    if stream >= 0:
        floor[stop + TAKES_STREAM] = stream
        floor[stop + PROGRESS] = DUE
        take_up_due_stop(floor, place)
