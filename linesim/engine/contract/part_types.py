"""Part types: what type the next blanks are of. Chance or a list of orders says so; orders go round for ever.

An engine draws types ahead, so that the rules know what comes next and draw nothing themselves.
"""

from __future__ import annotations

from linesim.engine.contract.records import (
    AHEAD,
    AHEAD_AT,
    MIX,
    MIX_STREAM,
    MOST_AHEAD,
    N_AHEAD,
    N_ORDERS,
    N_PART_TYPES,
    NONE,
    ORDER_AT,
    ORDERED,
    ORDERS,
    SHARES,
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
