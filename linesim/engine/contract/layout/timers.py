"""Timers on the floor, in the order of their ranks, and who holds which."""

from __future__ import annotations

from linesim.engine.contract import records as r
from linesim.engine.contract.layout.form import Layout
from linesim.engine.contract.order import order_table

# where others than the usual timer stand
FIELDS = {r.TRIGGER_CLOCK: r.TRIGGER_TIMER, r.CALL_AHEAD: r.AHEAD_TIMER, r.WEEK: r.CALENDAR_TIMER}


def write_timers(layout: Layout) -> None:
    """Write a record a timer; what is timed and its owner learn the ranks."""
    floor = layout.floor
    table = order_table(floor)
    floor[r.TIMERS] = first = layout.room(r.TIMER_SIZE * len(table))
    floor[r.N_TIMERS] = len(table)
    held: dict[int, list[int]] = {}
    for rank, (kind, record) in enumerate(table):
        is_stoppage = kind in (r.REPAIR, r.STOP_JOB, r.TRIGGER_CLOCK)
        holder = r.NONE if kind in (r.STAY, r.ARRIVAL, r.WEEK) else floor[record + r.OWNER] if is_stoppage else record
        layout.set(first + rank * r.TIMER_SIZE, TIMER_KIND=kind, TIMED=record, HOLDER=holder)
        field = FIELDS.get(kind, r.JOB_TIMER if is_stoppage else r.TIMER)
        floor[record + field] = rank
        held.setdefault(holder, []).append(rank)
    for owner, ranks in held.items():
        if owner != r.NONE:
            layout.set(owner, OWN_TIMERS=layout.write(ranks), N_OWN_TIMERS=len(ranks))
