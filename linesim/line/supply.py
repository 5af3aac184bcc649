"""What the ends of a line let through at best, and what a limit of parts inside does, for the rough-cut sheet."""

from __future__ import annotations

import math
from dataclasses import dataclass

from linesim.line.called import response_s
from linesim.line.lead_time import least_lead_time_s
from linesim.line.model import EndJob, Line

HOUR_S = 3600.0


@dataclass(frozen=True)
class Ceiling:
    """Parts an hour that can pass at best, and why, in words."""

    what: str
    per_h: float
    why: str


def ceilings(line: Line) -> list[Ceiling]:
    """One for each end with a limited stock, and one for a limit of parts inside.

    A stock of C filled or emptied every T passes C / (T + response + takes); one that calls at a level passes C /
    (response + takes), if its crew is free; w parts inside pass w / least lead time (Little 1961).
    """
    found = []
    for name, infeed in line.infeed.items():
        if infeed.arrivals:
            every_s, batch = infeed.arrivals.every.mean, infeed.arrivals.batch
            found.append(Ceiling(name, HOUR_S * batch / every_s, f"{batch} arriving every {every_s:g} s"))
        elif infeed.capacity and infeed.refill:
            found.append(_stock(line, name, infeed.capacity, infeed.refill, "refill"))
    for name, outfeed in line.outfeed.items():
        if outfeed.capacity and outfeed.emptied:
            found.append(_stock(line, name, outfeed.capacity, outfeed.emptied, "emptying"))
    if line.wip_limit:
        least_s = least_lead_time_s(line)
        why = f"{line.wip_limit} inside, {least_s:.1f} s at least each"
        found.append(Ceiling("wip_limit", HOUR_S * line.wip_limit / least_s if least_s else math.inf, why))
    return found


def _stock(line: Line, name: str, capacity: int, job: EndJob, word: str) -> Ceiling:
    takes_s = job.takes.mean + response_s(line, job)
    between_s = takes_s + (job.every or 0.0)
    why = f"{capacity} parts each {word}" + ("" if job.every else ", called in time")
    return Ceiling(name, HOUR_S * capacity / between_s if between_s else math.inf, why)
