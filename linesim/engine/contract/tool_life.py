"""Tools that break, and wheels that wear by being dressed.

A tool with a life has a stop of its own for its breakage beside the planned change. Its interval is the life drawn for
this tool, in parts or on the working clock; when it falls due the part in work is lost. Either change brings a new
tool: the planned count starts again, and the engine draws a new life.
"""

from __future__ import annotations

from linesim.engine.contract.records import (
    BREAKS,
    BY_COUNT,
    BY_DRESSINGS,
    COUNT,
    DUE,
    EVERY,
    N_OWN_STOPPAGES,
    OFF,
    OWN_STOPPAGES,
    OWNER,
    PARTNER,
    PROGRESS,
    STOPPAGE_SIZE,
    TRIGGER,
    WORN_BY,
    Floor,
)

US = 1_000_000


def new_life(floor: Floor, breakage: int, draw: int) -> None:
    """A new tool lasts this long; draw: in microseconds, or in millionths of a part, of which a begun one counts."""
    floor[breakage + EVERY] = draw
    if floor[breakage + TRIGGER] == BY_COUNT:
        floor[breakage + EVERY] = max(1, (draw + US - 1) // US)


def breaks_with_this_part(floor: Floor, machine: int) -> bool:
    """Whether a tool reaches its life, in parts, with the operation that ends now."""
    for n in range(floor[machine + N_OWN_STOPPAGES]):
        stop = floor[machine + OWN_STOPPAGES] + n * STOPPAGE_SIZE
        if (
            floor[stop + BREAKS]
            and floor[stop + TRIGGER] == BY_COUNT
            and floor[stop + COUNT] + 1 >= floor[stop + EVERY]
        ):
            return True
    return False


def tool_is_new(floor: Floor, stop: int) -> None:
    """A change is over: what else would have changed the same tool begins anew."""
    partner = floor[stop + PARTNER]
    floor[partner + COUNT] = 0
    if floor[partner + PROGRESS] == DUE:
        floor[partner + PROGRESS] = OFF


def count_dressing(floor: Floor, dressing: int) -> None:
    """A dressing is over: the changes of the wheel that it wears come nearer."""
    machine = floor[dressing + OWNER]
    for n in range(floor[machine + N_OWN_STOPPAGES]):
        stop = floor[machine + OWN_STOPPAGES] + n * STOPPAGE_SIZE
        if floor[stop + TRIGGER] == BY_DRESSINGS and floor[stop + WORN_BY] == dressing:
            floor[stop + COUNT] += 1
            if floor[stop + COUNT] >= floor[stop + EVERY] and floor[stop + PROGRESS] == OFF:
                floor[stop + PROGRESS] = DUE
