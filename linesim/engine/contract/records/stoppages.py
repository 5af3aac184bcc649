"""Breakdowns and stops, the crews that see to them, and the week."""

# ---- breakdown, stop, or call for people who load by hand (BY_HAND): consecutive records ----
BY_WORKING_CLOCK, BY_CALENDAR_CLOCK, BY_COUNT, BY_DRESSINGS, BY_LEVEL, BY_PART, BY_STANDING, BY_HAND = range(8)
RESUME, RESTART, SCRAP_PART = range(3)
OFF, DUE, CALLED, ON_THE_WAY, THERE, UNDER_WAY = range(6)
(
    OWNER,
    STOPPAGE_NUMBER,
    IS_BREAKDOWN,
    BOOKED_AS,  # MachineState of a stop that is under way
    TRIGGER, EVERY, COUNT,  # EVERY: parts, time (BY_STANDING: off duty), or (BY_LEVEL) the level of the stock
    EFFECT,  # on the part being worked on
    HOLDS,  # the carriage that has to do with it and does nothing else, NONE: none
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
    SAMPLED_AFTER,  # 1: the first good part after it is a sample
    EMPTIES,  # the drawer that is emptied meanwhile
    RENEWS, N_RENEWS,  # whose tool is as new after this stop: pairs (size that a machine makes, step [nm])
    STOPPAGE_SIZE,
) = range(38)  # fmt: skip

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
