"""What a line may be, but is hardly meant to be: said as warnings beside the rough-cut capacity."""

from __future__ import annotations

from collections.abc import Iterator

from linesim.line.model import Line

FEW_TOGETHER = 2  # spindles that start together seldom keep a neighbour waiting for long
GAIN_LIMIT = 2.0  # from here on a correction overshoots by more than it found, even with no part in between


def hardly_meant(line: Line) -> Iterator[str]:
    yield from _batches_without_room(line)
    yield from _gains_that_swing_up(line)


def _batches_without_room(line: Line) -> Iterator[str]:
    """A station with large batches whose neighbours have no room for one: they stand while it works."""
    for at, name in enumerate(line.route):
        batch = line.stations[name].batch if name in line.stations else None
        if batch is None or batch.size <= FEW_TOGETHER:
            continue
        sides = [
            ("before", line.route[at - 1] if at else ""),
            ("behind", line.route[at + 1] if at + 1 < len(line.route) else ""),
        ]
        short = [side for side, place in sides if not _has_room(line, place, batch.size)]
        if short:
            yield (
                f"{name} works on {batch.size} parts together, but {' and '.join(short)} it there is no buffer for as "
                f"many, so others stand while it works: give it one of {batch.size} places or more"
            )


def _has_room(line: Line, place: str, parts: int) -> bool:
    """Whether a neighbour of a station takes or gives so many parts without a machine; the ends of the route do."""
    if place in line.stations:
        return False
    return place not in line.buffers or line.buffers[place].capacity >= parts


def _gains_that_swing_up(line: Line) -> Iterator[str]:
    for name, station in line.stations.items():
        for size, gauge in (station.inspection.measures if station.inspection else {}).items():
            if gauge.feedback and gauge.feedback.gain >= GAIN_LIMIT:
                yield (
                    f"the feedback of {size} at {name} has a gain of {gauge.feedback.gain:g}: from {GAIN_LIMIT:g} on "
                    f"sizes swing up without end, with parts in between much earlier"
                )
