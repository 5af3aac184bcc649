"""The shop floor as one row of whole numbers, and where each thing stands in it.

`floor` is a flat list of integers (an int64 array in a compiled engine). Everything on the line is a *record*: an
address in that row, from which its fields count. `floor[machine + PHASE]` is the phase of the machine whose record
starts at address `machine`; address 0 means "none". The first numbers are the header, read as `floor[NOW]`.

Flat and plain on purpose: rules that only read and write whole numbers in one row are the same rules interpreted and
compiled, can be copied to take a snapshot, and leave nothing to the memory layout of an object.
`layout/` writes the row, the rules change it, `books.py` reads the tallies.
"""

from __future__ import annotations

import numpy as np

Floor = list[int] | np.ndarray  # interpreted rules are twice as fast on a list, compiled ones need an int64 array

NONE = 0  # no record
NO_PART = -1

# ---- header ----
(
    NOW,  # [us]
    TRACING,  # 1: write trace rows
    LOOK_EVERYWHERE,  # 1: every decision looks at the whole line (slow; the definition that the local look must equal)
    STEPS, N_STEPS,  # first step record and their number; likewise below
    MACHINES, N_MACHINES,
    BUFFERS, N_BUFFERS,
    CARRIAGES, N_CARRIAGES,
    RAILS_SHARED,  # 1: some carriages share a rail
    CREWS, N_CREWS,
    SKILLS,  # 1: there are calls for one of several crews, or for several people at once
    STOPPAGES, N_STOPPAGES,
    LOOPS, N_LOOPS,
    TIMERS, N_TIMERS,  # in the order of their ranks
    MOVES, N_MOVES,  # agenda of steps (by index, ascending) whose part may be able to move on by itself
    STALE, N_STALE,  # steps touched since their calls were looked at
    CHANGED, N_CHANGED,  # steps touched since the last decision
    IN_VIEW, N_IN_VIEW,  # stations whose starts and states may follow from that, in route order
    READY, N_READY,  # repairs and stops whose crew is there
    CALENDAR,  # the week of the line, NONE: it runs through
    N_OFF_DUTY,  # machines, carriages and crews that are off shift or in a break, all or some of their people
    N_CLOSING,  # machines and carriages that are so, and still finish what they do
    SETTLES, N_SETTLES,  # owners whose timers may run or stand still from this decision on
    WAKES, N_WAKES,  # timers to start after this decision: pairs (what, who)
    SLOTS, N_SLOTS,  # stack of free part records
    NEXT_PART,  # id of the next part
    MIX,  # the part types and what comes next, NONE: all parts are alike
    ENDS_WATCHED,  # 1: infeed or outfeed hold a limited stock, or the parts inside are limited
    WIP_LIMIT,  # a blank enters only if fewer parts are inside; 0: no limit
    INSIDE, INSIDE_SINCE, WIP_TIME,  # parts inside, since when, time with n inside
    WIP_AREA,  # integral of INSIDE since the last window edge [part us]
    ENTERED,
    VISITS,  # operations ended
    EVENTS,  # timers ended
    DECISION_DUE, LAST_INSTANT, ROUNDS,  # rounds at the last instant
    N_AT_WORK,  # running timers, breakdowns that come nearer not counted
    DRAWS_LOW,  # 1: a random stream has few numbers left
    LEAVES,  # of the tree of due times
    COLUMNS,  # of the table of numbers drawn ahead
    TRACE_AT, N_TRACE, TRACE_ROOM,  # rows of five, and how many fit
    TRACE_LOST,  # rows that did not fit
    DEPARTURES_AT, N_DEPARTURES,  # rows of seven
    SPELLS_AT, N_SPELLS,  # rows of three
    SIZES_AT, N_SIZES,  # rows of six
    READINGS_AT, N_READINGS,  # rows of seven
    N_CHARACTERISTICS,  # sizes that each part has
    HEADER_SIZE,
) = range(72)  # fmt: skip

# ---- kinds of step and place ----
INFEED, STATION, BUFFER, OUTFEED, CARRIAGE = range(5)  # a carriage is no place, but owns states

