"""The first numbers of the floor, and the kinds of step and place."""

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
    HANDS,  # 1: people load some machines by hand
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
    SKIPS,  # 1: some part types skip places
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
    WINDOWS_AT, N_WINDOWS,  # rows of three
    WINDOW, WINDOW_ENDS,  # length of the output windows, and when the running one ends [us]
    N_CHARACTERISTICS,  # sizes that each part has
    HEADER_SIZE,
) = range(78)  # fmt: skip

# ---- kinds of step and place ----
INFEED, STATION, BUFFER, OUTFEED, CARRIAGE, CHUTE, DRAWER = range(7)  # a carriage is no place, but owns states
