"""Sizes: what a machine is set to make, what chance adds, and how a tool wears until a stop renews it.

Sizes are deviations from nominal in whole nanometres. Wear and corrections add up in picometres, so that
a slow drift is not lost.
"""

from __future__ import annotations

from linesim.engine.contract.log import ROW_SIZE, note, note_size
from linesim.engine.contract.records import (
    BY_COUNT,
    CHANGES,
    CHARACTERISTIC,
    CORRECTION,
    COUNT,
    DRIFT,
    DUE,
    END_OF_TOOL,
    EVERY,
    HIGHEST,
    LOWEST,
    LUCK,
    MADE_AFTER,
    MADE_LAST_AT,
    MAKING_SIZE,
    MAKINGS,
    N_MAKINGS,
    N_OWN_STOPPAGES,
    N_RENEWS,
    NOT_KNOWN,
    NOW,
    NUMBER,
    OFFSET,
    OUTLASTS,
    OWN_STOPPAGES,
    PART_ID,
    PART_SIZE,
    PAUSE,
    PROGRESS,
    RENEWS,
    SET_AFTER,
    SET_TO,
    SHIFT,
    SIZE,
    SIZE_DEFECT,
    SIZE_SIZE,
    SIZED_BY,
    STOPPAGE_SIZE,
    TELLS_OF_TOOL,
    TRIGGER,
    WORN,
    Floor,
)

PM = 1000  # picometres in a nanometre


def set_sizes(floor: Floor, machine: int) -> None:
    """An operation starts: what the machine is set to now, its part will get, whatever changes meanwhile."""
    for n in range(floor[machine + N_MAKINGS]):
        making = floor[machine + MAKINGS] + n * MAKING_SIZE
        if floor[making + WORN] == NOT_KNOWN:
            _take_age_of_tools(floor, machine, making)
        moved_pm = floor[making + DRIFT] * floor[making + WORN] + floor[making + CORRECTION]
        floor[making + SET_TO] = floor[making + OFFSET] + floor[making + SHIFT] + (moved_pm + PM // 2) // PM
        floor[making + SET_AFTER] = floor[making + CHANGES]


def _take_age_of_tools(floor: Floor, machine: int, making: int) -> None:
    """At the start of a run a tool is as worn as the youngest of the stops by count that renew it says."""
    for n in range(floor[machine + N_OWN_STOPPAGES]):
        stop = floor[machine + OWN_STOPPAGES] + n * STOPPAGE_SIZE
        for at in range(floor[stop + RENEWS], floor[stop + RENEWS] + 2 * floor[stop + N_RENEWS], 2):
            renews = floor[at] == making and floor[stop + TRIGGER] == BY_COUNT
            if renews and (floor[making + WORN] == NOT_KNOWN or floor[stop + COUNT] < floor[making + WORN]):
                floor[making + WORN] = floor[stop + COUNT]
                floor[making + SHIFT] = floor[at + 1]


def make_sizes(floor: Floor, machine: int, part: int) -> int:
    """An operation ends and gives the part its sizes. Returns the number of the first bad one as a defect, or -1."""
    bad = -1
    for n in range(floor[machine + N_MAKINGS]):
        making = floor[machine + MAKINGS] + n * MAKING_SIZE
        size = floor[making + SET_TO] + floor[making + LUCK]
        kept = part + PART_SIZE + floor[making + CHARACTERISTIC] * SIZE_SIZE
        floor[kept + SIZE] = size
        floor[kept + SIZED_BY] = making
        floor[kept + PAUSE] = floor[NOW] - floor[making + MADE_LAST_AT]
        floor[making + MADE_LAST_AT] = floor[NOW]
        floor[kept + MADE_AFTER] = floor[making + SET_AFTER]
        floor[kept + END_OF_TOOL] = floor[making + TELLS_OF_TOOL] and _is_at_end_of_tool(floor, machine, making)
        floor[making + WORN] += 1
        note(floor, ROW_SIZE, floor[machine + NUMBER], floor[part + PART_ID], size)
        note_size(floor, part, floor[machine + NUMBER], floor[making + CHARACTERISTIC], size, floor[making + SET_TO])
        if bad < 0 and (size < floor[making + LOWEST] or size > floor[making + HIGHEST]):
            bad = floor[making + SIZE_DEFECT]
    return bad


def _is_at_end_of_tool(floor: Floor, machine: int, making: int) -> int:
    """1 if the part at hand is the first of its tool, or the last: a stop that renews it is due, or is by this part."""
    if floor[making + WORN] == 0:
        return 1
    for n in range(floor[machine + N_OWN_STOPPAGES]):
        stop = floor[machine + OWN_STOPPAGES] + n * STOPPAGE_SIZE
        by_count = floor[stop + TRIGGER] == BY_COUNT and floor[stop + COUNT] + 1 >= floor[stop + EVERY]
        if by_count or floor[stop + PROGRESS] == DUE:
            for at in range(floor[stop + RENEWS], floor[stop + RENEWS] + 2 * floor[stop + N_RENEWS], 2):
                if floor[at] == making:
                    return 1
    return 0


def renew_tools(floor: Floor, stop: int) -> None:
    """A stop is over: the tools that it renews wear from the beginning, uncorrected as a rule, and take its step."""
    for at in range(floor[stop + RENEWS], floor[stop + RENEWS] + 2 * floor[stop + N_RENEWS], 2):
        making = floor[at]
        floor[making + WORN] = 0
        floor[making + SHIFT] = floor[at + 1]
        if not floor[making + OUTLASTS]:
            floor[making + CORRECTION] = 0
            floor[making + CHANGES] += 1
