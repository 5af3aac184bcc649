"""The ends of the line: an infeed whose stock runs empty, an outfeed that fills up, and a limit of parts inside.

A blank is ready if the stock holds one that no tour has claimed, and if fewer parts are inside than the limit allows.
A refill or emptying is called like a stop: by time, or when the stock reaches a level. Parts come and go meanwhile; it
takes effect when it ends. Arrivals bring blanks by themselves, and their stock has no limit.
"""

from __future__ import annotations

from linesim.engine.contract.crews import call, release
from linesim.engine.contract.levels import count_stock
from linesim.engine.contract.log import ROW_STOCK, ROW_STOCK_CALL, ROW_STOP_OVER, note
from linesim.engine.contract.records import (
    BATCH,
    BY_LEVEL,
    CAPACITY,
    END_JOB,
    EVERY,
    FIRST_PLACE,
    INFEED,
    LEVEL,
    LIMITED,
    N_STEPS,
    NONE,
    NUMBER,
    OFF,
    OUTFEED,
    OWNER,
    OWNER_KIND,
    PARTS_TAKEN,
    PROGRESS,
    ROOM_TAKEN,
    STEP,
    STEP_SIZE,
    STEPS,
    STOPPAGE_NUMBER,
    TRIGGER,
    Floor,
)
from linesim.engine.contract.touch import touch_room, touch_supply


def stock_changed(floor: Floor, place: int) -> None:
    """A part came or went: where the place is an end whose stock has reached its level, call for the job."""
    kind = floor[place + OWNER_KIND]
    if (kind != INFEED and kind != OUTFEED) or floor[place + END_JOB] == NONE:
        return
    job = floor[place + END_JOB]
    if floor[job + TRIGGER] == BY_LEVEL and floor[job + PROGRESS] == OFF:
        level = floor[place + LEVEL]
        if level <= floor[job + EVERY] if kind == INFEED else level >= floor[job + EVERY]:
            call_for_job(floor, job)


def call_for_job(floor: Floor, job: int) -> None:
    """A refill or emptying is due: it calls its crew, or begins by itself."""
    end = floor[job + OWNER]
    count_stock(floor, end, 0)
    note(floor, ROW_STOCK_CALL, floor[end + NUMBER], -1, floor[job + STOPPAGE_NUMBER])
    call(floor, job)


def job_done(floor: Floor, job: int) -> None:
    """The infeed is full again, or the outfeed empty."""
    end = floor[job + OWNER]
    is_infeed = floor[end + OWNER_KIND] == INFEED
    count_stock(floor, end, floor[end + CAPACITY] - floor[end + LEVEL] if is_infeed else -floor[end + LEVEL])
    note(floor, ROW_STOP_OVER, floor[end + NUMBER], -1, floor[job + STOPPAGE_NUMBER])
    release(floor, job)
    note(floor, ROW_STOCK, floor[end + NUMBER], -1, floor[end + LEVEL])
    if is_infeed:
        touch_supply(floor, floor[end + STEP])
    else:
        touch_room(floor, floor[end + STEP])


def parts_arrive(floor: Floor, infeed: int) -> None:
    """A batch of blanks comes to the infeed."""
    count_stock(floor, infeed, floor[infeed + BATCH])
    note(floor, ROW_STOCK, floor[infeed + NUMBER], -1, floor[infeed + LEVEL])
    touch_supply(floor, floor[infeed + STEP])


def waits_for_the_outside(floor: Floor) -> bool:
    """Whether a line on which nothing moves waits for blanks or for its outfeed to be emptied: it is not locked up."""
    infeed = floor[floor[STEPS] + FIRST_PLACE]
    outfeed = floor[floor[STEPS] + (floor[N_STEPS] - 1) * STEP_SIZE + FIRST_PLACE]
    if floor[infeed + LIMITED] and floor[infeed + LEVEL] <= floor[infeed + PARTS_TAKEN]:
        return True
    full = floor[outfeed + LEVEL] + floor[outfeed + ROOM_TAKEN] >= floor[outfeed + CAPACITY]
    return floor[outfeed + LIMITED] == 1 and full
