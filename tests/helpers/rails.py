"""Carriages that share a rail, watched on their real motion: speeding up, at full speed, braking; stopped when down."""

from __future__ import annotations

import itertools

import numpy as np

from linesim.engine.contract.ledger import US, CarriageState
from linesim.engine.contract.trace import Trace
from linesim.line.carriers import carriers, owner_name
from linesim.line.model import Line, Loader
from tests.helpers.replay import Story

SAMPLES = 24  # points in time in each leg


def carrier(line: Line, owner: str) -> Loader:
    """The loader as it holds for the carriage of this name."""
    return next(loader for name, loader in carriers(line).items() if owner_name(name) == owner)


def check_rails(trace: Trace, story: Story, line: Line, positions: dict[int, list[tuple[int, float, float]]]) -> None:
    """No two carriages of a rail ever come nearer than `apart`. positions: of each carriage (leg begins, from, to)."""
    for name, loader in line.loaders.items():
        numbers = [n for n, owner in enumerate(trace.owners) if owner.kind == "carriage" and owner.group == name]
        for left, right in itertools.pairwise(numbers):
            times = np.unique(np.concatenate([_sampled(positions[left]), _sampled(positions[right])]))
            between = _at(trace, story, line, right, positions[right], times) - _at(
                trace, story, line, left, positions[left], times
            )
            least = int(between.argmin())
            assert between[least] >= (loader.apart or 0.0) - 1e-5, (
                f"{trace.owners[left].name} and {trace.owners[right].name} are {between[least]} m apart "
                f"at {times[least]} us"
            )


def _sampled(legs: list[tuple[int, float, float]]) -> np.ndarray:
    starts = np.array([0, *(start for start, _, _ in legs)])
    ends = np.append(starts[1:], starts[-1] + 60 * US)
    return np.concatenate([np.linspace(a, min(b, a + 30 * US), SAMPLES) for a, b in zip(starts, ends, strict=True)])


def _at(
    trace: Trace, story: Story, line: Line, owner: int, legs: list[tuple[int, float, float]], times: np.ndarray
) -> np.ndarray:
    """Where a carriage is at these times [m]. It gets on with a leg only while its state is moving."""
    loader = carrier(line, trace.owners[owner].name)
    changed = np.array([time for time, _ in story.states[owner]] + [int(times[-1]) + 1])
    moving = [state in (CarriageState.MOVING_EMPTY, CarriageState.MOVING_LOADED) for _, state in story.states[owner]]
    moved_us = np.concatenate([[0], np.cumsum(np.diff(changed) * np.array(moving))])
    starts = np.array([start for start, _, _ in legs])
    which = np.searchsorted(starts, times, side="right") - 1
    found = np.full(len(times), legs[0][1] if legs else next(iter(loader.stops.values())).at[0])
    for n, (start, begin, end) in enumerate(legs):
        now = times[which == n]
        spent_s = (np.interp(now, changed, moved_us) - np.interp(start, changed, moved_us)) / US
        gone = _way(spent_s, abs(end - begin), loader.speed, loader.acceleration)
        found[which == n] = begin + np.sign(end - begin) * gone
    return found


def _way(spent_s: np.ndarray, whole_m: float, speed: float, acceleration: float) -> np.ndarray:
    """How far a carriage has come after so much of the time of a leg [m]: trapezoid or triangle of speed."""
    speeding_s = min(speed / acceleration, np.sqrt(whole_m / acceleration))
    top = speeding_s * acceleration
    steady_s = max(0.0, (whole_m - top * speeding_s) / speed)
    left_s = np.clip(2 * speeding_s + steady_s - spent_s, 0, None)
    up = np.minimum(spent_s, speeding_s) ** 2 * acceleration / 2
    down = whole_m - np.minimum(left_s, speeding_s) ** 2 * acceleration / 2
    middle = top * speeding_s / 2 + (spent_s - speeding_s) * speed
    return np.where(spent_s <= speeding_s, up, np.where(left_s <= speeding_s, down, middle))
