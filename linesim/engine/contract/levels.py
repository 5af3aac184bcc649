"""Levels: parts inside, in a buffer, in stock at an end; and the time spent at each."""

from __future__ import annotations

from linesim.engine.contract.records import (
    CAPACITY,
    EMPTY_TIME,
    END_JOB,
    FULL_TIME,
    INSIDE,
    INSIDE_SINCE,
    LASTING_TIME,
    LEVEL,
    LEVEL_SINCE,
    LEVEL_TIME,
    NOW,
    OFF,
    PROGRESS,
    STOCK_AREA,
    UNDER_WAY,
    WAITING_TIME,
    WIP_AREA,
    WIP_TIME,
    Floor,
)


def count_inside(floor: Floor, change: int) -> None:
    """The number of parts inside changes; 0 only brings the tallies up to now."""
    lasted = floor[NOW] - floor[INSIDE_SINCE]
    floor[floor[WIP_TIME] + floor[INSIDE]] += lasted
    floor[WIP_AREA] += lasted * floor[INSIDE]
    floor[INSIDE_SINCE] = floor[NOW]
    floor[INSIDE] += change


def count_level(floor: Floor, buffer: int, change: int) -> None:
    """The level of a buffer changes; 0 only brings its tally up to now."""
    floor[floor[buffer + LEVEL_TIME] + floor[buffer + LEVEL]] += floor[NOW] - floor[buffer + LEVEL_SINCE]
    floor[buffer + LEVEL_SINCE] = floor[NOW]
    floor[buffer + LEVEL] += change


def count_stock(floor: Floor, end: int, change: int) -> None:
    """The stock of an infeed or outfeed changes; 0 only brings its tallies, and those of its job, up to now."""
    lasted = floor[NOW] - floor[end + LEVEL_SINCE]
    level = floor[end + LEVEL]
    floor[end + STOCK_AREA] += lasted * level
    if level == 0:
        floor[end + EMPTY_TIME] += lasted
    elif level >= floor[end + CAPACITY]:
        floor[end + FULL_TIME] += lasted
    job = floor[end + END_JOB]
    if job and floor[job + PROGRESS] != OFF:
        floor[job + (LASTING_TIME if floor[job + PROGRESS] == UNDER_WAY else WAITING_TIME)] += lasted
    floor[end + LEVEL_SINCE] = floor[NOW]
    floor[end + LEVEL] += change
