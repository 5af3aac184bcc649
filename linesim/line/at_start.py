"""Parts that rest in buffers when a run begins, so that it need not fill an empty line first."""

from __future__ import annotations

from linesim.line.model import Line

ROUNDING = 1e-9  # parts; 57 % of 100 places are 56.99999999999999 to a computer


def parts_at_start(line: Line) -> dict[str, int]:
    """Buffer -> parts in it at time 0: what it says itself, or else the line's share of its places, rounded down."""
    return {
        name: int(line.filled * buffer.capacity + ROUNDING) if buffer.at_start is None else buffer.at_start
        for name, buffer in line.buffers.items()
    }
