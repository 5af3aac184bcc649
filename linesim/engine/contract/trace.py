"""The trace: every change on the line as a row of five whole numbers, in the order of happening.

Readers must keep that order: rows of one instant are a story. What each number means is in `What`.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum

import numpy as np

from linesim.engine.contract.ledger import Owner

TRACE_COLUMNS = ("time_us", "what", "owner", "part", "value")


class What(IntEnum):
    """Kinds of rows. `owner` and every place in `value` are indices in `Trace.owners`; -1 stands for none."""

    STATE = 0  # owner's new state in value: MachineState of a machine, CarriageState of a carriage
    LEAVE = 1  # part leaves place owner; value: the carriage that took it, or -1 for a direct hand-over. Where a route
    # ends without an outfeed, the last LEAVE has no ARRIVE
    ARRIVE = 2  # part arrives at place owner; value likewise. In between it is in that carriage's gripper
    START = 3  # machine owner starts on part; value: duration [us]. Of several together a row each; END likewise
    END = 4  # machine owner ends its operation on part; value: index of the defect it made, or -1
    SCRAP = 5  # part is scrapped at machine owner, or falls into chute owner, and leaves; value: its defect, or -1
    REWORK = 6  # part is rejected at machine owner and will go back; value: the place it goes to
    FAIL = 7  # owner breaks down; part: on board or -1; value: index in `Trace.stoppages`
    REPAIRED = 8  # owner is up again; value: index in `Trace.stoppages`
    STOP = 9  # a tool change, dressing, ... takes machine owner; part: on board or -1; value: index in stoppages. Of
    # a carriage: people want to open a zone; they call their crew, and the state tells when it is open
    STOP_OVER = 10  # it is over; value likewise
    CREW = 11  # crew owner takes a call; value: index in `Trace.stoppages`
    TOUR = 12  # carriage owner will stop at place value; a row a stop, in order, when the tour is chosen
    LEG = 13  # carriage owner starts to move; part holds the place it moves to; value: duration [us]
    CALL = 14  # machine owner calls its loader before its operation on part ends; value: -1
    STROKES = 15  # the operation that machine owner just started on part takes strokes; value: how many the part needs
    SIZE = 16  # machine owner has given part a size; value: deviation from nominal [nm]. A row a characteristic, in the
    # order of the file, just before END
    STOCK_CALL = 17  # infeed or outfeed owner calls for its refill or emptying; value: index in `Trace.stoppages`
    STOCK = (
        18  # the stock of owner, an end of the route or drawer, was refilled or emptied, or blanks came; value: parts
    )
    # in it now
    DUTY = 19  # the shift of owner changes; value: 0 on duty, 1 in a break or planned stop, 2 off shift; of a crew its
    # people on duty. The first rows tell who is not on duty as the run starts
    READ = 20  # machine owner has measured a size of part; value: its reading [nm]. A row a measured characteristic, in
    # the order of the file, just after END
    PART_TYPE = 21  # the part that now leaves infeed owner is of a type; value: index in `Trace.part_types`
    CORRECT = 22  # machine owner is corrected because of the size of part just read; value: its correction in all [pm]
    GIVE_WAY = 23  # carriage owner moves aside; part holds the point on the rail where to [um]; value: duration [us]
    SET_ASIDE = 24  # part at machine owner will not go on, but waits for its way to the chute or drawer in value
    CALL_HANDS = 25  # hands owner call for people since the time that part holds [us], -1: no longer; value: index in
    # `Trace.stoppages`. Its tour is over when the part that is put down last has arrived
    SKIPPED = 26  # part at machine owner goes on, though it should be a sample: the drawer in value has no place for it


@dataclass(frozen=True)
class Trace:
    """rows: int64, shape (n, 5), columns TRACE_COLUMNS. stoppages: (owner name, kind, name) of each one."""

    rows: np.ndarray
    owners: tuple[Owner, ...]
    stoppages: tuple[tuple[str, str, str], ...]
    defects: tuple[tuple[str, str], ...]  # (station, name)
    part_types: tuple[str, ...] = ()
