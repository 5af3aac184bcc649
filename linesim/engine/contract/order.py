"""The order table: of the timers that end at one instant, which goes first.

Repairs; tool changes and other stops, refill and emptying; pitches; operations; transits; calls ahead; loader legs;
least stays in buffers; longest waits of batches; arrivals of blanks; then breakdowns by the working clock, breakdowns
by the calendar, what falls due by time; at last the edges of shifts and breaks. Within a kind machines in route order,
then loaders, then infeed and outfeed.
A breakdown due at the very end of an operation therefore comes after it, with the finished part on board.
"""

from __future__ import annotations

from linesim.engine.contract.records import (
    ARRIVAL,
    BATCH,
    BATCH_WAIT,
    BUFFER_SIZE,
    BUFFERS,
    BY_CALENDAR_CLOCK,
    BY_COUNT,
    BY_WORKING_CLOCK,
    CALENDAR,
    CALL_AHEAD,
    CALLS_AHEAD,
    CARRIAGE,
    CARRIAGE_SIZE,
    CARRIAGES,
    CLOSED,
    CREW,
    DOWN,
    DWELL,
    EMPTY,
    FEED_CLOCK_SIZE,
    FEED_CLOCKS,
    FIRST_PLACE,
    HANDLING,
    HOLDS,
    IS_BREAKDOWN,
    LEG,
    LONGEST_WAIT,
    MACHINE_SIZE,
    MACHINES,
    MOTION,
    MOVING,
    N_BUFFERS,
    N_CARRIAGES,
    N_MACHINES,
    N_STOPPAGES,
    NONE,
    OPERATION,
    OWNER_KIND,
    PARKING,
    PHASE,
    PITCH,
    PITCH_CLOCK,
    REPAIR,
    ROOM_FOR,
    STATION,
    STAY,
    STEPS,
    STOP,
    STOP_JOB,
    STOPPAGE_SIZE,
    STOPPAGES,
    TRANSIT_CLOCK,
    TRIGGER,
    TRIGGER_CLOCK,
    WEEK,
    WORKING,
    Floor,
)


def order_table(floor: Floor) -> list[tuple[int, int]]:
    """Every timer of the line as its kind and the record it times; its index is its rank."""
    stoppages = [floor[STOPPAGES] + n * STOPPAGE_SIZE for n in range(floor[N_STOPPAGES])]
    breakdowns = [s for s in stoppages if floor[s + IS_BREAKDOWN]]
    stops = [s for s in stoppages if not floor[s + IS_BREAKDOWN]]
    buffers = [floor[BUFFERS] + n * BUFFER_SIZE for n in range(floor[N_BUFFERS])]
    table = [(REPAIR, s) for s in breakdowns]
    table += [(STOP_JOB, s) for s in stops]
    machines = [floor[MACHINES] + n * MACHINE_SIZE for n in range(floor[N_MACHINES])]
    table += [(PITCH_CLOCK, machine) for machine in machines if floor[machine + PITCH]]
    table += [(OPERATION, machine) for machine in machines]
    for feed in [machine for machine in machines if floor[machine + PITCH]]:
        table += [
            (TRANSIT_CLOCK, floor[feed + FEED_CLOCKS] + n * FEED_CLOCK_SIZE) for n in range(floor[feed + ROOM_FOR])
        ]
    table += [(CALL_AHEAD, machine) for machine in machines if floor[machine + CALLS_AHEAD] >= 0]
    table += [(LEG, floor[CARRIAGES] + n * CARRIAGE_SIZE) for n in range(floor[N_CARRIAGES])]
    table += [(STAY, buffer) for buffer in buffers if floor[buffer + DWELL]]
    table += [(BATCH_WAIT, machine) for machine in machines if floor[machine + LONGEST_WAIT] >= 0]
    infeed = floor[floor[STEPS] + FIRST_PLACE]
    table += [(ARRIVAL, infeed)] if floor[infeed + BATCH] else []
    for clock in (BY_WORKING_CLOCK, BY_CALENDAR_CLOCK):
        table += [(TRIGGER_CLOCK, s) for s in breakdowns if floor[s + TRIGGER] == clock]
    table += [(TRIGGER_CLOCK, s) for s in stops if floor[s + TRIGGER] < BY_COUNT]
    return table + ([(WEEK, floor[CALENDAR])] if floor[CALENDAR] else [])


def may_run(floor: Floor, kind: int, record: int, owner: int) -> bool:
    """Whether a timer that has been set runs now, or stands still.

    While an owner is down or off shift its timers stand still, but for the repair and for a stop that people see to:
    what people have begun they finish, or two could wait for each other for ever. Nor does a stop that holds a loader
    wait for the repair of its machine, as people may wait for that loader. A working clock runs while its owner works.
    The leg or handling of a carriage stands still too while people are in one of its zones.
    """
    if kind in (REPAIR, STAY, BATCH_WAIT) or (
        kind == STOP_JOB and (floor[record + CREW] or floor[owner + OWNER_KIND] == CARRIAGE)
    ):
        return True
    if floor[owner + CLOSED] or (floor[owner + DOWN] and not (kind == STOP_JOB and floor[record + HOLDS])):
        return False
    if kind == LEG:
        return floor[owner + STOP] == NONE
    if kind != TRIGGER_CLOCK:
        return kind < PITCH_CLOCK or _moves(floor, kind, owner)
    if floor[record + TRIGGER] == BY_WORKING_CLOCK:
        return is_at_work(floor, owner)
    return True


def _moves(floor: Floor, kind: int, feed: int) -> bool:
    """Whether a through-feed moves on the parts in it (TRANSIT_CLOCK); an empty one goes on and opens its entry."""
    return floor[feed + PHASE] == WORKING or (kind == PITCH_CLOCK and floor[feed + PHASE] == EMPTY)


def is_at_work(floor: Floor, owner: int) -> bool:
    """Whether an owner does what its working clock counts: a machine its operation, a carriage a leg or handling."""
    if floor[owner + OWNER_KIND] == STATION:
        return floor[owner + PHASE] == WORKING
    return floor[owner + MOTION] in (MOVING, HANDLING, PARKING) and floor[owner + STOP] == NONE


def strikes_now(floor: Floor, kind: int, owner: int) -> bool:
    """Whether a timer that is due at this very instant still ends although its owner has just stopped working."""
    return kind == TRIGGER_CLOCK and floor[owner + DOWN] == NONE
