"""Time for a carriage to start, run and stop at constant acceleration: a trapezoid of speed, or a triangle."""

from __future__ import annotations

import math


def move_time_s(way_m: float, speed_m_s: float, acceleration_m_s2: float) -> float:
    """Time [s] for a way >= 0 [m] from rest to rest.

    A way shorter than v v / a never reaches top speed: half of it speeding up, half slowing down, 2 sqrt(way / a).
    """
    if way_m >= speed_m_s**2 / acceleration_m_s2:
        return way_m / speed_m_s + speed_m_s / acceleration_m_s2
    return 2.0 * math.sqrt(way_m / acceleration_m_s2)


def move_time_us(way_m: float, speed_m_s: float, acceleration_m_s2: float) -> int:
    """The same in whole microseconds, rounded half up."""
    return math.floor(move_time_s(way_m, speed_m_s, acceleration_m_s2) * 1e6 + 0.5)
