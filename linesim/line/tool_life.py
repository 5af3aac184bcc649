"""Tools that break or wear: how often they are changed on the mean, for the rough-cut sheet.

Age replacement: a tool is changed at a set age, or when it breaks before. Source: renewal-reward, Barlow & Proschan
1965, chapter 4 (from memory): rate = [c_p R(T) + c_f F(T)] / integral of R from 0 to T.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from linesim.line.model import STOP_KINDS, Station, Stop
from linesim.line.survival import mean_up_to, mean_whole_up_to, survival


@dataclass(frozen=True)
class Replacement:
    """The changes of a tool with a life: mean age at a change [parts or s], and the share of changes after a break."""

    mean_age: float
    broken_share: float


def replacement(stop: Stop) -> Replacement:
    """How a tool with a life is replaced; `every` is in the unit of the life, or not given."""
    assert stop.life is not None
    planned = math.inf if stop.every is None else stop.every
    mean = (mean_whole_up_to if stop.life.in_parts else mean_up_to)(stop.life.law, planned)
    return Replacement(mean, 1.0 if stop.every is None else 1 - survival(stop.life.law, planned))


def breakage_of(stop: Stop) -> Stop:
    """The change after a tool broke."""
    given = stop.breakage
    if given is None:
        return replace(stop, every=None, age=None)
    cost = stop.cost if given.cost is None else given.cost
    return replace(stop, every=None, age=None, takes=given.takes, crew=given.crew or stop.crew, cost=cost)


def stops_of(machine: Station) -> list[tuple[str, str, Stop]]:
    """Kind, name and what holds, for each stop of a machine in the order of precedence.

    A tool with a life has a stop of kind "breakage", before its planned change if there is one.
    """
    found = []
    for kind in STOP_KINDS:
        for name, stop in getattr(machine, kind).items():
            if stop.life:
                found.append(("breakage", name, breakage_of(stop)))
            if stop.every is not None:
                found.append((kind, name, stop))
    return found


def worn_by(machine: Station, stop: Stop) -> str:
    """The dressing that wears this tool; checked lines have it."""
    return stop.worn_by or next(iter(machine.dressing))