# ---- step of the route: consecutive records of STEP_SIZE ----
(
    KIND, INDEX,
    FIRST_PLACE, PLACE_SIZE, N_PLACES,  # its places: consecutive records
    WAY_OUT,  # carriage that takes parts to the next step, NONE for a direct hand-over
    MOVES_DIRECTLY,  # 1: parts here can move on without a loader
    PASSABLE,  # 1: a buffer without least stay, which a loader may pass over while it is empty
    REWORK_TO, REWORK_WAY,  # step that rejects go back to, and the carriage for it
    ENDS_HERE,  # 1: the route ends here without an outfeed
    SENDERS, N_SENDERS,  # steps whose parts may move here directly
    CALLERS, N_CALLERS,  # steps whose calls can change when this step changes
    VIEWERS, N_VIEWERS,  # stations whose starts or states can change when this step or its calls change
    FEEDERS, N_FEEDERS,  # steps from which a carriage may bring a part here
    BEFORE_SERVICE,  # 1: a machine starts only with room reserved for its part
    DEFECTS, N_DEFECTS, FIRST_DEFECT,  # cumulative chances [1e-9] and the line's number of the first one
    SIZED,  # 1: sizes are made here
    GAUGES, N_GAUGES,  # the sizes that are measured here
    INSPECTS, CATCHES, FALSE_ALARMS,  # chances [1e-9]
    REWORKS_AT_MOST,
    STATION_NUMBER,
    DEFECT_STREAM, GAUGE_STREAM,  # numbers of random streams, -1: none
    N_STROKES, STROKES,  # 0: work without strokes; else cumulative chances [1e-9] of needing 0, 1, ... of them
    STROKES_AT_MOST, STROKES_STREAM, STROKES_DEFECT,
    MAY_SPOIL,  # 1: the end of an operation may spoil its part
    ON_MOVES, ON_STALE, ON_CHANGED, ON_VIEW,  # 1: is on that list
    SCRAPPED, REWORKED, FALSE_REJECTS,  # tallies
    STEP_SIZE,
) = range(47)  # fmt: skip

# ---- what every place and every owner of a state has ----
(
    OWNER_KIND, NUMBER,  # number in trace and ledger
    STEP,
    CALL_SINCE, CALL_TO,  # a part here could go to place CALL_TO by loader since; -1: no call is open
    STATE, STATE_SINCE, STATE_CAUSE,  # cause: the breakdown or stop the time is booked on
    ACTIVE_SINCE,  # -1: waiting
    DOWN,  # the breakdown that has it down
    STOP,  # the tool change, dressing, open zone, ... that has it
    DUTY,  # ON_DUTY, IN_BREAK or OFF_SHIFT: what the week has for it now
    CLOSED,  # 1: not on duty, and done with what it did
    OWN_STOPPAGES, N_OWN_STOPPAGES,
    TIMER,  # of its operations, legs or least stays
    OWN_TIMERS, N_OWN_TIMERS,  # timers that its breakdowns hold, or that run with its work
    TALLY,  # time in each state, 16 fields
) = range(19)  # fmt: skip
_OWNER_SIZE = TALLY + 16

# ---- machine ----
EMPTY, LOADED, WORKING, FINISHED = range(4)
(
    PART, PHASE,
    SINCE,  # when its phase began
    COMING,  # who will bring a part: the carriage of a tour, or a machine that has reserved this one
    TAKING,  # carriage of the tour that will take its part
    HANDLED,  # carriage that handles at it now
    ROOM,  # place reserved for its part (blocking before service)
    PAUSES,  # 1: at the end of its shift it leaves its work half done
    COLD_START, STOOD_SINCE,  # the stop that warms it up, and since when it has been closed
    PART_TO,  # step its part goes to
    PROCESSED,
    CYCLE_STREAM,
    CYCLES,  # where cycles differ by part type: their streams, by type; NONE: they do not
    CHANGEOVER,  # its stop, NONE: it changes over in no time
    SET_UP_FOR,  # part type of its last part, -1: none yet
    CALLS_AHEAD,  # so long after its start an operation calls the loader [us]; -1: never
    SOON,  # 1: its operation has called ahead
    AHEAD_TIMER,
    STROKE_STREAM,  # time of each stroke
    TO_SCRAP,  # parts made next that are scrapped
    TOO_MANY,  # 1: the part in work needs more strokes than the machine makes
    MAKINGS, N_MAKINGS,  # the sizes that it makes
    DRAWN, N_DRAWN,  # what is drawn as an operation ends: pairs (random stream, address to write to)
    MACHINE_SIZE,
) = range(_OWNER_SIZE, _OWNER_SIZE + 27)  # fmt: skip

