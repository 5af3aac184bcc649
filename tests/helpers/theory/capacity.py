"""What a stage makes that always finds a part, always gets rid of it and always finds its crew free.

Source: common practice of rough-cut capacity sheets.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True)
class Cause:
    """A breakdown: mean time to failure of its clock, and mean time to repair with the crew's response [s]."""

    mtbf_s: float
    down_s: float


def good_parts_per_s(
    cycle_s: float,
    machines: int = 1,
    working: Sequence[Cause] = (),
    calendar: Sequence[Cause] = (),
    stops: Sequence[tuple[float, int]] = (),
    scrap: float = 0.0,
) -> float:
    """Good parts per second of a stage without loader.

    working, calendar: causes by the clock they age on; stops: (time with response [s], parts between stops); scrap:
    share of parts that are made in vain.
    """
    per_part_s = cycle_s * (1.0 + sum(cause.down_s / cause.mtbf_s for cause in working))
    per_part_s += sum(takes_s / every for takes_s, every in stops)
    availability = 1.0
    for cause in calendar:
        availability *= cause.mtbf_s / (cause.mtbf_s + cause.down_s)
    return machines * availability * (1.0 - scrap) / per_part_s
