"""Feedback: what a gauge reads of a part corrects the machine that made it, from its next part on.

An integral correction: each step is the mean deviation of the last readings times a gain. It takes effect as late as
the parts between machine and gauge make it.
"""

from __future__ import annotations

from linesim.engine.contract.records import (
    AIMS_AT,
    AVERAGES,
    CHANGES,
    CORRECTION,
    DEAD_BAND,
    DEVIATIONS,
    GAIN,
    MADE_AFTER,
    MADE_AS,
    N_DEVIATIONS,
    ONLY_NEW,
    WATCH_SIZE,
    WATCHES,
    Floor,
)

MOST = 10**11  # picometres that a machine can be moved in all: the largest size, beyond any that is meant
PARTS = 1000  # a gain in millionths x nanometres are so many parts of a picometre


def correct(floor: Floor, gauge: int, making: int, kept: int, reading: int) -> int:
    """A gauge has read the size at `kept`, which `making` made. Returns by how much it moves that machine [pm]."""
    if floor[gauge + ONLY_NEW] and floor[kept + MADE_AFTER] != floor[making + CHANGES]:
        return 0
    watch = floor[gauge + WATCHES] + floor[making + MADE_AS] * WATCH_SIZE
    floor[watch + DEVIATIONS] += reading - floor[gauge + AIMS_AT]
    floor[watch + N_DEVIATIONS] += 1
    count, deviations = floor[watch + N_DEVIATIONS], floor[watch + DEVIATIONS]
    if count < floor[gauge + AVERAGES]:
        return 0
    floor[watch + N_DEVIATIONS] = floor[watch + DEVIATIONS] = 0
    if abs(deviations) <= floor[gauge + DEAD_BAND] * count:
        return 0
    before = floor[making + CORRECTION]
    step = (-2 * floor[gauge + GAIN] * deviations + PARTS * count) // (2 * PARTS * count)  # a half goes up
    floor[making + CORRECTION] = min(max(before + step, -MOST), MOST)
    moved = floor[making + CORRECTION] - before
    if moved:
        floor[making + CHANGES] += 1
    return moved
