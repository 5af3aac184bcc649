"""Infeed and outfeed on the floor: their stock, who refills or empties it, arrivals, and the limit of parts inside."""

from __future__ import annotations

from linesim.engine.contract import records as r
from linesim.engine.contract.layout.form import NO_LIMIT, Layout
from linesim.line.model import EndJob


def write_ends(layout: Layout) -> None:
    """What the ends hold. An infeed with a refill starts full, one with arrivals empty."""
    line, floor = layout.line, layout.floor
    infeed, outfeed = _places(layout)
    layout.set(infeed, LEVEL=NO_LIMIT, CAPACITY=NO_LIMIT)
    layout.set(outfeed, CAPACITY=NO_LIMIT)
    for name, end in line.infeed.items():
        if end.arrivals:
            stream = layout.add_stream(name, "arrivals", end.arrivals.every)
            layout.set(infeed, LIMITED=1, LEVEL=0, BATCH=end.arrivals.batch, ARRIVAL_STREAM=stream)
        elif end.capacity is not None:
            layout.set(infeed, LIMITED=1, LEVEL=end.capacity, CAPACITY=end.capacity)
    for out in line.outfeed.values():
        if out.capacity is not None:
            layout.set(outfeed, LIMITED=1, CAPACITY=out.capacity)
    layout.ends = {
        end: layout.owners[floor[end + r.NUMBER]].name for end in (infeed, outfeed) if floor[end + r.LIMITED]
    }
    floor[r.WIP_LIMIT] = line.wip_limit or 0
    floor[r.ENDS_WATCHED] = bool(layout.ends) or floor[r.WIP_LIMIT] > 0
    layout.ends |= {floor[layout.aside[name] + r.FIRST_PLACE]: name for name in line.drawers}


def end_jobs(layout: Layout) -> list[tuple[int, str, str, EndJob]]:
    """Refill and emptying, as (place, kind, name, job)."""
    infeed, outfeed = _places(layout)
    jobs = [(infeed, "refill", end.refill) for end in layout.line.infeed.values()]
    jobs += [(outfeed, "emptying", end.emptied) for end in layout.line.outfeed.values()]
    return [(place, kind, "stock", job) for place, kind, job in jobs if job]


def _places(layout: Layout) -> tuple[int, int]:
    floor = layout.floor
    last = floor[r.STEPS] + (floor[r.N_STEPS] - 1) * r.STEP_SIZE
    return floor[floor[r.STEPS] + r.FIRST_PLACE], floor[last + r.FIRST_PLACE]
