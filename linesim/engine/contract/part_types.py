"""Part types: what type the next blanks are of, and where the parts of a type go.

Chance or a list of orders says what comes; orders go round for ever.
An engine draws types ahead, so that the rules know what comes next and draw nothing themselves.
"""

from __future__ import annotations

from linesim.engine.contract.records import (
    AHEAD,
    AHEAD_AT,
    BUFFER,
    CAPACITY,
    HEAD,
    MIX,
    MIX_STREAM,
    MOST_AHEAD,
    N_AHEAD,
    N_ORDERS,
    N_PART_TYPES,
    NEXT_BY_TYPE,
    NONE,
    ORDER_AT,
    ORDERED,
    ORDERS,
    OWNER_KIND,
    PART,
    PART_TYPE,
    PARTS_TAKEN,
    RING,
    SHARES,
    SKIPS,
    STATION,
    STEP_SIZE,
    Floor,
)


def types_to_draw(floor: Floor) -> int:
    """How many types are to be drawn now; 0 where all parts are alike."""
    mix = floor[MIX]
    return 0 if mix == NONE else floor[mix + MOST_AHEAD] - floor[mix + N_AHEAD]


def add_type(floor: Floor, draw: int) -> None:
    """One more type comes behind those drawn ahead. draw: a whole number below 1e9, or anything with orders."""
    mix = floor[MIX]
    kind = _next_ordered(floor, mix) if floor[mix + MIX_STREAM] < 0 else _by_chance(floor, mix, draw)
    at = floor[mix + AHEAD_AT] + floor[mix + N_AHEAD]
    if at >= floor[mix + MOST_AHEAD]:
        at -= floor[mix + MOST_AHEAD]
    floor[floor[mix + AHEAD] + at] = kind
    floor[mix + N_AHEAD] += 1


def _by_chance(floor: Floor, mix: int, draw: int) -> int:
    kind = 0
    while kind + 1 < floor[mix + N_PART_TYPES] and draw >= floor[floor[mix + SHARES] + kind]:
        kind += 1
    return kind


def _next_ordered(floor: Floor, mix: int) -> int:
    order = floor[mix + ORDERS] + 2 * floor[mix + ORDER_AT]
    kind = floor[order]
    floor[mix + ORDERED] += 1
    if floor[mix + ORDERED] == floor[order + 1]:
        floor[mix + ORDERED] = 0
        floor[mix + ORDER_AT] += 1
        if floor[mix + ORDER_AT] == floor[mix + N_ORDERS]:
            floor[mix + ORDER_AT] = 0
    return kind


def take_type(floor: Floor) -> int:
    """The type of the blank that leaves the infeed."""
    mix = floor[MIX]
    kind = floor[floor[mix + AHEAD] + floor[mix + AHEAD_AT]]
    floor[mix + AHEAD_AT] += 1
    if floor[mix + AHEAD_AT] == floor[mix + MOST_AHEAD]:
        floor[mix + AHEAD_AT] = 0
    floor[mix + N_AHEAD] -= 1
    return kind


def type_at(floor: Floor, place: int) -> int:
    """The type of the next part of a place that no tour has claimed; -1 where no type skips anything."""
    if floor[SKIPS] == 0:
        return -1
    kind = floor[place + OWNER_KIND]
    if kind == STATION:
        return floor[floor[place + PART] + PART_TYPE]
    if kind == BUFFER:
        at = floor[place + HEAD] + floor[place + PARTS_TAKEN]
        if at >= floor[place + CAPACITY]:
            at -= floor[place + CAPACITY]
        return floor[floor[floor[place + RING] + at] + PART_TYPE]
    mix = floor[MIX]
    at = floor[mix + AHEAD_AT] + floor[place + PARTS_TAKEN]
    if at >= floor[mix + MOST_AHEAD]:
        at -= floor[mix + MOST_AHEAD]
    return floor[floor[mix + AHEAD] + at]


def step_after(floor: Floor, step: int, part_type: int) -> int:
    """The step that a part of a type goes to from another, unless it is sent back."""
    table = floor[step + NEXT_BY_TYPE]
    return step + STEP_SIZE if table == NONE else floor[table + part_type]
