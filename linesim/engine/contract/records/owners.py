"""Places, machines, buffers and ends: whatever a part can rest in."""

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
OWNER_SIZE = TALLY + 16

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
    UNSAMPLED, SAMPLED_AT,  # parts since its last sample, and when that was, -1: never
    SAMPLE_NEXT, ENDED_AT,  # 1: the next good part is a sample; when its last operation ended
    TO_SCRAP,  # parts made next that are scrapped
    TOO_MANY,  # 1: the part in work needs more strokes than the machine makes
    MAKINGS, N_MAKINGS,  # the sizes that it makes
    DRAWN, N_DRAWN,  # what is drawn as an operation ends: pairs (random stream, address to write to)
    ROOM_FOR,  # parts that it works on together, 0: one part at a time
    N_INSIDE, N_DONE,  # of those the parts that are in it, and how many of them are finished
    QUEUE, QUEUE_AT,  # ring of ROOM_FOR parts: those behind PART
    AT_LEAST, LONGEST_WAIT,  # starts with so many too, so long after the first one of a batch came [us]; -1: never
    FIRST_CAME, WAITED,  # when that was, -1: none is in; 1: its wait is over
    WAIT_TIMER, WAIT_IS_TIMED,
    PITCH, TRANSIT,  # of a through-feed: time from part to part at least, and time inside [us]; PITCH 0: it is none
    ENTRY_CLOSED,  # 1: the part that came last is not a pitch inside yet
    PITCH_TIMER,
    FEED_CLOCKS, NEXT_CLOCK,  # clocks of ROOM_FOR parts, and which of them the next part gets
    MACHINE_SIZE,
) = range(OWNER_SIZE, OWNER_SIZE + 48)  # fmt: skip

# ---- clock of a part in a through-feed: consecutive records ----
(FEED_OF, FEED_TIMER, FEED_CLOCK_SIZE) = range(3)

# ---- buffer ----
(
    CAPACITY, DWELL,
    AT_START,  # parts in it when the run begins
    LEVEL, LEVEL_SINCE, LEVEL_TIME,
    RIPE,  # parts whose least stay is over; they are the first ones
    ROOM_TAKEN, PARTS_TAKEN,  # reserved by tours and starts
    HEAD, RING,  # first in, first out: CAPACITY part records, then CAPACITY times at which they are ripe
    BUFFER_SIZE,
) = range(OWNER_SIZE, OWNER_SIZE + 12)  # fmt: skip

# ---- infeed, outfeed, chute and drawer: what a buffer has (capacity, level, room and parts reserved), and more ----
(
    LIMITED,  # 1: its stock is counted
    END_JOB,  # its refill or emptying
    STOCK_AREA, EMPTY_TIME, FULL_TIME,  # integral of its level [part us], times empty and full
    OPENED_BY,  # of a drawer: the zone that people open to empty it
    BATCH, ARRIVAL_STREAM,  # blanks that arrive together; BATCH 0: none arrive
    END_SIZE,
) = range(BUFFER_SIZE, BUFFER_SIZE + 9)  # fmt: skip
