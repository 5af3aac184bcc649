"""Rows that leave the shop floor: trace and departures. The engine takes them away before the room runs out."""

from __future__ import annotations

from linesim.engine.contract.ledger import DEPARTURE_COLUMNS, READING_COLUMNS, SIZE_COLUMNS, Fate
from linesim.engine.contract.records import (
    BORN,
    CHARGED_TO,
    DEFECT,
    DEPARTURES_AT,
    LOST_AT,
    N_DEPARTURES,
    N_READINGS,
    N_SIZES,
    N_TRACE,
    NOW,
    PART_ID,
    PART_TYPE,
    READINGS_AT,
    REWORKS,
    SIZES_AT,
    STATION_NUMBER,
    TRACE_AT,
    TRACE_LOST,
    TRACE_ROOM,
    TRACING,
    Floor,
)
from linesim.engine.contract.trace import TRACE_COLUMNS, What

TRACE_WIDTH = len(TRACE_COLUMNS)
DEPARTURE_WIDTH = len(DEPARTURE_COLUMNS)
SIZE_WIDTH = len(SIZE_COLUMNS)
READING_WIDTH = len(READING_COLUMNS)

# The names as plain numbers: rules know nothing of enumerations.
(
    ROW_STATE,
    ROW_LEAVE,
    ROW_ARRIVE,
    ROW_START,
    ROW_END,
    ROW_SCRAP,
    ROW_REWORK,
    ROW_FAIL,
    ROW_REPAIRED,
    ROW_STOP,
    ROW_STOP_OVER,
    ROW_CREW,
    ROW_TOUR,
    ROW_LEG,
    ROW_CALL,
    ROW_STROKES,
    ROW_SIZE,
    ROW_STOCK_CALL,
    ROW_STOCK,
    ROW_DUTY,
    ROW_READ,
    ROW_PART_TYPE,
    ROW_CORRECT,
    ROW_GIVE_WAY,
    ROW_SET_ASIDE,
    ROW_CALL_HANDS,
    ROW_SKIPPED,
) = (int(what) for what in What)
GOOD, SCRAP, SAMPLE = int(Fate.GOOD), int(Fate.SCRAPPED), int(Fate.SAMPLED)


def note(floor: Floor, what: int, owner: int, part: int, value: int) -> None:
    """Write one trace row; `owner` is a number, `part` an id, as they stand in the trace."""
    if floor[TRACING]:
        if floor[N_TRACE] == floor[TRACE_ROOM]:
            floor[TRACE_LOST] += 1
            return
        row = floor[TRACE_AT] + TRACE_WIDTH * floor[N_TRACE]
        floor[row] = floor[NOW]
        floor[row + 1] = what
        floor[row + 2] = owner
        floor[row + 3] = part
        floor[row + 4] = value
        floor[N_TRACE] += 1


def note_departure(floor: Floor, part: int, fate: int) -> None:
    """Write down a part that leaves the line; `part` is its record."""
    row = floor[DEPARTURES_AT] + DEPARTURE_WIDTH * floor[N_DEPARTURES]
    floor[row] = floor[NOW]
    floor[row + 1] = floor[part + PART_ID]
    floor[row + 2] = floor[part + BORN]
    floor[row + 3] = fate
    floor[row + 4] = floor[part + DEFECT]
    floor[row + 5] = floor[floor[part + CHARGED_TO] + STATION_NUMBER] if fate == SCRAP else -1
    floor[row + 6] = floor[part + REWORKS]
    floor[row + 7] = floor[part + PART_TYPE]
    floor[row + 8] = floor[floor[part + LOST_AT] + STATION_NUMBER] if fate != GOOD else -1
    floor[N_DEPARTURES] += 1


def note_size(floor: Floor, part: int, machine: int, characteristic: int, size: int, set_to: int) -> None:
    """Write down a size that was made; `part` is its record, machine and characteristic are numbers, sizes in nm."""
    row = floor[SIZES_AT] + SIZE_WIDTH * floor[N_SIZES]
    floor[row] = floor[NOW]
    floor[row + 1] = floor[part + PART_ID]
    floor[row + 2] = machine
    floor[row + 3] = characteristic
    floor[row + 4] = size
    floor[row + 5] = set_to
    floor[N_SIZES] += 1


def note_reading(
    floor: Floor, part: int, gauge: int, characteristic: int, maker: int, size: int, reading: int, moved: int
) -> None:
    """Write down a reading of a part (its record); the next three are numbers, sizes in nm, moved in pm."""
    row = floor[READINGS_AT] + READING_WIDTH * floor[N_READINGS]
    floor[row] = floor[NOW]
    floor[row + 1] = floor[part + PART_ID]
    floor[row + 2] = gauge
    floor[row + 3] = characteristic
    floor[row + 4] = maker
    floor[row + 5] = size
    floor[row + 6] = reading
    floor[row + 7] = moved
    floor[N_READINGS] += 1
