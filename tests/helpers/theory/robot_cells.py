"""Robot-served cells: infeed, m machines and outfeed in a row, one loader, no buffers, identical parts.

Sources: Sethi, S.P., Sriskandarajah, C., Sorger, G., Blazewicz, J. & Kubiak, W. (1992), International Journal of
Flexible Manufacturing Systems 4, 331-358; Sethi, S.P., Sidney, J.B. & Sriskandarajah, C. (2001), IEEE Transactions on
Robotics and Automation 17(3), 324-341 (formulas from memory). Whole microseconds throughout.
"""

from __future__ import annotations

from collections.abc import Sequence


def forward_cycle_us(processing_us: Sequence[int], handling_us: int, travel_us: int) -> int:
    """One gripper carries one part through the whole cell, then fetches the next.

    handling_us: a pick, place, load or unload; travel_us: between neighbours.
    """
    return 2 * (len(processing_us) + 1) * (handling_us + travel_us) + sum(processing_us)


def reverse_cycle_us(processing_us: Sequence[int], handling_us: int, travel_us: int) -> int:
    """One gripper serves the machines from the last to the first, each one refilled right after it was emptied."""
    machines = len(processing_us)
    loader_us = 4 * machines * travel_us + 2 * (machines + 1) * handling_us
    return max(loader_us, max(processing_us) + 4 * travel_us + 4 * handling_us)


def swap_cycle_us(processing_us: Sequence[int], handling_us: int, travel_us: int, turn_us: int) -> int:
    """Two grippers swap at each machine on the way through; turn_us: the gripper's turn between out and in."""
    machines = len(processing_us)
    loader_us = 2 * (machines + 1) * (handling_us + travel_us) + machines * turn_us
    return max(loader_us, max(processing_us) + 2 * handling_us + turn_us)
