"""Sampling: which parts of each machine a gauge measures. All others pass as they are."""

from __future__ import annotations

from linesim.engine.contract.records import (
    END_OF_TOOL,
    MADE_AS,
    MEASURED_AT,
    NOW,
    PAUSE,
    SAMPLE_OF_TOOL,
    SAMPLE_PARTS,
    SAMPLE_PAUSE,
    SAMPLE_TIME,
    UNMEASURED,
    WATCH_SIZE,
    WATCHES,
    Floor,
)


def is_sampled(floor: Floor, gauge: int, making: int, kept: int) -> bool:
    """Whether a gauge measures the part at hand, whose size stands at `kept` and was made by `making`.

    Parts and time count from the last one measured of the same machine, whatever it was measured for.
    """
    watch = floor[gauge + WATCHES] + floor[making + MADE_AS] * WATCH_SIZE
    parts, time = floor[gauge + SAMPLE_PARTS], floor[gauge + SAMPLE_TIME]
    by_count = parts > 0 and floor[watch + UNMEASURED] + 1 >= parts
    never = floor[watch + MEASURED_AT] < 0
    by_time = time > 0 and (never or floor[NOW] - floor[watch + MEASURED_AT] >= time)
    of_tool = floor[gauge + SAMPLE_OF_TOOL] and floor[kept + END_OF_TOOL]
    after_pause = 0 < floor[gauge + SAMPLE_PAUSE] <= floor[kept + PAUSE]
    if by_count or by_time or of_tool or after_pause:
        floor[watch + UNMEASURED] = 0
        floor[watch + MEASURED_AT] = floor[NOW]
        return True
    floor[watch + UNMEASURED] += 1
    return False
