"""What must hold for infeed, outfeed, the limit of parts inside and the parts inside at the start."""

from __future__ import annotations

from collections.abc import Iterator

from linesim.line.at_start import parts_at_start
from linesim.line.carriers import carriers
from linesim.line.checks import Finding
from linesim.line.model import EndJob, Line
from linesim.line.problems import KeyPath
from linesim.line.units import with_unit


def check_ends(line: Line) -> Iterator[Finding]:
    for name, infeed in line.infeed.items():
        path: KeyPath = ("infeed", name)
        if infeed.arrivals and (infeed.refill or infeed.capacity is not None):
            rule = "blanks either arrive or are refilled"
            yield Finding((*path, "arrivals"), None, rule, "remove arrivals, or capacity and refill")
        else:
            yield from _stock(path, "refill", infeed.capacity, infeed.refill, "would run empty for good")
            at = infeed.refill.at if infeed.refill else None
            if at is not None and infeed.capacity is not None and at >= infeed.capacity:
                yield _level(path, "refill", at, "must be below the capacity", "lower it")
    for name, outfeed in line.outfeed.items():
        path, emptied = ("outfeed", name), outfeed.emptied
        yield from _stock(path, "emptied", outfeed.capacity, emptied, "would stay full for good")
        if emptied and emptied.at is not None and outfeed.capacity and not 0 < emptied.at <= outfeed.capacity:
            rule = "must be between 1 part and the capacity"
            yield _level(path, "emptied", emptied.at, rule, f"write {outfeed.capacity} parts or less")
    for name, drawer in line.drawers.items():
        path = ("drawers", name)
        yield from _stock(path, "emptied", drawer.capacity, drawer.emptied, "")
        if drawer.emptied.at is not None and not 0 < drawer.emptied.at <= drawer.capacity:
            rule = "must be between 1 part and the capacity"
            yield _level(path, "emptied", drawer.emptied.at, rule, f"write {drawer.capacity} parts or less")
    fixed = [name for name, loader in carriers(line).items() if loader.next_call.rule == "fixed"]
    if line.wip_limit is not None and fixed:
        rule = f"can't be kept with the fixed round of {fixed[0]}, which may wait for a blank for ever"
        yield Finding(("wip_limit",), line.wip_limit, rule, "choose another next_call, or remove the limit")
    yield from _parts_at_start(line, fixed)


def _stock(path: KeyPath, key: str, capacity: int | None, job: EndJob | None, otherwise: str) -> Iterator[Finding]:
    if job is None:
        if capacity is not None:
            yield Finding((*path, "capacity"), capacity, f"without {key} it {otherwise}", f"give it {key}: {{...}}")
        return
    if capacity is None:
        yield Finding((*path, key), None, "needs a limited stock", "give it a capacity too, such as 60 parts")
    if (job.every is None) == (job.at is None):
        rule = "must have every (a time) or at (a number of parts)" + (", not both" if job.at is not None else "")
        told = ((*path, key, "every"), (*path, key, "at"))
        yield Finding((*path, key), None, rule, "write one of them", None, told)


def _level(path: KeyPath, key: str, at: int, rule: str, fix: str) -> Finding:
    beside = ((*path, "capacity"),)
    return Finding((*path, key, "at"), with_unit("parts", at), rule, fix, None, beside)


def _parts_at_start(line: Line, fixed: list[str]) -> Iterator[Finding]:
    """Each buffer holds no more than it can, and the line no more than its limit.

    fixed: loaders with a fixed round.

    Rework loops need no check: a machine of theirs is always free at the start, and one free place is enough.
    """
    held = parts_at_start(line)
    filled = [name for name, parts in held.items() if parts]
    if filled and fixed:
        path: KeyPath = ("filled",) if line.buffers[filled[0]].at_start is None else ("buffers", filled[0], "at_start")
        rule = f"does not go with the fixed round of {fixed[0]}, which counts on an empty line and could wait for ever"
        yield Finding(path, None, rule, "choose another next_call, or begin with empty buffers")
    for name, buffer in line.buffers.items():
        if buffer.at_start is not None and buffer.at_start > buffer.capacity:
            rule = f"is more than the capacity of {buffer.capacity}"
            fix = f"write {with_unit('parts', buffer.capacity)} or less"
            path = ("buffers", name, "at_start")
            yield Finding(path, with_unit("parts", buffer.at_start), rule, fix, None, (("buffers", name, "capacity"),))
    inside = sum(held.values())
    if line.wip_limit is not None and inside > line.wip_limit:
        rule = f"is below the {inside} parts that buffers hold at the start"
        yield Finding(("wip_limit",), line.wip_limit, rule, "raise it, or lower filled or at_start of the buffers")
