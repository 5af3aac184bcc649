"""How many parts of each type pass each station, for a good part of the line, once rejects are left on the way."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from linesim.line.model import Line
from linesim.line.ways import places, shares_apart

LEAST_KEPT = 1e-9  # of a station's parts: one that keeps none would need infinitely many

LostShare = Callable[[str, str | None], float]  # of the parts of a type, rejected for the sake of a station


@dataclass(frozen=True)
class Flow:
    """Parts that a station must make good for a good part of the line, and the share of its parts that is rejected."""

    good: float
    lost_share: float


def flows(line: Line, lost: LostShare) -> dict[str, Flow]:
    """Station -> its flow, of all types together."""
    starts = dict.fromkeys(line.stations, 0.0)
    rejected, good = dict(starts), dict(starts)
    for part, share in shares_apart(line).items():
        for name in _stations_of(line, part):
            starts[name] += share
            rejected[name] += share * lost(name, part)
            share *= max(1 - lost(name, part), LEAST_KEPT)
            good[name] += share
    out = _good_per_blank(line, lost)
    return {
        name: Flow(good[name] / out, rejected[name] / starts[name] if starts[name] else 0.0) for name in line.stations
    }


def entering(line: Line, lost: LostShare) -> float:
    """Blanks that must enter for a good part of the line."""
    return 1 / _good_per_blank(line, lost)


def _good_per_blank(line: Line, lost: LostShare) -> float:
    """Share of what enters that becomes good."""
    total = 0.0
    for part, share in shares_apart(line).items():
        for name in _stations_of(line, part):
            share *= max(1 - lost(name, part), LEAST_KEPT)
        total += share
    return total


def _stations_of(line: Line, part: str | None) -> list[str]:
    return [name for name in places(line, part) if name in line.stations]