# ---- buffer ----
(
    CAPACITY, DWELL,
    LEVEL, LEVEL_SINCE, LEVEL_TIME,
    RIPE,  # parts whose least stay is over; they are the first ones
    ROOM_TAKEN, PARTS_TAKEN,  # reserved by tours and starts
    HEAD, RING,  # first in, first out: CAPACITY part records, then CAPACITY times at which they are ripe
    BUFFER_SIZE,
) = range(_OWNER_SIZE, _OWNER_SIZE + 11)  # fmt: skip

# ---- infeed and outfeed: what a buffer has (capacity, level, room and parts reserved), and more ----
(
    LIMITED,  # 1: its stock is counted
    END_JOB,  # its refill or emptying
    STOCK_AREA, EMPTY_TIME, FULL_TIME,  # integral of its level [part us], times empty and full
    BATCH, ARRIVAL_STREAM,  # blanks that arrive together; BATCH 0: none arrive
    END_SIZE,
) = range(BUFFER_SIZE, BUFFER_SIZE + 8)  # fmt: skip

# ---- carriage ----
IDLE, MOVING, STANDING, HANDLING, PARKING = range(5)
DOWNSTREAM_FIRST, LONGEST_WAITING, NEAREST, PRIORITY, FIXED = range(5)
PICK, EXCHANGE, PUT = range(3)
(
    MOTION,  # IDLE, MOVING, STANDING (at a stop of its tour), HANDLING, PARKING
    AT,  # number of the stop where it stands, or will after this leg
    HELD,  # part in the gripper
    LEG_TIME,  # of the running leg [us]
    GRIPPERS, EXCHANGES,
    RULE,
    N_CALLS,  # open calls for it
    SERVED, N_SERVED,  # places it takes parts from, most downstream first
    RANKS,  # for each of them, its priority (PRIORITY)
    ROUND, N_ROUND, ROUND_AT,  # steps of the fixed round, and the next one
    PLANNED,  # 0: travelling ahead in a fixed round; the tour behind the first stop is not yet known
    TOUR, N_TOUR, TOUR_AT,  # pairs (place, action), their number, the running one
    PARK_AT,  # number of a stop, -1: stays
    ZONES,  # how many zones people open
    FIRST_ON_RAIL, N_ON_RAIL,  # carriages that share its rail, in their order on it; N_ON_RAIL 0: it has its own
    APART,  # least distance between them [um]
    POSITION_OF,  # number of a stop, or of a point where it gives way -> where it lies on the rail [um]
    LOW, HIGH,  # the stretch of rail that it holds [um]
    WANTS, WANTED_SINCE,  # the stop for whose way it waits, and since when; -1: for none
    GAVE_WAY,  # 1: it has left the stop of its tour to make room
    N_LOADER_STOPS,  # points where it gives way included
    TRAVEL,  # time from stop to stop, a square table [us]
    TIMES,  # pick, exchange, put at each stop [us]
    STOP_OF,  # owner number of a place -> number of its stop, -1: none
    PLACE_OF,  # number of a stop -> place
    CARRIAGE_SIZE,
) = range(_OWNER_SIZE, _OWNER_SIZE + 35)  # fmt: skip

