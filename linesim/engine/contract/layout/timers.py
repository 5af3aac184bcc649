"""Timers on the floor, in the order of their ranks, and who holds which."""

from __future__ import annotations

from linesim.engine.contract import records as r
from linesim.engine.contract.layout.form import Layout
from linesim.engine.contract.order import order_table
from linesim.engine.contract.records import Floor

# where others than the usual timer stand
FIELDS = {
    r.TRIGGER_CLOCK: r.TRIGGER_TIMER,
    r.CALL_AHEAD: r.AHEAD_TIMER,
    r.WEEK: r.CALENDAR_TIMER,
    r.BATCH_WAIT: r.WAIT_TIMER,
    r.PITCH_CLOCK: r.PITCH_TIMER,
    r.TRANSIT_CLOCK: r.FEED_TIMER,
}
OF_STOPPAGES = (r.REPAIR, r.STOP_JOB, r.TRIGGER_CLOCK)


def write_timers(layout: Layout) -> None:
    """Write a record a timer; what is timed and its owner learn the ranks."""
    floor = layout.floor
    table = order_table(floor)
    floor[r.TIMERS] = first = layout.room(r.TIMER_SIZE * len(table))
    floor[r.N_TIMERS] = len(table)
    held: dict[int, list[int]] = {}
    for rank, (kind, record) in enumerate(table):
        is_stoppage = kind in OF_STOPPAGES
        holder = _holder(floor, kind, record)
        layout.set(first + rank * r.TIMER_SIZE, TIMER_KIND=kind, TIMED=record, HOLDER=holder)
        field = FIELDS.get(kind, r.JOB_TIMER if is_stoppage else r.TIMER)
        floor[record + field] = rank
        held.setdefault(holder, []).append(rank)
    for owner, ranks in held.items():
        if owner != r.NONE:
            layout.set(owner, OWN_TIMERS=layout.write(ranks), N_OWN_TIMERS=len(ranks))


def _holder(floor: Floor, kind: int, record: int) -> int:
    """Whose breakdowns hold a timer; NONE: nobody's."""
    if kind in (r.STAY, r.BATCH_WAIT, r.ARRIVAL, r.WEEK):
        return r.NONE
    if kind == r.TRANSIT_CLOCK:
        return floor[record + r.FEED_OF]
    return floor[record + r.OWNER] if kind in OF_STOPPAGES else record
