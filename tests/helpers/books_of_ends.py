"""The part of the audit that looks at the stock of infeed and outfeed, and at the limit of parts inside."""

from __future__ import annotations

from linesim.engine.contract.ledger import Ledger
from linesim.engine.contract.trace import Trace, What
from linesim.line.at_start import parts_at_start
from linesim.line.model import EndJob, Line
from tests.helpers.replay import Changes, time_at


def check_ends(ledger: Ledger, trace: Trace, line: Line, inside: Changes) -> None:
    """Stocks never go below nothing or above their capacity; they change by parts, jobs and arrivals only; the ledger
    has their times. With a limit never more parts are inside."""
    if line.wip_limit is not None:
        assert max((count for _, count in inside), default=0) <= line.wip_limit, "more parts inside than the limit"
    booked = {str(row["end"]): row for row in ledger.ends.to_dict("records")}
    limited = [name for name, end in line.infeed.items() if end.arrivals or end.capacity is not None]
    limited += [name for name, out in line.outfeed.items() if out.capacity is not None]
    limited += list(line.drawers)
    assert list(booked) == limited
    for name in limited:
        number = next(index for index, owner in enumerate(trace.owners) if owner.name == name)
        levels = _levels(trace, line, name, number)
        row = booked[name]
        times = time_at(levels, ledger.warmup_us, ledger.horizon_us, max(level for _, level in levels) + 1)
        assert row["stock_us"] == sum(int(time) * level for level, time in enumerate(times)), f"stock of {name}"
        assert row["empty_us"] == times[0], f"time that {name} is empty"
        capacity = int(row["capacity"])
        full_us = times[capacity] if 0 < capacity < len(times) else 0
        assert row["full_us"] == full_us, f"time that {name} is full"
    for number, (owner_name, kind, _) in enumerate(trace.stoppages):
        if kind in ("refill", "emptying"):
            told = sum(
                max(0, min(over_us, ledger.horizon_us) - max(since_us, ledger.warmup_us))
                for since_us, over_us in _jobs(trace, number, ledger.horizon_us)
            )
            job = ledger.stoppages.iloc[number]
            assert job["waiting_us"] + job["lasting_us"] == told, f"{kind} of {owner_name}"


def _jobs(trace: Trace, stoppage: int, horizon_us: int) -> list[tuple[int, int]]:
    """From the call to the end of each refill or emptying [us]."""
    jobs: list[tuple[int, int]] = []
    for time_us, what, _, _, value in trace.rows.tolist():
        if what == What.STOCK_CALL and value == stoppage:
            jobs.append((time_us, horizon_us))
        elif what == What.STOP_OVER and value == stoppage:
            jobs[-1] = (jobs[-1][0], time_us)
    return jobs


def _levels(trace: Trace, line: Line, name: str, number: int) -> Changes:
    infeed, outfeed = line.infeed.get(name), line.outfeed.get(name)
    drawer = line.drawers.get(name)
    end = infeed or outfeed or drawer
    assert end is not None
    job: EndJob | None = infeed.refill if infeed else outfeed.emptied if outfeed else None  # of a drawer: see there
    level = (end.capacity or 0) if infeed else 0
    after_job = level
    levels: Changes = [(0, level)]
    called = False
    due = False  # a level that calls has been reached, and the call must follow in the same instant
    at_start = sum(parts_at_start(line).values())  # the first rows; they are not of the stock
    for time_us, what, owner, _, value in trace.rows.tolist():
        assert not due or time_us == levels[-1][0], f"{name} does not call at {levels[-1]}"
        if owner != number:
            continue
        if what == What.LEAVE and infeed and at_start:
            at_start -= 1
            continue
        if what == What.LEAVE and infeed:
            level -= 1
        elif what == What.ARRIVE and not infeed:
            level += 1
        elif what == What.STOCK:
            expected = level + infeed.arrivals.batch if infeed and infeed.arrivals else after_job
            assert value == expected, f"{name} holds {value} parts at {time_us} us instead of {expected}"
            level = value
        elif what == What.STOCK_CALL:
            assert not called, f"{name} calls twice"
            called, due = True, False
        elif what == What.STOP_OVER:
            called = False
            continue
        assert level >= 0, f"{name} gives what it has not at {time_us} us"
        assert (infeed and infeed.arrivals) or level <= (end.capacity or 0), f"{name} is too full at {time_us} us"
        levels.append((time_us, level))
        if job and job.at is not None and not called:
            due = level <= job.at if infeed else level >= job.at
    return levels