# ---- breakdown or stop: consecutive records ----
BY_WORKING_CLOCK, BY_CALENDAR_CLOCK, BY_COUNT, BY_DRESSINGS, BY_LEVEL, BY_PART, BY_STANDING = range(7)
RESUME, RESTART, SCRAP_PART = range(3)
OFF, DUE, CALLED, ON_THE_WAY, THERE, UNDER_WAY = range(6)
(
    OWNER,
    STOPPAGE_NUMBER,
    IS_BREAKDOWN,
    BOOKED_AS,  # MachineState of a stop that is under way
    TRIGGER, EVERY, COUNT,  # EVERY: parts, time (BY_STANDING: off duty), or (BY_LEVEL) the level of the stock
    EFFECT,  # on the part being worked on
    OVERLAPS,  # 1: the loader may serve the machine meanwhile
    CREW, RESPONDS,  # the crew that is called first; RESPONDS 0: whoever comes is there at once
    CHOICES, N_CHOICES,  # crews that may do it: pairs (crew, response stream), the preferred one first
    URGENCY,  # 0: its calls are taken first
    NEEDS,  # people at a time
    TAKEN_BY,  # the crew at work
    PROGRESS,  # OFF, DUE, CALLED, ON_THE_WAY, THERE, UNDER_WAY
    CALLED_AT,
    BEGUN, WAITING_TIME, LASTING_TIME,
    JOB_TIMER, TRIGGER_TIMER,
    BREAKS,  # 1: a tool that breaks: EVERY is the life drawn for it, and the part in work is lost
    PARTNER,  # another stop that changes the same tool
    WORN_BY, WEARS,  # the dressing that is counted (BY_DRESSINGS); 1: a dressing that is
    INTERVAL_STREAM, TAKES_STREAM, RESPONSE_STREAM,
    TAKES_TABLE,  # of a changeover: streams from part type to part type, a square table, -1: no time
    START_UP_SCRAP,  # parts made next that are scrapped
    RENEWS, N_RENEWS,  # whose tool is as new after this stop: pairs (size that a machine makes, step [nm])
    STOPPAGE_SIZE,
) = range(35)  # fmt: skip

# ---- crew ----
(
    CREW_NUMBER, PEOPLE, FREE,
    N_WAITING,  # calls that it may take
    HELD_BACK,  # 1: its free people wait for others, with whom they will take an older call
    OFF_DUTY,  # people who take no calls now; those who finish a job after their shift still count as busy
    DUTY_TIME,  # time on duty, of all people together
    CLIENTS, N_CLIENTS,  # the breakdowns and stops that may call it
    BUSY_SINCE, BUSY_TIME, ALL_BUSY_TIME, ALL_BUSY_SINCE,  # -1: somebody on duty is free
    CALLS, CALLS_WAITED, WAITED_TIME,
    CREW_SIZE,
) = range(17)  # fmt: skip

# ---- calendar ----
ON_DUTY, IN_BREAK, OFF_SHIFT = range(3)
(
    EDGES, N_EDGES, EDGE_AT,  # rows: time of the week, duty of each machine and carriage, people on duty of each crew
    WEEK_BEGAN,
    CALENDAR_TIMER,
    VISITS_BEFORE, QUIET_EDGES,  # edges in a row without an operation that ended in between
    CALENDAR_SIZE,
) = range(8)  # fmt: skip

# ---- a size as one machine makes it: consecutive records ----
NOT_KNOWN = -1  # WORN before the first operation: it follows from the ages of the stops
(
    CHARACTERISTIC,  # its number on the line
    MADE_IN,  # the machine
    LOWEST, HIGHEST,  # limits of the tolerance [nm]
    OFFSET, SHIFT,  # of the new tool, and the step after its last renewal [nm]
    DRIFT, WORN,  # [pm a part], and parts made since the tool was renewed
    CORRECTION,  # what gauges have added [pm]
    OUTLASTS,  # 1: it stays when the tool is renewed
    CHANGES,  # how often they did, or the tool was renewed and it did not stay
    SET_TO,  # size that the running operation would give without chance [nm]
    SET_AFTER,  # so many changes
    LUCK,  # what chance adds to it [nm]
    SIZE_DEFECT,  # number of the defect "out of tolerance"
    MADE_AS,  # which of the machines of its station makes it, from 0 on
    MADE_LAST_AT,  # when it made a part last [us]
    TELLS_OF_TOOL,  # 1: a gauge asks for the first and last parts of a tool
    MAKING_SIZE,
) = range(19)  # fmt: skip

# ---- a size as a station measures it: consecutive records ----
(
    GAUGED,  # number of the characteristic
    READS_FROM, READS_TO,  # readings that are accepted [nm]
    READ_ERROR,  # what the gauge adds to the size of the part at hand [nm]
    GAUGED_DEFECT,  # number of the defect "out of tolerance"
    SAMPLES,  # 0: every part is measured; else those that one of the next three calls for
    SAMPLE_PARTS, SAMPLE_TIME, SAMPLE_OF_TOOL,  # every so many parts; so long after the last [us]; first and last ones
    SAMPLE_PAUSE,  # those made so long after the one before [us]
    WATCHES,  # what it knows of each machine that makes the size
    GAIN,  # of what it corrects there [1e-6], 0: nothing
    AIMS_AT, DEAD_BAND,  # [nm]
    AVERAGES,  # so many readings together
    ONLY_NEW,  # 1: it ignores parts begun before the last correction
    GAUGE_SIZE,
) = range(17)  # fmt: skip

# ---- what a gauge knows of one machine: consecutive records ----
(
    UNMEASURED,  # parts of this machine that passed since the last one that was measured
    MEASURED_AT,  # when that was [us], -1: never
    DEVIATIONS, N_DEVIATIONS,  # sum of those that wait for a correction [nm], and their number
    WATCH_SIZE,
) = range(5)  # fmt: skip

# ---- part types: what comes next. Types are drawn ahead, as many as blanks may leave the infeed at one instant ----
(
    N_PART_TYPES,
    MIX_STREAM, SHARES,  # cumulative chances [1e-9] of the types; stream -1: orders say what comes
    ORDERS, N_ORDERS,  # pairs (part type, how many)
    ORDER_AT, ORDERED,  # the running order, and how many of it have been drawn
    AHEAD, MOST_AHEAD,  # ring of types drawn ahead, and its size
    N_AHEAD, AHEAD_AT,  # how many it holds, and where the next is
    MIX_SIZE,
) = range(12)  # fmt: skip

# ---- rework loop ----
(LOOP_FROM, LOOP_TO, LOOP_PLACES, LOOP_INSIDE, LOOP_SIZE) = range(5)  # indices of its first and last step

# ---- part: behind these fields stand those of each of its sizes ----
(
    PART_ID, BORN,
    PART_TYPE,  # -1: all parts are alike
    DEFECT, MADE_AT,  # number of its first defect or -1, and the step that made it
    REWORKS,
    PART_SIZE,
) = range(7)  # fmt: skip

# ---- a size of a part: consecutive, from PART_SIZE on, by the number of the characteristic ----
(
    SIZE,  # [nm]
    SIZED_BY,  # the record of who made it, NONE: not made yet
    END_OF_TOOL,  # 1: of the first or the last part that a tool made
    MADE_AFTER,  # so many changes of its machine
    PAUSE,  # time since the part that its machine made before [us]
    SIZE_SIZE,
) = range(6)  # fmt: skip

# ---- timer: consecutive records in the order of their ranks ----
# Those before TRIGGER_CLOCK are work.
REPAIR, STOP_JOB, OPERATION, CALL_AHEAD, LEG, STAY, TRIGGER_CLOCK, ARRIVAL, WEEK = range(9)
(
    TIMER_KIND, TIMED,  # what it times, and the record of that
    HOLDER,  # whose breakdowns hold it, NONE: nobody's
    IS_SET, RUNS, DUE_AT, LEFT, FULL,  # for an engine that keeps its clocks on the floor; FULL: what it was set to
    TIMER_SIZE,
) = range(9)  # fmt: skip

# ---- timers a decision starts ----
START_OPERATION, START_LEG, START_DWELL, START_RESPONSE, START_STOPPAGE = range(5)  # START_LEG: or handling
